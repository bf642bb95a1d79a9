/**
 * What contacts exchange, from the phonons that flew between them.
 *
 * Phonons that leave tile i first meet tile j with a probability Fᵢⱼ, and AᵢFᵢⱼ = AⱼFⱼᵢ: a way is flown
 * alike in both senses. So both senses measure the same exchange area,
 *   Kᵢⱼ = (Nᵢⱼ + Nⱼᵢ)/(nᵢ/Aᵢ + nⱼ/Aⱼ),
 * with Nᵢⱼ of the nᵢ phonons from i that met j: the most probable K for counts of either sense.
 *
 * A tile that takes a share α of what meets it sends the rest back by Lambert's law, as diffuse mismatch
 * has it. Between its own Θ and that of the phonons that leave it lies a resistance (1/α − 1)/A, that of
 * a grey wall (H. C. Hottel and A. F. Sarofim, Radiative Transfer (1967); A. K. Oppenheim, Trans. ASME
 * 78, 725 (1956)), so other transmissions need no new flights: with R of these resistances and the heat s
 * that black tiles get of a source, heat into the die is
 *   q = (1 + YR)⁻¹(YΘ − s) = YΘ − s − Y R^½(1 + R^½YR^½)⁻¹R^½(YΘ − s).
 * @module
 */
import { inverseOfPositive } from "../../numerics/cholesky.js";

/** Whole steps into which the largest entry of Y is divided. */
const steps = 2 ** 42;

/**
 * Y of black tiles: −Kᵢⱼ/S, and on the diagonal what makes each row sum to 0.
 * @param counts - N, row by row
 * @param exposures - n/A of each tile [m⁻²]
 * @param unit - S, the area that Y is counted in [m²]
 */
export function blackAdmittance(
  counts: ArrayLike<number>,
  exposures: Float64Array,
  unit: number,
): Float64Array {
  const n = exposures.length;
  const matrix = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < i; j++) {
      const met = counts[i * n + j]! + counts[j * n + i]!;
      matrix[i * n + j] = -met / ((exposures[i]! + exposures[j]!) * unit);
    }
  }
  return balanced(matrix, n);
}

/**
 * A matrix made of its lower half: symmetric, in whole steps of a power of two, so that rows are summed
 * without rounding and the diagonal makes each of them exactly 0.
 */
function balanced(matrix: Float64Array, n: number): Float64Array {
  let largest = 0;
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < i; j++) largest = Math.max(largest, Math.abs(matrix[i * n + j]!));
  }
  if (largest === 0) return new Float64Array(n * n);
  const step = 2 ** Math.ceil(Math.log2(largest)) / steps;
  const even = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < i; j++) {
      // An exchange below 0 can only be rounding.
      const entry = Math.min(0, Math.round(matrix[i * n + j]! / step) * step);
      if (entry === 0) continue;
      even[i * n + j] = entry;
      even[j * n + i] = entry;
      even[i * n + i] = even[i * n + i]! - entry;
      even[j * n + j] = even[j * n + j]! - entry;
    }
  }
  return even;
}

/** The tiles of a die as an exchange needs them. */
export interface ExchangeTiles {
  /** Contact of each tile. */
  readonly contacts: readonly number[];
  /** [m²] */
  readonly areas: Float64Array;
  /** Area that Y is counted in [m²]. */
  readonly unit: number;
  /** How many contacts there are. */
  readonly count: number;
}

/** Exchange between contacts of given transmissions. */
export class Exchange {
  /** Y of the contacts, row by row; symmetric, rows sum to 0; in units of the die's area. */
  readonly admittance: Float64Array;
  readonly #tiles: ExchangeTiles;
  /** Y of black tiles. */
  readonly #black: Float64Array;
  /** R^½(1 + R^½YR^½)⁻¹R^½; absent where all tiles are black. */
  readonly #back: Float64Array | undefined;

  /** @param transmissions - α of each contact, above 0 and at most 1 */
  constructor(black: Float64Array, tiles: ExchangeTiles, transmissions: ArrayLike<number>) {
    this.#tiles = tiles;
    this.#black = black;
    const n = tiles.areas.length;
    const roots = tiles.areas.map((area, t) =>
      Math.sqrt(((1 / transmissions[tiles.contacts[t]!]! - 1) * tiles.unit) / area),
    );
    if (roots.some((root) => root > 0)) this.#back = reflections(black, roots, n);
    this.admittance = this.#merged(this.#greyTiles());
  }

  /** Heat that leaves at each contact of what black tiles would get [W], when all have one temperature. */
  outflow(met: Float64Array): Float64Array {
    const { contacts, count } = this.#tiles;
    const heat = this.#grey(met);
    const sums = new Float64Array(count);
    for (let t = 0; t < heat.length; t++) sums[contacts[t]!]! += heat[t]!;
    return sums;
  }

  /**
   * Θ of the phonons that leave each tile [W].
   * @param theta - of the contacts
   * @param met - what black tiles would get of the sources [W]
   */
  leaving(theta: ArrayLike<number>, met: Float64Array): Float64Array {
    const { contacts, areas } = this.#tiles;
    const n = areas.length;
    const own = Float64Array.from(contacts, (contact) => theta[contact]!);
    const back = this.#back;
    if (!back) return own;
    const into = times(this.#black, own, n);
    for (let t = 0; t < n; t++) into[t] = into[t]! - met[t]!;
    // R(1 + YR)⁻¹ = R^½(1 + R^½YR^½)⁻¹R^½.
    const drop = times(back, into, n);
    return own.map((value, t) => value - drop[t]!);
  }

  /** (1 + YR)⁻¹ v = v − Y (back) v. */
  #grey(vector: Float64Array): Float64Array {
    const back = this.#back;
    if (!back) return vector;
    const n = vector.length;
    const correction = times(this.#black, times(back, vector, n), n);
    return vector.map((value, t) => value - correction[t]!);
  }

  #greyTiles(): Float64Array {
    const back = this.#back;
    if (!back) return this.#black;
    const n = this.#tiles.areas.length;
    const product = product2(this.#black, back, n);
    const correction = product2(product, this.#black, n);
    return this.#black.map((entry, i) => entry - correction[i]!);
  }

  #merged(matrix: Float64Array): Float64Array {
    const { contacts, count } = this.#tiles;
    const n = contacts.length;
    const sums = new Float64Array(count * count);
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < i; j++) {
        const [a, b] = [contacts[i]!, contacts[j]!];
        if (a === b) continue;
        const at = Math.max(a, b) * count + Math.min(a, b);
        sums[at] = sums[at]! + (matrix[i * n + j]! + matrix[j * n + i]!) / 2;
      }
    }
    return balanced(sums, count);
  }
}

function reflections(black: Float64Array, roots: Float64Array, n: number): Float64Array {
  const grey = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) grey[i * n + j] = roots[i]! * black[i * n + j]! * roots[j]!;
    grey[i * n + i]! += 1;
  }
  const inverse = inverseOfPositive(grey, n);
  // 1 + R^½YR^½ is at least 1 in every direction.
  if (typeof inverse === "number") throw new Error("flights: transmissions too small to tell.");
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      inverse[i * n + j] = roots[i]! * inverse[i * n + j]! * roots[j]!;
    }
  }
  return inverse;
}

function times(matrix: Float64Array, vector: Float64Array, n: number): Float64Array {
  const product = new Float64Array(n);
  for (let i = 0, at = 0; i < n; i++) {
    let sum = 0;
    for (let j = 0; j < n; j++, at++) sum += matrix[at]! * vector[j]!;
    product[i] = sum;
  }
  return product;
}

function product2(a: Float64Array, b: Float64Array, n: number): Float64Array {
  const product = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < n; k++) {
      const factor = a[i * n + k]!;
      if (factor === 0) continue;
      for (let j = 0; j < n; j++) {
        product[i * n + j] = product[i * n + j]! + factor * b[k * n + j]!;
      }
    }
  }
  return product;
}
