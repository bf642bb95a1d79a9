/**
 * How one temperature of a solved network depends on everything in it, from a single transposed solve.
 *
 * The steady state is F(T, x) = 0, load less what flows out, for each free node. With the Jacobian
 * J = −∂F/∂T and a temperature θ = w·T, the influence λ that solves Jᵀλ = w gives for any input x
 *   dθ/dx = λ·∂F/∂x  at fixed T,
 * whatever the number of inputs (D. G. Cacuci, Sensitivity theory for nonlinear systems, J. Math. Phys.
 * 22, 2794 (1981)). λᵢ is what one more watt on node i changes θ by; a held node has none.
 *
 * J is eliminated without a subtraction (see elimination.ts), and the transposed solve goes back over the
 * same factors: λ has all its digits however far apart the conductances are.
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
    const unstable = this.elimination.solve(this.numbers);
    if (unstable >= 0) {
      throw new Error(
        `adjoint: at node "${nodeNames[unstable]}" ` +
          `(T = ${this.temperatures[unstable]!.toPrecision(4)} K) this is no steady state that holds: ` +
          "a small change of temperature runs away, or the paths from there carry nothing. Solve first.",
      );
    }
    const influence = this.numbers.subarray(this.imbalanceAt, this.imbalanceAt + nodeNames.length);
    influence.set(given.map((weight, node) => (node < freeCount ? weight : 0)));
    this.elimination.solveTransposed(this.numbers);
    return influence.slice();
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
