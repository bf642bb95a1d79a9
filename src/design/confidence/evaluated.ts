/**
 * What a compiled mount does at one set of values of its inputs, and the formulas that it is made of.
 * @module
 */
import type { InputLaw } from "./input-law.js";

/** Chip, stage and limit, or how they change by a number x [K over the unit of x]. */
export interface ChipStageLimit {
  /** Temperature of the chip [K]. */
  readonly chip: number;
  /** Temperature of the stage [K]. */
  readonly stage: number;
  /** Highest temperature of the chip that the mount allows [K]; NaN for a mount without a limit. */
  readonly limit: number;
}

/** What a mount does at one set of values; the chip is infinitely warm when there is no steady state. */
export interface Evaluated extends ChipStageLimit {
  /** Limit less chip [K]. */
  readonly margin: number;
  /** A bit for each range of `UncertainMount.ranges` that its temperatures left; 0 when none. */
  readonly left: number;
}

/** No steady state: warmer than anything. */
export const unsettled: Evaluated = {
  chip: Number.POSITIVE_INFINITY,
  stage: Number.NaN,
  limit: Number.NaN,
  margin: Number.NEGATIVE_INFINITY,
  left: 0,
};

export function evaluated(chip: number, stage: number, limit: number, left: number): Evaluated {
  return { chip, stage, limit, margin: limit - chip, left };
}

/** Least temperature that a piece was checked at, the highest at the medians, and the highest of a held end [K]. */
export type Span = readonly [low: number, free: number, held: number];

/** The formulas of a mount; plain data, which can be sent to a worker. */
export interface Formulas {
  /** In the order in which they were asked for; undefined for what is none. */
  readonly laws: readonly (InputLaw | undefined)[];
  /** By piece. */
  readonly spans: Readonly<Record<string, Span>>;
}
