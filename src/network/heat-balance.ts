/**
 * Heat imbalance of every node of a network and its Jacobian, in flat arrays: laid out once, evaluated
 * many times.
 * @module
 */
import type { CondensedBody, Conductor, Load } from "../conductor.js";
import { sumOfPowers } from "../numerics/temperature-law.js";
import { Elimination } from "./elimination.js";
import { Terminals } from "./terminals.js";
import { type TimedInputs, untimed } from "./timeline.js";

/** Laws Θ = c·Tᵖ with one of these p are multiplied out in the loop; the rest are "other". */
const multipliedOut = [1, 2, 3, 4, 5];
const other = 0;
/** Places a link takes in `linkEnds` and in the laws. */
const endPlaces = 5;
const lawPlaces = 2;
/** Conductance to a fixed temperature [W/K] so large that no imbalance moves a held node. */
const holdingConductance = 1e200;

/** What a network consists of, by numbers of its nodes; the free nodes come first. */
export interface Layout {
  readonly free: number;
  readonly nodes: number;
  /** Nodes at the two ends of each link. */
  readonly ends: readonly (readonly [from: number, to: number])[];
  readonly bodies: readonly {
    readonly name: string;
    readonly nodes: readonly number[];
    readonly body: CondensedBody;
  }[];
}

/** The balance at temperatures that a solver moves. */
export class HeatBalance {
  /** Number of free nodes: nodes 0 to freeCount − 1. */
  readonly freeCount: number;
  /** Temperature of every node [K]. */
  readonly temperatures: Float64Array;
  /** The lowest fixed temperature [K]. */
  coldestFixed = 0;
  /** Σ|imbalance| of the free nodes at the last evaluation [W]. */
  norm = 0;
  /** Sum of the terms of that imbalance [W]; rounding is proportional to it. */
  roundingScale = 0;

  /**
   * All that the loops work on, in one array, because a loop with one address and one length runs twice
   * as fast: temperatures of the nodes [K]; their imbalance, load − Σ flows out [W]; their loads [W];
   * spare places for a solver; for each link c of its first term and the highest temperature of its
   * power laws; and the Jacobian, −d imbalance/dT [W/K], as column sums of the nodes (those of fixed
   * ones are not read) and couplings.
   */
  readonly numbers: Float64Array;
  readonly imbalanceAt: number;
  readonly spareAt: number;
  /** Start of the column sums of the Jacobian: conductance of each node to fixed ones. */
  readonly sumsAt: number;
  readonly elimination: Elimination;
  readonly bodies: readonly Terminals[];
  /** Loads that depend on time; set during a run in time. */
  timed: TimedInputs = untimed;
  /** Whether the Jacobian is in factors of a state near the present one, and not evaluated since. */
  hasFactors = false;
  /** Whether the nodes marked in `isHeld` keep their temperatures. */
  holding = false;
  readonly isHeld: Uint8Array;
  // TypeScript's private, here and in Elimination: a # field starts as undefined, and the engine then
  // checks the kind of the field at every use, which takes a twentieth of a solve.
  private readonly loadsAt: number;
  private readonly lawsAt: number;
  private readonly couplingsAt: number;
  /** For each link: from, to, where G of either end is added in the Jacobian, and p or `other`. */
  private readonly linkEnds: Int32Array;
  private readonly conductors: Conductor[];
  private readonly counts: Float64Array;
  /** Θ [W] and G [W/K] at either end, of the last `evaluateEnds`. */
  private readonly atEnds = new Float64Array(4);
  private readonly loadLaws: (Load | undefined)[];
  /** Whether any load depends on the temperature of its node. */
  hasLoadLaws = false;

  constructor({ free, nodes, ends, bodies }: Layout) {
    this.freeCount = free;
    this.imbalanceAt = nodes;
    this.loadsAt = 2 * nodes;
    this.spareAt = 3 * nodes;
    this.lawsAt = 4 * nodes;
    this.sumsAt = this.lawsAt + lawPlaces * ends.length;
    this.couplingsAt = this.sumsAt + nodes;
    this.elimination = new Elimination(
      free,
      ends.filter(([a, b]) => a < free && b < free),
      this.sumsAt,
      this.couplingsAt,
      this.imbalanceAt,
      bodies.map((body) => body.nodes.filter((node) => node < free)),
    );
    this.numbers = new Float64Array(this.couplingsAt + this.elimination.couplings);
    this.temperatures = this.numbers.subarray(0, nodes);
    this.isHeld = new Uint8Array(nodes);
    // Conductance between free nodes is a coupling; conductance to a fixed one enters the column sum.
    const place = (row: number, column: number) =>
      Math.max(row, column) < free ? this.elimination.position(row, column) : this.sumsAt + column;
    this.linkEnds = new Int32Array(endPlaces * ends.length);
    ends.forEach(([a, b], link) => {
      this.linkEnds.set([a, b, place(b, a), place(a, b), other], endPlaces * link);
    });
    const { scales } = this.elimination;
    this.bodies = bodies.map(
      ({ name, nodes, body }) => new Terminals(name, nodes, body, place, scales),
    );
    this.counts = new Float64Array(ends.length);
    this.conductors = new Array(ends.length);
    this.loadLaws = new Array(nodes).fill(undefined);
  }

  /** Number of links. */
  get linkCount(): number {
    return this.counts.length;
  }

  /** Number of conductors in parallel in a link. */
  count(link: number): number {
    return this.counts[link]!;
  }

  setConductor(link: number, conductor: Conductor, count: number): void {
    const { powers, powersUpTo = Number.POSITIVE_INFINITY } = conductor;
    this.conductors[link] = conductor;
    const exponent = powers?.length === 1 ? powers[0]!.exponent : other;
    this.numbers[this.lawsAt + lawPlaces * link + 1] = powers?.length ? powersUpTo : 0;
    this.linkEnds[endPlaces * link + 4] = multipliedOut.includes(exponent) ? exponent : other;
    this.setCount(link, count);
  }

  setCount(link: number, count: number): void {
    this.counts[link] = count;
    const powers = this.conductors[link]!.powers;
    this.numbers[this.lawsAt + lawPlaces * link] = powers?.length
      ? count * powers[0]!.coefficient
      : 0;
  }

  setLoad(node: number, load: number | Load): void {
    const law = typeof load === "number" ? undefined : load;
    this.numbers[this.loadsAt + node] = typeof load === "number" ? load : 0;
    if (law === this.loadLaws[node]) return;
    this.loadLaws[node] = law;
    this.hasLoadLaws = this.loadLaws.some((each) => each !== undefined);
  }

  /** Sets a fixed temperature [K]. */
  setTemperature(node: number, temperature: number): void {
    this.temperatures[node] = temperature;
    this.coldestFixed = Number.POSITIVE_INFINITY;
    for (let i = this.freeCount; i < this.temperatures.length; i++) {
      this.coldestFixed = Math.min(this.coldestFixed, this.temperatures[i]!);
    }
  }

  /** Load of a node at its present temperature [W], without loads that depend on time. */
  loadOf(node: number): number {
    const law = this.loadLaws[node];
    return law ? law.power(this.temperatures[node]!) : this.numbers[this.loadsAt + node]!;
  }

  /** dP/dT of that load [W/K]. */
  loadSlope(node: number): number {
    return this.loadLaws[node]?.slope(this.temperatures[node]!) ?? 0;
  }

  /**
   * Imbalance, its norm and the Jacobian at the present temperatures. The imbalance of a fixed node is
   * the heat that flows into it.
   * @param withSlopes - false evaluates the imbalance only, and leaves the norm and the Jacobian, or its
   * factors, alone
   */
  evaluate(withSlopes = true): void {
    const { numbers, imbalanceAt, freeCount } = this;
    const ends = this.linkEnds;
    const lawsAt = this.lawsAt;
    const sumsAt = this.sumsAt;
    const loadsAt = this.loadsAt;
    let scale = 0;
    for (let i = 0; i < imbalanceAt; i++) numbers[imbalanceAt + i] = numbers[loadsAt + i]!;
    if (withSlopes) {
      this.hasFactors = false;
      for (let i = sumsAt; i < numbers.length; i++) numbers[i] = 0;
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
        this.evaluateEnds(link, a, b);
        thetaFrom = this.atEnds[0]!;
        slopeFrom = this.atEnds[1]!;
        thetaTo = this.atEnds[2]!;
        slopeTo = this.atEnds[3]!;
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
      numbers[imbalanceAt + from]! -= flow;
      numbers[imbalanceAt + to]! += flow;
      if (withSlopes) {
        numbers[ends[e + 2]!]! += slopeFrom;
        numbers[ends[e + 3]!]! += slopeTo;
      }
    }
    for (let b = 0; b < this.bodies.length; b++) {
      scale += this.bodies[b]!.evaluate(numbers, imbalanceAt, withSlopes);
    }
    for (let node = 0; this.hasLoadLaws && node < freeCount; node++) {
      const law = this.loadLaws[node];
      if (law === undefined) continue;
      numbers[imbalanceAt + node]! += law.power(numbers[node]!);
      if (withSlopes) numbers[sumsAt + node]! -= law.slope(numbers[node]!);
    }
    if (this.timed.loads.length > 0) this.timed.addPowers(numbers, imbalanceAt);
    if (!withSlopes) return;
    if (this.timed.loads.length > 0) this.timed.addSlopes(numbers, numbers, sumsAt, -1);
    for (let i = 0; this.holding && i < freeCount; i++) {
      if (this.isHeld[i] === 0) continue;
      numbers[imbalanceAt + i] = 0;
      numbers[sumsAt + i] = holdingConductance;
    }
    let norm = 0;
    for (let i = 0; i < freeCount; i++) norm += Math.abs(numbers[imbalanceAt + i]!);
    this.norm = norm;
    this.roundingScale = scale;
  }

  /**
   * Puts Newton's step in place of the evaluated imbalance [K], and tests it before any law is evaluated at
   * its end.
   * @returns −1; or a node that has no step: its conductance is not positive, or so small that the step is
   * beyond the range of numbers
   */
  findStep(): number {
    const { numbers, freeCount, imbalanceAt } = this;
    const unstable = this.elimination.solve(numbers);
    if (unstable >= 0) return unstable;
    for (let i = 0; i < freeCount; i++) {
      if (!Number.isFinite(numbers[imbalanceAt + i]!)) return i;
    }
    return -1;
  }

  /** Adds to each node `share` of the sum of its conductances, as a heat capacity over a time would. */
  addCapacity(share: number): void {
    const { freeCount, numbers, sumsAt } = this;
    for (let l = 0; l < this.linkCount; l++) {
      const ends = this.ends(l);
      const slopes = this.slopes(l);
      for (let e = 0; e < 2; e++) {
        if (ends[e]! < freeCount) numbers[sumsAt + ends[e]!]! += share * slopes[e]!;
      }
    }
    for (const body of this.bodies) {
      body.nodes.forEach((node, t) => {
        if (node < freeCount) numbers[sumsAt + node]! += share * body.conductance(t);
      });
    }
  }

  /**
   * Heat through a link at the present temperatures [W]
   * @param corrected - whether the imbalances have been solved for changes of temperature [K], smaller
   * than the last digit of the temperatures, that are added
   */
  flow(link: number, corrected = false): number {
    const [slopeFrom, slopeTo] = this.slopes(link);
    const flow = this.atEnds[0]! - this.atEnds[2]!;
    if (!corrected) return flow;
    const [from, to] = this.ends(link);
    return flow + (slopeFrom * this.change(from) - slopeTo * this.change(to));
  }

  /** The same for heat into a body at each of its terminals, as last evaluated. */
  heatsInto(body: number, corrected = false): Float64Array {
    return this.bodies[body]!.heats((node) => (corrected ? this.change(node) : 0));
  }

  /** dΘ/dT of a link at the temperatures of its ends [W/K]. */
  slopes(link: number): readonly [from: number, to: number] {
    const [from, to] = this.ends(link);
    this.evaluateEnds(link, this.temperatures[from]!, this.temperatures[to]!);
    return [this.atEnds[1]!, this.atEnds[3]!];
  }

  /** Nodes that a link joins. */
  ends(link: number): readonly [from: number, to: number] {
    return [this.linkEnds[endPlaces * link]!, this.linkEnds[endPlaces * link + 1]!];
  }

  private change(node: number): number {
    return node < this.freeCount ? this.numbers[this.imbalanceAt + node]! : 0;
  }

  /**
   * Θ and G of a link at the temperatures of its ends, both from the same form of the law, since Θ of
   * another form may differ by a constant.
   */
  private evaluateEnds(link: number, from: number, to: number): void {
    const conductor = this.conductors[link]!;
    const count = this.counts[link]!;
    const upTo = this.numbers[this.lawsAt + lawPlaces * link + 1]!;
    const atEnds = this.atEnds;
    if (from <= upTo && to <= upTo) {
      // Factors in the order of the loop above, for the same rounding.
      sumOfPowers(conductor.powers!, count, from, atEnds);
      sumOfPowers(conductor.powers!, count, to, atEnds, 2);
    } else {
      atEnds[0] = count * conductor.integral(from);
      atEnds[1] = count * conductor.conductance(from);
      atEnds[2] = count * conductor.integral(to);
      atEnds[3] = count * conductor.conductance(to);
    }
  }
}
