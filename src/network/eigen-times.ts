/**
 * The times in which small changes of temperature die away, and which nodes take part in each.
 *
 * Near given temperatures C dθ/dt = −A θ, with A the Jacobian of the flows less the loads and no C at
 * nodes that store nothing, which are eliminated: S = A_ss − A_sa A_aa⁻¹ A_as. The eigenvalues of
 * C^½ S⁻¹ C^½ are the times, those of C^−½ S C^−½ the rates. Rounding takes its part of the largest of
 * either, so slow times are taken from the first and fast ones from the second; both matrices are made
 * without subtractions (elimination.ts), so that times 14 decades apart each keep seven digits or more.
 * Large networks give their slowest few, from a Krylov space.
 * @module
 */
import { eigenModes, largestModes, type Modes } from "../numerics/eigen-modes.js";
import { FieldError } from "../units/errors.js";
import type { NetworkDescription } from "./description.js";
import { TransientNetwork } from "./transient.js";

/** One way in which a network settles. */
export interface EigenTime {
  /** Time in which a change of this shape falls to 1/e [s]. */
  readonly time: number;
  /**
   * Part that each node that stores heat has in it: its C θ² over the sum of all, the share of the free
   * energy of the change.
   */
  readonly weights: ReadonlyMap<string, number>;
}

/** Where to look, and how many times to find. */
export interface EigenTimesOptions {
  /** Of every node that stores heat [K]; the steady state when absent. */
  readonly temperatures?: ReadonlyMap<string, number>;
  /** How many, slowest first; all up to 300 storing nodes, and 6 above. */
  readonly count?: number;
}

/** More storing nodes than these give their slowest times only. */
const mostAtOnce = 300;
const fewest = 6;
/** A network that can be linearised. */
class LinearNetwork extends TransientNetwork {
  /** Free nodes that store heat, and the square roots of their heat capacities. */
  readonly storing: readonly number[];
  readonly roots: Float64Array;

  constructor(description: NetworkDescription, temperatures?: ReadonlyMap<string, number>) {
    super(description);
    this.prepare(temperatures ?? "steady");
    const free = Array.from({ length: this.freeCount }, (_, i) => i);
    this.storing = free.filter((i) => this.storeOf(i) !== undefined);
    this.roots = Float64Array.from(this.storing, (i) =>
      Math.sqrt(this.storeOf(i)!.heatCapacity(this.temperatures[i]!)),
    );
  }

  /** C^−½ S C^−½, whose eigenvalues are rates [1/s]. */
  rates(): number[][] {
    this.evaluate();
    const { freeCount: n, numbers, storing, roots } = this;
    /** What row i receives from column j [W/K]. */
    const received = Array.from({ length: n }, (_, i) =>
      Float64Array.from({ length: n }, (_, j) => {
        const at = i === j ? -1 : this.elimination.position(i, j);
        return at < 0 ? 0 : numbers[at]!;
      }),
    );
    const lost = Array.from({ length: n }, (_, i) => numbers[this.sumsAt + i]!);
    const left = new Set(lost.keys());
    const conductance = (node: number) => {
      let sum = lost[node]!;
      for (const i of left) if (i !== node) sum += received[i]![node]!;
      return sum;
    };
    for (let p = 0; p < n; p++) {
      if (this.storeOf(p) !== undefined) continue;
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

  /** Makes `apply` ready. @throws Error where a change would grow */
  factor(): void {
    this.evaluate();
    this.numbers.fill(0, this.imbalanceAt, this.imbalanceAt + this.freeCount);
    const unstable = this.elimination.solve(this.numbers);
    if (unstable >= 0) {
      throw new Error(
        `eigenTimes: at these temperatures a change grows at node "${this.nodeNames[unstable]}" ` +
          "instead of dying away. Its load rises faster than its paths carry.",
      );
    }
  }

  /** C^½ S⁻¹ C^½ x, whose eigenvalues are times [s]. */
  apply(x: ArrayLike<number>): Float64Array {
    const { numbers, imbalanceAt, storing, roots } = this;
    numbers.fill(0, imbalanceAt, imbalanceAt + this.freeCount);
    storing.forEach((node, s) => {
      numbers[imbalanceAt + node] = roots[s]! * x[s]!;
    });
    this.elimination.solveAgain(numbers);
    return Float64Array.from(storing, (node, s) => roots[s]! * numbers[imbalanceAt + node]!);
  }
}

/**
 * Times in which small changes die away, slowest first, each with the nodes that take part in it.
 * @throws FieldError, UnknownNameError for a wrong field; SolveError without a steady state; Error
 * where a change grows instead
 */
export function eigenTimes(
  description: NetworkDescription,
  { temperatures, count }: EigenTimesOptions = {},
): EigenTime[] {
  const network = new LinearNetwork(description, temperatures);
  const { storing } = network;
  const n = storing.length;
  const all = n <= mostAtOnce;
  if (count !== undefined && !(Number.isInteger(count) && count > 0 && (all || count <= 100))) {
    throw new FieldError("count", `a whole number from 1${all ? "" : " to 100"}`, count);
  }
  const wanted = Math.min(n, count ?? (all ? n : fewest));
  network.factor();
  const result = (modes: Modes, k: number, time: number): EigenTime => {
    const parts = modes.squares(k);
    const weights = new Map(storing.map((node, s) => [network.nodeNames[node]!, parts[s]!]));
    return { time, weights };
  };
  if (!all) {
    // Heat everywhere, a little uneven, so that no shape is missed for its symmetry.
    const start = network.roots.map((root, i) => root * (1 + 0.5 * Math.sin(1 + 7 * i)));
    const slow = largestModes((x) => network.apply(x), start, wanted);
    return slow.values.slice(0, wanted).map((time, k) => result(slow, k, time));
  }
  const columns = Array.from({ length: n }, (_, s) => {
    const unit = new Float64Array(n);
    unit[s] = 1;
    return network.apply(unit);
  });
  const slow = eigenModes(columns.map((_, i) => columns.map((column) => column[i]!)));
  const fast = eigenModes(network.rates());
  // Rates come largest first.
  const shortest = 1 / fast.values[0]!;
  const between = Math.sqrt(slow.values[0]! * shortest);
  return Array.from({ length: wanted }, (_, k) => {
    const time = slow.values[k]!;
    if (time > between) return result(slow, k, time);
    return result(fast, n - 1 - k, 1 / fast.values[n - 1 - k]!);
  });
}
