/**
 * A thermal network as written down: nodes joined by conductors.
 * @module
 */
import type { Conductor, HeatStore, Load, PowerTerm } from "../conductor.js";
import { aList, anObject } from "../units/checks.js";
import { FieldError, UnknownNameError } from "../units/errors.js";
import { type BodyDescription, checkBody } from "./terminals.js";

/** A place with one temperature. */
export interface NodeDescription {
  /** Its name, as results and messages show it. */
  readonly name: string;
  /** Heat load [W], or its law of the node's temperature; 0 when absent. Not for a fixed node. */
  readonly load?: number | Load;
  /** Fixed temperature [K], of a stage or a warm end; absent on a free node. */
  readonly temperature?: number;
  /** Heat store for a run in time; a node without one is always in balance with its neighbours. */
  readonly store?: HeatStore;
}

/** A heat path between two nodes. */
export interface LinkDescription {
  /** Its name, as results and messages show it. */
  readonly name: string;
  /** Node at one end, by its name. */
  readonly from: string;
  /** Node at the other end, by its name. */
  readonly to: string;
  /** Its law of heat flow. */
  readonly conductor: Conductor;
  /** How many of the conductor are in parallel; 1 when absent, need not be an integer. */
  readonly count?: number;
}

/** Nodes, links and condensed bodies in any order. */
export interface NetworkDescription {
  /** Places, each with one temperature. */
  readonly nodes: readonly NodeDescription[];
  /** Heat paths between two nodes. */
  readonly links: readonly LinkDescription[];
  /** Condensed bodies: each joins several nodes by one law, such as a die between its pads. */
  readonly bodies?: readonly BodyDescription[];
}

/**
 * Checks that a network can have one steady state.
 * @throws FieldError, UnknownNameError for a wrong field; Error naming the nodes that have no path to
 * a fixed temperature
 */
export function checkNetwork(description: NetworkDescription): void {
  const { nodes, links, bodies = [] } = anObject("network", description);
  const names = namesOf("nodes", nodes);
  for (const { name, temperature, load } of nodes) {
    if (temperature !== undefined) positive(`${name}.temperature`, temperature, "K");
    if (load !== undefined) checkLoad(name, load);
    if (temperature !== undefined && load !== undefined) {
      throw new FieldError(`${name}.load`, "no load on a node of fixed temperature", load);
    }
  }
  namesOf("links", links);
  for (const link of links) {
    for (const end of ["from", "to"] as const) {
      if (!names.has(link[end])) {
        throw new UnknownNameError(`${link.name}.${end}`, "node", link[end], [...names]);
      }
    }
    if (link.from === link.to) {
      throw new FieldError(`${link.name}.to`, "another node than `from`", link.to);
    }
    if (link.count !== undefined) positive(`${link.name}.count`, link.count, "");
    checkConductor(link.name, link.conductor);
  }
  namesOf("bodies", bodies);
  for (const { name, terminals, body } of bodies) {
    if (terminals.length === 0)
      throw new FieldError(`${name}.terminals`, "at least one", terminals);
    for (const [k, terminal] of terminals.entries()) {
      const field = `${name}.terminals[${k}]`;
      if (!names.has(terminal)) throw new UnknownNameError(field, "node", terminal, [...names]);
      if (terminals.indexOf(terminal) < k) {
        throw new FieldError(field, "a node that is not yet a terminal", terminal);
      }
    }
    checkBody(name, terminals.length, body);
  }
  refuseIslands(description);
}

/** @throws FieldError unless a list holds objects with names, each used once */
function namesOf(field: string, list: readonly { readonly name: string }[]): ReadonlySet<string> {
  const names = new Set<string>();
  aList(field, list, `a list of ${field}`).forEach((each, i) => {
    const { name } = anObject(`${field}[${i}]`, each);
    if (typeof name !== "string" || name === "") {
      throw new FieldError(`${field}[${i}].name`, "a name", name);
    }
    if (names.has(name)) throw new FieldError(`${field}[${i}].name`, "a name used once", name);
    names.add(name);
  });
  return names;
}

/** A node without a path to a fixed temperature has no steady temperature. */
function refuseIslands({ nodes, links, bodies = [] }: NetworkDescription): void {
  const reached = new Set(nodes.filter((n) => n.temperature !== undefined).map((n) => n.name));
  if (reached.size === 0) {
    throw new Error("network: no node has a fixed temperature. Fix one, for example the stage.");
  }
  for (let before = -1; before !== reached.size; ) {
    before = reached.size;
    for (const { from, to } of links) {
      if (reached.has(from)) reached.add(to);
      else if (reached.has(to)) reached.add(from);
    }
    for (const { terminals } of bodies) {
      if (terminals.some((t) => reached.has(t))) for (const t of terminals) reached.add(t);
    }
  }
  const islands = nodes.filter((n) => !reached.has(n.name)).map((n) => `"${n.name}"`);
  if (islands.length > 0) {
    throw new Error(
      `network: node ${islands.join(", ")} has no path to a fixed temperature. ` +
        "Add a link from it, or fix its temperature.",
    );
  }
}

const isPositive = (value: number) => Number.isFinite(value) && value > 0;

/** @throws FieldError unless the value is finite and greater than zero */
export function positive(field: string, value: number, unit: string): number {
  if (isPositive(value)) return value;
  throw new FieldError(field, `a number greater than 0${unit && ` in ${unit}`}`, value);
}

/**
 * @param field - the conductor or store, as messages name it; asked for an error only, since a loop that sets
 * conductors would take a tenth of its time for names
 * @throws FieldError unless the sum of power laws rises with temperature
 */
export function checkPowers(
  field: () => string,
  powers: readonly PowerTerm[],
  upTo = Number.POSITIVE_INFINITY,
): void {
  if (!Array.isArray(powers)) aList(`${field()}.powers`, powers, "a list of power laws");
  let largest = 0;
  for (let p = 0; p < powers.length; p++) {
    const term = powers[p]!;
    if (typeof term !== "object" || term === null) anObject(`${field()}.powers`, term);
    const { coefficient, exponent } = term;
    if (!(Number.isFinite(coefficient) && coefficient >= 0)) {
      throw new FieldError(`${field()}.coefficient`, "a finite number, not negative", coefficient);
    }
    if (!isPositive(exponent)) positive(`${field()}.exponent`, exponent, "");
    largest = Math.max(largest, coefficient);
  }
  if (powers.length === 0) return;
  if (!isPositive(largest)) positive(`${field()}.coefficient`, largest, "");
  if (!(upTo > 0)) {
    throw new FieldError(`${field()}.powersUpTo`, "a temperature greater than 0 in K", upTo);
  }
}

/** @throws FieldError unless a conductor has its two functions, and power laws whose G is positive */
export function checkConductor(link: string, conductor: Conductor): void {
  const field = () => `${link}.conductor`;
  if (typeof conductor !== "object" || conductor === null) anObject(field(), conductor);
  const { conductance, integral, powers, powersUpTo } = conductor;
  if (typeof conductance !== "function" || typeof integral !== "function") {
    throw new FieldError(field(), "the functions conductance and integral", conductance);
  }
  if (powers !== undefined) checkPowers(field, powers, powersUpTo);
}

/** @throws FieldError unless the load is a finite number or has the functions of a law */
export function checkLoad(node: string, load: number | Load): void {
  if (typeof load === "number" && Number.isFinite(load)) return;
  const field = `${node}.load`;
  if (typeof load === "number") throw new FieldError(field, "a finite number in watts", load);
  const { power, slope } = anObject(field, load);
  if (typeof power === "function" && typeof slope === "function") return;
  throw new FieldError(field, "a number in watts, or the functions power and slope", power);
}
