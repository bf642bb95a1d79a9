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

/** A number of some nodes; the others have 0. */
interface Feature {
  readonly values: Map<number, number>;
  /** Differences up to here are none. */
  readonly tolerance: number;
}

/** The class of each node, numbered from 0 in the order of their first nodes. */
export function alikeNodes({ kinds, links, bodies }: Likeness): Int32Array {
  let classes = numbered(kinds);
  for (;;) {
    const features: Feature[] = [];
    const ofLinks = new Map<string, Map<number, number>>();
    const add = (key: string, node: number, count: number) => {
      const values = ofLinks.get(key) ?? new Map<number, number>();
      values.set(node, (values.get(node) ?? 0) + count);
      ofLinks.set(key, values);
    };
    for (const { from, to, law, count } of links) {
      add(`${law} to ${classes[to]}`, from, count);
      add(`${law} from ${classes[from]}`, to, count);
    }
    for (const values of ofLinks.values()) {
      features.push({ values, tolerance: rounding * Math.max(...values.values()) });
    }
    for (const { nodes, admittance, outflows } of bodies) {
      const n = nodes.length;
      const largest = (numbers: Float64Array) =>
        numbers.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
      const sums = new Map<number, Float64Array>();
      nodes.forEach((node, j) => {
        const sum = sums.get(classes[node]!) ?? new Float64Array(n);
        sums.set(classes[node]!, sum);
        for (let i = 0; i < n; i++) sum[i]! += admittance[i * n + j]!;
      });
      const most = largest(admittance);
      const of = (numbers: Float64Array) => new Map(nodes.map((node, i) => [node, numbers[i]!]));
      for (const sum of sums.values()) {
        features.push({ values: of(sum), tolerance: rounding * most });
      }
      for (const each of outflows) {
        features.push({ values: of(each), tolerance: rounding * largest(each) });
      }
    }
    const finer = refined(classes, features);
    if (countOf(finer) === countOf(classes)) return classes;
    classes = finer;
  }
}

const countOf = (classes: Int32Array) => classes.reduce((most, each) => Math.max(most, each), -1);

function numbered(kinds: readonly unknown[]): Int32Array {
  const index = new Map<unknown, number>();
  return Int32Array.from(kinds, (kind) => {
    const known = index.get(kind) ?? index.size;
    index.set(kind, known);
    return known;
  });
}

/** Classes split where their nodes differ in a feature. */
function refined(classes: Int32Array, features: readonly Feature[]): Int32Array {
  const now = Int32Array.from(classes);
  const members = new Map<number, Set<number>>();
  now.forEach((own, node) => {
    members.set(own, (members.get(own) ?? new Set()).add(node));
  });
  let next = members.size;
  for (const { values, tolerance } of features) {
    const touched = new Set([...values.keys()].map((node) => now[node]!));
    for (const own of touched) {
      const nodes = members.get(own)!;
      if (nodes.size === 1) continue;
      const sorted = [...nodes].sort((a, b) => (values.get(a) ?? 0) - (values.get(b) ?? 0));
      let into = own;
      for (let k = 1; k < sorted.length; k++) {
        const [before, node] = [sorted[k - 1]!, sorted[k]!];
        if ((values.get(node) ?? 0) - (values.get(before) ?? 0) > tolerance) {
          into = next++;
          members.set(into, new Set());
        }
        if (into === own) continue;
        nodes.delete(node);
        members.get(into)!.add(node);
        now[node] = into;
      }
    }
  }
  return numbered([...now]);
}
