/**
 * Where a function passes through zero.
 * @module
 */

/**
 * A root of a continuous function between two places of opposite sign, to the last digit.
 *
 * Bisection: sixty calls, and no function can mislead it.
 * @throws RangeError when the signs do not differ
 */
export function root(f: (x: number) => number, a: number, b: number): number {
  let [low, high] = [a, b];
  const atLow = f(low);
  if (atLow === 0) return low;
  const atHigh = f(high);
  if (atHigh === 0) return high;
  if (!(atLow < 0 !== atHigh < 0) || Number.isNaN(atLow) || Number.isNaN(atHigh)) {
    throw new RangeError(`root: expected opposite signs at ${a} and ${b}, got ${atLow}, ${atHigh}`);
  }
  for (;;) {
    const middle = low + (high - low) / 2;
    if (middle === low || middle === high) return middle;
    const value = f(middle);
    if (value === 0) return middle;
    if (value < 0 === atLow < 0) low = middle;
    else high = middle;
  }
}
