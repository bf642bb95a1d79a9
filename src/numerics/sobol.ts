/**
 * Points that fill the unit cube evenly, in a seeded random arrangement.
 *
 * Sobol's sequence in base 2, scrambled by a random matrix and a random shift of its digits: each point
 * is evenly distributed by itself, and any 2ᵐ points that begin at a multiple of 2ᵐ put one into each
 * of 2ᵐ slices of every axis. Several arrangements tell how far a mean over the points may be off.
 * Sources: I. M. Sobol', USSR Comput. Math. Math. Phys. 7, 86 (1967); J. Matoušek, On the L₂-discrepancy
 * for anchored boxes, J. Complexity 14, 527 (1998), for the scrambling.
 * @module
 */
import type { Random } from "./random.js";
import { directions } from "./sobol-directions.js";

const digits = 32;
const polynomials = directions.split(",");

/** Most dimensions that directions are on file for. */
export const mostDimensions = polynomials.length + 1;

/** A scrambled sequence. */
export class Sobol {
  /** V of each dimension: what a one in digit k of the index adds to the point. */
  readonly #directions: Uint32Array;
  readonly #shift: Uint32Array;
  readonly #point: Uint32Array;
  #index = 0;

  /**
   * @param dimension - 1 to `mostDimensions`
   * @param random - arranges the points; without it they are those of the plain sequence, the first at 0
   * @throws RangeError for another number of dimensions
   */
  constructor(
    readonly dimension: number,
    random?: Random,
  ) {
    if (!(Number.isInteger(dimension) && dimension >= 1 && dimension <= mostDimensions)) {
      throw new RangeError(`Sobol: expected 1 to ${mostDimensions} dimensions, got ${dimension}`);
    }
    this.#directions = new Uint32Array(dimension * digits);
    this.#shift = new Uint32Array(dimension);
    this.#point = new Uint32Array(dimension);
    for (let d = 0; d < dimension; d++) {
      const plain = plainDirections(d);
      const own = random ? scrambled(plain, random) : plain;
      this.#directions.set(own, d * digits);
      if (random) this.#shift[d] = random.below(2 ** digits);
    }
    this.start(0);
  }

  /** Goes to the point of an index, below 2³². */
  start(index: number): void {
    const gray = (index ^ (index >>> 1)) >>> 0;
    for (let d = 0; d < this.dimension; d++) {
      let x = this.#shift[d]!;
      for (let k = 0; k < digits; k++) {
        if ((gray >>> k) & 1) x ^= this.#directions[d * digits + k]!;
      }
      this.#point[d] = x;
    }
    this.#index = index;
  }

  /** Writes the point, in the middle of its cell of 2⁻³², and goes to the next. */
  next(out: Float64Array): void {
    const { dimension } = this;
    const point = this.#point;
    // In the order of Gray's code one digit changes from each index to the next.
    const k = 31 - Math.clz32((this.#index + 1) & -(this.#index + 1));
    for (let d = 0; d < dimension; d++) {
      const x = point[d]!;
      out[d] = (x + 0.5) * 2 ** -digits;
      point[d] = x ^ this.#directions[d * digits + k]!;
    }
    this.#index++;
  }
}

/** V₁ … V₃₂ as fractions of 2³²: Joe & Kuo (2008), section 2. */
function plainDirections(d: number): Uint32Array {
  const v = new Uint32Array(digits);
  if (d === 0) return v.map((_, k) => (1 << (31 - k)) >>> 0);
  const [s, a, ...m] = polynomials[d - 1]!.trim().split(" ").map(Number) as [
    number,
    number,
    ...number[],
  ];
  for (let k = 0; k < digits; k++) {
    if (k < s) {
      v[k] = (m[k]! << (31 - k)) >>> 0;
      continue;
    }
    let x = v[k - s]! ^ (v[k - s]! >>> s);
    for (let i = 1; i < s; i++) if ((a >>> (s - 1 - i)) & 1) x ^= v[k - i]!;
    v[k] = x >>> 0;
  }
  return v;
}

/** Directions times a random matrix of digits: ones on its diagonal, anything below, nothing above. */
function scrambled(v: Uint32Array, random: Random): Uint32Array {
  const columns = Uint32Array.from({ length: digits }, (_, j) => {
    const below = 31 - j;
    return ((1 << below) | (below === 0 ? 0 : random.below(2 ** below))) >>> 0;
  });
  return v.map((x) => {
    let sum = 0;
    for (let j = 0; j < digits; j++) if ((x >>> (31 - j)) & 1) sum ^= columns[j]!;
    return sum >>> 0;
  });
}
