/**
 * The answer to: how many bonds should be built, and why?
 * @module
 */
import { Result, type ResultRow } from "../../units/result.js";
import { type Cell, countCell, type Table } from "../../units/table.js";
import type { Sizing } from "../sizing/sizing.js";
import { type Confidence, chanceCell, confidenceWords } from "./confidence.js";
import type { ConfidentSizing } from "./confident-sizing.js";

/** What a warning is about. */
function subject(text: string): string {
  return text.slice(0, text.indexOf(":"));
}

/** How many bonds to build, with the three cases of margin beside it. */
export class Recommendation extends Result {
  /** Every unknown at its median. */
  declare readonly nominal: Sizing;
  /** With 95 % confidence over all unknowns. */
  declare readonly probable: ConfidentSizing;
  /** Every unknown at its pessimistic limit, the worse end of its 90 % interval. */
  declare readonly pessimistic: Sizing;
  /** Bonds on each pad. */
  declare readonly perPad: number;
  /** How sure the nominal number is; undefined where none meets the limit and fits. */
  declare readonly withNominal: Confidence | undefined;
  /** How sure the pessimistic number is. */
  declare readonly withPessimistic: Confidence | undefined;

  /** @internal Made by `recommend`. */
  constructor(
    content: Pick<
      Recommendation,
      "nominal" | "probable" | "pessimistic" | "perPad" | "withNominal" | "withPessimistic"
    >,
  ) {
    const { nominal, probable, pessimistic } = content;
    const warnings = [...probable.warnings];
    // What one case warns of, the others need not repeat with numbers of their own.
    for (const [name, of] of [
      ["nominal", nominal],
      ["pessimistic", pessimistic],
    ] as const) {
      const told = new Set(warnings.map(subject));
      const more = of.warnings.filter((text) => !told.has(subject(text)));
      warnings.push(...more.map((text) => `${name}: ${text}`));
    }
    super({ ...content, warnings, provenance: () => probable.provenance });
  }

  /** The mount's name. */
  get name(): string {
    return this.probable.name;
  }

  /** Bonds to build: as many as the probable case needs, in whole pads; undefined when none with room do. */
  get build(): number | undefined {
    const { count, room } = this.probable;
    if (count === undefined) return undefined;
    return Math.min(room, this.perPad * Math.ceil(count / this.perPad));
  }

  protected get answer(): string {
    const { build, probable, withNominal, nominal } = this;
    const sure = confidenceWords(probable.confidence.chance!);
    const coin =
      withNominal && nominal.count !== probable.count
        ? ` The ${nominal.count} that meet it nominally do so with ${confidenceWords(withNominal.chance!)}.`
        : "";
    if (build === undefined) {
      return (
        `No number of bonds is recommended: the ${probable.room} that fit meet the limit with ` +
        `${sure} only. Something else than bonds must change.${coin}`
      );
    }
    return `Build ${build} ${build === 1 ? "bond" : "bonds"}: they meet the limit with ${sure}.${coin}${this.#beyond}`;
  }

  /** What the pessimistic case would ask for more. */
  get #beyond(): string {
    const { build, pessimistic } = this;
    const { count, enough } = pessimistic;
    if (count === undefined || !enough) {
      return " With every unknown at its pessimistic limit at once no number that fits would hold it.";
    }
    return count > build!
      ? ` Every unknown at its pessimistic limit at once, far less likely than one in twenty, would ask for ${count}.`
      : " They hold it with every unknown at its pessimistic limit at once, too.";
  }

  protected tables(): readonly Table[] {
    const { nominal, probable, pessimistic, withNominal, withPessimistic } = this;
    const needed = ({ count, room }: Pick<Sizing, "count" | "room">) =>
      count === undefined
        ? countCell(undefined, "none is enough")
        : countCell(count, count > room ? `${count}, of at most ${room}` : `${count}`);
    const sure = (of: Confidence | undefined): Cell => (of ? chanceCell(of.chance!) : "");
    return [
      {
        title: "Bonds for each case",
        columns: ["case", "every unknown", "bonds", "chance to meet the limit"],
        numbersFrom: 2,
        rows: [
          ["nominal", "at its median", needed(nominal), sure(withNominal)],
          ["probable", "as it may be", needed(probable), sure(probable.confidence)],
          ["pessimistic", "at its pessimistic limit", needed(pessimistic), sure(withPessimistic)],
        ],
      },
    ];
  }

  protected override *csvRows(): Generator<ResultRow> {
    yield ["bonds", "to build", "number", this.build, ""];
    yield* super.csvRows();
  }

  protected override notes(): readonly string[] {
    return [this.probable.confidence.convergence];
  }
}
