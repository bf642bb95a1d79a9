/**
 * Units of measurement by mathjs, for plain numbers: its class of units with arithmetic of numbers in the
 * place of that of all its types, which would take a fifth of an import of this library to set up. The build
 * replaces this module by one file with only that part of mathjs in it (.ci/mathjs.js): from the package,
 * Node loads over a thousand files.
 * @module
 */
import * as mathjs from "mathjs";

/** One of a unit, or some; what is used of it. */
export interface MathUnit {
  /** The units that it is made of. */
  readonly units: readonly { readonly unit: { readonly offset: number } }[];
  equalBase(other: MathUnit): boolean;
  toSI(): MathUnit;
  toNumber(): number;
}

interface MathUnits {
  new (value: number, unit: string): MathUnit;
  /** Reads a unit with or without a value, as `1/s`. */
  parse(text: string, options: { readonly allowNoUnits: boolean }): MathUnit;
  createUnit(
    units: Readonly<
      Record<string, string | { readonly definition: string; readonly prefixes?: "short" }>
    >,
    options?: { readonly override?: boolean },
  ): void;
}

/** Degrees Rankine are 5/9 K; mathjs keeps such a value as a fraction. */
class Fraction {
  readonly isFraction = true;
  constructor(
    readonly numerator: number,
    readonly denominator = 1,
  ) {}
  valueOf(): number {
    return this.numerator / this.denominator;
  }
}

/** What mathjs exports without a type. */
interface Untyped {
  createUnitClass(dependencies: Readonly<Record<string, unknown>>): MathUnits;
}

// Taken from the module itself, so that the build sees that nothing else of it is used.
export const Unit = (mathjs as unknown as Untyped).createUnitClass({
  config: { number: "number", predictable: false },
  addScalar: (a: number, b: number) => a + b,
  subtractScalar: (a: number, b: number) => a - b,
  multiplyScalar: (a: number, b: number) => a * b,
  divideScalar: (a: number, b: number) => a / b,
  pow: (a: number, b: number) => a ** b,
  abs: Math.abs,
  fix: Math.trunc,
  round: Math.round,
  equal: (a: number, b: number) => a === b,
  isNumeric: (value: unknown) => typeof value === "number",
  format: String,
  number: Number,
  Fraction,
  Complex: {},
  BigNumber: {},
});
