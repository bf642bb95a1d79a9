/**
 * The answer to: how many bonds, to be this sure?
 * @module
 */
import { formatShare } from "../../units/format.js";
import { Result } from "../../units/result.js";
import { countCell, shareCell, type Table } from "../../units/table.js";
import {
  type Confidence,
  chanceCell,
  confidenceWords,
  type Estimate,
  outsideWords,
} from "./confidence.js";
import { mostOutside } from "./sampled-ranges.js";

/** The answer to: how many bonds, to be this sure? */
export class ConfidentSizing extends Result {
  /** Wanted chance to stay under the limit. */
  declare readonly probability: number;
  /** Smallest number of bonds with that chance; undefined when even as many as fit do not reach it. */
  declare readonly count: number | undefined;
  /** Bonds that fit. */
  declare readonly room: number;
  /** With that number of bonds, or as many as fit. */
  declare readonly confidence: Confidence;
  /** Solves by the mount's own model of the die, for all numbers that were tried. */
  declare readonly expensive: number;
  /** Every number that was tried, smallest first. */
  declare readonly tried: readonly {
    /** Bonds tried. */
    readonly count: number;
    /** Chance that so many meet the limit, with its standard error. */
    readonly chance: Estimate;
    /** Share of the samples, with so many, that left a range beyond which a law is refused. */
    readonly outside: number;
  }[];

  /** @internal Made by `sizeWithConfidence`. */
  constructor(
    content: Pick<
      ConfidentSizing,
      "probability" | "count" | "room" | "confidence" | "tried" | "expensive"
    >,
  ) {
    const { warnings } = content.confidence;
    super({ ...content, warnings, provenance: () => content.confidence.provenance });
  }

  /** The mount's name. */
  get name(): string {
    return this.confidence.name;
  }

  protected get answer(): string {
    const { count, room, probability } = this;
    const chance =
      confidenceWords(this.confidence.chance!, probability) + outsideWords(this.confidence);
    const wanted = formatShare(probability);
    return count === undefined
      ? `The ${room} bonds that fit meet the limit with ${chance}, less than ${wanted}.`
      : `${count === 1 ? "1 bond meets" : `${count} bonds meet`} the limit with ${chance} ` +
          `(${wanted} were wanted), of ${room} that fit.`;
  }

  protected tables(): readonly Table[] {
    return [
      {
        title: "Numbers of bonds that were tried",
        columns: ["bonds", "chance to meet the limit", "sampled to ±", "a law is refused in"],
        numbersFrom: 0,
        rows: this.tried.map(({ count, chance, outside }) => {
          const told = outside > mostOutside ? "" : formatShare(chance.error);
          const cell = told
            ? chanceCell(chance, this.probability)
            : countCell(undefined, "not determined");
          return [`${count}`, cell, told, shareCell(outside)];
        }),
      },
    ];
  }

  protected override notes(): readonly string[] {
    return [this.confidence.convergence];
  }
}
