/**
 * A thermal network ready to be solved for its steady state: compiled once, solved many times with
 * changed numbers.
 * @module
 */
import type { CondensedBody, Conductor, Load } from "../conductor.js";
import { anObject } from "../units/checks.js";
import { FieldError } from "../units/errors.js";
import {
  checkConductor,
  checkLoad,
  checkNetwork,
  type NetworkDescription,
  type NodeDescription,
  positive,
} from "./description.js";
import { HeatBalance } from "./heat-balance.js";
import { defaultMaxSteps, NewtonSolver } from "./newton.js";
import { kelvin, report } from "./report.js";
import { SolveError, type SteadySolution } from "./solution.js";

/** How to solve. */
export interface SteadyOptions {
  /** Most Newton steps; 200 by default. */
  readonly maxSteps?: number;
  /** false: return an unconverged state, marked so, instead of throwing. */
  readonly throw?: boolean;
  /**
   * Temperatures near the answer, by node, from which the search starts [K]; from the coldest fixed temperature
   * when absent, where one of a free node is missing, or where loads depend on temperature.
   */
  readonly start?: ReadonlyMap<string, number>;
}

/** Largest heat left over at a node of an answer, in parts of the largest heat that crosses any. */
const largestImbalance = 1e-6;

/** A compiled network with its solver. */
export class SteadyNetwork {
  /** The free nodes first, then those of fixed temperature; in the order of declaration otherwise. */
  readonly nodeNames: readonly string[];
  /** Links in the order of declaration. */
  readonly linkNames: readonly string[];
  /** How many nodes are free: nodes 0 to freeCount − 1. */
  readonly freeCount: number;
  /** Temperature of every node [K]; of the free ones, what the last solve found. */
  readonly temperatures: Float64Array;
  /** @internal The arrays and their evaluation, for the other solvers. */
  readonly balance: HeatBalance;
  /** Names of the nodes in the order of declaration. */
  readonly #declared: readonly string[];
  /** Their numbers, in the same order. */
  readonly #places: readonly number[];
  readonly #shape: unknown[] = [];
  readonly #solver: NewtonSolver;
  /** Those whose numbers the links have now. */
  #links: NetworkDescription["links"] | undefined;

  /** @throws FieldError, UnknownNameError for a wrong field; Error for nodes without a path to a fixed one */
  constructor(description: NetworkDescription) {
    checkNetwork(description);
    const { links, bodies = [] } = description;
    const isFree = ({ temperature }: NodeDescription) => temperature === undefined;
    const free = description.nodes.filter(isFree);
    const nodes = [...free, ...description.nodes.filter((node) => !isFree(node))];
    visitShape(description, (part) => this.#shape.push(part));
    this.#declared = description.nodes.map((n) => n.name);
    this.nodeNames = nodes.map((n) => n.name);
    this.linkNames = links.map((l) => l.name);
    this.freeCount = free.length;
    const index = new Map(this.nodeNames.map((name, i) => [name, i]));
    this.balance = new HeatBalance({
      free: this.freeCount,
      nodes: nodes.length,
      ends: links.map((l) => [index.get(l.from)!, index.get(l.to)!]),
      bodies: bodies.map(({ name, terminals, body }) => ({
        name,
        nodes: terminals.map((t) => index.get(t)!),
        body,
      })),
    });
    this.temperatures = this.balance.temperatures;
    this.#solver = new NewtonSolver(this.balance, this);
    this.#places = this.#declared.map((name) => index.get(name)!);
    this.#setAll(description);
  }

  /** Steps of the last solve. */
  get steps(): number {
    return this.#solver.steps;
  }

  /** Why the last solve failed; empty when it converged. */
  get failure(): string {
    return this.#solver.failure;
  }

  /**
   * Solves, leaving the answer in `temperatures`; allocates nothing.
   * @param start - from the coldest fixed temperature, or from the present ones
   * @returns whether it converged; if not, `failure` says why and `temperatures` are not an answer
   */
  trySolve(maxSteps = defaultMaxSteps, start: "cold" | "present" = "cold"): boolean {
    return this.#solver.solve(maxSteps, start);
  }

  /**
   * Solves and reports every temperature, flow and the balance.
   * @throws SolveError when no steady state was reached, unless `throw` is false
   */
  solve(options: SteadyOptions = {}): SteadySolution {
    const isNear = options.start !== undefined && this.#startAt(options.start);
    const found =
      (isNear && this.trySolve(options.maxSteps, "present")) || this.trySolve(options.maxSteps);
    const state = this.#report(found);
    const converged = found && state.imbalance.relative < largestImbalance;
    if (converged) {
      return { status: "converged", message: `converged in ${this.steps} steps`, ...state };
    }
    if (found) this.#solver.fail("the conductors are too far apart for double precision");
    const message =
      `steady: ${this.failureAtNode(state)}. ` +
      "Check the loads and conductors there: the load may be more than the paths can carry.";
    const solution: SteadySolution = { ...state, status: "not converged", message };
    if (options.throw !== false) throw new SolveError(solution);
    return solution;
  }

  /** @returns whether all free nodes have a temperature to start from */
  #startAt(start: ReadonlyMap<string, number>): boolean {
    if (this.balance.hasLoadLaws) return false;
    for (let node = 0; node < this.freeCount; node++) {
      const T = start.get(this.nodeNames[node]!);
      if (!(T! > 0)) return false;
      this.temperatures[node] = T!;
    }
    return true;
  }

  /** Why the last solve failed, and at which node most heat is left over. @internal */
  failureAtNode({ imbalance: { node, power }, temperatures } = this.#report(false)): string {
    const T = kelvin(temperatures.get(node) ?? this.temperatures[0] ?? 0);
    return `${this.failure}; largest imbalance ${power.toPrecision(3)} W at node "${node}" (T = ${T})`;
  }

  /** The error of a solver that stops at the present temperatures. @internal */
  unsolved(message: string): SolveError {
    return new SolveError({ ...this.#report(false), status: "not converged", message });
  }

  /**
   * Takes the conductors, counts, loads, fixed temperatures and bodies of another description, which
   * saves compiling it.
   * @returns false, and changes nothing, unless its nodes, links and bodies are these, in this order
   * @throws FieldError for a wrong number, with those before it already taken
   */
  updateValues(description: NetworkDescription): boolean {
    if (!this.matches(anObject("network", description))) return false;
    description.bodies?.forEach(({ body }, b) => {
      this.setBody(b, body);
    });
    this.#setAll(description);
    return true;
  }

  /** Whether a description has these nodes, links and bodies, in this order. */
  matches(description: NetworkDescription): boolean {
    if (description.nodes?.length !== this.#declared.length) return false;
    let at = 0;
    let same = true;
    visitShape(description, (part) => {
      if (part !== this.#shape[at++]) same = false;
    });
    return same && at === this.#shape.length;
  }

  /** Replaces the conductor of a link, and how many are in parallel. @throws FieldError */
  setConductor(link: number, conductor: Conductor, count = this.balance.count(link)): void {
    this.#links = undefined;
    checkConductor(this.linkNames[link]!, conductor);
    this.#checkCount(link, count);
    this.balance.setConductor(link, conductor, count);
  }

  /** Changes only how many conductors are in parallel. @throws FieldError unless greater than 0 */
  setCount(link: number, count: number): void {
    this.#links = undefined;
    this.#checkCount(link, count);
    this.balance.setCount(link, count);
  }

  /**
   * Replaces a condensed body by another between the same nodes.
   * @throws FieldError for one with another number of terminals, or an unsound one
   */
  setBody(body: number, by: CondensedBody): void {
    this.balance.bodies[body]!.body = by;
  }

  /** Changes the load of a free node [W]. @throws FieldError unless it is a finite number or a law */
  setLoad(node: number, load: number | Load): void {
    checkLoad(this.nodeNames[node]!, load);
    this.balance.setLoad(node, load);
  }

  /** Changes a fixed temperature [K]. @throws FieldError */
  setTemperature(node: number, temperature: number): void {
    const name = this.nodeNames[node]!;
    if (node < this.freeCount) {
      throw new FieldError(name, "a node of fixed temperature", "a free node");
    }
    this.balance.setTemperature(node, positive(`${name}.temperature`, temperature, "K"));
  }

  /** Nodes that a link joins. */
  ends(link: number): readonly [from: number, to: number] {
    return this.balance.ends(link);
  }

  #checkCount(link: number, count: number): void {
    // Names are put together for an error only.
    if (!(count > 0 && count < Number.POSITIVE_INFINITY)) {
      positive(`${this.linkNames[link]}.count`, count, "");
    }
  }

  /** The numbers of nodes and links. */
  #setAll({ nodes, links }: NetworkDescription): void {
    nodes.forEach(({ temperature, load }, i) => {
      const node = this.#places[i]!;
      if (temperature !== undefined) this.setTemperature(node, temperature);
      else this.setLoad(node, load ?? 0);
    });
    if (links === this.#links) return;
    links.forEach(({ conductor, count = 1 }, l) => {
      this.setConductor(l, conductor, count);
    });
    this.#links = links;
  }

  #report(converged: boolean) {
    const state = report(this.balance, this, converged);
    const temperatures = new Map(
      this.#declared.map((name, i) => [name, this.temperatures[this.#places[i]!]!]),
    );
    return { steps: this.steps, ...state, temperatures };
  }
}

/** All of a description but its values, part by part; of what is no list, what stands in its place. */
function visitShape(
  { nodes, links, bodies = [] }: NetworkDescription,
  visit: (part: unknown) => void,
): void {
  const list = <T>(items: readonly T[], each: (item: T) => void) => {
    visit(items?.length ?? items);
    if (Array.isArray(items)) items.forEach(each);
  };
  list(nodes, (n) => {
    visit(n?.name);
    visit(n?.temperature !== undefined);
    visit(n?.temperature !== undefined && n.load);
  });
  list(links, (l) => {
    visit(l?.name);
    visit(l?.from);
    visit(l?.to);
  });
  list(bodies, (b) => {
    visit(b?.name);
    list(b?.terminals, visit);
  });
}

/**
 * Steady temperatures and flows of a network.
 * @throws SolveError when none was reached, unless `throw` is false; FieldError for a wrong field
 * @example solveSteady({ nodes: [{ name: "chip", load: 7e-9 }, { name: "stage", temperature: 0.11 }],
 *   links: [{ name: "bonds", from: "chip", to: "stage", conductor: powerConductor(1e-5, 2) }] })
 *   .temperatures.get("chip") // 0.11314
 */
export function solveSteady(
  description: NetworkDescription,
  options: SteadyOptions = {},
): SteadySolution {
  return new SteadyNetwork(description).solve(options);
}
