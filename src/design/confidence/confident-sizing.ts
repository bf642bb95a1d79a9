/**
 * The answer to: how many bonds, to be this sure?
 * @module
 */
import { formatShare } from "../../units/format.js";
import { Result } from "../../units/result.js";
import type { Table } from "../../units/table.js";
import { type Confidence, chanceCell, confidenceWords, type Estimate } from "./confidence.js";

/** The answer to: how many bonds, to be this sure? */
export class ConfidentSizing extends Result {
  /** Wanted chance to stay under the limit. */
  declare readonly probability: number;
  /** Fewest bonds with that chance; undefined when even as many as have room do not reach it. */
  declare readonly count: number | undefined;
  /** Bonds that have room. */
  declare readonly room: number;
  /** With that number of bonds, or as many as have room. */
  declare readonly confidence: Confidence;
  /** Every number that was tried, fewest first. */
  declare readonly tried: readonly {
    /** Bonds tried. */
    readonly count: number;
    /** Chance that so many hold the limit, with its standard error. */
    readonly chance: Estimate;
  }[];

  /** @internal Made by `sizeWithConfidence`. */
  constructor(
    content: Pick<ConfidentSizing, "probability" | "count" | "room" | "confidence" | "tried">,
  ) {
    super({ ...content, provenance: () => content.confidence.provenance });
  }

  /** The mount's name. */
  get name(): string {
    return this.confidence.name;
  }

  get summary(): string {
    const { count, room, probability } = this;
    const chance = confidenceWords(this.confidence.chance!);
    const wanted = formatShare(probability);
    return count === undefined
      ? `The ${room} bonds that have room hold the limit with ${chance}, less than ${wanted}.`
      : `${count === 1 ? "1 bond holds" : `${count} bonds hold`} the limit with ${chance} ` +
          `(${wanted} were wanted), of ${room} that have room.`;
  }

  protected tables(): readonly Table[] {
    return [
      {
        title: "Numbers of bonds that were tried",
        columns: ["bonds", "chance to hold the limit", "sampled to ±"],
        numbersFrom: 0,
        rows: this.tried.map(({ count, chance }) => [
          `${count}`,
          chanceCell(chance),
          formatShare(chance.error),
        ]),
      },
    ];
  }

  protected override notes(): readonly string[] {
    return [this.confidence.convergence];
  }
}
