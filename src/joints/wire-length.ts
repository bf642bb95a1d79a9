/**
 * How long a bond wire is, by the gap it crosses, the step it climbs and the height of its loop.
 * @module
 */
import { object, optional, type Plain, quantityFromZero } from "../units/fields.js";
import { formatGiven } from "../units/format.js";
import type { Length } from "../units/quantity.js";
import type { Uncertain } from "../units/spread.js";

/** The way of a wire from the chip to the ledge. */
export interface WireReach {
  /** From the die's edge to the ledge's [m]. */
  readonly gap: Uncertain<Length>;
  /** How much higher the one foot stands than the other, whichever it is [m]; 0 when absent. */
  readonly step?: Uncertain<Length>;
  /** Of the wire's highest point above the higher foot [m]. */
  readonly loop: Uncertain<Length>;
  /** From the ledge's edge to the foot on it [m]; 0 when absent. */
  readonly onLedge?: Uncertain<Length>;
}

export const reachField = object<WireReach>({
  gap: quantityFromZero("length"),
  step: optional(quantityFromZero("length")),
  loop: quantityFromZero("length"),
  onLedge: optional(quantityFromZero("length")),
});

/**
 * Length of a wire as a parabola through both feet with its top at the loop's height [m]. A real loop
 * rises more steeply at its first foot, which adds a few per cent: give the loop a spread for it.
 * Source: arc length of a parabola, by the integral of √(1 + u²) of any handbook of mathematics (from
 * memory); its test adds up short straight pieces.
 * @param onDie - from the die's edge to the foot on the chip [m]
 * @example wireLength({ gap: 3e-4, loop: 2e-4 }, 2e-4) // 6.67e-4
 */
export function wireLength(
  { gap, step = 0, loop, onLedge = 0 }: Plain<WireReach>,
  onDie = 0,
): number {
  const across = onDie + gap + onLedge;
  const [low, high] = [Math.sqrt(loop), Math.sqrt(loop + step)];
  if (low + high === 0) return across;
  return (
    arc((across * low) / (low + high), loop) + arc((across * high) / (low + high), loop + step)
  );
}

/** A way in words. */
export function reachWords({ gap, step = 0, loop }: Plain<WireReach>): string {
  const climbs = step > 0 ? `, a step of ${formatGiven(step, "m")}` : "";
  return `a gap of ${formatGiven(gap, "m")}${climbs}, a loop of ${formatGiven(loop, "m")}`;
}

/** From the top of a parabola down to a height below it, so far to the side [m]. */
function arc(aside: number, down: number): number {
  if (down === 0 || aside === 0) return aside + down;
  const slope = (2 * down) / aside;
  return (aside / 2) * (Math.hypot(1, slope) + Math.asinh(slope) / slope);
}
