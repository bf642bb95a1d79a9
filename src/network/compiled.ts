/**
 * A network in flat arrays: compiled once, evaluated many times with changed numbers.
 * @module
 */
import type { Body, Conductor, Load } from "../conductor.js";
import { anObject } from "../units/checks.js";
import { FieldError } from "../units/errors.js";
import {
  checkConductor,
  checkLaw,
  checkNetwork,
  finiteLoad,
  type NetworkDescription,
  type NodeDescription,
  positive,
} from "./description.js";
import { Elimination } from "./elimination.js";
import { Terminals } from "./terminals.js";

/** Laws Θ = c·Tᵖ with one of these p are multiplied out in the loop; the rest are "other". */
const multipliedOut = [1, 2, 3, 4, 5];
const other = 0;
/** Places a link takes among `linkEnds` and among the laws. */
const endPlaces = 5;
const lawPlaces = 2;

/** Heat imbalance of every node and its derivative, at temperatures that a solver moves. */
export class CompiledNetwork {
  /** The free nodes first, then those of fixed temperature; in the order of declaration otherwise. */
  readonly nodeNames: readonly string[];
  /** The same in the order of declaration. */
  protected readonly declared: readonly string[];
  readonly linkNames: readonly string[];
  readonly bodyNames: readonly string[];
  /** How many nodes are free: nodes 0 to freeCount − 1. */
  readonly freeCount: number;
  /** Temperature of every node [K]; of the free ones, what the last solve found. */
  readonly temperatures: Float64Array;
  /** The lowest fixed temperature [K]. */
  coldestFixed = 0;
  /** Σ|imbalance| of the free nodes at the last evaluation [W]. */
  protected norm = 0;
  /** Sum of the terms in that imbalance [W]: what rounding acts on. */
  protected roundingScale = 0;

  /**
   * Everything the loops work on, one array after the other, so that a loop has one address and one
   * length to keep at hand (which halves the time of a solve): temperatures of the nodes [K]; their
   * imbalance, load − Σ flows out [W]; their loads [W]; spare places for a solver; for each link c of its
   * first term and the highest temperature of its power laws; and the Jacobian,
   * −d imbalance/dT [W/K], as column sums of the nodes (those of fixed ones are not read) and
   * couplings.
   */
  protected readonly numbers: Float64Array;
  protected readonly imbalanceAt: number;
  protected readonly spareAt: number;
  /** Where the column sums of the Jacobian start: what of each node's conductance is lost to fixed ones. */
  protected readonly sumsAt: number;
  protected readonly elimination: Elimination;
  // TypeScript's private, here and in Elimination: a # field starts as undefined, and an engine that has
  // seen that checks at every use what kind the field is of, a twentieth of a solve.
  private readonly loadsAt: number;
  private readonly lawsAt: number;
  private readonly couplingsAt: number;

  /** For each link: from, to, where G of either end is added in the Jacobian, and p or `other`. */
  private readonly linkEnds: Int32Array;
  private readonly conductors: Conductor[];
  private readonly counts: Float64Array;
  /** Θ [W] and G [W/K] of the last `#evaluateEnd`. */
  private readonly atEnd = new Float64Array(2);
  private readonly loadLaws: (Load | undefined)[];
  /** Whether any load depends on the temperature of its node. */
  protected hasLoadLaws = false;
  protected readonly bodies: readonly Terminals[];

  constructor(description: NetworkDescription) {
    checkNetwork(description);
    const { links, bodies = [] } = description;
    const free = description.nodes.filter((n) => n.temperature === undefined);
    const nodes = [...free, ...description.nodes.filter((n) => n.temperature !== undefined)];
    this.freeCount = free.length;
    this.nodeNames = nodes.map((n) => n.name);
    this.declared = description.nodes.map((n) => n.name);
    this.linkNames = links.map((l) => l.name);
    this.bodyNames = bodies.map((b) => b.name);

    this.imbalanceAt = nodes.length;
    this.loadsAt = 2 * nodes.length;
    this.spareAt = 3 * nodes.length;
    this.lawsAt = 4 * nodes.length;
    this.sumsAt = this.lawsAt + lawPlaces * links.length;
    this.couplingsAt = this.sumsAt + nodes.length;
    const index = new Map(this.nodeNames.map((name, i) => [name, i]));
    const ends = links.map((l) => [index.get(l.from)!, index.get(l.to)!] as const);
    const terminals = bodies.map((b) => b.terminals.map((t) => index.get(t)!));
    this.elimination = new Elimination(
      free.length,
      ends.filter(([a, b]) => a < free.length && b < free.length),
      this.sumsAt,
      this.couplingsAt,
      this.imbalanceAt,
      terminals.map((nodes) => nodes.filter((node) => node < free.length)),
    );
    this.numbers = new Float64Array(this.couplingsAt + this.elimination.couplings);
    this.temperatures = this.numbers.subarray(0, nodes.length);
    // What a free node passes to another couples the two; what it passes to a fixed one is lost.
    const place = (row: number, column: number) =>
      Math.max(row, column) < free.length
        ? this.elimination.position(row, column)
        : this.sumsAt + column;
    this.linkEnds = Int32Array.from(
      ends.flatMap(([a, b]) => [a, b, place(b, a), place(a, b), other]),
    );
    this.bodies = bodies.map(
      ({ name, body }, b) => new Terminals(name, terminals[b]!, body, place),
    );
    this.counts = new Float64Array(links.length);
    this.conductors = links.map((l) => l.conductor);
    this.loadLaws = new Array(nodes.length).fill(undefined);
    this.#setAll(description, nodes);
  }

  /**
   * Takes over the conductors, counts, loads, fixed temperatures and bodies of another description, and
   * so saves compiling it.
   * @returns false, and changes nothing, unless its nodes, links and bodies are these, in this order
   * @throws FieldError for a wrong number, with those before it taken over
   */
  takeOver(description: NetworkDescription): boolean {
    if (!this.isSame(anObject("network", description))) return false;
    const { nodes, bodies = [] } = description;
    bodies.forEach(({ body }, b) => {
      this.setBody(b, body);
    });
    const free = nodes.filter((n) => n.temperature === undefined);
    const fixed = nodes.filter((n) => n.temperature !== undefined);
    this.#setAll(description, [...free, ...fixed]);
    return true;
  }

  /** Whether a description has these nodes, links and bodies, in this order. */
  protected isSame({ nodes, links, bodies = [] }: NetworkDescription): boolean {
    const { freeCount, nodeNames } = this;
    if (
      !areCalled(nodes, this.declared) ||
      !areCalled(links, this.linkNames) ||
      !areCalled(bodies, this.bodyNames)
    ) {
      return false;
    }
    const free = nodes.filter((n) => n.temperature === undefined);
    return (
      areCalled(free, nodeNames.slice(0, freeCount)) &&
      nodes.every((n) => n.temperature === undefined || n.load === undefined) &&
      links.every(({ from, to }, l) => {
        const [a, b] = this.ends(l);
        return from === nodeNames[a] && to === nodeNames[b];
      }) &&
      bodies.every(({ terminals }, b) => {
        const { nodes: own } = this.bodies[b]!;
        return (
          terminals?.length === own.length &&
          own.every((node, t) => nodeNames[node] === terminals[t])
        );
      })
    );
  }

  /** The numbers of links and nodes; nodes in the order of `nodeNames`. */
  #setAll({ links }: NetworkDescription, nodes: readonly NodeDescription[]): void {
    nodes.forEach(({ temperature, load }, i) => {
      if (temperature !== undefined) this.setTemperature(i, temperature);
      else this.setLoad(i, load ?? 0);
    });
    links.forEach(({ conductor, count = 1 }, l) => {
      this.setConductor(l, conductor, count);
    });
  }

  /** Replaces the conductor of a link, and how many stand side by side. */
  setConductor(link: number, conductor: Conductor, count = this.counts[link]!): void {
    checkConductor(this.linkNames[link]!, conductor);
    const { powers, powersUpTo = Number.POSITIVE_INFINITY } = conductor;
    this.conductors[link] = conductor;
    const exponent = powers?.length === 1 ? powers[0]!.exponent : other;
    this.numbers[this.lawsAt + lawPlaces * link + 1] = powers?.length ? powersUpTo : 0;
    this.linkEnds[endPlaces * link + 4] = multipliedOut.includes(exponent) ? exponent : other;
    this.setCount(link, count);
  }

  /** Changes only how many conductors stand side by side. */
  setCount(link: number, count: number): void {
    if (!(count > 0 && count < Number.POSITIVE_INFINITY)) {
      positive(`${this.linkNames[link]}.count`, count, "");
    }
    this.counts[link] = count;
    const powers = this.conductors[link]!.powers;
    this.numbers[this.lawsAt + lawPlaces * link] = powers?.length
      ? count * powers[0]!.coefficient
      : 0;
  }

  /**
   * Replaces a body by another between the same nodes.
   * @throws FieldError for one of another number of places, or an unsound one
   */
  setBody(body: number, by: Body): void {
    this.bodies[body]!.body = by;
  }

  /** Changes the load of a free node [W]. @throws FieldError for no finite number, and for no law */
  setLoad(node: number, load: number | Load): void {
    if (typeof load !== "number") {
      checkLaw(`${this.nodeNames[node]}.load`, load);
      this.#setLoadLaw(node, load);
      return;
    }
    if (!Number.isFinite(load)) finiteLoad(this.nodeNames[node]!, load);
    if (this.loadLaws[node] !== undefined) this.#setLoadLaw(node, undefined);
    this.numbers[this.loadsAt + node] = load;
  }

  #setLoadLaw(node: number, law: Load | undefined): void {
    this.numbers[this.loadsAt + node] = 0;
    this.loadLaws[node] = law;
    this.hasLoadLaws = this.loadLaws.some((each) => each !== undefined);
  }

  /** Changes a fixed temperature [K]. */
  setTemperature(node: number, temperature: number): void {
    if (node < this.freeCount) {
      throw new FieldError(this.nodeNames[node]!, "a node of fixed temperature", "a free node");
    }
    this.temperatures[node] = positive(`${this.nodeNames[node]}.temperature`, temperature, "K");
    this.coldestFixed = Number.POSITIVE_INFINITY;
    for (let i = this.freeCount; i < this.temperatures.length; i++) {
      this.coldestFixed = Math.min(this.coldestFixed, this.temperatures[i]!);
    }
  }

  /** Load of a node at its present temperature [W]. */
  loadOf(node: number): number {
    const law = this.loadLaws[node];
    return law ? law.power(this.temperatures[node]!) : this.numbers[this.loadsAt + node]!;
  }

  /** How the load of a node changes with its temperature [W/K]. */
  loadSlope(node: number): number {
    return this.loadLaws[node]?.slope(this.temperatures[node]!) ?? 0;
  }

  /**
   * Only the imbalance at the present temperatures; leaves the Jacobian, or its factors, alone. That
   * of a fixed node is the heat it takes.
   */
  protected evaluateImbalance(): void {
    const { numbers, imbalanceAt } = this;
    const ends = this.linkEnds;
    const lawsAt = this.lawsAt;
    const sumsAt = this.sumsAt;
    const loadsAt = this.loadsAt;
    for (let i = 0; i < imbalanceAt; i++) numbers[imbalanceAt + i] = numbers[loadsAt + i]!;
    for (let e = 0, l = lawsAt; l < sumsAt; e += endPlaces, l += lawPlaces) {
      const from = ends[e]!;
      const to = ends[e + 1]!;
      const kind = ends[e + 4]!;
      const a = numbers[from]!;
      const b = numbers[to]!;
      const upTo = numbers[l + 1]!;
      let flow: number;
      if (kind === other || a > upTo || b > upTo) {
        const link = (l - lawsAt) / lawPlaces;
        this.#evaluateEnd(link, a, b);
        const theta = this.atEnd[0]!;
        this.#evaluateEnd(link, b, a);
        flow = theta - this.atEnd[0]!;
      } else {
        flow = numbers[l]! * power(a, kind - 1) * a - numbers[l]! * power(b, kind - 1) * b;
      }
      numbers[imbalanceAt + from]! -= flow;
      numbers[imbalanceAt + to]! += flow;
    }
    for (let b = 0; b < this.bodies.length; b++) {
      this.bodies[b]!.evaluate(numbers, imbalanceAt, false);
    }
    if (!this.hasLoadLaws) return;
    for (let node = 0; node < this.freeCount; node++) {
      const law = this.loadLaws[node];
      if (law !== undefined) numbers[imbalanceAt + node]! += law.power(numbers[node]!);
    }
  }

  /** Imbalance, its norm and the Jacobian at the present temperatures. */
  protected evaluate(): void {
    const { numbers, imbalanceAt, freeCount } = this;
    const ends = this.linkEnds;
    const lawsAt = this.lawsAt;
    const sumsAt = this.sumsAt;
    const couplingsAt = this.couplingsAt;
    const loadsAt = this.loadsAt;
    let scale = 0;
    for (let i = 0; i < imbalanceAt; i++) {
      numbers[imbalanceAt + i] = numbers[loadsAt + i]!;
      numbers[sumsAt + i] = 0;
    }
    // Couplings come in pairs.
    for (let i = couplingsAt; i < numbers.length; i += 2) {
      numbers[i] = 0;
      numbers[i + 1] = 0;
    }
    for (let e = 0, l = lawsAt; l < sumsAt; e += endPlaces, l += lawPlaces) {
      const from = ends[e]!;
      const to = ends[e + 1]!;
      const kind = ends[e + 4]!;
      const a = numbers[from]!;
      const b = numbers[to]!;
      const upTo = numbers[l + 1]!;
      let thetaFrom: number;
      let thetaTo: number;
      let slopeFrom: number;
      let slopeTo: number;
      if (kind === other || a > upTo || b > upTo) {
        const link = (l - lawsAt) / lawPlaces;
        this.#evaluateEnd(link, a, b);
        thetaFrom = this.atEnd[0]!;
        slopeFrom = this.atEnd[1]!;
        this.#evaluateEnd(link, b, a);
        thetaTo = this.atEnd[0]!;
        slopeTo = this.atEnd[1]!;
      } else {
        // c·Tᵖ⁻¹, from which Θ and G follow
        let partFrom = numbers[l]!;
        let partTo = partFrom;
        if (kind === 2) {
          partFrom *= a;
          partTo *= b;
        } else if (kind === 4) {
          partFrom *= a * a * a;
          partTo *= b * b * b;
        } else if (kind === 5) {
          partFrom *= a * a * (a * a);
          partTo *= b * b * (b * b);
        } else if (kind === 3) {
          partFrom *= a * a;
          partTo *= b * b;
        }
        thetaFrom = partFrom * a;
        thetaTo = partTo * b;
        slopeFrom = kind * partFrom;
        slopeTo = kind * partTo;
      }
      const flow = thetaFrom - thetaTo;
      scale += Math.abs(thetaFrom);
      const placeFrom = ends[e + 2]!;
      const placeTo = ends[e + 3]!;
      numbers[imbalanceAt + from]! -= flow;
      numbers[imbalanceAt + to]! += flow;
      numbers[placeFrom]! += slopeFrom;
      numbers[placeTo]! += slopeTo;
    }
    for (let b = 0; b < this.bodies.length; b++) {
      scale += this.bodies[b]!.evaluate(numbers, imbalanceAt);
    }
    if (this.hasLoadLaws) this.#evaluateLoads();
    let norm = 0;
    for (let i = 0; i < freeCount; i++) norm += Math.abs(numbers[imbalanceAt + i]!);
    this.norm = norm;
    this.roundingScale = scale;
  }

  /** Adds to each node `share` of the sum of its conductances, as a heat capacity over a time would. */
  protected addCapacity(share: number): void {
    for (let l = 0; l < this.linkNames.length; l++) {
      const [from, to] = this.ends(l);
      const [a, b] = [this.temperatures[from]!, this.temperatures[to]!];
      this.#evaluateEnd(l, a, b);
      if (from < this.freeCount) this.#addSlope(from, share * this.atEnd[1]!);
      this.#evaluateEnd(l, b, a);
      if (to < this.freeCount) this.#addSlope(to, share * this.atEnd[1]!);
    }
    for (const body of this.bodies) {
      body.nodes.forEach((node, t) => {
        if (node < this.freeCount) this.#addSlope(node, share * body.conductance(t));
      });
    }
  }

  /**
   * Heat through a link at the present temperatures [W]
   * @param corrected - whether the imbalances have been solved for changes of temperature [K], too
   * small to show in the last digit of the temperatures, that are to be counted in
   */
  protected flow(link: number, corrected = false): number {
    const [from, to] = this.ends(link);
    const [a, b] = [this.temperatures[from]!, this.temperatures[to]!];
    this.#evaluateEnd(link, a, b);
    const [theta, slope] = [this.atEnd[0]!, this.atEnd[1]!];
    this.#evaluateEnd(link, b, a);
    const flow = theta - this.atEnd[0]!;
    if (!corrected) return flow;
    return flow + (slope * this.#change(from) - this.atEnd[1]! * this.#change(to));
  }

  /** The same for heat into a body at one of its terminals, as last evaluated. */
  protected heatInto(body: number, terminal: number, corrected = false): number {
    return this.bodies[body]!.heat(terminal, (node) => (corrected ? this.#change(node) : 0));
  }

  /** dΘ/dT of a link at the temperatures of its ends [W/K]. */
  protected slopes(link: number): readonly [from: number, to: number] {
    const [from, to] = this.ends(link);
    const [a, b] = [this.temperatures[from]!, this.temperatures[to]!];
    this.#evaluateEnd(link, a, b);
    const slope = this.atEnd[1]!;
    this.#evaluateEnd(link, b, a);
    return [slope, this.atEnd[1]!];
  }

  #change(node: number): number {
    return node < this.freeCount ? this.numbers[this.imbalanceAt + node]! : 0;
  }

  /** Nodes that a link joins. */
  ends(link: number): readonly [from: number, to: number] {
    return [this.linkEnds[endPlaces * link]!, this.linkEnds[endPlaces * link + 1]!];
  }

  #evaluateLoads(): void {
    for (let node = 0; node < this.freeCount; node++) {
      const law = this.loadLaws[node];
      if (law === undefined) continue;
      const temperature = this.temperatures[node]!;
      const at = this.imbalanceAt + node;
      this.numbers[at] = this.numbers[at]! + law.power(temperature);
      this.#addSlope(node, -law.slope(temperature));
    }
  }

  #addSlope(node: number, slope: number): void {
    const at = this.sumsAt + node;
    this.numbers[at] = this.numbers[at]! + slope;
  }

  /**
   * Θ and G of a link at temperature T of one of its ends. Both ends are read from the same form of
   * the law, since Θ of another form may differ by a constant.
   */
  #evaluateEnd(link: number, T: number, beyond: number): void {
    const conductor = this.conductors[link]!;
    const count = this.counts[link]!;
    const upTo = this.numbers[this.lawsAt + lawPlaces * link + 1]!;
    let theta = 0;
    let slope = 0;
    if (T <= upTo && beyond <= upTo) {
      const powers = conductor.powers!;
      for (let i = 0; i < powers.length; i++) {
        const { coefficient, exponent } = powers[i]!;
        const part = count * coefficient * power(T, exponent - 1);
        theta += part * T;
        slope += exponent * part;
      }
    } else {
      theta = count * conductor.integral(T);
      slope = count * conductor.conductance(T);
    }
    this.atEnd[0] = theta;
    this.atEnd[1] = slope;
  }
}

/** Whether a list, which may be no list at all, holds things of these names. */
function areCalled(list: readonly { readonly name: string }[], names: readonly string[]): boolean {
  return list?.length === names.length && names.every((name, i) => list[i]?.name === name);
}

/** Tᵖ, the same to the last digit as multiplied out in the loop above. */
export function power(T: number, p: number): number {
  if (p === 1) return T;
  if (p === 3) return T * T * T;
  if (p === 4) return T * T * (T * T);
  if (p === 2) return T * T;
  if (p === 0) return 1;
  return T ** p;
}
