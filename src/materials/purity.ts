/**
 * How pure a metal is, as a field of a description.
 * @module
 */
import { either, type Field, isOneValue, number, object, quantity } from "../units/fields.js";
import type { Temperature } from "../units/quantity.js";
import type { Uncertain } from "../units/spread.js";

/**
 * How pure a metal is: its residual resistivity ratio ρ(295 K)/ρ(residual), greater than 1, or one with the
 * warm temperature it was measured from (ρ(273 K) and ρ(300 K) of copper differ by 11 %). The warm metal has
 * its residual resistivity in it: with that of the pure metal, ρ(residual) = ρ(295 K, pure)/(ratio − 1).
 */
export type UncertainPurity = Uncertain<number> | PurityFrom;

/** A residual resistivity ratio with the warm temperature it was measured from. */
export interface PurityFrom {
  /** ρ(warm)/ρ(residual), greater than 1. */
  readonly value: Uncertain<number>;
  /** Where ρ(warm) was measured [K]. */
  readonly warm: Uncertain<Temperature>;
}

const ratio = number("a residual resistivity ratio greater than 1", (r) => r > 1, 1);

export const purity: Field<UncertainPurity> = either<Uncertain<number>, PurityFrom>(
  (written) => written === null || isOneValue(written),
  ratio,
  object<PurityFrom>({ value: ratio, warm: quantity("temperature") }),
);
