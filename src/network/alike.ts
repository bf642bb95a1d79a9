/**
 * Nodes that have equal temperatures by symmetry, such as pads along the four edges of an evenly heated
 * die, found without a look at the geometry: the coarsest partition of the nodes in which all of a class
 * have the same conductance to every class (an equitable partition; C. Godsil and G. Royle, Algebraic
 * Graph Theory (2001), section 9.3). The state in which each class has one temperature then solves the
 * whole network, and as the steady state is unique, it is that.
 * @module
 */

/** What tells nodes apart. */
export interface Likeness {
  /** Of each node: nodes of another kind are not alike. */
  readonly kinds: readonly string[];
  /** Links by the nodes at their ends, and how many of a law stand side by side in each. */
  readonly links: readonly {
    readonly from: number;
    readonly to: number;
    readonly law: string;
    readonly count: number;
  }[];
  readonly bodies: readonly {
    /** At each terminal. */
    readonly nodes: readonly number[];
    readonly admittance: Float64Array;
    /** By each load of the body, for 1 W of it. */
    readonly outflows: readonly Float64Array[];
  }[];
}

/** Part of the largest number of its kind by which two that are alike may differ. */
const rounding = 1e-9;

/** The class of each node, numbered from 0 in the order of their first nodes. */
export function alikeNodes({ kinds, links, bodies }: Likeness): Int32Array {
  const classes = new Classes(kinds);
  for (const { nodes, outflows } of bodies) {
    for (const each of outflows) classes.split(nodes, each, rounding * largest(each));
  }
  for (let before = 0; before < classes.count; ) {
    before = classes.count;
    const { of } = classes;
    const ofLinks = new Map<string, Map<number, number>>();
    const add = (key: string, node: number, count: number) => {
      const values = ofLinks.get(key) ?? new Map<number, number>();
      values.set(node, (values.get(node) ?? 0) + count);
      ofLinks.set(key, values);
    };
    for (const { from, to, law, count } of links) {
      add(`${law} to ${of[to]}`, from, count);
      add(`${law} from ${of[from]}`, to, count);
    }
    for (const values of ofLinks.values()) {
      const numbers = Float64Array.from(values.values());
      classes.split([...values.keys()], numbers, rounding * largest(numbers));
    }
    // Links split more cheaply; the dense sums come once these split nothing more.
    if (classes.count > before) continue;
    for (const { nodes, admittance } of bodies) {
      const n = nodes.length;
      const tolerance = rounding * largest(admittance);
      const sums = new Map<number, Float64Array>();
      nodes.forEach((node, j) => {
        const own = classes.of[node]!;
        const sum = sums.get(own) ?? new Float64Array(n);
        sums.set(own, sum);
        // Y is symmetric.
        for (let i = 0; i < n; i++) sum[i]! += admittance[j * n + i]!;
      });
      for (const sum of sums.values()) classes.split(nodes, sum, tolerance);
    }
  }
  return classes.numbered();
}

function largest(numbers: Float64Array): number {
  let most = 0;
  for (let i = 0; i < numbers.length; i++) most = Math.max(most, Math.abs(numbers[i]!));
  return most;
}

/** Classes of nodes, which only become finer. */
class Classes {
  /** Of each node. */
  readonly of: Int32Array;
  readonly #members: number[][] = [];

  constructor(kinds: readonly string[]) {
    this.of = numbered(kinds);
    this.of.forEach((own, node) => {
      const members = this.#members[own];
      if (members) members.push(node);
      else this.#members[own] = [node];
    });
  }

  get count(): number {
    return this.#members.length;
  }

  /** Splits the classes of some nodes where these differ in a number; that of the others is 0. */
  split(nodes: readonly number[], numbers: Float64Array, tolerance: number): void {
    const here = new Map<number, [node: number, value: number][]>();
    nodes.forEach((node, k) => {
      const own = this.of[node]!;
      if (this.#members[own]!.length === 1) return;
      const known = here.get(own);
      if (known) known.push([node, numbers[k]!]);
      else here.set(own, [[node, numbers[k]!]]);
    });
    for (const [own, some] of here) {
      const all = this.#members[own]!;
      let [low, high] = [some[0]![1], some[0]![1]];
      for (const [, value] of some) {
        if (value < low) low = value;
        if (value > high) high = value;
      }
      if (some.length < all.length) [low, high] = [Math.min(low, 0), Math.max(high, 0)];
      if (high - low <= tolerance) continue;
      const numberOf = new Map(some);
      const sorted = all.map((node) => [node, numberOf.get(node) ?? 0] as const);
      sorted.sort((a, b) => a[1] - b[1]);
      let into = own;
      this.#members[own] = [];
      sorted.forEach(([node, value], k) => {
        if (k > 0 && value - sorted[k - 1]![1] > tolerance) {
          into = this.#members.length;
          this.#members.push([]);
        }
        this.#members[into]!.push(node);
        this.of[node] = into;
      });
    }
  }

  /** The classes in the order of their first nodes. */
  numbered(): Int32Array {
    return numbered([...this.of]);
  }
}

function numbered(kinds: readonly unknown[]): Int32Array {
  const index = new Map<unknown, number>();
  return Int32Array.from(kinds, (kind) => {
    const known = index.get(kind) ?? index.size;
    index.set(kind, known);
    return known;
  });
}
