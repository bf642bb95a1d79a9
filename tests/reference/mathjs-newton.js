/**
 * The steady state of a network as one would write it with mathjs alone: Newton's method on full
 * matrices with its `lusolve`. Needs nothing that this library does not bring.
 * @module
 */
import { abs, lusolve, max } from "mathjs";

/** @returns a function that solves once and gives the temperature of every node [K] */
export function newtonByMathjs({ nodes, links }) {
  const free = nodes.flatMap(({ temperature }, i) => (temperature === undefined ? [i] : []));
  const place = new Map(free.map((node, i) => [node, i]));
  const index = new Map(nodes.map(({ name }, i) => [name, i]));
  const coldest = Math.min(...nodes.flatMap(({ temperature }) => temperature ?? []));
  const laws = links.map(({ from, to, count = 1, conductor: { powers } }) => ({
    a: index.get(from),
    b: index.get(to),
    c: count * powers[0].coefficient,
    p: powers[0].exponent,
  }));
  return () => {
    const T = nodes.map(({ temperature }) => temperature ?? coldest);
    for (let step = 0; step < 100; step++) {
      const left = nodes.map(({ load = 0 }) => load);
      const jacobian = free.map(() => free.map(() => 0));
      const add = (row, column, value) => {
        if (place.has(row) && place.has(column)) {
          jacobian[place.get(row)][place.get(column)] += value;
        }
      };
      for (const { a, b, c, p } of laws) {
        const flow = c * (T[a] ** p - T[b] ** p);
        left[a] -= flow;
        left[b] += flow;
        const [slopeA, slopeB] = [c * p * T[a] ** (p - 1), c * p * T[b] ** (p - 1)];
        add(a, a, slopeA);
        add(b, a, -slopeA);
        add(b, b, slopeB);
        add(a, b, -slopeB);
      }
      const change = lusolve(
        jacobian,
        free.map((node) => left[node]),
      ).map(([value]) => value);
      free.forEach((node, i) => {
        T[node] = Math.min(3 * T[node], Math.max(T[node] / 3, T[node] + change[i]));
      });
      if (max(abs(change.map((value, i) => value / T[free[i]]))) <= 4e-9) return T;
    }
    throw new Error("no balance after 100 steps");
  };
}
