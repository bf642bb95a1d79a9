/**
 * A curve through tabulated points.
 * @module
 */

/** A curve y(x) between the first and the last point of a table. */
export interface Interpolant {
  /** y(x); beyond the ends the end cubic goes on, so the caller has to hold x inside. */
  value(x: number): number;
  /** dy/dx */
  slope(x: number): number;
  readonly from: number;
  readonly to: number;
}

/**
 * The piece of a rising table that holds a place, by its first point; beyond the ends the piece there.
 * @param x - two numbers or more
 */
export function pieceOf(x: readonly number[], at: number): number {
  let [low, high] = [0, x.length - 1];
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (x[middle]! <= at) low = middle;
    else high = middle;
  }
  return low;
}

/**
 * Monotone cubic through points: never overshoots, so that positive data stay positive.
 * Source: Fritsch & Butland, SIAM J. Sci. Stat. Comput. 5, 300 (1984): the slope at a point is the
 * weighted harmonic mean of the slopes beside it.
 * @param x - rising, two points or more
 * @throws RangeError when x does not rise or the lengths differ
 */
export function monotoneCubic(x: readonly number[], y: readonly number[]): Interpolant {
  const n = x.length;
  if (n < 2 || y.length !== n) {
    throw new RangeError(`monotoneCubic: expected 2 points or more, got ${n} x and ${y.length} y`);
  }
  const width = Array.from({ length: n - 1 }, (_, i) => x[i + 1]! - x[i]!);
  const bad = width.findIndex((h) => !(h > 0));
  if (bad >= 0) throw new RangeError(`monotoneCubic: x does not rise after ${x[bad]}`);
  const rise = width.map((h, i) => (y[i + 1]! - y[i]!) / h);
  const slopes = x.map((_, i) => {
    if (i === 0) return endSlope(rise[0]!, rise[1], width[0]!, width[1]);
    if (i === n - 1) return endSlope(rise[n - 2]!, rise[n - 3], width[n - 2]!, width[n - 3]);
    const [left, right, h, k] = [rise[i - 1]!, rise[i]!, width[i - 1]!, width[i]!];
    if (left * right <= 0) return 0;
    return (3 * (h + k)) / ((2 * k + h) / left + (k + 2 * h) / right);
  });

  /** The piece that holds a place: its first point, its width, and how far along it, 0 to 1. */
  const pieceAt = (at: number) => {
    const low = pieceOf(x, at);
    const h = width[low]!;
    const [a, b] = [slopes[low]! * h, slopes[low + 1]! * h];
    const step = y[low + 1]! - y[low]!;
    return {
      start: y[low]!,
      h,
      s: (at - x[low]!) / h,
      a,
      b: 3 * step - 2 * a - b,
      c: a + b - 2 * step,
    };
  };

  return {
    from: x[0]!,
    to: x[n - 1]!,
    value(at) {
      const { start, s, a, b, c } = pieceAt(at);
      return start + s * (a + s * (b + s * c));
    },
    slope(at) {
      const { h, s, a, b, c } = pieceAt(at);
      return (a + s * (2 * b + s * 3 * c)) / h;
    },
  };
}

/**
 * Monotone cubic in the logarithms of both: exact for a power law, and positive.
 * @param points - x rising and positive, y positive
 */
export function inLogarithms(points: readonly (readonly [number, number])[]): Interpolant {
  const curve = monotoneCubic(
    points.map(([x]) => Math.log(x)),
    points.map(([, y]) => Math.log(y)),
  );
  const value = (x: number) => Math.exp(curve.value(Math.log(x)));
  return {
    value,
    slope: (x) => (value(x) * curve.slope(Math.log(x))) / x,
    from: points[0]![0],
    to: points[points.length - 1]![0],
  };
}

/** Slope at an end from a parabola through three points, kept from changing the sign of the rise. */
function endSlope(near: number, next: number | undefined, h: number, k: number | undefined) {
  if (next === undefined || k === undefined) return near;
  const slope = ((2 * h + k) * near - h * next) / (h + k);
  if (slope * near <= 0) return 0;
  return near * next <= 0 && Math.abs(slope) > 3 * Math.abs(near) ? 3 * near : slope;
}
