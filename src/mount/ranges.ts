/**
 * Holds what the runs of a mount reached against the ranges that its laws are backed in.
 * @module
 */
import type { Backing } from "../conductor.js";
import { type Extent, type LeftRange, leftRanges, type PlacedLaw, toldOutside } from "../ranges.js";
import type { Structure } from "./assemble.js";
import type { Assembly } from "./assembly.js";
import { coolingBase, coolingLink } from "./links.js";
import type { MountModel } from "./model.js";
import type { OperatingPoint } from "./operating-point.js";

/** Every law of a mount, path by path. @param conductors - by path and wire, as in `OperatingPoint` */
export function placedLaws(
  { paths, warm, dies, stage, groups }: Structure,
  conductors: ReadonlyMap<string, Backing>,
): readonly PlacedLaw[] {
  const ends = new Map<string, readonly string[]>([
    ...[...paths, ...warm].map(({ name, from, to }) => [name, [from.name, to.name]] as const),
    [coolingLink, [stage.name, coolingBase]],
    // A 2-D die spreads within itself, between its coldest and its hottest point.
    ...dies.map(({ spreading, chip }) => [spreading, [chip.name]] as const),
    ...groups.flatMap(({ film }) => (film ? [[film.name, [film.place]] as const] : [])),
  ]);
  return [...conductors].map(([name, law]) => ({ name, law, nodes: ends.get(name)! }));
}

/** The ranges that laws were used outside of. @param extentOf - lowest and highest temperature of a node [K] */
export function leftBy(
  laws: readonly PlacedLaw[],
  extentOf: (node: string) => Extent,
): readonly LeftRange[] {
  return leftRanges(
    laws.map(({ name, law, nodes }) => {
      let [low, high] = [Number.POSITIVE_INFINITY, 0];
      for (const node of nodes) {
        const [cold, hot] = extentOf(node);
        low = Math.min(low, cold);
        high = Math.max(high, hot);
      }
      return { name, law, used: [low, high] as const };
    }),
  );
}

/** The ranges that a mount leaves in its steady state. */
export function pointRanges({
  structure,
  conductors,
  network,
  reading,
}: OperatingPoint): readonly LeftRange[] {
  const fixed = new Map(network.nodes.map((node) => [node.name, node.temperature]));
  return leftBy(placedLaws(structure, conductors), (name) => {
    const T = fixed.get(name);
    return T === undefined ? reading.extents.get(name)! : [T, T];
  });
}

/** What is told of ranges that a steady state leaves. @throws RangeError where a law is refused there */
export function pointWarnings(point: OperatingPoint, ranges = pointRanges(point)): string[] {
  return [...toldOutside(ranges), ...loadsTold(point)];
}

function loadsTold({ loads }: Pick<OperatingPoint, "loads">): readonly string[] {
  return loads.flatMap(({ load }) => load.warnings);
}

/**
 * What many steady states of one model reached: two numbers a node, held against the ranges once at the
 * end.
 */
export class Reach {
  /** Nodes that a law meets: places, ends on the die, and what is held. */
  readonly nodes: readonly string[];
  /** Lowest temperature of each [K]; infinite before the first state. */
  low: Float64Array;
  /** Highest temperature of each [K]; 0 before the first state. */
  high: Float64Array;
  #laws: PlacedLaw[] = [];
  readonly #told = new Set<string>();

  /** @param model - with the laws it has now */
  constructor(model: Assembly) {
    this.withLaws(model);
    this.nodes = [...new Set(this.#laws.flatMap(({ nodes }) => nodes))];
    this.low = new Float64Array(this.nodes.length);
    this.high = new Float64Array(this.nodes.length);
    this.forget();
  }

  /** As before the first state. */
  forget(): void {
    this.low.fill(Number.POSITIVE_INFINITY);
    this.high.fill(0);
  }

  /** Adds the laws that the model has now: of a field that changes them, those at its ends are enough. */
  withLaws(model: Assembly): this {
    this.#laws.push(...placedLaws(model.structure, model.laws));
    for (const text of loadsTold({ loads: model.heats() })) this.#told.add(text);
    return this;
  }

  /** Adds the state that `solve` found. */
  add(model: MountModel): void {
    model.widen(this.nodes, this.low, this.high);
  }

  /** Adds what other states of the model reached. */
  addExtents({ low, high }: { readonly low: ArrayLike<number>; readonly high: ArrayLike<number> }) {
    this.low = this.low.map((T, n) => Math.min(T, low[n]!));
    this.high = this.high.map((T, n) => Math.max(T, high[n]!));
  }

  /** The ranges that were left. */
  get left(): readonly LeftRange[] {
    const index = new Map(this.nodes.map((name, n) => [name, n]));
    return leftBy(this.#laws, (name) => {
      const n = index.get(name)!;
      return [this.low[n]!, this.high[n]!];
    });
  }

  /** What is told of them. @throws RangeError where a law is refused there */
  warnings(): readonly string[] {
    return [...toldOutside(this.left), ...this.#told];
  }
}
