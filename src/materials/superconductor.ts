/**
 * The superconducting state: its energy gap, and how much heat its electrons still carry.
 * @module
 */
import { chebyshevSeries, clenshaw } from "../numerics/chebyshev.js";
import { horner } from "../numerics/distributions.js";
import { integrateBy } from "../numerics/quadrature.js";
import { bcsGapRatio } from "../units/constants.js";

/**
 * Gap of a weak-coupling superconductor over its gap at zero temperature, Δ(T)/Δ(0), by the theory of
 * Bardeen, Cooper & Schrieffer.
 *
 *   ln(1/t) = Σₙ [1/(n+½) − 1/√((n+½)² + x²)],  x = Δ/(2π k_B T),  t = T/T_c
 *
 * Solved once and kept as a series, exact to 1e-9. 0 at and above T_c. 0.95688 at t = 0.5.
 * Source: Bardeen, Cooper & Schrieffer, Phys. Rev. 108, 1175 (1957); tabulated by Mühlschlegel,
 * Z. Phys. 155, 313 (1959), with which it agrees to the last printed digit.
 * @param t - T/T_c, from 0
 * @throws RangeError when t is not a number from 0
 * @example gap(0.5) // 0.9569
 */
export function gap(t: number): number {
  if (!(t >= 0)) throw new RangeError(`gap: expected T/T_c from 0, got ${t}`);
  if (t >= 1) return 0;
  if (t < lowest) return 1;
  gapSeries ??= partedSeries((s) => solveGap(1 - s * s) / s, lowest, 8);
  const s = Math.sqrt(1 - t);
  return s * seriesIn(gapSeries, s, lowest);
}

/** Δ(T)/Δ(0)/√(1 − t). */
let gapSeries: PartedSeries | undefined;

/** Below this T/T_c the gap is full to 1e-15. */
const lowest = 0.05;

/**
 * −d(Δ²/Δ(0)²)/d ln t, from the derivative of the gap equation; 0 where the gap is full to 1e-15, and 0
 * above T_c. At T_c it is 8 e^(2γ)/(7 ζ(3)) = 3.016.
 * @param t - T/T_c, from 0 to 1
 */
export function gapSquareFall(t: number): number {
  if (t < lowest || t > 1) return 0;
  const scale = (2 * Math.PI * t) / bcsGapRatio;
  const square = (gap(t) / scale) ** 2;
  // x² falls by 1/slope per unit of ln t, and Δ²/Δ(0)² = (scale x)².
  return scale ** 2 * (1 / gapSum(square)[1] - 2 * square);
}

/** Series on equal parts of 0 ≤ s ≤ √(1 − low), s = √(1 − T/T_c), in which everything is smooth. */
export type PartedSeries = readonly Float64Array[];

/** @param low - the series ends at this t */
export function partedSeries(f: (s: number) => number, low: number, parts: number): PartedSeries {
  const end = Math.sqrt(1 - low);
  return Array.from({ length: parts }, (_, i) =>
    chebyshevSeries(f, (end * i) / parts, (end * (i + 1)) / parts),
  );
}

export function seriesIn(series: PartedSeries, s: number, low: number): number {
  const place = (series.length * s) / Math.sqrt(1 - low);
  const part = Math.min(series.length - 1, Math.floor(place));
  return clenshaw(series[part]!, 2 * (place - part) - 1);
}

/** Δ(T)/Δ(0) from the gap equation, by Newton's method in x². */
function solveGap(t: number): number {
  let square = ((1 - t) * 1.7367 ** 2 * bcsGapRatio ** 2) / (2 * Math.PI * t) ** 2;
  square = Math.min(square, (bcsGapRatio / (2 * Math.PI * t)) ** 2);
  for (let step = 0; step < 60; step++) {
    const [sum, slope] = gapSum(square);
    const change = (sum + Math.log(t)) / slope;
    square = Math.max(square / 4, square - change);
    if (Math.abs(change) < 1e-15 * square) break;
  }
  return (2 * Math.PI * t * Math.sqrt(square)) / bcsGapRatio;
}

/** The sum of the gap equation and its derivative by x²; the tail by Euler and Maclaurin. */
function gapSum(square: number): [number, number] {
  const terms = 40;
  let [sum, slope] = [0, 0];
  for (let n = 0; n < terms; n++) {
    const w = n + 0.5;
    const root = Math.sqrt(w * w + square);
    // 1/w − 1/√(w²+x²) without the cancellation
    sum += square / (w * root * (w + root));
    slope += 0.5 / root ** 3;
  }
  // Σ_{n≥N} f(n+½) = ∫_N^∞ f + f'(N)/24 − 7 f'''(N)/5760 + …
  const N = terms;
  const root = Math.sqrt(N * N + square);
  sum += Math.log1p(square / (N + root) / (2 * N));
  sum += (-1 / N ** 2 + N / root ** 3) / 24;
  sum -= (7 / 5760) * (-6 / N ** 4 + (6 * N ** 3 - 9 * N * square) / root ** 7);
  slope += 0.5 / (root * (N + root));
  slope += (-3 * N) / (2 * root ** 5) / 24;
  return [sum, slope];
}

/**
 * Heat carried by the electrons of a superconductor over what they would carry in the normal state,
 * both scattered by defects, κ_es/κ_en.
 *
 *   κ_es/κ_en = [2 F₁(−y) + 2 y ln(1 + e⁻ʸ) + y²/(1 + eʸ)] / (2 F₁(0)),  y = Δ(T)/(k_B T)
 *   F₁(−y) = ∫₀^∞ z dz/(1 + e^(z+y))
 *
 * 1 at y = 0, 0.408 at T_c/2, 4.6e-6 at T_c/10.
 * Valid: elastic scattering by defects. Where phonons scatter the electrons (clean lead, mercury) the
 * heat falls faster just below T_c.
 * Source: Bardeen, Rickayzen & Tewordt, Phys. Rev. 113, 982 (1959); the formula from memory, checked
 * against the integral (3/2π²) ∫ x² sech²(x/2) dx from y.
 * @param y - Δ(T)/(k_B T), from 0
 */
export function electronRatio(y: number): number {
  if (y > 1e3) return 0;
  const q = Math.exp(-y);
  const rest = Math.log1p(q);
  const sum = 2 * fermiIntegral(rest) + 2 * y * rest + (y * y * q) / (1 + q);
  return sum / (Math.PI ** 2 / 6);
}

const bernoulli = [
  ...[1, 1 / 36, -1 / 3600, 1 / 211680, -1 / 10886400, 1 / 526901760],
  -691 / 16999766784000,
];

/**
 * F₁(−y) from u = ln(1 + e⁻ʸ): −Li₂(−q) = Li₂(q/(1+q)) + u²/2 (Landen), and Li₂(1 − e⁻ᵘ) as the
 * series of Bernoulli numbers in u ≤ ln 2 (Abramowitz & Stegun, 27.7).
 */
function fermiIntegral(u: number): number {
  const w = u * u;
  const odd = horner(bernoulli, w);
  return u * odd - w / 4 + w / 2;
}

/** A superconductor's critical temperature and gap. */
export interface SuperconductorState {
  /** T_c [K] */
  readonly criticalTemperature: number;
  /** Δ(0)/(k_B T_c); 1.764 in weak coupling. */
  readonly gapRatio: number;
}

/** y = Δ(T)/(k_B T), the shape of Δ(T) that of weak coupling. */
export function gapOverTemperature(t: number, gapRatio = bcsGapRatio): number {
  return t === 0 ? Number.POSITIVE_INFINITY : (gapRatio * gap(t)) / t;
}

/**
 * A ratio such as κ_es/κ_en and its integral weighted with the temperature, as functions of t = T/T_c: J is
 * the heat of electrons limited by defects, κₙ ∝ T.
 */
export interface WeightedRatio {
  /** R(t) = κ_es/κ_en */
  ratio(t: number): number;
  /** J(t) = ∫₀ᵗ τ R(τ) dτ, t up to 1; 0 where R is smaller than any number. */
  integral(t: number): number;
}

const kept = new Map<number, WeightedRatio>();
/** Below this T/T_c R is smaller than any number: e^(−880). */
const tableLow = 0.002;

/**
 * R(t) and J(t) for a gap ratio, tabulated once to a relative 1e-9.
 *
 * The table holds J/(t² R), which stays between 0 and 1 and is smooth in √(1 − t), while J itself
 * falls through three hundred powers of ten.
 */
export function weightedRatio(gapRatio: number): WeightedRatio {
  return once(kept, gapRatio, () => ({
    ratio: (t) => (t >= 1 ? 1 : electronRatio(gapOverTemperature(t, gapRatio))),
    scaled: (t) => scaledRatio(gapOverTemperature(t, gapRatio)),
  }));
}

/** A ratio R(t) that falls as exp(−Δ/kT), and R·eʸ, which does not underflow, both up to t = 1. */
export interface FallingRatio {
  ratio(t: number): number;
  scaled(t: number): number;
}

/**
 * Any ratio that falls as exp(−Δ/kT), and its weighted integral, tabulated once for a gap ratio to a
 * relative 1e-9.
 * @param tables - those that were made before
 */
export function once(
  tables: Map<number, WeightedRatio>,
  gapRatio: number,
  make: () => FallingRatio,
): WeightedRatio {
  const known = tables.get(gapRatio);
  if (known) return known;
  const falling = make();
  const { ratio } = falling;
  const share = shareTable(gapRatio, falling);
  const made: WeightedRatio = {
    ratio,
    integral(t) {
      if (t < tableLow) return 0;
      const at = Math.min(t, 1);
      return seriesIn(share, Math.sqrt(1 - at), tableLow) * at ** 2 * ratio(at);
    },
  };
  if (tables.size >= 32) tables.clear();
  tables.set(gapRatio, made);
  return made;
}

/** J(t)/(t² R(t)) as a series in s. */
function shareTable(gapRatio: number, falling: FallingRatio): PartedSeries {
  const { ratio } = falling;
  // Near T_c the gap goes as a root, which the variable s straightens.
  const turn = 0.3;
  const far = Math.sqrt(1 - turn);
  const inS = (s: number) => 2 * s * (1 - s * s) * ratio(1 - s * s);
  const before = shareBelow(turn, gapRatio, falling) * turn ** 2 * ratio(turn);
  const shareAt = (s: number) => {
    const t = 1 - s * s;
    if (t <= turn) return shareBelow(t, gapRatio, falling);
    const middle = (s + far) / 2;
    const above = integrateBy(inS, s, middle, 20) + integrateBy(inS, middle, far, 20);
    return (before + above) / (t ** 2 * ratio(t));
  };
  return partedSeries(shareAt, tableLow, 14);
}

/** Where to cut an integral of e⁻ˣ times a slow function. */
const decay = [0, 1.5, 4, 8, 14, 22, 36];

/**
 * J(t)/(t² R(t)) well below T_c, where R goes as exp(−Δ/kT): with w = 1/τ − 1/t the integrand is
 * e^(−a w) times a slow function.
 */
function shareBelow(t: number, gapRatio: number, { scaled }: FallingRatio): number {
  const yAt = gapOverTemperature(t, gapRatio);
  const scale = 1 / gapRatio;
  const inW = (w: number) => {
    const tau = 1 / (1 / t + w);
    const y = gapOverTemperature(tau, gapRatio);
    return (tau / t) ** 3 * scaled(tau) * Math.exp(yAt - y);
  };
  let sum = 0;
  for (let i = 1; i < decay.length; i++) {
    sum += integrateBy(inW, decay[i - 1]! * scale, decay[i]! * scale, 12);
  }
  return (sum * t) / scaled(t);
}

/** R(y)·eʸ, which does not underflow. */
function scaledRatio(y: number): number {
  if (y < 700) return electronRatio(y) * Math.exp(y);
  return (2 + 2 * y + y * y) / (Math.PI ** 2 / 6);
}
