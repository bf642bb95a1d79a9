/**
 * Shares of a result's variance by input.
 * @module
 */
import { Result, type ResultContent } from "../../units/result.js";
import type { Table } from "../../units/table.js";
import { inputNamed } from "./uncertain-inputs.js";

/** Indices of one input, or of several that vary together; each with its standard error. */
export interface VarianceIndex {
  /** The input. */
  readonly name: string;
  /** Share of the variance that would go if it were known; rounding may leave it below 0. */
  readonly first: number;
  /** Standard error of `first`. */
  readonly firstError: number;
  /** Share of the variance that would stay if all else were known. */
  readonly total: number;
  /** Standard error of `total`. */
  readonly totalError: number;
}

/** Indices of a model's inputs, ready to print. */
export class VarianceIndices extends Result {
  /** The mount's name; empty for another model. */
  declare readonly name: string;
  /** Largest total index first. */
  declare readonly indices: readonly VarianceIndex[];
  /** Of the result, in its unit. */
  declare readonly mean: number;
  /** Of the result, in its unit squared. */
  declare readonly variance: number;
  /** How often the model was evaluated. */
  declare readonly evaluations: number;

  /** @internal Made by `varianceIndices`. */
  constructor(content: ResultContent<VarianceIndices, "of" | "interactions">) {
    super(content);
  }

  /** The index of an input. @throws FieldError for a name that has none */
  of(name: string): VarianceIndex {
    return inputNamed(this.indices, name, "variance indices");
  }

  /** Share of the variance that no input brings alone. */
  get interactions(): number {
    return 1 - this.indices.reduce((sum, { first }) => sum + first, 0);
  }

  get summary(): string {
    const { name, total, totalError } = this.indices[0]!;
    return total === 0
      ? "The result does not vary."
      : `The input with the largest total-effect index is ${name}, ${withError(total, totalError)}.`;
  }

  protected tables(): readonly Table[] {
    return [
      {
        title: "Shares of the variance, with their standard errors",
        columns: ["input", "alone", "alone and with others"],
        numbersFrom: 1,
        rows: this.indices.map(({ name, first, firstError, total, totalError }) => [
          name,
          { value: first, error: firstError, unit: "", text: withError(first, firstError) },
          { value: total, error: totalError, unit: "", text: withError(total, totalError) },
        ]),
      },
    ];
  }
}

/** A share and its standard error, with as many digits as that leaves, two at most: `(31.4 ± 0.2) %`. */
function withError(share: number, error: number): string {
  const [value, off] = [100 * share, 100 * error];
  if (off < 5e-3) return Math.abs(value) < 5e-3 ? "<0.01 %" : `${value.toFixed(2)} %`;
  const places = Math.min(2, Math.max(0, -Math.floor(Math.log10(off))));
  return `(${value.toFixed(places).replace("-", "−")} ± ${off.toFixed(places)}) %`;
}
