/**
 * Ranges of laws over many samples: each sample has a bit for every range it left, and what is told or
 * refused goes by the share of samples that did.
 * @module
 */
import type { TemperatureRange } from "../../conductor.js";
import { beyond, type PlacedLaw, rangeInWords, rangeKey, roundedEnds } from "../../ranges.js";
import { formatShare } from "../../units/format.js";

/** Whether what rests on laws outside of where they hold is wanted all the same. */
export interface OutsideOptions {
  /**
   * Give the answer even where more than 1 % of the samples leave a range beyond which a law is refused;
   * false when absent: they are then too many to be told of beside it.
   */
  readonly acceptOutside?: boolean;
}

/** Share of samples beyond a refused range from which on an answer is refused. */
export const mostOutside = 0.01;

/** A range of temperatures of a law of a mount. */
export interface SampledRange {
  /** The path, as the budget shows it. */
  readonly name: string;
  /** Where its law holds. */
  readonly range: TemperatureRange;
}

/** As many bits as a number has without rounding; the ranges beyond share the last. */
const mostBits = 52;

/** Tells which ranges the temperatures of a sample left. */
export class RangeGuard {
  /** Each with the bit of its place; refused ones first. */
  readonly ranges: readonly SampledRange[];
  /** Of each meeting of a range and a node: the bit, the node, and between what temperatures it may lie. */
  readonly #bits: Int32Array;
  readonly #nodes: Int32Array;
  readonly #from: Float64Array;
  readonly #to: Float64Array;

  /** @param nodes - names of the nodes, in the order of the temperatures */
  constructor(laws: readonly PlacedLaw[], nodes: readonly string[]) {
    const index = new Map(nodes.map((name, n) => [name, n]));
    const found = new Map<string, SampledRange & { readonly at: readonly number[] }>();
    for (const { name, law, nodes } of laws) {
      for (const range of law.ranges ?? []) {
        if (range.given) continue;
        const at = nodes.map((node) => index.get(node)!);
        found.set(rangeKey(name, range), { name, range, at });
      }
    }
    const refusedFirst = [...found.values()].sort(
      (a, b) => Number(b.range.outside === "refuse") - Number(a.range.outside === "refuse"),
    );
    this.ranges = refusedFirst.map(({ name, range }) => ({ name, range }));
    const all = refusedFirst.flatMap(({ range, at }, k) =>
      at.map((node) => ({ bit: Math.min(k, mostBits), node, ...roundedEnds(range) })),
    );
    this.#bits = Int32Array.from(all, ({ bit }) => bit);
    this.#nodes = Int32Array.from(all, ({ node }) => node);
    this.#from = Float64Array.from(all, ({ from }) => from);
    this.#to = Float64Array.from(all, ({ to }) => to);
  }

  /** A bit for each range that was left. @param low, high - of each node [K] */
  left(low: ArrayLike<number>, high: ArrayLike<number> = low): number {
    const nodes = this.#nodes;
    const [from, to] = [this.#from, this.#to];
    let left = 0;
    let last = -1;
    for (let i = 0; i < nodes.length; i++) {
      const node = nodes[i]!;
      if (low[node]! >= from[i]! && high[node]! <= to[i]!) continue;
      const bit = this.#bits[i]!;
      if (bit === last) continue;
      last = bit;
      left += 2 ** bit;
    }
    return left;
  }
}

function hasBit(left: number, bit: number): boolean {
  return Math.floor(left / 2 ** bit) % 2 === 1;
}

/**
 * Bits of the same ranges in another list.
 * @param places - of each range, by bit; undefined for one that the other list lacks
 */
export function bitsOf(left: number, places: readonly (number | undefined)[]): number {
  if (left === 0) return 0;
  const bits = new Set<number>();
  places.forEach((to, k) => {
    if (to !== undefined && hasBit(left, Math.min(k, mostBits))) bits.add(Math.min(to, mostBits));
  });
  return [...bits].reduce((sum, bit) => sum + 2 ** bit, 0);
}

/** Whether a sample left a range beyond which a law is refused. */
export function leavesRefused(left: number, ranges: readonly SampledRange[]): boolean {
  if (left === 0) return false;
  return ranges.some(
    ({ range }, k) => range.outside === "refuse" && hasBit(left, Math.min(k, mostBits)),
  );
}

/** Counts the samples that left each range. */
export class RangeTally {
  /** Samples counted. */
  samples = 0;
  /** By the bits of what was left, how many. */
  readonly #left = new Map<number, number>();

  constructor(readonly ranges: readonly SampledRange[]) {}

  /**
   * @param left - bits of the ranges that a sample left
   * @param weight - how many samples it stands for; negative for one that another takes the place of
   */
  count(left: number, weight = 1): void {
    this.samples += weight;
    if (left !== 0) this.#left.set(left, (this.#left.get(left) ?? 0) + weight);
  }

  /** How many of the samples left what is asked for. */
  #of(isAsked: (left: number) => boolean): number {
    let sum = 0;
    for (const [left, count] of this.#left) if (isAsked(left)) sum += count;
    return sum;
  }

  /** Share of the samples that left a range beyond which a law is refused. */
  get share(): number {
    const refused = this.#of((left) => leavesRefused(left, this.ranges));
    return this.samples === 0 ? 0 : Math.max(0, refused / this.samples);
  }

  /**
   * What is told of the ranges that samples left.
   * @param what - in words: `samples`
   * @throws RangeError where too many left a refused range, unless that is accepted
   */
  warnings(what: string, { acceptOutside = false }: OutsideOptions = {}): readonly string[] {
    const told = this.ranges.flatMap(({ name, range }, k) => {
      const count = this.#of((left) => hasBit(left, Math.min(k, mostBits)));
      if (count <= 0) return [];
      const share = `${formatShare(count / this.samples)} of the ${what}`;
      return `${name}: ${share} are outside ${rangeInWords(range)}${beyond[range.outside]}`;
    });
    if (this.share > mostOutside && !acceptOutside) {
      throw new RangeError(
        `${told[0]} These are too many to answer for: use another material, sample or curve, ` +
          "narrow the spreads, or ask for the answer all the same with acceptOutside.",
      );
    }
    return told;
  }
}
