/**
 * A network in flat arrays: compiled once, evaluated many times with changed numbers.
 * @module
 */
import type { Conductor, Load } from "../conductor.js";
import { FieldError } from "../units/errors.js";
import { checkNetwork, type NetworkDescription, positive } from "./description.js";
import { type Elimination, planElimination } from "./elimination.js";

/** The law of one link, unpacked from its conductor. */
interface Law {
  conductor: Conductor;
  /** Conductors side by side. */
  count: number;
}

/**
 * Heat imbalance of every free node and its derivative, at temperatures that the solver moves.
 * Laws that are power sums are evaluated from arrays; others through their functions.
 */
export class CompiledNetwork {
  readonly nodeNames: readonly string[];
  readonly linkNames: readonly string[];
  /** Temperature of every node [K]; of the free ones, what the last solve found. */
  readonly temperatures: Float64Array;
  /** Σ flows out − load at each free node [W]. */
  readonly residual: Float64Array;
  /** Derivative of the residual, in the storage of `elimination` [W/K]. */
  readonly jacobian: Float64Array;
  readonly elimination: Elimination;
  /** Node index of each unknown. */
  readonly freeNodes: Int32Array;
  /** Size of the largest terms in the last residual [W]: what rounding acts on. */
  roundingScale = 0;

  readonly #unknown: Int32Array;
  readonly #from: Int32Array;
  readonly #to: Int32Array;
  readonly #fromEntry: Int32Array;
  readonly #toEntry: Int32Array;
  readonly #laws: Law[];
  readonly #upTo: Float64Array;
  /** One term a link in the arrays; a link with more terms keeps the rest in `#more`. */
  readonly #coefficient: Float64Array;
  readonly #exponent: Float64Array;
  readonly #more: (readonly { coefficient: number; exponent: number }[] | undefined)[];
  readonly #theta: Float64Array;
  readonly #slope: Float64Array;
  readonly #loads: Float64Array;
  readonly #loadLaws: (Load | undefined)[];
  #hasLoadLaws = false;

  constructor(description: NetworkDescription) {
    checkNetwork(description);
    const { nodes, links } = description;
    this.nodeNames = nodes.map((n) => n.name);
    this.linkNames = links.map((l) => l.name);
    const index = new Map(this.nodeNames.map((name, i) => [name, i]));
    const free = nodes.flatMap((n, i) => (n.temperature === undefined ? [i] : []));
    this.freeNodes = Int32Array.from(free);
    this.#unknown = new Int32Array(nodes.length).fill(-1);
    free.forEach((node, u) => {
      this.#unknown[node] = u;
    });
    this.temperatures = Float64Array.from(nodes, (n) => n.temperature ?? 0);

    const count = links.length;
    this.#from = Int32Array.from(links, (l) => index.get(l.from)!);
    this.#to = Int32Array.from(links, (l) => index.get(l.to)!);
    const coupled = links.flatMap((_, l) => {
      const [a, b] = [this.#unknown[this.#from[l]!]!, this.#unknown[this.#to[l]!]!];
      return a >= 0 && b >= 0 ? [[a, b] as const] : [];
    });
    this.elimination = planElimination(free.length, coupled);
    this.#fromEntry = new Int32Array(count).fill(-1);
    this.#toEntry = new Int32Array(count).fill(-1);
    for (let l = 0; l < count; l++) {
      const [a, b] = [this.#unknown[this.#from[l]!]!, this.#unknown[this.#to[l]!]!];
      if (a < 0 || b < 0) continue;
      this.#fromEntry[l] = this.elimination.position(b, a);
      this.#toEntry[l] = this.elimination.position(a, b);
    }

    this.residual = new Float64Array(free.length);
    this.jacobian = new Float64Array(this.elimination.entries);
    this.#theta = new Float64Array(2 * count);
    this.#slope = new Float64Array(2 * count);
    this.#upTo = new Float64Array(count);
    this.#coefficient = new Float64Array(count);
    this.#exponent = new Float64Array(count);
    this.#more = new Array(count).fill(undefined);
    this.#laws = links.map((l) => ({ conductor: l.conductor, count: l.count ?? 1 }));
    for (let l = 0; l < count; l++) this.#unpack(l);

    this.#loads = new Float64Array(nodes.length);
    this.#loadLaws = new Array(nodes.length).fill(undefined);
    nodes.forEach((n, i) => {
      if (n.load !== undefined) this.setLoad(i, n.load);
    });
  }

  /** Replaces the conductor of a link, and how many stand side by side. */
  setConductor(link: number, conductor: Conductor, count = this.#laws[link]!.count): void {
    const law = this.#laws[link]!;
    law.conductor = conductor;
    law.count = positive(`${this.linkNames[link]}.count`, count, "");
    this.#unpack(link);
  }

  /** Changes only how many conductors stand side by side. */
  setCount(link: number, count: number): void {
    this.setConductor(link, this.#laws[link]!.conductor, count);
  }

  /** Changes the load of a free node [W]. */
  setLoad(node: number, load: number | Load): void {
    this.#loads[node] = typeof load === "number" ? load : 0;
    this.#loadLaws[node] = typeof load === "number" ? undefined : load;
    this.#hasLoadLaws = this.#loadLaws.some((law) => law !== undefined);
  }

  /** Changes a fixed temperature [K]. */
  setTemperature(node: number, temperature: number): void {
    if (this.#unknown[node]! >= 0) {
      throw new FieldError(this.nodeNames[node]!, "a node of fixed temperature", "a free node");
    }
    this.temperatures[node] = positive(`${this.nodeNames[node]}.temperature`, temperature, "K");
  }

  /** Load of a node at its present temperature [W]. */
  loadOf(node: number): number {
    const law = this.#loadLaws[node];
    return law ? law.power(this.temperatures[node]!) : this.#loads[node]!;
  }

  /** Lowest fixed temperature [K], from which the solver starts. */
  coldest(): number {
    let lowest = Number.POSITIVE_INFINITY;
    for (let i = 0; i < this.temperatures.length; i++) {
      if (this.#unknown[i]! < 0) lowest = Math.min(lowest, this.temperatures[i]!);
    }
    return lowest;
  }

  /** Evaluates the ends of links at fixed nodes, which don't move during a solve. */
  evaluateFixedEnds(): void {
    for (let l = 0; l < this.#from.length; l++) {
      if (this.#unknown[this.#from[l]!]! < 0) this.#evaluateEnd(l, 2 * l, this.#from[l]!);
      if (this.#unknown[this.#to[l]!]! < 0) this.#evaluateEnd(l, 2 * l + 1, this.#to[l]!);
    }
  }

  /** Residual and Jacobian at the present temperatures. Returns Σ|residual| [W]. */
  evaluate(): number {
    const { residual, jacobian, freeNodes } = this;
    const [unknown, from, to] = [this.#unknown, this.#from, this.#to];
    const [fromEntry, toEntry] = [this.#fromEntry, this.#toEntry];
    const [theta, slope, loads] = [this.#theta, this.#slope, this.#loads];
    let scale = 0;
    jacobian.fill(0);
    for (let u = 0; u < residual.length; u++) {
      const load = loads[freeNodes[u]!]!;
      residual[u] = -load;
      scale += Math.abs(load);
    }
    for (let l = 0; l < from.length; l++) {
      const a = unknown[from[l]!]!;
      const b = unknown[to[l]!]!;
      if (a >= 0) this.#evaluateEnd(l, 2 * l, from[l]!);
      if (b >= 0) this.#evaluateEnd(l, 2 * l + 1, to[l]!);
      const flow = theta[2 * l]! - theta[2 * l + 1]!;
      scale += Math.abs(theta[2 * l]!);
      if (a >= 0) {
        residual[a] = residual[a]! + flow;
        jacobian[a] = jacobian[a]! + slope[2 * l]!;
      }
      if (b >= 0) {
        residual[b] = residual[b]! - flow;
        jacobian[b] = jacobian[b]! + slope[2 * l + 1]!;
      }
      const entry = fromEntry[l]!;
      if (entry >= 0) {
        jacobian[entry] = jacobian[entry]! - slope[2 * l]!;
        jacobian[toEntry[l]!] = jacobian[toEntry[l]!]! - slope[2 * l + 1]!;
      }
    }
    if (this.#hasLoadLaws) scale += this.#evaluateLoads();
    let norm = 0;
    for (let u = 0; u < residual.length; u++) norm += Math.abs(residual[u]!);
    this.roundingScale = scale;
    return norm;
  }

  /**
   * Heat through a link [W], from the last evaluation; `correctionFrom` and `correctionTo` [K] are
   * temperatures too small to show in the last digit of the ends' own.
   */
  flow(link: number, corrections?: Float64Array): number {
    const flow = this.#theta[2 * link]! - this.#theta[2 * link + 1]!;
    if (!corrections) return flow;
    const [a, b] = [this.#unknown[this.#from[link]!]!, this.#unknown[this.#to[link]!]!];
    return (
      flow +
      (a >= 0 ? this.#slope[2 * link]! * corrections[a]! : 0) -
      (b >= 0 ? this.#slope[2 * link + 1]! * corrections[b]! : 0)
    );
  }

  /** Names of a link's ends. */
  ends(link: number): readonly [from: number, to: number] {
    return [this.#from[link]!, this.#to[link]!];
  }

  #evaluateLoads(): number {
    let scale = 0;
    for (let u = 0; u < this.residual.length; u++) {
      const law = this.#loadLaws[this.freeNodes[u]!];
      if (!law) continue;
      const temperature = this.temperatures[this.freeNodes[u]!]!;
      const power = law.power(temperature);
      this.residual[u] = this.residual[u]! - power;
      this.jacobian[u] = this.jacobian[u]! - law.slope(temperature);
      scale += Math.abs(power);
    }
    return scale;
  }

  /** Θ and G of a link at the temperature of one of its ends. */
  #evaluateEnd(link: number, end: number, node: number): void {
    const T = this.temperatures[node]!;
    if (T > this.#upTo[link]!) {
      const { conductor, count } = this.#laws[link]!;
      this.#theta[end] = count * conductor.integral(T);
      this.#slope[end] = count * conductor.conductance(T);
      return;
    }
    const coefficient = this.#coefficient[link]!;
    const exponent = this.#exponent[link]!;
    let power: number;
    if (exponent === 2) power = T;
    else if (exponent === 4) power = T * T * T;
    else if (exponent === 5) power = T * T * T * T;
    else if (exponent === 3) power = T * T;
    else power = T ** (exponent - 1);
    let slope = coefficient * exponent * power;
    let theta = coefficient * power * T;
    const more = this.#more[link];
    if (more !== undefined) {
      const { count } = this.#laws[link]!;
      for (const term of more) {
        const each = count * term.coefficient * T ** (term.exponent - 1);
        slope += term.exponent * each;
        theta += T * each;
      }
    }
    this.#slope[end] = slope;
    this.#theta[end] = theta;
  }

  #unpack(link: number): void {
    const { conductor, count } = this.#laws[link]!;
    const powers = conductor.powers;
    this.#upTo[link] = powers?.length ? (conductor.powersUpTo ?? Number.POSITIVE_INFINITY) : 0;
    if (!powers?.length) return;
    const [first] = powers;
    this.#coefficient[link] = count * first!.coefficient;
    this.#exponent[link] = first!.exponent;
    this.#more[link] = powers.length > 1 ? powers.slice(1) : undefined;
  }
}
