/**
 * The answer to: what is the cheapest choice that meets the limit?
 * @module
 */
import type { Mount } from "../../mount/mount.js";
import { formatQuantity, formatRise, formatShare } from "../../units/format.js";
import { Result, type ResultContent } from "../../units/result.js";
import { quantityCell, riseCell, type Table } from "../../units/table.js";
import { type Confidence, confidenceWords } from "../confidence/confidence.js";
import type { CostRule } from "./costs.js";

/** A field that was chosen, in SI. */
export interface ChosenField {
  /** Field of the mount. */
  readonly name: string;
  /** SI unit; empty for a pure number. */
  readonly unit: string;
  /** What was chosen, in the unit. */
  readonly value: number;
  /** Least value that was allowed. */
  readonly from: number;
  /** Largest value that was allowed. */
  readonly to: number;
  /** Whether it counts things. */
  readonly whole: boolean;
}

/** The least cost for another limit. */
export interface TradeOff {
  /** Rise that is allowed [K]. */
  readonly limit: number;
  /** Rise that is not exceeded with the wanted chance [K]: the limit or a little less, where the bounds let it be met. */
  readonly rise: number;
  /** In the cost's unit. */
  readonly cost: number;
  /** The fields, in their order, in SI. */
  readonly values: readonly number[];
  /** Whether the bounds let the limit be met. */
  readonly meets: boolean;
}

/** The cheapest choice, and what other limits would cost. */
export class Cheapest extends Result {
  /** The mount's name. */
  declare readonly name: string;
  /** Wanted chance to meet the limit. */
  declare readonly probability: number;
  /** What was to be least. */
  declare readonly least: CostRule;
  /** How much of it the choice takes, in its unit. */
  declare readonly cost: number;
  /** Whether it meets the limit with the wanted chance; where not, it is what the bounds let be coolest. */
  declare readonly meets: boolean;
  /** The fields, as they were chosen. */
  declare readonly fields: readonly ChosenField[];
  /** The mount with them. */
  declare readonly mount: Mount;
  /** How sure that meets the limit, by the mount's own model of the die. */
  declare readonly confidence: Confidence;
  /** Rise that the limit allows, at the medians [K]. */
  declare readonly allowed: number;
  /** Solves of the two-node model that the search took. */
  declare readonly solves: number;
  /**
   * The least cost for tighter and looser limits, tightest first: no choice has both less cost and less rise
   * (Pareto front). By the search, corrected at the choice.
   */
  declare readonly tradeOff: readonly TradeOff[];

  /** @internal Made by `cheapest`. */
  constructor({
    tradeOff,
    ...content
  }: ResultContent<Cheapest, "tradeOff"> & { readonly tradeOff: () => readonly TradeOff[] }) {
    const { confidence } = content;
    const { warnings } = confidence;
    super({ ...content, warnings, provenance: () => confidence.provenance });
    this.later("tradeOff", tradeOff);
  }

  protected get answer(): string {
    const { least, cost, meets, fields, probability } = this;
    const chosen = fields
      .map((field) => {
        const { name, value, unit, from, to } = field;
        const at =
          value <= from * (1 + 1e-6)
            ? " (the least allowed)"
            : value >= to * (1 - 1e-6)
              ? " (the most allowed)"
              : "";
        return `${name} ${formatField(value, unit)}${at}`;
      })
      .join(", ");
    const chance = confidenceWords(this.confidence.chance!, probability);
    return meets
      ? `${chosen}: ${formatCost(cost, least)} of ${least.name} ${least.unit === "" ? "meet" : "meets"} ` +
          `the limit with ${chance} (${formatShare(probability)} were wanted).`
      : `No choice is enough: ${chosen} meet the limit with ${chance}, less than ${formatShare(probability)}.`;
  }

  protected tables(): readonly Table[] {
    const { least, fields, tradeOff } = this;
    return [
      {
        title: "Fields that were chosen",
        columns: ["field", "chosen", "from", "to"],
        numbersFrom: 1,
        rows: fields.map(({ name, value, unit, from, to }) => [
          name,
          ...[value, from, to].map((x) => quantityCell(x, unit, formatField(x, unit))),
        ]),
      },
      {
        title: `Least ${least.name} for other limits`,
        columns: ["limit", least.name, ...fields.map(({ name }) => name)],
        numbersFrom: 0,
        rows: tradeOff
          .filter(({ meets }) => meets)
          .map(({ limit, cost, values }) => [
            riseCell(limit),
            quantityCell(cost, least.unit, formatCost(cost, least)),
            ...values.map((value, i) => {
              const { unit } = fields[i]!;
              return quantityCell(value, unit, formatField(value, unit));
            }),
          ]),
      },
    ];
  }

  protected override notes(): readonly string[] {
    const { confidence, solves } = this;
    return [
      confidence.convergence,
      `The search took ${solves} solves of the two-node model; for a limit of ${formatRise(this.allowed)} the ` +
        `choice was solved with the mount's own model ${confidence.expensive} times.`,
    ];
  }
}

/** A cost with its unit. */
export function formatCost(cost: number, { unit }: Pick<CostRule, "unit">): string {
  if (unit === "m^3") return `${(cost * 1e9).toPrecision(3)} mm³`;
  return formatField(cost, unit);
}

function formatField(value: number, unit: string): string {
  if (Number.isInteger(value) && unit === "") return String(value);
  return formatQuantity(value, unit);
}
