/**
 * Derivatives of a temperature of a solved network by all inputs, from one transposed (adjoint) solve.
 *
 * The steady state is F(T, x) = 0, load less what flows out, for each free node. With the Jacobian
 * J = −∂F/∂T and a temperature θ = w·T, the influence λ that solves Jᵀλ = w gives for any input x
 *   dθ/dx = λ·∂F/∂x  at fixed T,
 * whatever the number of inputs (D. G. Cacuci, Sensitivity theory for nonlinear systems, J. Math. Phys.
 * 22, 2794 (1981)). λᵢ is the change of θ by one more watt on node i; 0 for a fixed node.
 *
 * J is eliminated without a subtraction (see elimination.ts), and the transposed solve uses the same
 * factors: λ has all its digits however far apart the conductances are.
 * @module
 */
import { FieldError } from "../units/errors.js";
import { kelvin } from "./report.js";
import type { SteadyNetwork } from "./steady.js";

/** Derivatives of one temperature; in the order of the network's nodes, links and bodies. */
export interface Gradient {
  /** By the load on each node [K/W]; 0 for fixed nodes. */
  readonly loads: Float64Array;
  /** By ln of a factor on each link's conductance [K]. */
  readonly links: Float64Array;
  /** By the temperature of each fixed node, a pure number; 0 for free nodes. */
  readonly held: Float64Array;
  /** By ln of a factor on the law of each condensed body [K]. */
  readonly bodies: Float64Array;
  /** By the load that leaves each condensed body at each of its terminals [K/W]. */
  readonly outflows: readonly Float64Array[];
}

/** Derivatives of the temperatures of a network, once it is solved. */
export class Adjoint {
  /** @param network - the network, at a steady state whenever a derivative is asked for */
  constructor(private readonly network: SteadyNetwork) {}

  /**
   * Derivatives of θ = Σ wᵢTᵢ at the present temperatures, which must be those of a steady state.
   * @param weights - w by node, in the order of `nodeNames`
   * @throws FieldError for weights that are not one finite number a node; SolveError where a small
   * change of temperature grows
   */
  gradient(weights: ArrayLike<number>): Gradient {
    const loads = this.influence(weights);
    const { nodeNames, linkNames, freeCount, balance } = this.network;
    const links = new Float64Array(linkNames.length);
    const held = new Float64Array(nodeNames.length);
    const add = (node: number, slope: number) => {
      if (node >= freeCount) held[node]! += slope;
    };
    for (let node = freeCount; node < held.length; node++) add(node, weights[node]!);
    for (let l = 0; l < links.length; l++) {
      const [from, to] = balance.ends(l);
      const [slopeFrom, slopeTo] = balance.slopes(l);
      const difference = loads[to]! - loads[from]!;
      links[l] = difference * balance.flow(l);
      add(from, difference * slopeFrom);
      add(to, -difference * slopeTo);
    }
    const weighted = balance.bodies.map((body) => body.weighted(loads));
    weighted.forEach(({ slopes }, b) => {
      balance.bodies[b]!.nodes.forEach((node, t) => {
        add(node, -slopes[t]!);
      });
    });
    return {
      loads,
      links,
      held,
      bodies: Float64Array.from(weighted, ({ conducted }) => -conducted),
      outflows: balance.bodies.map(({ nodes }) => Float64Array.from(nodes, (node) => loads[node]!)),
    };
  }

  /**
   * λ alone: change of θ = Σ wᵢTᵢ by one more watt on each node [K/W].
   * @throws as `gradient` does
   */
  influence(weights: ArrayLike<number>): Float64Array {
    return this.#solved("weights", weights, true);
  }

  /**
   * Change of every temperature by so much more heat on each node, to first order [K].
   * @param heat - by node, in the order of `nodeNames` [W]; what falls on a fixed node changes nothing
   * @throws as `gradient` does
   */
  response(heat: ArrayLike<number>): Float64Array {
    return this.#solved("heat", heat, false);
  }

  /** J⁻¹ or its transpose times a number a node. */
  #solved(name: string, numbersOfNodes: ArrayLike<number>, transposed: boolean): Float64Array {
    const { nodeNames, freeCount, balance } = this.network;
    const { numbers, imbalanceAt, elimination } = balance;
    const given = Array.from(numbersOfNodes);
    if (given.length !== nodeNames.length || !given.every(Number.isFinite)) {
      throw new FieldError(name, `${nodeNames.length} finite numbers, one a node`, given);
    }
    balance.evaluate();
    const unstable = elimination.solve(numbers);
    if (unstable >= 0) {
      throw this.network.unsolved(
        `adjoint: at node "${nodeNames[unstable]}" ` +
          `(T = ${kelvin(balance.temperatures[unstable]!)}) there is no stable steady state: a small ` +
          "change of temperature grows, or the paths from there carry nothing. Solve the network " +
          "first, and check the load and the conductors there.",
      );
    }
    const solved = numbers.subarray(imbalanceAt, imbalanceAt + nodeNames.length);
    solved.set(given.map((each, node) => (node < freeCount ? each : 0)));
    elimination.solveAgain(numbers, transposed);
    return solved.slice();
  }

  /**
   * λ·F at the present temperatures [K]: the change of θ, to first order, in a network that differs a
   * little from the one λ was found for. At fixed temperatures of the free nodes, its derivative by an
   * input of the network is that of θ.
   */
  virtualRise(influence: ArrayLike<number>): number {
    const { linkNames, freeCount, balance } = this.network;
    balance.evaluate();
    let rise = 0;
    for (let node = 0; node < freeCount; node++) rise += influence[node]! * balance.loadOf(node);
    for (let l = 0; l < linkNames.length; l++) {
      const [from, to] = balance.ends(l);
      rise += (influence[to]! - influence[from]!) * balance.flow(l);
    }
    for (const body of balance.bodies) {
      const { conducted, brought } = body.weighted(influence);
      rise -= conducted + brought;
    }
    return rise;
  }
}

/**
 * Solves a network and returns the derivatives of the temperature of one node.
 * @throws SolveError when no steady state was reached; FieldError for an unknown node
 */
export function temperatureGradient(network: SteadyNetwork, node: string): Gradient {
  const at = network.nodeNames.indexOf(node);
  if (at < 0) throw new FieldError("node", "the name of a node of the network", node);
  network.solve();
  return new Adjoint(network).gradient(network.nodeNames.map((_, i) => (i === at ? 1 : 0)));
}
