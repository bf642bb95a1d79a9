/**
 * Straight ways through a box under a sky whose intensity falls as a power of the cosine.
 * @module
 */
import type { Random } from "../numerics/random.js";
import type { FlatBox } from "./angle-law.js";

/** A straight way through a box. */
export interface Crossing {
  /** Its length inside [m]. */
  readonly path: number;
  /** Its middle, from the lower left corner of the box [m]. */
  readonly x: number;
  readonly y: number;
}

/**
 * Draws ways through a box, each direction and place as often as particles of the intensity cosⁿθ take
 * it. A direction is drawn by cosⁿθ and kept in proportion to the area that the box shows to it; the
 * way enters evenly over that shadow, by one of the three faces that look that way. Exact, and the same
 * for ways from below, since a way has no sense of direction.
 * @param tilt - of the box about its width, so that its length rises [rad]
 * @param exponent - n; 0 for directions that are all alike
 */
export function crossings(
  box: FlatBox,
  tilt: number,
  exponent: number,
): (random: Random) => Crossing {
  const sides = [box.width, box.length, box.thickness] as const;
  const [a, b, c] = sides;
  const faces = [b * c, a * c, a * b] as const;
  // No direction shows more: Σ aₖ|Ωₖ| ≤ √Σ aₖ².
  const most = Math.hypot(...faces);
  const [upright, across] = [Math.cos(tilt), Math.sin(tilt)];

  return (random) => {
    for (;;) {
      const cosine = random.uniform() ** (1 / (exponent + 1));
      const azimuth = 2 * Math.PI * random.uniform();
      const flat = Math.sqrt(1 - cosine ** 2);
      const north = flat * Math.sin(azimuth);
      const along = [
        flat * Math.cos(azimuth),
        north * upright + cosine * across,
        cosine * upright - north * across,
      ] as const;
      const shown = faces.map((area, k) => area * Math.abs(along[k]!));
      const whole = shown[0]! + shown[1]! + shown[2]!;
      if (random.uniform() * most >= whole) continue;
      const pick = random.uniform() * whole;
      const face = pick < shown[0]! ? 0 : pick < shown[0]! + shown[1]! ? 1 : 2;
      const start = sides.map((side, k) => {
        if (k !== face) return side * random.uniform();
        return along[k]! > 0 ? 0 : side;
      });
      const path = Math.min(
        ...along.map((step, k) => {
          if (step === 0) return Number.POSITIVE_INFINITY;
          return (step > 0 ? sides[k]! - start[k]! : -start[k]!) / step;
        }),
      );
      if (!(path > 0)) continue;
      return {
        path,
        x: start[0]! + (path / 2) * along[0],
        y: start[1]! + (path / 2) * along[1],
      };
    }
  };
}
