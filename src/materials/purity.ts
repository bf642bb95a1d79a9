/**
 * How pure a metal is, as a field of a description.
 * @module
 */
import { either, type Field, number, object, quantity } from "../units/fields.js";
import type { Temperature } from "../units/quantity.js";
import { isSpread, type Uncertain } from "../units/spread.js";

/** How pure a metal is: a residual resistivity ratio, or one with the warm temperature it was measured from. */
export type UncertainPurity = Uncertain<number> | PurityFrom;

/** A residual resistivity ratio with the warm temperature it was measured from. */
export interface PurityFrom {
  /** ρ(warm)/ρ(residual), greater than 1. */
  readonly value: Uncertain<number>;
  /** Where ρ(warm) was measured [K]. */
  readonly warm: Uncertain<Temperature>;
}

const ratio = number("a residual resistivity ratio greater than 1", (r) => r > 1);

/** Reads a purity. */
export const purity: Field<UncertainPurity> = either<Uncertain<number>, PurityFrom>(
  (written) => !(typeof written === "object" && !isSpread(written)),
  ratio,
  object<PurityFrom>({ value: ratio, warm: quantity("temperature") }),
);
