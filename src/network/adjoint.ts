/**
 * How one temperature of a solved network depends on everything in it, from a single transposed solve.
 *
 * The steady state is F(T, x) = 0, load less what flows out, for each free node. With the Jacobian
 * J = −∂F/∂T and a temperature θ = w·T, the influence λ that solves Jᵀλ = w gives for any input x
 *   dθ/dx = λ·∂F/∂x  at fixed T,
 * whatever the number of inputs (D. G. Cacuci, Sensitivity theory for nonlinear systems, J. Math. Phys.
 * 22, 2794 (1981)). λᵢ is what one more watt on node i changes θ by; a held node has none.
 *
 * J is a matrix of the kind that is eliminated without a subtraction (see elimination.ts), and so is
 * the transposed solve: λ has all its digits however far apart the conductances are.
 * @module
 */
import { FieldError } from "../units/errors.js";
import { SteadyNetwork } from "./steady.js";

/** Derivatives of one temperature; in the order of the network's nodes, links and bodies. */
export interface Gradient {
  /** By the load on each node [K/W]; 0 for held nodes. */
  readonly loads: Float64Array;
  /** By ln of a factor on each link's conductance [K]. */
  readonly links: Float64Array;
  /** By the temperature of each held node, a pure number; 0 for free nodes. */
  readonly held: Float64Array;
  /** By ln of a factor on each body's law [K]. */
  readonly bodies: Float64Array;
  /** By the heat that leaves each body at each of its places [K/W]. */
  readonly outflows: readonly Float64Array[];
}

/** A network that can be asked what its temperatures depend on, once it is solved. */
export class AdjointNetwork extends SteadyNetwork {
  /**
   * Derivatives of θ = Σ wᵢTᵢ at the present temperatures, which must be those of a steady state.
   * @param weights - w by node, in the order of `nodeNames`
   * @throws FieldError for weights that are not one finite number a node; Error where a small change
   * of temperature would run away
   */
  gradient(weights: ArrayLike<number>): Gradient {
    const loads = this.influence(weights);
    const { bodies } = this;
    const links = Float64Array.from(this.linkNames, (_, l) => {
      const [from, to] = this.ends(l);
      return (loads[to]! - loads[from]!) * this.flow(l);
    });
    const held = new Float64Array(this.nodeNames.length);
    const give = (node: number, slope: number) => {
      if (node >= this.freeCount) held[node] = held[node]! + slope;
    };
    for (let node = this.freeCount; node < held.length; node++) give(node, weights[node]!);
    this.linkNames.forEach((_, l) => {
      const [from, to] = this.ends(l);
      const [slopeFrom, slopeTo] = this.slopes(l);
      give(from, (loads[to]! - loads[from]!) * slopeFrom);
      give(to, (loads[from]! - loads[to]!) * slopeTo);
    });
    const weighed = bodies.map((body) => body.weighed(loads));
    weighed.forEach(({ slopes }, b) => {
      bodies[b]!.nodes.forEach((node, t) => {
        give(node, -slopes[t]!);
      });
    });
    return {
      loads,
      links,
      held,
      bodies: Float64Array.from(weighed, ({ conducted }) => -conducted),
      outflows: bodies.map(({ nodes }) => Float64Array.from(nodes, (node) => loads[node]!)),
    };
  }

  /**
   * λ alone: what one more watt on each node changes θ = Σ wᵢTᵢ by [K/W].
   * @throws as `gradient` does
   */
  influence(weights: ArrayLike<number>): Float64Array {
    const { nodeNames, freeCount } = this;
    const given = Array.from(weights);
    if (given.length !== nodeNames.length || !given.every(Number.isFinite)) {
      throw new FieldError("weights", `${nodeNames.length} finite numbers, one a node`, given);
    }
    this.evaluate();
    const matrix = new TransposedElimination(freeCount);
    const position = (row: number, column: number) => this.elimination.position(row, column);
    for (const [a, b] of this.#coupled()) {
      matrix.couple(a, b, this.numbers[position(a, b)]!, this.numbers[position(b, a)]!);
    }
    for (let node = 0; node < freeCount; node++) {
      matrix.sums[node] = this.numbers[position(node, node)]!;
    }
    const influence = Float64Array.from(given, (weight, node) => (node < freeCount ? weight : 0));
    const unstable = matrix.solve(influence);
    if (unstable < 0) return influence;
    throw new Error(
      `adjoint: at node "${nodeNames[unstable]}" ` +
        `(T = ${this.temperatures[unstable]!.toPrecision(4)} K) this is no steady state that holds: a ` +
        "small change of temperature runs away, or the paths from there carry nothing. Solve first.",
    );
  }

  /**
   * λ·F at the present temperatures [K]: how a network that differs a little from the one λ was found
   * for moves θ, to first order in the difference. Its change by an input of the network, all
   * temperatures of free nodes kept, is the change of θ by that input.
   */
  virtualRise(influence: ArrayLike<number>): number {
    this.evaluate();
    let rise = 0;
    for (let node = 0; node < this.freeCount; node++) rise += influence[node]! * this.loadOf(node);
    this.linkNames.forEach((_, l) => {
      const [from, to] = this.ends(l);
      rise += (influence[to]! - influence[from]!) * this.flow(l);
    });
    for (const body of this.bodies) {
      const { conducted, brought } = body.weighed(influence);
      rise -= conducted + brought;
    }
    return rise;
  }

  /** Pairs of free nodes with an entry in the Jacobian; some more than once. */
  *#coupled(): Iterable<readonly [number, number]> {
    const { freeCount } = this;
    for (let l = 0; l < this.linkNames.length; l++) {
      const [a, b] = this.ends(l);
      if (Math.max(a, b) < freeCount) yield [a, b];
    }
    for (const { nodes } of this.bodies) {
      for (const a of nodes) for (const b of nodes) if (a < b && b < freeCount) yield [a, b];
    }
  }
}

/** Jᵀ x = b with the couplings and column sums of J, eliminated without a subtraction. */
class TransposedElimination {
  readonly sums: Float64Array;
  /** What node i receives from node j, at j · size + i. */
  readonly #received: Float64Array;

  constructor(readonly size: number) {
    this.sums = new Float64Array(size);
    this.#received = new Float64Array(size * size);
  }

  couple(a: number, b: number, aFromB: number, bFromA: number): void {
    this.#received[b * this.size + a] = aFromB;
    this.#received[a * this.size + b] = bFromA;
  }

  /** @returns −1, or the node of the first pivot that is not positive */
  solve(vector: Float64Array): number {
    const { size, sums } = this;
    const received = this.#received;
    const inverses = new Float64Array(size);
    const order = this.#fewestNeighboursFirst();
    // For each pivot, the later nodes it is coupled with.
    const around: number[][] = [];
    for (let k = 0; k < size; k++) {
      const pivot = order[k]!;
      const at = pivot * size;
      const later: number[] = [];
      let sum = sums[pivot]!;
      for (let m = k + 1; m < size; m++) {
        const node = order[m]!;
        if (received[at + node] === 0 && received[node * size + pivot] === 0) continue;
        later.push(node);
        sum += received[at + node]!;
      }
      if (!(sum > 0 && sum < Number.POSITIVE_INFINITY)) return pivot;
      const inverse = 1 / sum;
      inverses[pivot] = inverse;
      around.push(later);
      for (const j of later) {
        const part = received[j * size + pivot]! * inverse;
        sums[j] = sums[j]! + part * sums[pivot]!;
        vector[j] = vector[j]! + part * vector[pivot]!;
        for (const i of later) {
          if (i !== j) received[j * size + i] = received[j * size + i]! + part * received[at + i]!;
        }
      }
    }
    for (let k = size - 1; k >= 0; k--) {
      const pivot = order[k]!;
      let sum = vector[pivot]!;
      for (const i of around[k]!) sum += received[pivot * size + i]! * vector[i]!;
      vector[pivot] = sum * inverses[pivot]!;
    }
    return -1;
  }

  /** Chains between the contacts of a die go first, so that the fill stays among the contacts. */
  #fewestNeighboursFirst(): Int32Array {
    const { size } = this;
    const neighbours = new Int32Array(size);
    this.#received.forEach((value, at) => {
      if (value !== 0) neighbours[at % size]!++;
    });
    return Int32Array.from(neighbours.keys()).sort((a, b) => neighbours[a]! - neighbours[b]!);
  }
}

/**
 * Derivatives of the temperature of one node of a network, which is solved for it.
 * @throws SolveError when no steady state was reached; FieldError for a node that is not there
 */
export function temperatureGradient(network: AdjointNetwork, node: string): Gradient {
  const at = network.nodeNames.indexOf(node);
  if (at < 0) throw new FieldError("node", "the name of a node of the network", node);
  network.solve();
  return network.gradient(network.nodeNames.map((_, i) => (i === at ? 1 : 0)));
}
