/**
 * Particles whose intensity falls as a power of the cosine of the zenith angle, through a box: how many
 * cross it, and straight ways through it.
 * @module
 */
import { integrateBy } from "../numerics/quadrature.js";
import type { Random } from "../numerics/random.js";

/** A box: its horizontal edges when it lies flat, and its height [m]. */
export interface FlatBox {
  readonly width: number;
  readonly length: number;
  readonly thickness: number;
}

/**
 * All particles from above at a point, over the vertical intensity: ∫ cosⁿθ dΩ = 2π/(n + 1) [sr].
 * @param exponent - n, 2 for muons at sea level
 */
export function skySum(exponent: number): number {
  return (2 * Math.PI) / (exponent + 1);
}

/**
 * Particles through a flat face whose normal is tilted by β from the vertical, from both sides, per
 * area and vertical intensity: ∫ cosⁿθ |n̂·Ω̂| dΩ [sr].
 * 2π/(n + 2) for a horizontal face (π/2 for n = 2); π/4 for a vertical one and n = 2, half of it on
 * either side. The integral over azimuth is done in closed form, that over θ to 1e-9 for whole n.
 * @param tilt - β [rad]
 */
export function faceSum(tilt: number, exponent: number): number {
  const [upright, across] = [Math.abs(Math.cos(tilt)), Math.abs(Math.sin(tilt))];
  // Rings of θ up to π/2 − β lie on one side of the face; those beyond are cut by its plane.
  const edge = Math.atan2(upright, across);
  const rest = Math.atan2(across, upright);
  const uncut = (upright * (1 - Math.cos(edge) ** (exponent + 2))) / (exponent + 2);
  const cut = (u: number) => {
    // Slow at both ends, where the slopes are those of roots and powers.
    const beyond = rest * u ** 2 * (3 - 2 * u);
    const cosine = Math.sin(rest * (1 - u) ** 2 * (1 + 2 * u));
    const theta = edge + beyond;
    const along = upright * cosine;
    const chord = Math.sqrt(Math.sin(beyond) * Math.sin(edge + theta));
    const around = chord + along * Math.atan2(along, chord);
    return cosine ** exponent * Math.sin(theta) * around * rest * 6 * u * (1 - u);
  };
  return 2 * Math.PI * uncut + 4 * integrateBy(cut, 0, 1, 48);
}

/**
 * Area that a box shows to the sky, weighted by the angle law: ∫ cosⁿθ A(Ω) dΩ [m² sr], so that
 * times the vertical intensity it is a rate. A convex body's shadow is half the sum of its faces'.
 * The mean path of the crossing particles is volume × `skySum` over it, since in every direction the
 * mean chord is volume over shadow (Cauchy): 4/3 of the thickness of a wide flat box for n = 2.
 * @param tilt - of the box about its width, so that its length rises [rad]
 */
export function boxSum({ width, length, thickness }: FlatBox, tilt: number, exponent: number) {
  return (
    width * length * faceSum(tilt, exponent) +
    width * thickness * faceSum(Math.PI / 2 - tilt, exponent) +
    length * thickness * faceSum(Math.PI / 2, exponent)
  );
}

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
