/**
 * Thermal time constants: times in which small changes of temperature die away, and which nodes take
 * part in each.
 *
 * Near given temperatures C dθ/dt = −A θ, with A the Jacobian of the flows less the loads. Nodes that
 * store nothing have no C and are eliminated: S = A_ss − A_sa A_aa⁻¹ A_as. The eigenvalues of
 * C^½ S⁻¹ C^½ are the times, those of C^−½ S C^−½ the rates. The rounding error of each is a part of the
 * largest, so long times are taken from the first and short ones from the second. Both matrices are
 * made without subtractions (elimination.ts), and times 14 decades apart keep seven digits or more each.
 * Large networks give their longest few, from a Krylov space.
 * @module
 */
import { eigenModes, largestModes, type Modes } from "../numerics/eigen-modes.js";
import { FieldError } from "../units/errors.js";
import type { NetworkDescription } from "./description.js";
import type { HeatBalance } from "./heat-balance.js";
import { balanceOthers, setStart, storesOf } from "./initial-state.js";
import { kelvin } from "./report.js";
import { SteadyNetwork } from "./steady.js";

/** One thermal time constant. */
export interface EigenTime {
  /** Time in which a change of this shape falls to 1/e [s]. */
  readonly time: number;
  /** By node that stores heat: its C θ² over the sum of all, its share of the free energy of the change. */
  readonly weights: ReadonlyMap<string, number>;
}

/** Temperatures to linearise at, and how many times to find. */
export interface EigenTimesOptions {
  /** Of every node that stores heat [K]; the steady state when absent. */
  readonly temperatures?: ReadonlyMap<string, number>;
  /** How many, longest first; by default all of up to 300 nodes that store heat, and 6 of more. */
  readonly count?: number;
}

/** Networks with more storing nodes give their longest times only. */
const mostAtOnce = 300;
const fewest = 6;
/**
 * Thermal time constants, longest first, each with the nodes that take part in it.
 * @throws FieldError, UnknownNameError for a wrong field; SolveError without a steady state, or where a
 * small change of temperature grows
 */
export function eigenTimes(
  description: NetworkDescription,
  { temperatures, count }: EigenTimesOptions = {},
): EigenTime[] {
  const network = new SteadyNetwork(description);
  const { nodeNames, freeCount, balance } = network;
  const stores = storesOf(description, nodeNames.slice(0, freeCount));
  if (temperatures === undefined) network.solve();
  else {
    setStart(network, stores, temperatures);
    if (!balanceOthers(network, stores)) {
      throw network.unsolved(
        `eigenTimes: the nodes that store no heat find no balance, ${network.failureAtNode()}. ` +
          "Check their loads, or give them a store.",
      );
    }
  }
  /** Free nodes that store heat, and the square roots of their heat capacities. */
  const storing = [...stores.keys()].filter((i) => stores[i] !== undefined);
  const roots = storing.map((i) => Math.sqrt(stores[i]!.slope(balance.temperatures[i]!)));
  const n = storing.length;
  const all = n <= mostAtOnce;
  if (count !== undefined && !(Number.isInteger(count) && count > 0 && (all || count <= 100))) {
    throw new FieldError("count", `a whole number from 1${all ? "" : " to 100"}`, count);
  }
  const wanted = Math.min(n, count ?? (all ? n : fewest));
  const { numbers, imbalanceAt, elimination } = balance;
  balance.evaluate();
  const unstable = elimination.solve(numbers);
  if (unstable >= 0) {
    throw network.unsolved(
      `eigenTimes: at these temperatures a change grows at node "${nodeNames[unstable]}" ` +
        `(T = ${kelvin(balance.temperatures[unstable]!)}) instead of dying away: its load rises ` +
        "faster than its paths carry. Give the temperatures of a stable state.",
    );
  }
  /** C^½ S⁻¹ C^½ x, whose eigenvalues are times [s]. */
  const apply = (x: ArrayLike<number>) => {
    numbers.fill(0, imbalanceAt, imbalanceAt + freeCount);
    storing.forEach((node, s) => {
      numbers[imbalanceAt + node] = roots[s]! * x[s]!;
    });
    elimination.solveAgain(numbers);
    return Float64Array.from(storing, (node, s) => roots[s]! * numbers[imbalanceAt + node]!);
  };
  const result = (modes: Modes, k: number, time: number): EigenTime => {
    const parts = modes.squares(k);
    return { time, weights: new Map(storing.map((node, s) => [nodeNames[node]!, parts[s]!])) };
  };
  if (!all) {
    // An uneven start vector has a part of every mode, whatever their symmetry.
    const start = Float64Array.from(roots, (root, i) => root * (1 + 0.5 * Math.sin(1 + 7 * i)));
    const slow = largestModes(apply, start, wanted);
    return slow.values.slice(0, wanted).map((time, k) => result(slow, k, time));
  }
  const columns = storing.map((_, s) => {
    const unit = new Float64Array(n);
    unit[s] = 1;
    return apply(unit);
  });
  const slow = eigenModes(columns.map((_, i) => columns.map((column) => column[i]!)));
  balance.evaluate();
  const fast = eigenModes(rates(balance, storing, roots));
  // Rates come largest first.
  const shortest = 1 / fast.values[0]!;
  const between = Math.sqrt(slow.values[0]! * shortest);
  return Array.from({ length: wanted }, (_, k) => {
    const time = slow.values[k]!;
    if (time > between) return result(slow, k, time);
    return result(fast, n - 1 - k, 1 / fast.values[n - 1 - k]!);
  });
}

/** C^−½ S C^−½ of an evaluated balance, whose eigenvalues are rates [1/s]. */
function rates(
  { freeCount: n, numbers, sumsAt, elimination }: HeatBalance,
  storing: readonly number[],
  roots: readonly number[],
): number[][] {
  /** What row i receives from column j [W/K]. */
  const received = Array.from({ length: n }, (_, i) =>
    Float64Array.from({ length: n }, (_, j) => {
      const at = i === j ? -1 : elimination.position(i, j);
      return at < 0 ? 0 : numbers[at]!;
    }),
  );
  const lost = Array.from({ length: n }, (_, i) => numbers[sumsAt + i]!);
  const left = new Set(lost.keys());
  const conductance = (node: number) => {
    let sum = lost[node]!;
    for (const i of left) if (i !== node) sum += received[i]![node]!;
    return sum;
  };
  for (let p = 0; p < n; p++) {
    if (storing.includes(p)) continue;
    const pivot = conductance(p);
    left.delete(p);
    for (const j of left) {
      const part = received[p]![j]! / pivot;
      if (part === 0) continue;
      lost[j]! += part * lost[p]!;
      for (const i of left) if (i !== j) received[i]![j]! += part * received[i]![p]!;
    }
  }
  return storing.map((i, row) =>
    storing.map((j, column) => {
      const entry = i === j ? conductance(i) : -received[i]![j]!;
      return entry / (roots[row]! * roots[column]!);
    }),
  );
}
