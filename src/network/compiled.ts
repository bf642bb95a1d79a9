/**
 * A network in flat arrays: compiled once, evaluated many times with changed numbers.
 * @module
 */
import type { Conductor, Load } from "../conductor.js";
import { FieldError } from "../units/errors.js";
import {
  checkConductor,
  checkNetwork,
  finiteLoad,
  type NetworkDescription,
  positive,
} from "./description.js";
import { Elimination } from "./elimination.js";

/** Laws Θ = c·Tᵖ with one of these p are multiplied out in the loop; the rest are "other". */
const multipliedOut = [1, 2, 3, 4, 5];
const other = 0;

/** Heat imbalance of every node and its derivative, at temperatures that a solver moves. */
export class CompiledNetwork {
  readonly nodeNames: readonly string[];
  readonly linkNames: readonly string[];
  /** Temperature of every node [K]; of the free ones, what the last solve found. */
  readonly temperatures: Float64Array;
  /** Nodes whose temperature is not fixed. */
  readonly freeNodes: Int32Array;
  /** Σ flows out − load at each node [W]; at a fixed one, what it gives to the network. */
  readonly residual: Float64Array;
  /** Derivative of the residual in the storage of `elimination` [W/K]. */
  readonly jacobian: Float64Array;
  readonly elimination: Elimination;
  /** Sum of the terms in the last residual [W]: what rounding acts on. */
  roundingScale = 0;

  /** For each link: from, to, and where dΘ/dT of either end goes in the Jacobian. */
  readonly #ends: Int32Array;
  /** For each link: p where it is multiplied out, else `other`. */
  readonly #kind: Int32Array;
  /** For each link: c of its first term, and the highest temperature of its power laws [K]. */
  readonly #law: Float64Array;
  readonly #conductors: Conductor[];
  readonly #counts: Float64Array;
  /** Θ [W] and G [W/K] of the last `#evaluateEnd`. */
  readonly #end = new Float64Array(2);
  readonly #loads: Float64Array;
  readonly #loadLaws: (Load | undefined)[];
  #hasLoadLaws = false;

  constructor(description: NetworkDescription) {
    checkNetwork(description);
    const { nodes, links } = description;
    this.nodeNames = nodes.map((n) => n.name);
    this.linkNames = links.map((l) => l.name);
    this.temperatures = Float64Array.from(nodes, (n) => n.temperature ?? 0);
    const free = nodes.map((n) => n.temperature === undefined);
    this.freeNodes = Int32Array.from(nodes.keys()).filter((i) => free[i]!);

    const index = new Map(this.nodeNames.map((name, i) => [name, i]));
    const ends = links.map((l) => [index.get(l.from)!, index.get(l.to)!] as const);
    const coupled = ends.filter(([a, b]) => free[a] && free[b]);
    this.elimination = new Elimination(nodes.length, this.freeNodes, coupled);
    this.residual = new Float64Array(nodes.length);
    this.jacobian = new Float64Array(this.elimination.entries);
    // What a node passes to a free one couples the two; what it passes to a fixed one is lost.
    this.#ends = Int32Array.from(
      ends.flatMap(([a, b]) =>
        free[a] && free[b]
          ? [a, b, this.elimination.position(b, a), this.elimination.position(a, b)]
          : [a, b, a, b],
      ),
    );

    this.#kind = new Int32Array(links.length);
    this.#law = new Float64Array(2 * links.length);
    this.#counts = new Float64Array(links.length);
    this.#conductors = links.map((l) => l.conductor);
    links.forEach((l, i) => {
      this.setConductor(i, l.conductor, l.count ?? 1);
    });
    this.#loads = new Float64Array(nodes.length);
    this.#loadLaws = new Array(nodes.length).fill(undefined);
    nodes.forEach((n, i) => {
      if (n.load !== undefined) this.setLoad(i, n.load);
    });
  }

  /** Replaces the conductor of a link, and how many stand side by side. */
  setConductor(link: number, conductor: Conductor, count = this.#counts[link]!): void {
    checkConductor(this.linkNames[link]!, conductor);
    const { powers, powersUpTo = Number.POSITIVE_INFINITY } = conductor;
    this.#conductors[link] = conductor;
    this.#law[2 * link + 1] = powers?.length ? powersUpTo : 0;
    const exponent = powers?.length === 1 ? powers[0]!.exponent : other;
    this.#kind[link] = multipliedOut.includes(exponent) ? exponent : other;
    this.setCount(link, count);
  }

  /** Changes only how many conductors stand side by side. */
  setCount(link: number, count: number): void {
    if (!(count > 0 && count < Number.POSITIVE_INFINITY)) {
      positive(`${this.linkNames[link]}.count`, count, "");
    }
    this.#counts[link] = count;
    const powers = this.#conductors[link]!.powers;
    this.#law[2 * link] = powers?.length ? count * powers[0]!.coefficient : 0;
  }

  /** Changes the load of a free node [W]. */
  setLoad(node: number, load: number | Load): void {
    if (typeof load === "number") {
      if (!Number.isFinite(load)) finiteLoad(this.nodeNames[node]!, load);
      this.#loads[node] = load;
      if (this.#loadLaws[node] === undefined) return;
      this.#loadLaws[node] = undefined;
    } else {
      this.#loads[node] = 0;
      this.#loadLaws[node] = load;
    }
    this.#hasLoadLaws = this.#loadLaws.some((law) => law !== undefined);
  }

  /** Changes a fixed temperature [K]. */
  setTemperature(node: number, temperature: number): void {
    if (this.freeNodes.includes(node)) {
      throw new FieldError(this.nodeNames[node]!, "a node of fixed temperature", "a free node");
    }
    this.temperatures[node] = positive(`${this.nodeNames[node]}.temperature`, temperature, "K");
  }

  /** Load of a node at its present temperature [W]. */
  loadOf(node: number): number {
    const law = this.#loadLaws[node];
    return law ? law.power(this.temperatures[node]!) : this.#loads[node]!;
  }

  /** Residual and Jacobian at the present temperatures. Returns Σ|residual| of free nodes [W]. */
  evaluate(): number {
    const { temperatures, residual, jacobian, freeNodes } = this;
    const ends = this.#ends;
    const kinds = this.#kind;
    const laws = this.#law;
    const loads = this.#loads;
    let scale = 0;
    for (let i = 0; i < residual.length; i++) residual[i] = -loads[i]!;
    for (let i = 0; i < jacobian.length; i++) jacobian[i] = 0;
    for (let l = 0; l < kinds.length; l++) {
      const from = ends[4 * l]!;
      const to = ends[4 * l + 1]!;
      const a = temperatures[from]!;
      const b = temperatures[to]!;
      const c = laws[2 * l]!;
      const upTo = laws[2 * l + 1]!;
      const kind = a <= upTo && b <= upTo ? kinds[l]! : other;
      let thetaFrom: number;
      let thetaTo: number;
      let slopeFrom: number;
      let slopeTo: number;
      if (kind === other) {
        this.#evaluateEnd(l, a, b);
        thetaFrom = this.#end[0]!;
        slopeFrom = this.#end[1]!;
        this.#evaluateEnd(l, b, a);
        thetaTo = this.#end[0]!;
        slopeTo = this.#end[1]!;
      } else {
        const powerFrom = c * multiplied(a, kind - 1);
        const powerTo = c * multiplied(b, kind - 1);
        thetaFrom = powerFrom * a;
        thetaTo = powerTo * b;
        slopeFrom = kind * powerFrom;
        slopeTo = kind * powerTo;
      }
      const flow = thetaFrom - thetaTo;
      scale += Math.abs(thetaFrom);
      residual[from] = residual[from]! + flow;
      residual[to] = residual[to]! - flow;
      const intoTo = ends[4 * l + 2]!;
      const intoFrom = ends[4 * l + 3]!;
      jacobian[intoTo] = jacobian[intoTo]! + slopeFrom;
      jacobian[intoFrom] = jacobian[intoFrom]! + slopeTo;
    }
    if (this.#hasLoadLaws) this.#evaluateLoads();
    let norm = 0;
    for (let u = 0; u < freeNodes.length; u++) {
      const node = freeNodes[u]!;
      norm += Math.abs(residual[node]!);
    }
    this.roundingScale = scale;
    return norm;
  }

  /** Adds to each node `share` of the sum of its conductances, as a heat capacity over a time would. */
  addCapacity(share: number): void {
    for (let l = 0; l < this.#kind.length; l++) {
      for (const [end, node] of this.ends(l).entries()) {
        const beyond = this.temperatures[this.ends(l)[1 - end]!]!;
        this.#evaluateEnd(l, this.temperatures[node]!, beyond);
        this.jacobian[node] = this.jacobian[node]! + share * this.#end[1]!;
      }
    }
  }

  /**
   * Heat through a link at the present temperatures [W]; `corrections` [K] are changes of the nodes'
   * temperatures too small to show in their last digit.
   */
  flow(link: number, corrections?: Float64Array): number {
    const [from, to] = this.ends(link);
    const [a, b] = [this.temperatures[from]!, this.temperatures[to]!];
    this.#evaluateEnd(link, a, b);
    const [theta, slope] = [this.#end[0]!, this.#end[1]!];
    this.#evaluateEnd(link, b, a);
    const flow = theta - this.#end[0]!;
    if (corrections === undefined) return flow;
    return flow + (slope * corrections[from]! - this.#end[1]! * corrections[to]!);
  }

  /** Nodes that a link joins. */
  ends(link: number): readonly [from: number, to: number] {
    return [this.#ends[4 * link]!, this.#ends[4 * link + 1]!];
  }

  #evaluateLoads(): void {
    for (const node of this.freeNodes) {
      const law = this.#loadLaws[node];
      if (law === undefined) continue;
      const temperature = this.temperatures[node]!;
      this.residual[node] = this.residual[node]! - law.power(temperature);
      this.jacobian[node] = this.jacobian[node]! - law.slope(temperature);
    }
  }

  /**
   * Θ and G of a link at temperature T of one of its ends. Both ends are read from the same form of
   * the law, since Θ of another form may differ by a constant.
   */
  #evaluateEnd(link: number, T: number, beyond: number): void {
    const conductor = this.#conductors[link]!;
    const count = this.#counts[link]!;
    const upTo = this.#law[2 * link + 1]!;
    let theta = 0;
    let slope = 0;
    if (T <= upTo && beyond <= upTo) {
      const powers = conductor.powers!;
      for (let i = 0; i < powers.length; i++) {
        const { coefficient, exponent } = powers[i]!;
        const power = count * coefficient * multiplied(T, exponent - 1);
        theta += power * T;
        slope += exponent * power;
      }
    } else {
      theta = count * conductor.integral(T);
      slope = count * conductor.conductance(T);
    }
    this.#end[0] = theta;
    this.#end[1] = slope;
  }
}

/** Tᵖ, without a call where p is one of the common integers. */
function multiplied(T: number, p: number): number {
  if (p === 1) return T;
  if (p === 3) return T * T * T;
  if (p === 4) return T * T * (T * T);
  if (p === 2) return T * T;
  if (p === 0) return 1;
  return T ** p;
}
