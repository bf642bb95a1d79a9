/**
 * How the inputs change the conductors of a piece, where they do so by formulas: in proportion, or in the
 * coefficients and exponents of its powers.
 * @module
 */
import type { PowerTerm } from "../../conductor.js";
import { sumOfPowers } from "../../materials/laws.js";
import { type ConductorPiece, numbersOf, spreadOver } from "./mount-pieces.js";
import type { PieceLinks } from "./piece-links.js";
import type { Inputs, Sample } from "./uncertain-inputs.js";

/** Most by which the logarithm of a formula may be off; drops, being less than temperatures, are by less. */
export const tolerance = 5e-10;

/** Changes the network for one sample. */
export type Update = (seen: Float64Array, values: Float64Array) => void;

/** Finds formulas of the inputs that move a piece. */
export interface Formulator {
  readonly inputs: Inputs;
  /** A number as a formula; undefined when it is none. @param most - numbers of a series */
  law(
    f: (sample: Sample) => number,
    most?: number,
  ): { value(seen: Float64Array): number; readonly isConstant: boolean } | undefined;
}

/** Temperatures up to which formulas are checked, in parts of the highest at the medians. */
const headrooms = [3, 1.6, 1.2];

/**
 * What of a factor may be a formula: its logarithm, where things multiply; its inverse, in series; itself,
 * where they stand side by side. The tolerance is the logarithm's: in the other two the factor is near 1.
 */
const near = (factor: number) => (factor > 0.4 && factor < 2.5 ? factor : Number.NaN);
const scales: readonly {
  readonly of: (factor: number) => number;
  readonly back: (value: number) => number;
  readonly most: number;
}[] = [
  { of: Math.log, back: Math.exp, most: 400 },
  { of: (factor) => 1 / near(factor), back: (value) => 1 / value, most: 400 },
  { of: near, back: (value) => value, most: 400 },
  { of: Math.log, back: Math.exp, most: 2000 },
];

/** The whole law in proportion: Θ(T; x) = f(x)·Θ(T). */
export function asFactor(
  piece: ConductorPiece,
  { span, limitTo, multiply }: PieceLinks,
  { inputs, law: lawOf }: Formulator,
): Update | undefined {
  const base = piece.conductor(inputs);
  for (const room of headrooms) {
    const temperatures = spreadOver(...span(room));
    const given = numbersOf(base, temperatures);
    const factorOf = (sample: Sample) => {
      const now = piece.numbers(sample, temperatures);
      const factor = now[0]! / given[0]!;
      const alike = now.every(
        (x, j) => Math.abs(x / given[j]! - factor) <= 0.1 * tolerance * factor,
      );
      return alike ? factor : Number.NaN;
    };
    for (const { of, back, most } of scales) {
      const law = lawOf((sample) => of(factorOf(sample)), most);
      if (!law) continue;
      limitTo(room);
      return (seen) => multiply(base, back(law.value(seen)));
    }
  }
  return undefined;
}

/** Powers whose coefficients, or whose only exponent, change. */
export function asPower(
  piece: ConductorPiece,
  { put, span, limitTo }: PieceLinks,
  { inputs, law: lawOf }: Formulator,
): Update | undefined {
  const { powers: given = [], powersUpTo = Number.POSITIVE_INFINITY } = piece.conductor(inputs);
  const room = headrooms.find((r) => span(r)[1] <= powersUpTo);
  if (given.length === 0 || room === undefined) return undefined;
  const [low, high] = span(room);
  const termOf = (sample: Sample, k: number): PowerTerm | undefined => {
    const { powers, powersUpTo = Number.POSITIVE_INFINITY } = piece.conductor(sample);
    return powers?.length === given.length && powersUpTo >= high ? powers[k] : undefined;
  };
  const terms: ((seen: Float64Array) => PowerTerm)[] = [];
  const powers: PowerTerm[] = [...given];
  // At a temperature of the mount, where coefficient and exponent hardly pull against each other.
  const T = Math.sqrt(low * high);
  for (const [k, { exponent: own }] of given.entries()) {
    const exponent = lawOf((s) => termOf(s, k)?.exponent ?? Number.NaN);
    const coefficient = lawOf((s) => {
      const term = termOf(s, k);
      return term ? Math.log(term.coefficient) + term.exponent * Math.log(T) : Number.NaN;
    });
    if (!coefficient || !exponent) return undefined;
    terms.push((seen) => {
      const n = exponent.isConstant ? own : exponent.value(seen);
      return { coefficient: Math.exp(coefficient.value(seen) - n * Math.log(T)), exponent: n };
    });
  }
  limitTo(room);
  // One conductor whose powers are replaced: samples follow each other, and none keeps it.
  const { value, integral } = sumOfPowers(powers);
  const conductor = { conductance: value, integral, powers };
  return (seen) => {
    for (let k = 0; k < terms.length; k++) powers[k] = terms[k]!(seen);
    put(conductor);
  };
}
