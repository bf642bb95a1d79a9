/**
 * The discrete cosine transform (DCT-II) and its inverse, of many columns at once.
 *
 * The cosines cos(πk(i + ½)/n) are the eigenvectors of heat conduction along n equal cells with
 * insulated ends (G. Strang, The discrete cosine transform, SIAM Rev. 41, 135 (1999)).
 *
 * A transform of even n is made of two of n/2 (B. G. Lee, A new algorithm to compute the discrete
 * cosine transform, IEEE Trans. Acoust. Speech Signal Process. 32, 1243 (1984)); what is left when
 * no more factor of 2 is in n is summed directly. Powers of 2 are fastest, any n works.
 * @module
 */

/** Transforms of n rows of numbers, column by column. */
export class CosineTransform {
  /** 1/(2 cos(π(i + ½)/m)) for every m = n, n/2, n/4 … that is even. */
  readonly #halves = new Map<number, Float64Array>();
  /** cos(πj/2m) for the odd length m that is summed directly. */
  readonly #cosines: Float64Array;
  #spare = new Float64Array(0);

  /** @param n - length of a column */
  constructor(readonly n: number) {
    let m = n;
    for (; m % 2 === 0; m /= 2) {
      const halves = new Float64Array(m / 2);
      for (let i = 0; i < m / 2; i++) halves[i] = 0.5 / Math.cos((Math.PI * (i + 0.5)) / m);
      this.#halves.set(m, halves);
    }
    this.#cosines = Float64Array.from({ length: 4 * m }, (_, j) =>
      Math.cos((Math.PI * j) / (2 * m)),
    );
  }

  /**
   * In place: X_k = Σᵢ xᵢ cos(πk(i + ½)/n).
   * @param data - n rows of `columns` numbers
   */
  forward(data: Float64Array, columns: number): void {
    this.#forward(data, this.#room(data.length), 0, this.n, columns);
  }

  /** In place: xᵢ = (1/n) X₀ + (2/n) Σₖ X_k cos(πk(i + ½)/n), k ≥ 1; undoes `forward`. */
  inverse(data: Float64Array, columns: number): void {
    const scale = 2 / this.n;
    for (let c = 0; c < columns; c++) data[c] = data[c]! / 2;
    for (let i = 0; i < data.length; i++) data[i] = data[i]! * scale;
    this.#inverse(data, this.#room(data.length), 0, this.n, columns);
  }

  #room(size: number): Float64Array {
    if (this.#spare.length < size) this.#spare = new Float64Array(size);
    return this.#spare;
  }

  /** Rows from `at` on, `m` of them. */
  #forward(data: Float64Array, spare: Float64Array, at: number, m: number, w: number): void {
    if (m === 1) return;
    if (m === 4) {
      fourForward(data, at * w, w);
      return;
    }
    const halves = this.#halves.get(m);
    if (halves === undefined) {
      this.#sum(data, spare, at, m, w, false);
      return;
    }
    const half = m >> 1;
    for (let i = 0; i < half; i++) {
      const a = (at + i) * w;
      const b = (at + m - 1 - i) * w;
      const lower = (at + half + i) * w;
      const factor = halves[i]!;
      for (let c = 0; c < w; c++) {
        const x = data[a + c]!;
        const y = data[b + c]!;
        spare[a + c] = x + y;
        spare[lower + c] = (x - y) * factor;
      }
    }
    this.#forward(spare, data, at, half, w);
    this.#forward(spare, data, at + half, half, w);
    for (let i = 0; i < half; i++) {
      const even = (at + 2 * i) * w;
      const a = (at + i) * w;
      const b = (at + half + i) * w;
      const odd = even + w;
      const next = b + w;
      if (i < half - 1) {
        for (let c = 0; c < w; c++) {
          data[even + c] = spare[a + c]!;
          data[odd + c] = spare[b + c]! + spare[next + c]!;
        }
      } else {
        for (let c = 0; c < w; c++) {
          data[even + c] = spare[a + c]!;
          data[odd + c] = spare[b + c]!;
        }
      }
    }
  }

  #inverse(data: Float64Array, spare: Float64Array, at: number, m: number, w: number): void {
    if (m === 1) return;
    if (m === 4) {
      fourInverse(data, at * w, w);
      return;
    }
    const halves = this.#halves.get(m);
    if (halves === undefined) {
      this.#sum(data, spare, at, m, w, true);
      return;
    }
    const half = m >> 1;
    for (let i = 0; i < half; i++) {
      const even = (at + 2 * i) * w;
      const a = (at + i) * w;
      const b = (at + half + i) * w;
      const odd = even + w;
      const before = even - w;
      if (i > 0) {
        for (let c = 0; c < w; c++) {
          spare[a + c] = data[even + c]!;
          spare[b + c] = data[before + c]! + data[odd + c]!;
        }
      } else {
        for (let c = 0; c < w; c++) {
          spare[a + c] = data[even + c]!;
          spare[b + c] = data[odd + c]!;
        }
      }
    }
    this.#inverse(spare, data, at, half, w);
    this.#inverse(spare, data, at + half, half, w);
    for (let i = 0; i < half; i++) {
      const a = (at + i) * w;
      const b = (at + m - 1 - i) * w;
      const lower = (at + half + i) * w;
      const factor = halves[i]!;
      for (let c = 0; c < w; c++) {
        const x = spare[a + c]!;
        const y = spare[lower + c]! * factor;
        data[a + c] = x + y;
        data[b + c] = x - y;
      }
    }
  }

  /**
   * By definition, for the odd length at the bottom: Σ over rows, or over k for the inverse. Rows that mirror
   * each other have the same cosines but for the sign of an odd k: their sums meet the even k, their
   * differences the odd ones, with half of the products.
   */
  #sum(
    data: Float64Array,
    spare: Float64Array,
    at: number,
    m: number,
    w: number,
    inverse: boolean,
  ): void {
    const first = at * w;
    spare.set(data.subarray(first, first + m * w), first);
    data.fill(0, first, first + m * w);
    if (!inverse) mirror(spare, first, m, w);
    const middle = (m - 1) / 2;
    for (let k = 0; k < m; k++) {
      const isOdd = (k & 1) === 1;
      for (let i = 0; i < (isOdd ? middle : middle + 1); i++) {
        const cosine = this.#cosines[(k * (2 * i + 1)) % (4 * m)]!;
        const row = first + (isOdd ? m - 1 - i : i) * w;
        const mode = first + k * w;
        const [to, from] = inverse ? [row, mode] : [mode, row];
        for (let c = 0; c < w; c++) data[to + c] = data[to + c]! + cosine * spare[from + c]!;
      }
    }
    if (inverse) mirror(data, first, m, w);
  }
}

/** The sum of each row and its mirror image in place of the row, the difference in place of the image. */
function mirror(data: Float64Array, first: number, m: number, w: number): void {
  for (let i = 0; i < (m - 1) / 2; i++) {
    const row = first + i * w;
    const image = first + (m - 1 - i) * w;
    for (let c = 0; c < w; c++) {
      const [x, y] = [data[row + c]!, data[image + c]!];
      data[row + c] = x + y;
      data[image + c] = x - y;
    }
  }
}

const cos1 = Math.cos(Math.PI / 8);
const cos2 = Math.SQRT1_2;
const cos3 = Math.sin(Math.PI / 8);

/** Four rows at once: where most of the passes through small parts would be. */
function fourForward(data: Float64Array, first: number, w: number): void {
  for (let c = first; c < first + w; c++) {
    const second = c + w;
    const third = second + w;
    const fourth = third + w;
    const outer = data[c]! + data[fourth]!;
    const inner = data[second]! + data[third]!;
    const outerStep = data[c]! - data[fourth]!;
    const innerStep = data[second]! - data[third]!;
    data[c] = outer + inner;
    data[second] = cos1 * outerStep + cos3 * innerStep;
    data[third] = cos2 * (outer - inner);
    data[fourth] = cos3 * outerStep - cos1 * innerStep;
  }
}

function fourInverse(data: Float64Array, first: number, w: number): void {
  for (let c = first; c < first + w; c++) {
    const second = c + w;
    const third = second + w;
    const fourth = third + w;
    const outer = data[c]! + cos2 * data[third]!;
    const inner = data[c]! - cos2 * data[third]!;
    const outerStep = cos1 * data[second]! + cos3 * data[fourth]!;
    const innerStep = cos3 * data[second]! - cos1 * data[fourth]!;
    data[c] = outer + outerStep;
    data[second] = inner + innerStep;
    data[third] = inner - innerStep;
    data[fourth] = outer - outerStep;
  }
}
