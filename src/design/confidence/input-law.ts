/**
 * A number that depends on several uncertain inputs, as sums of Chebyshev series: what was built anew
 * for each sample becomes a few multiplications.
 *
 * Joints multiply and divide: the logarithm of a conductor's coefficient is linear in the logarithms of
 * most inputs, and the rest enter together, as one product (purity, resistivity and length of a wire
 * beside its feet's resistance). So the inputs are sorted into linear ones, groups that act as one, and
 * sets of groups that act on each other; each set becomes a series in as many variables. What does not
 * fit, by the check at points of its own, is built anew each time.
 * @module
 */
import { chebyshevSeries, clenshaw } from "../../numerics/chebyshev.js";
import { type Random, random } from "../../numerics/random.js";
import { FieldError } from "../../units/errors.js";

/** Between what and what an input of a law goes, as the law sees it (mostly its logarithm). */
export interface LawRange {
  readonly low: number;
  readonly middle: number;
  readonly high: number;
}

/**
 * Inputs that act as one, v = Σ ratio·(input − its middle), each but for a slope of its own: so does
 * what stands beside or before something else, since all of it together is in proportion.
 */
interface Group {
  /** Input by which it is moved when its series is made. */
  readonly by: number;
  readonly members: readonly (readonly [input: number, ratio: number])[];
  /** Slopes of the members beside that. */
  readonly slopes: readonly number[];
  readonly low: number;
  readonly high: number;
}

/** Groups that act on each other, with their common series; the last group runs fastest. */
interface Series {
  readonly groups: readonly Group[];
  readonly sizes: readonly number[];
  readonly coefficients: Float64Array;
}

const ratios = [1, -1, 2, -2, 0.5, -0.5, 3, -3];
const degrees = [3, 4, 5, 6, 7, 8, 10, 12, 14, 17, 20, 24, 28, 34, 40, 48, 58, 70];
const probes = 4;
const checks = 16;

/** A law as plain data, to be sent to a worker. */
export interface InputLawData {
  readonly middle: readonly number[];
  readonly constant: number;
  readonly slopes: readonly (readonly [input: number, slope: number])[];
  readonly series: readonly (Omit<Series, "coefficients"> & {
    readonly coefficients: readonly number[];
  })[];
}

/** The law of one number. */
export class InputLaw {
  readonly #middle: Float64Array;
  readonly #constant: number;
  readonly #linear: Int32Array;
  readonly #slopes: Float64Array;
  readonly #series: readonly Series[];
  readonly #scratch: Float64Array;

  /** @param slopes - of the linear inputs, by input */
  constructor(
    middle: Float64Array,
    constant: number,
    slopes: ReadonlyMap<number, number>,
    series: readonly Series[],
  ) {
    this.#middle = middle;
    this.#constant = constant;
    this.#linear = Int32Array.from(slopes.keys());
    this.#slopes = Float64Array.from(slopes.values());
    this.#series = series;
    this.#scratch = new Float64Array(Math.max(1, ...series.map((s) => s.coefficients.length)));
  }

  /**
   * @param f - the number at values of the inputs; may throw where it has none
   * @param ranges - of the inputs
   * @param tolerance - most by which it may be off
   * @param most - values that a series may be made of
   * @returns undefined when it is no such law
   */
  static fit(
    f: (inputs: Float64Array) => number,
    ranges: readonly LawRange[],
    tolerance: number,
    most = 400,
  ): InputLaw | undefined {
    try {
      return new Fitting(f, ranges, tolerance, most).law();
    } catch (error) {
      if (error instanceof NoLaw) return undefined;
      throw error;
    }
  }

  /** The law of its data. */
  static from({ middle, constant, slopes, series }: InputLawData): InputLaw {
    return new InputLaw(
      Float64Array.from(middle),
      constant,
      new Map(slopes),
      series.map((set) => ({ ...set, coefficients: Float64Array.from(set.coefficients) })),
    );
  }

  toData(): InputLawData {
    return {
      middle: [...this.#middle],
      constant: this.#constant,
      slopes: Array.from(this.#linear, (input, k) => [input, this.#slopes[k]!] as const),
      series: this.#series.map((set) => ({ ...set, coefficients: [...set.coefficients] })),
    };
  }

  /** Whether no input moves it. */
  get isConstant(): boolean {
    return this.#linear.length === 0 && this.#series.length === 0;
  }

  /** @param inputs - as the law sees them */
  value(inputs: Float64Array): number {
    const middle = this.#middle;
    let sum = this.#constant;
    const linear = this.#linear;
    for (let k = 0; k < linear.length; k++) {
      const input = linear[k]!;
      sum += this.#slopes[k]! * (inputs[input]! - middle[input]!);
    }
    for (let k = 0; k < this.#series.length; k++) sum += this.#valueOf(this.#series[k]!, inputs);
    return sum;
  }

  /**
   * The same law of inputs that stand in a longer list.
   * @param places - where each of its inputs stands there
   * @param count - how many there are
   */
  among(places: readonly number[], count: number): InputLaw {
    const middle = new Float64Array(count);
    this.#middle.forEach((value, i) => {
      middle[places[i]!] = value;
    });
    const slopes = new Map<number, number>();
    this.#linear.forEach((input, k) => {
      slopes.set(places[input]!, this.#slopes[k]!);
    });
    const series = this.#series.map((set) => ({
      ...set,
      groups: set.groups.map((group) => ({
        ...group,
        by: places[group.by]!,
        members: group.members.map(([input, ratio]) => [places[input]!, ratio] as const),
      })),
    }));
    return new InputLaw(middle, this.#constant, slopes, series);
  }

  #valueOf({ groups, sizes, coefficients }: Series, inputs: Float64Array): number {
    if (groups.length === 1) return clenshaw(coefficients, this.#place(groups[0]!, inputs));
    // The last variable is summed up first; what is left is a series in the others.
    const scratch = this.#scratch;
    let from: Float64Array = coefficients;
    let count = coefficients.length;
    for (let g = groups.length - 1; g >= 0; g--) {
      const s = this.#place(groups[g]!, inputs);
      const size = sizes[g]!;
      count /= size;
      for (let row = 0; row < count; row++) {
        let [b1, b2] = [0, 0];
        for (let k = size - 1; k > 0; k--) {
          const b = from[row * size + k]! + 2 * s * b1 - b2;
          b2 = b1;
          b1 = b;
        }
        scratch[row] = from[row * size]! + s * b1 - b2;
      }
      from = scratch;
    }
    return scratch[0]!;
  }

  /** Where a group stands between its ends, from −1 to 1. */
  #place({ members, low, high }: Group, inputs: Float64Array): number {
    let v = 0;
    for (let k = 0; k < members.length; k++) {
      const input = members[k]![0];
      v += members[k]![1] * (inputs[input]! - this.#middle[input]!);
    }
    return (2 * v - low - high) / (high - low);
  }
}

/** Thrown inside a fit that finds no law. */
class NoLaw extends Error {}

/** The search for a law. */
class Fitting {
  readonly #middle: Float64Array;
  readonly #random: Random = random(20230417);
  readonly #exact: number;

  constructor(
    readonly f: (inputs: Float64Array) => number,
    readonly ranges: readonly LawRange[],
    readonly tolerance: number,
    readonly most: number,
  ) {
    this.#middle = Float64Array.from(ranges, ({ middle }) => middle);
    this.#exact = tolerance / 20;
  }

  law(): InputLaw {
    const all = this.ranges.map((_, i) => i);
    const points = Array.from({ length: probes }, () => this.#somewhere());
    const constant = this.#at(this.#middle);
    const slopes = all.map((i) => this.#slope(i, points));
    const bent = all.filter((i) => slopes[i] === undefined);
    const groups = this.#grouped(bent, points);
    const sets = this.#sets(groups, points);
    const series = sets.map((set) => this.#series(set, constant));
    const linear = new Map<number, number>();
    slopes.forEach((slope, i) => {
      if (slope) linear.set(i, slope);
    });
    for (const { members, slopes: own } of groups) {
      members.forEach(([i], k) => {
        if (own[k] !== 0) linear.set(i, own[k]!);
      });
    }
    const law = new InputLaw(this.#middle, constant, linear, series);
    for (let check = 0; check < checks; check++) {
      const point = this.#somewhere();
      if (!(Math.abs(law.value(point) - this.#at(point)) <= this.tolerance)) throw new NoLaw();
    }
    return law;
  }

  #at(point: Float64Array): number {
    let value: number;
    try {
      value = this.f(point);
    } catch (error) {
      // A group reaches further than its members; what its own fields refuse there is no law.
      if (error instanceof FieldError) throw new NoLaw();
      throw error;
    }
    if (!Number.isFinite(value)) throw new NoLaw();
    return value;
  }

  #somewhere(): Float64Array {
    return Float64Array.from(
      this.ranges,
      ({ low, high }) => low + this.#random.uniform() * (high - low),
    );
  }

  /** Its slope, when the number is linear in an input wherever the others are. */
  #slope(i: number, points: readonly Float64Array[]): number | undefined {
    const { low, high } = this.ranges[i]!;
    let slope: number | undefined;
    for (const point of points) {
      const [a, m, b] = [low, low + 0.37 * (high - low), high].map((v) =>
        this.#at(moved(point, i, v)),
      ) as [number, number, number];
      slope ??= (b - a) / (high - low);
      const off = Math.max(
        Math.abs(m - a - slope * 0.37 * (high - low)),
        Math.abs(b - a - slope * (high - low)),
      );
      if (!(off <= this.#exact)) return undefined;
    }
    return slope;
  }

  /** Inputs sorted into groups that act as one. */
  #grouped(inputs: readonly number[], points: readonly Float64Array[]): Group[] {
    const groups: { by: number; members: (readonly [number, number])[]; slopes: number[] }[] = [];
    for (const i of inputs) {
      const joined = groups.some((group) =>
        ratios.some((ratio) => {
          const slope = this.#actAsOne(group.by, i, ratio, points);
          if (slope === undefined) return false;
          group.members.push([i, ratio]);
          group.slopes.push(slope);
          return true;
        }),
      );
      if (!joined) groups.push({ by: i, members: [[i, 1]], slopes: [0] });
    }
    return groups.map(({ by, members, slopes }) => {
      const ends = members.map(([i, ratio]) => {
        const { low, middle, high } = this.ranges[i]!;
        const [a, b] = [ratio * (low - middle), ratio * (high - middle)];
        return [Math.min(a, b), Math.max(a, b)] as const;
      });
      const low = ends.reduce((sum, [a]) => sum + a, 0);
      const high = ends.reduce((sum, [, b]) => sum + b, 0);
      return { by, members, slopes, low, high };
    });
  }

  /**
   * Whether moving one input is as good as moving the other `ratio` times as far, but for a slope.
   * @returns the slope; undefined when it is not
   */
  #actAsOne(
    by: number,
    other: number,
    ratio: number,
    points: readonly Float64Array[],
  ): number | undefined {
    const { low, high } = this.ranges[other]!;
    let slope: number | undefined;
    for (const [k, point] of points.entries()) {
      const step = (0.3 + 0.1 * k) * (high - low) * (point[other]! > (low + high) / 2 ? -1 : 1);
      const one = this.#at(moved(point, other, point[other]! + step));
      const same = this.#at(moved(point, by, point[by]! + ratio * step));
      slope ??= Math.abs(one - same) <= this.#exact ? 0 : (one - same) / step;
      if (!(Math.abs(one - same - slope * step) <= this.#exact)) return undefined;
    }
    return slope;
  }

  /** Groups sorted into sets whose parts add up. */
  #sets(groups: readonly Group[], points: readonly Float64Array[]): Group[][] {
    const sets: Group[][] = [];
    for (const group of groups) {
      const touched = sets.filter((set) =>
        set.some((other) => this.#interact(group, other, points)),
      );
      for (const set of touched) sets.splice(sets.indexOf(set), 1);
      sets.push([...touched.flat(), group]);
    }
    return sets;
  }

  #interact(a: Group, b: Group, points: readonly Float64Array[]): boolean {
    const end = (group: Group, point: Float64Array) => {
      const { low, high } = this.ranges[group.by]!;
      return point[group.by]! > (low + high) / 2 ? low : high;
    };
    return points.some((point) => {
      const one = moved(point, a.by, end(a, point));
      const other = moved(point, b.by, end(b, point));
      const both = moved(one, b.by, end(b, point));
      const mixed = this.#at(both) - this.#at(one) - this.#at(other) + this.#at(point);
      return Math.abs(mixed) > this.#exact;
    });
  }

  /** The series of a set, less the constant: all other inputs in their middle. */
  #series(groups: readonly Group[], constant: number): Series {
    const orders = groups.map((group) => this.#degree(group));
    const sizes = orders.map((degree) => degree + 1);
    if (sizes.reduce((product, size) => product * size, 1) > this.most) throw new NoLaw();
    const point = this.#middle.slice();
    const expand = (g: number): Float64Array => {
      if (g === groups.length) return Float64Array.of(this.#at(point) - constant);
      const { by, low, high } = groups[g]!;
      const rows: Float64Array[] = [];
      const degree = orders[g]!;
      for (let j = 0; j <= degree; j++) {
        const s = Math.cos((Math.PI * (j + 0.5)) / (degree + 1));
        point[by] = this.#middle[by]! + (low + high) / 2 + ((high - low) / 2) * s;
        rows.push(expand(g + 1));
      }
      point[by] = this.#middle[by]!;
      const width = rows[0]!.length;
      const result = new Float64Array((degree + 1) * width);
      for (let c = 0; c < width; c++) {
        let j = 0;
        const column = chebyshevSeries(() => rows[j++]![c]!, 0, 1, degree);
        for (let k = 0; k <= degree; k++) result[k * width + c] = column[k]!;
      }
      return result;
    };
    return { groups, sizes, coefficients: expand(0) };
  }

  /** The degree that a group needs, by itself and with the others at some place. */
  #degree({ by, low, high }: Group): number {
    const point = this.#somewhere();
    for (const degree of degrees) {
      const from = this.#middle[by]!;
      const series = chebyshevSeries(
        (v) => this.#at(moved(point, by, from + v)),
        low,
        high,
        degree,
      );
      // Coefficients fall by a factor of several from one to the next.
      const tail = Math.max(Math.abs(series[degree]!), Math.abs(series[degree - 1]!) / 10);
      if (tail <= this.tolerance / 5) return degree;
    }
    throw new NoLaw();
  }
}

function moved(point: Float64Array, i: number, value: number): Float64Array {
  const other = point.slice();
  other[i] = value;
  return other;
}
