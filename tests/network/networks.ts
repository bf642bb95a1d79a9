/**
 * Networks for the tests, written short.
 * @module
 */
import fc from "fast-check";
import { powerConductor } from "../../src/conductor.js";
import type { NetworkDescription } from "../../src/network/description.js";

/** A link as `[from, to, coefficient, exponent]`; the name is made from the ends and the place. */
export type Row = readonly [from: string, to: string, coefficient: number, exponent: number];

/**
 * A network of power laws.
 * @param fixed - held nodes and their temperatures [K]
 * @param loads - heat on free nodes [W]; nodes that only links name are free without load
 */
export function network(
  fixed: Record<string, number>,
  loads: Record<string, number>,
  rows: readonly Row[],
): NetworkDescription {
  const names = new Set([
    ...Object.keys(loads),
    ...rows.flatMap(([from, to]) => [from, to] as const),
  ]);
  return {
    nodes: [
      ...[...names]
        .filter((name) => fixed[name] === undefined)
        .map((name) => ({ name, load: loads[name] ?? 0 })),
      ...Object.entries(fixed).map(([name, temperature]) => ({ name, temperature })),
    ],
    links: rows.map(([from, to, coefficient, exponent], i) => ({
      name: `${i}: ${from} - ${to}`,
      from,
      to,
      conductor: powerConductor(coefficient, exponent),
    })),
  };
}

/** A network as numbers: nodes 0 to n−1 are free, n and n+1 fixed. */
export interface RandomNetwork {
  readonly loads: readonly number[];
  readonly fixed: readonly [number, number];
  readonly links: readonly {
    readonly from: number;
    readonly to: number;
    readonly coefficient: number;
    readonly exponent: number;
  }[];
}

const logarithmic = (low: number, high: number) =>
  fc
    .double({ min: Math.log10(low), max: Math.log10(high), noNaN: true })
    .map((exponent) => 10 ** exponent);

/**
 * A random tree that hangs on one of two fixed nodes, with extra links; exponents 1 to 6 real,
 * coefficients over eight decades, loads over six decades or none.
 */
export const randomNetworks: fc.Arbitrary<RandomNetwork> = fc
  .integer({ min: 1, max: 14 })
  .chain((n) => {
    const law = {
      coefficient: logarithmic(1e-9, 1e-1),
      exponent: fc.oneof(
        fc.integer({ min: 1, max: 6 }),
        fc.double({ min: 1, max: 6, noNaN: true }),
      ),
    };
    const extra = fc.record({
      from: fc.nat(n - 1),
      to: fc.nat(n + 1),
      ...law,
    });
    return fc.record({
      loads: fc.array(fc.oneof(fc.constant(0), logarithmic(1e-15, 1e-9)), {
        minLength: n,
        maxLength: n,
      }),
      fixed: fc.tuple(logarithmic(0.01, 0.3), logarithmic(0.01, 4)),
      links: fc
        .tuple(
          // The parent of node i is an earlier node, or a fixed one.
          fc.tuple(
            ...Array.from({ length: n }, (_, i) => fc.record({ to: fc.nat(i + 1), ...law })),
          ),
          fc.array(extra, { maxLength: 6 }),
        )
        .map(([tree, more]) => [
          ...tree.map(({ to, ...rest }, i) => ({ from: i, to: to < i ? to : n + to - i, ...rest })),
          ...more.filter(({ from, to }) => from !== to),
        ]),
    });
  });

/** The same as a description; the nodes are named by their numbers. */
export function described(random: RandomNetwork): NetworkDescription {
  const n = random.loads.length;
  return {
    nodes: [
      ...random.loads.map((load, i) => ({ name: `${i}`, load })),
      ...random.fixed.map((temperature, i) => ({ name: `${n + i}`, temperature })),
    ],
    links: random.links.map(({ from, to, coefficient, exponent }, i) => ({
      name: `link ${i}`,
      from: `${from}`,
      to: `${to}`,
      conductor: powerConductor(coefficient, exponent),
    })),
  };
}
