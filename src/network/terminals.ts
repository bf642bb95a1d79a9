/**
 * A condensed body in a network: heat into it at each of its terminals, and the derivatives.
 *
 * Y is symmetric and positive semidefinite, but its entries off the diagonal may have either sign:
 * between neighbouring contacts with an even heat flow they reach a sixth of the diagonal with the sign
 * that no resistor has. The pivots of the elimination are positive all the same, because in Θ of the
 * body the Jacobian is Y plus the conductance behind each terminal.
 * @module
 */
import type { CondensedBody } from "../conductor.js";
import { conductionLaw, type TemperatureLaw } from "../numerics/temperature-law.js";
import { FieldError } from "../units/errors.js";

/** A condensed body between nodes of a network. */
export interface BodyDescription {
  /** Its name, as results and messages show it. */
  readonly name: string;
  /** The node at each terminal of the body, in their order; none twice. */
  readonly terminals: readonly string[];
  /** How it conducts between its terminals. */
  readonly body: CondensedBody;
}

/** Part of the largest entry by which rounding may leave Y unsymmetric or its rows unbalanced. */
const rounding = 1e-9;

/** @throws FieldError unless the body has a symmetric Y with rows that sum to 0, and an s to match */
export function checkBody(name: string, terminals: number, body: CondensedBody): void {
  const { admittance, outflow } = body;
  if (outflow.length !== terminals || !outflow.every(Number.isFinite)) {
    const wanted = `${terminals} finite numbers in watts, one for each terminal`;
    throw new FieldError(`${name}.body.outflow`, wanted, Array.from(outflow));
  }
  let largest = 0;
  // Once not a number, it stays so.
  for (let at = 0; at < admittance.length; at++) {
    largest = Math.max(largest, Math.abs(admittance[at]!));
  }
  if (admittance.length !== terminals ** 2 || !(largest < Number.POSITIVE_INFINITY)) {
    const wanted = `${terminals} × ${terminals} finite numbers`;
    throw new FieldError(`${name}.body.admittance`, wanted, `${admittance.length} numbers`);
  }
  for (let i = 0; i < terminals; i++) {
    let sum = 0;
    for (let j = 0; j < terminals; j++) {
      const entry = admittance[i * terminals + j]!;
      sum += entry;
      if (Math.abs(entry - admittance[j * terminals + i]!) > rounding * largest) {
        const field = `${name}.body.admittance[${i}][${j}]`;
        throw new FieldError(field, `${admittance[j * terminals + i]}, as at [${j}][${i}]`, entry);
      }
    }
    if (Math.abs(sum) > rounding * largest) {
      throw new FieldError(`${name}.body.admittance[${i}]`, "a row that sums to 0", sum);
    }
  }
}

/** A condensed body in the flat arrays of a network. */
export class Terminals {
  readonly nodes: Int32Array;
  /** Where −Yᵢⱼ G(Tⱼ) and −Yᵢⱼ G(Tᵢ) are added in the Jacobian, for each i and each j after it. */
  readonly #places: Int32Array;
  readonly #theta: Float64Array;
  readonly #slope: Float64Array;
  readonly #flows: Float64Array;
  #body: CondensedBody;
  #law: TemperatureLaw;

  /**
   * @param place - where the Jacobian keeps what row i receives from column j
   * @param scales - of the columns of free nodes, which divided by G(T) are those of Y
   */
  constructor(
    readonly name: string,
    nodes: readonly number[],
    body: CondensedBody,
    place: (row: number, column: number) => number,
    private readonly scales: Float64Array,
  ) {
    this.nodes = Int32Array.from(nodes);
    const n = nodes.length;
    this.#places = new Int32Array(n * (n - 1));
    for (let i = 0, at = 0; i < n; i++) {
      for (let j = i + 1; j < n; j++) {
        this.#places[at++] = place(nodes[i]!, nodes[j]!);
        this.#places[at++] = place(nodes[j]!, nodes[i]!);
      }
    }
    this.#theta = new Float64Array(nodes.length);
    this.#slope = new Float64Array(nodes.length);
    this.#flows = new Float64Array(nodes.length);
    this.#body = body;
    this.#law = conductionLaw(body.law);
  }

  /** @throws FieldError for a body with another number of terminals, or an unsound one */
  set body(body: CondensedBody) {
    // An unchanged Y needs no second check.
    const { admittance, outflow } = body;
    const isChecked = admittance === this.#body.admittance && outflow.length === this.nodes.length;
    if (!isChecked || !outflow.every(Number.isFinite)) {
      checkBody(this.name, this.nodes.length, body);
    }
    if (body.law !== this.#body.law) this.#law = conductionLaw(body.law);
    this.#body = body;
  }

  /** Load on the body itself, which leaves it at its terminals [W]. */
  get load(): number {
    return this.#body.outflow.reduce((sum, heat) => sum + heat, 0);
  }

  /**
   * Subtracts the heat into the body from the imbalance of the nodes and adds its slopes to the Jacobian.
   * @param numbers - temperatures from 0 on, imbalances from `imbalanceAt` on, the Jacobian
   * @param withSlopes - false leaves the Jacobian alone
   * @returns sum of the terms [W]; rounding is proportional to it
   */
  evaluate(numbers: Float64Array, imbalanceAt: number, withSlopes: boolean): number {
    const { admittance, outflow } = this.#body;
    const nodes = this.nodes;
    const places = this.#places;
    const theta = this.#theta;
    const slope = this.#slope;
    const scales = this.scales;
    const n = nodes.length;
    for (let i = 0; i < n; i++) {
      const found = this.#law.at(numbers[nodes[i]!]!);
      theta[i] = found[0]!;
      slope[i] = found[1]!;
      if (withSlopes && nodes[i]! < scales.length) scales[nodes[i]!] = found[1]!;
    }
    const flows = this.#flows;
    flows.fill(0);
    addFlows(admittance, theta, flows);
    let scale = 0;
    for (let i = 0; i < n; i++) {
      scale += Math.abs(admittance[i * (n + 1)]! * theta[i]!);
      numbers[imbalanceAt + nodes[i]!]! -= flows[i]! - outflow[i]!;
    }
    for (let i = 0, at = 0; withSlopes && i < n; i++) {
      const own = slope[i]!;
      for (let j = i + 1; j < n; j++, at += 2) {
        const entry = admittance[i * n + j]!;
        numbers[places[at]!]! -= entry * slope[j]!;
        numbers[places[at + 1]!]! -= entry * own;
      }
    }
    return scale;
  }

  /**
   * Heat into the body at each terminal [W]; after `evaluate`.
   * @param change - change of the temperature of a node [K], which is added
   */
  heats(change: (node: number) => number): Float64Array {
    const { admittance, outflow } = this.#body;
    const more = this.#slope.map((slope, t) => slope * change(this.nodes[t]!));
    const heats = outflow.map((brought) => -brought);
    addFlows(admittance, this.#theta, heats);
    addFlows(admittance, more, heats);
    return heats;
  }

  /** Conductance of a terminal to the others [W/K]; after `evaluate`. */
  conductance(terminal: number): number {
    const { admittance } = this.#body;
    return Math.abs(admittance[terminal * (this.nodes.length + 1)]!) * this.#slope[terminal]!;
  }

  /**
   * Heat into the body, summed over its terminals with the weights of their nodes; after `evaluate`.
   * @returns the sums of the heat that its law conducts and of its own load, and the derivative of the
   * first by the temperature of each terminal
   */
  weighted(weights: ArrayLike<number>): {
    readonly conducted: number;
    readonly brought: number;
    readonly slopes: Float64Array;
  } {
    const { admittance, outflow } = this.#body;
    const n = this.nodes.length;
    const slopes = new Float64Array(n);
    let conducted = 0;
    let brought = 0;
    // Y is symmetric and its rows sum to 0, so only differences enter, and they lose no digits.
    for (let i = 0; i < n; i++) {
      const own = weights[this.nodes[i]!]!;
      brought -= outflow[i]! * own;
      for (let j = 0; j < n; j++) {
        const more = admittance[i * n + j]! * (weights[this.nodes[j]!]! - own);
        slopes[i]! += more * this.#slope[i]!;
        if (j < i) conducted -= more * (this.#theta[j]! - this.#theta[i]!);
      }
    }
    return { conducted, brought, slopes };
  }
}

/**
 * Adds Σⱼ Yᵢⱼ (Θⱼ − Θᵢ) of each terminal: what flows from one to another is found once for both, and of two
 * terminals at a time.
 */
function addFlows(admittance: Float64Array, theta: Float64Array, into: Float64Array): void {
  const n = theta.length;
  for (let i = 0; i < n; i += 2) {
    const isLast = i + 1 === n;
    const one = theta[i]!;
    const two = isLast ? one : theta[i + 1]!;
    const first = i * n;
    const second = isLast ? first : first + n;
    let heat = isLast ? 0 : admittance[first + i + 1]! * (two - one);
    let heat2 = -heat;
    for (let j = i + 2; j < n; j++) {
      const other = theta[j]!;
      const flow = admittance[first + j]! * (other - one);
      const flow2 = admittance[second + j]! * (other - two);
      heat += flow;
      heat2 += flow2;
      into[j]! -= flow + flow2;
    }
    into[i]! += heat;
    if (!isLast) into[i + 1]! += heat2;
  }
}
