/**
 * A thermal network as written down: nodes joined by conductors.
 * @module
 */
import type { Conductor, HeatStore, Load } from "../conductor.js";
import { aList, anObject } from "../units/checks.js";
import { FieldError, UnknownNameError } from "../units/errors.js";
import { type BodyDescription, checkBody } from "./terminals.js";

/** A place with one temperature. */
export interface NodeDescription {
  /** Its name, as results and messages show it. */
  readonly name: string;
  /** Heat that falls on it [W], or a law of its temperature; 0 when absent. Not for a fixed node. */
  readonly load?: number | Load;
  /** Present when the temperature is held: a stage, a warm end [K]. */
  readonly temperature?: number;
  /** What stores heat here, for a run in time; a node without it follows its neighbours at once. */
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
  /** How many of the conductor stand side by side; 1 when absent, need not be an integer. */
  readonly count?: number;
}

/** Nodes, links and bodies in any order. */
export interface NetworkDescription {
  /** Places, each of one temperature. */
  readonly nodes: readonly NodeDescription[];
  /** What conducts between them. */
  readonly links: readonly LinkDescription[];
  /** What joins more than two nodes by one law, such as a die between its pads. */
  readonly bodies?: readonly BodyDescription[];
}

/**
 * Checks that a network can have one steady state.
 * @throws FieldError, UnknownNameError for a wrong field; Error naming the nodes that have no path to
 * a fixed temperature
 */
export function checkNetwork(description: NetworkDescription): void {
  const { nodes, links, bodies = [] } = anObject("network", description);
  const names = new Set<string>();
  aList("nodes", nodes, "a list of nodes").forEach((node, i) => {
    const field = `nodes[${i}]`;
    anObject(field, node);
    if (typeof node.name !== "string" || node.name === "") {
      throw new FieldError(`${field}.name`, "a name", node.name);
    }
    if (names.has(node.name)) throw new FieldError(`${field}.name`, "a name used once", node.name);
    names.add(node.name);
    if (node.temperature !== undefined) positive(`${node.name}.temperature`, node.temperature, "K");
    if (typeof node.load === "number") finiteLoad(node.name, node.load);
    else if (node.load !== undefined) checkLaw(`${node.name}.load`, node.load);
    if (node.temperature !== undefined && node.load !== undefined) {
      throw new FieldError(
        `${node.name}.load`,
        "no load on a node of fixed temperature",
        node.load,
      );
    }
  });
  const linkNames = new Set<string>();
  aList("links", links, "a list of links").forEach((link, i) => {
    const field = `links[${i}].name`;
    anObject(`links[${i}]`, link);
    if (typeof link.name !== "string" || link.name === "") {
      throw new FieldError(field, "a name", link.name);
    }
    if (linkNames.has(link.name)) throw new FieldError(field, "a name used once", link.name);
    linkNames.add(link.name);
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
  });
  const bodyNames = new Set<string>();
  for (const [i, each] of aList("bodies", bodies, "a list of bodies").entries()) {
    const { name, terminals, body } = anObject(`bodies[${i}]`, each);
    if (typeof name !== "string" || name === "" || bodyNames.has(name)) {
      throw new FieldError(`bodies[${i}].name`, "a name used once", name);
    }
    bodyNames.add(name);
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

/** Every node needs a path to a fixed temperature, or its steady temperature does not exist. */
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

/** @throws FieldError unless the load is a finite number, negative for heat taken out */
export function finiteLoad(node: string, load: number): void {
  if (!Number.isFinite(load))
    throw new FieldError(`${node}.load`, "a finite number in watts", load);
}

/** @throws FieldError unless a load has its two functions */
export function checkLaw(field: string, load: Load): void {
  const { power, slope } = anObject(field, load);
  if (typeof power === "function" && typeof slope === "function") return;
  throw new FieldError(field, "a number in watts, or the functions power and slope", power);
}

/** @throws FieldError unless the power laws of a conductor make one whose G is positive */
export function checkConductor(link: string, conductor: Conductor): void {
  const field = `${link}.conductor`;
  const { conductance, integral, powers, powersUpTo } = anObject(field, conductor);
  if (typeof conductance !== "function" || typeof integral !== "function") {
    throw new FieldError(field, "the functions conductance and integral", conductance);
  }
  if (powers === undefined) return;
  const list = aList(`${field}.powers`, powers, "a list of power laws");
  if (list.length === 0) return;
  let largest = 0;
  for (const term of list) {
    const { coefficient, exponent } = anObject(`${field}.powers`, term);
    if (!(Number.isFinite(coefficient) && coefficient >= 0)) {
      throw new FieldError(`${field}.coefficient`, "a finite number, not negative", coefficient);
    }
    positive(`${field}.exponent`, exponent, "");
    largest = Math.max(largest, coefficient);
  }
  positive(`${field}.coefficient`, largest, "");
  if (powersUpTo !== undefined && !(powersUpTo > 0)) {
    throw new FieldError(`${field}.powersUpTo`, "a temperature greater than 0 in K", powersUpTo);
  }
}

/** @throws FieldError unless the value is finite and greater than zero */
export function positive(field: string, value: number, unit: string): number {
  if (Number.isFinite(value) && value > 0) return value;
  throw new FieldError(field, `a number greater than 0${unit && ` in ${unit}`}`, value);
}
