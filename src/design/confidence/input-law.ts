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
import { chebyshevSeries } from "../../numerics/chebyshev.js";
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
  readonly coefficients: readonly number[];
}

const ratios = [1, -1, 2, -2, 0.5, -0.5, 3, -3];
/** Degrees that are tried; of the first that is enough, the part that is needed is taken. */
const degrees = [8, 20, 44, 70];
const probes = 4;
const checks = 16;

/** How a number depends on its inputs; plain data, which can be sent to a worker. */
export interface InputLaw {
  /** Of all inputs, those of the law among them. */
  readonly middle: readonly number[];
  /** The number where every input is in the middle. */
  readonly constant: number;
  /** By how much it changes with an input on its own. */
  readonly slopes: readonly (readonly [input: number, slope: number])[];
  readonly series: readonly Series[];
}

/** The number of a law by all inputs, as the law sees them. */
export function lawValue(law: InputLaw): (inputs: Float64Array) => number {
  const { constant } = law;
  const middle = Float64Array.from(law.middle);
  const linear = Int32Array.from(law.slopes, ([input]) => input);
  const slopes = Float64Array.from(law.slopes, ([, slope]) => slope);
  const series = law.series.map((each) => seriesValue(each, middle));
  return (inputs) => {
    let sum = constant;
    for (let k = 0; k < linear.length; k++) {
      const input = linear[k]!;
      sum += slopes[k]! * (inputs[input]! - middle[input]!);
    }
    for (let k = 0; k < series.length; k++) sum += series[k]!(inputs);
    return sum;
  };
}

function seriesValue(
  { groups, sizes, coefficients }: Series,
  middle: Float64Array,
): (inputs: Float64Array) => number {
  const all = Float64Array.from(coefficients);
  const scratch = new Float64Array(all.length);
  const parts = groups.map(({ members, low, high }, g) => ({
    members: Int32Array.from(members, ([input]) => input),
    ratios: Float64Array.from(members, ([, ratio]) => ratio),
    low,
    high,
    size: sizes[g]!,
  }));
  // The last variable is summed up first; what is left is a series in the others.
  return (inputs) => {
    let from = all;
    let count = all.length;
    for (let g = parts.length - 1; g >= 0; g--) {
      const { members, ratios, low, high, size } = parts[g]!;
      let v = 0;
      for (let k = 0; k < members.length; k++) {
        const input = members[k]!;
        v += ratios[k]! * (inputs[input]! - middle[input]!);
      }
      // Where the group stands between its ends, from −1 to 1.
      const s = (2 * v - low - high) / (high - low);
      count /= size;
      for (let row = 0; row < count; row++) {
        let b1 = 0;
        let b2 = 0;
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
  };
}

/**
 * The law of a number.
 * @param f - the number at values of all inputs; may throw where it has none
 * @param inputs - those that move it, by index
 * @param ranges - of all inputs
 * @param tolerance - most by which it may be off
 * @param most - values that a series may be made of
 * @returns undefined when it is no such law
 */
export function fitLaw(
  f: (inputs: Float64Array) => number,
  inputs: readonly number[],
  ranges: readonly LawRange[],
  tolerance: number,
  most = 400,
): InputLaw | undefined {
  try {
    return new Fitting(f, inputs, ranges, tolerance, most).law();
  } catch (error) {
    if (error instanceof NoLaw) return undefined;
    throw error;
  }
}

/** Thrown inside a fit that finds no law. */
class NoLaw extends Error {}

/** A point from which an input is moved, and the number where it then is. */
interface Stepped {
  readonly point: Float64Array;
  readonly step: number;
  value(): number;
}

/** The search for a law. */
class Fitting {
  readonly #middle: Float64Array;
  readonly #random: Random = random(20230417);
  readonly #exact: number;

  constructor(
    readonly f: (inputs: Float64Array) => number,
    readonly inputs: readonly number[],
    readonly ranges: readonly LawRange[],
    readonly tolerance: number,
    readonly most: number,
  ) {
    this.#middle = Float64Array.from(ranges, ({ middle }) => middle);
    this.#exact = tolerance / 20;
  }

  law(): InputLaw {
    const points = Array.from({ length: probes }, () => this.#somewhere());
    const constant = this.#at(this.#middle);
    const linear = new Map(this.inputs.map((i) => [i, this.#slope(i, points)]));
    const bent = this.inputs.filter((i) => linear.get(i) === undefined);
    const groups = this.#grouped(bent, points);
    const series = this.#sets(groups, points).map((set) => this.#series(set, constant));
    for (const { members, slopes } of groups) {
      members.forEach(([i], k) => {
        linear.set(i, slopes[k]);
      });
    }
    const slopes = [...linear].flatMap(([i, slope]) => (slope ? [[i, slope] as const] : []));
    const law = { middle: [...this.#middle], constant, slopes, series };
    const value = lawValue(law);
    for (let check = 0; check < checks; check++) {
      const point = this.#somewhere();
      if (!(Math.abs(value(point) - this.#at(point)) <= this.tolerance)) throw new NoLaw();
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
    const point = this.#middle.slice();
    for (const i of this.inputs) {
      const { low, high } = this.ranges[i]!;
      point[i] = low + this.#random.uniform() * (high - low);
    }
    return point;
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
      const steps = this.#stepped(i, points);
      const joined = groups.some((group) =>
        ratios.some((ratio) => {
          const slope = this.#actAsOne(group.by, ratio, steps);
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

  /** The number where an input is moved by a step from each of some points; made when it is asked for. */
  #stepped(input: number, points: readonly Float64Array[]): readonly Stepped[] {
    const { low, high } = this.ranges[input]!;
    return points.map((point, k) => {
      const step = (0.3 + 0.1 * k) * (high - low) * (point[input]! > (low + high) / 2 ? -1 : 1);
      let known: number | undefined;
      const value = () => {
        known ??= this.#at(moved(point, input, point[input]! + step));
        return known;
      };
      return { point, step, value };
    });
  }

  /**
   * Whether moving one input by these steps is as good as moving another `ratio` times as far, but for a
   * slope.
   * @returns the slope; undefined when it is not
   */
  #actAsOne(by: number, ratio: number, steps: readonly Stepped[]): number | undefined {
    let slope: number | undefined;
    for (const { point, step, value } of steps) {
      const one = value();
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
    return { groups, sizes, coefficients: [...expand(0)] };
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
      const isEnough = (n: number) =>
        Math.max(Math.abs(series[n]!), Math.abs(series[n - 1]!) / 10) <= this.tolerance / 5;
      if (!isEnough(degree)) continue;
      let needed = degree;
      while (needed > 3 && isEnough(needed - 1)) needed--;
      return needed;
    }
    throw new NoLaw();
  }
}

function moved(point: Float64Array, i: number, value: number): Float64Array {
  const other = point.slice();
  other[i] = value;
  return other;
}
