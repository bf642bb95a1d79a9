/**
 * A mount with a 2-D die for many solves: the dense network of its contacts without the cells, contacts that
 * are alike by symmetry taken together, and the hottest point from the heat at the contacts.
 * @module
 */
import { CondensedSheet } from "../../chip/condensed-sheet.js";
import { SheetExtremes } from "../../chip/extremes.js";
import { laidOut } from "../../mount/assemble.js";
import type { Described } from "../../mount/assembly.js";
import { watch } from "../../mount/cells.js";
import { coolingBase, coolingLink } from "../../mount/links.js";
import type { MountModel } from "../../mount/model.js";
import { powerMap } from "../../mount/power-map.js";
import { alikeNodes } from "../../network/alike.js";
import type { LinkDescription, NetworkDescription } from "../../network/description.js";
import type { UncertainInput } from "./uncertain-inputs.js";

/** A mount's network with nodes that are alike taken together. */
export type MergedMount = NonNullable<ReturnType<typeof mergedMount>>;
export type MergedDie = MergedMount["dies"][number];

/**
 * The merged mount; undefined where it is solved in full: phonons that fly, loads that follow the die's
 * temperature, contacts that had to be cut, and inputs that move contacts or maps of heat.
 * @param model - at the medians
 * @param stage - about as warm as the stage is [K]
 * @param inputs - those that are fields of the mount count
 */
export function mergedMount(
  model: MountModel,
  stage: number,
  inputs: readonly Pick<UncertainInput, "field">[],
) {
  const { structure, mount, catalogue } = model;
  const isDie = (on: string) => structure.dies.some(({ name }) => name === on);
  const onDies = structure.powers.filter(({ on }) => isDie(on));
  if (structure.die !== "sheet") return undefined;
  if (onDies.some((source) => source.law(mount, catalogue))) return undefined;
  const { reads } = watch(mount, (m) => {
    for (const group of structure.groups) laidOut(group, m);
    for (const { map } of onDies) powerMap(map(m), 1);
    return structure.dies.map((each) => {
      const { width, length, cells } = each.of(m).die;
      return [width, length, cells];
    });
  });
  if (inputs.some(({ field }) => field !== undefined && reads.has(field))) return undefined;
  const described = model.describe();
  const groups = [...described.groups.values()];
  if (groups.some(({ contacts }) => contacts.some(({ of }) => of !== undefined))) return undefined;

  const { network } = described;
  const index = new Map(network.nodes.map(({ name }, i) => [name, i]));
  const placeOf = new Map<string, string>();
  for (const [place, nodes] of described.links.nodesOf) {
    for (const node of nodes) placeOf.set(node, place.name);
  }
  const kinds = network.nodes.map(({ name, temperature }) =>
    temperature === undefined ? `place ${placeOf.get(name) ?? name}` : name,
  );
  const links = countedLinks(model, described, stage).map(({ from, to, ...link }) => ({
    ...link,
    from: index.get(from)!,
    to: index.get(to)!,
  }));
  const dies = structure.dies.map((die) => {
    const { condensed, body } = described.dies.get(die.name)!;
    if (!(condensed instanceof CondensedSheet)) return undefined;
    const own = described.loads.filter(({ source }) => source.on === die.name);
    const units = own.map(({ source }) =>
      condensed.body(body.law, [
        { map: powerMap(source.map(mount), 1), times: 1, field: `${source.field}.map` },
      ]),
    );
    const nodes = condensed.terminals.map((name) => index.get(name)!);
    return {
      die,
      condensed,
      units,
      nodes,
      law: body.law,
      powers: own.map(({ load }) => load.power),
    };
  });
  const whole = dies.flatMap((each) => each ?? []);
  if (whole.length < dies.length) return undefined;
  const classes = alikeNodes({
    kinds,
    links,
    bodies: whole.map(({ condensed: { admittance }, nodes, units }) => ({
      nodes,
      admittance,
      outflows: units.map(({ outflow }) => outflow),
    })),
  });

  const firsts = new Map<number, number>();
  const sizes = new Map<number, number>();
  classes.forEach((own, node) => {
    if (!firsts.has(own)) firsts.set(own, node);
    sizes.set(own, (sizes.get(own) ?? 0) + 1);
  });
  const nameOf = (node: number) => network.nodes[firsts.get(classes[node]!)!]!.name;
  const together = new Map<string, LinkDescription & { count: number }>();
  const linksOf = new Map<string, string[]>([...model.laws.keys()].map((law) => [law, []]));
  for (const { law, from, to, count } of links) {
    const [a, b] = [nameOf(from), nameOf(to)];
    // Between nodes that are alike no heat flows.
    if (a === b) continue;
    const key = JSON.stringify([law, a, b]);
    const known = together.get(key);
    if (known) known.count += count;
    else {
      const own = linksOf.get(law)!;
      const name = own.length === 0 ? law : `${law}, class ${own.length + 1}`;
      own.push(name);
      together.set(key, { name, from: a, to: b, conductor: model.laws.get(law)!, count });
    }
  }
  const merged = whole.map(({ die, condensed, units, nodes, law, powers }) => {
    const terminals = [...new Set(nodes.map(nameOf))];
    const at = nodes.map((node) => terminals.indexOf(nameOf(node)));
    const summed = (numbers: Float64Array) => {
      const sums = new Float64Array(terminals.length);
      numbers.forEach((value, i) => {
        sums[at[i]!]! += value;
      });
      return sums;
    };
    return {
      name: die.name,
      chip: die.chip.name,
      spreading: die.spreading,
      /** Nodes at its contacts, one of those that are alike, and how many these are. */
      terminals,
      sizes: Float64Array.from(
        terminals,
        (name) => nodes.filter((node) => nameOf(node) === name).length,
      ),
      admittance: mergedAdmittance(condensed.admittance, at, terminals.length),
      /** Heat that leaves at each terminal for 1 W of each load [W/W]. */
      outflows: units.map(({ outflow }) => summed(outflow)),
      /** Of a square, and the power of each load, at the medians [W]. */
      law,
      powers,
      /** Finds its hottest and coldest points; the loads come in the same order. */
      extremes: new SheetExtremes(condensed, at, units),
      beside: besideOf(network, condensed.terminals, (name) => nameOf(index.get(name)!)),
    };
  });
  const bodies = merged.map(({ name, terminals, law, admittance }) => {
    // Heat is set with the powers.
    const outflow = new Float64Array(terminals.length);
    return { name, terminals, body: { law, admittance, outflow } };
  });
  const nodes = [...firsts].map(([own, first]) => {
    const node = network.nodes[first]!;
    const { load } = node;
    return typeof load === "number" ? { ...node, load: load * sizes.get(own)! } : node;
  });
  return {
    network: { nodes, links: [...together.values()], bodies } satisfies NetworkDescription,
    /** Names of the links of each path, wire and film. */
    linksOf,
    /** Names of the nodes of each place. */
    nodesOf: new Map(
      [...described.links.nodesOf].map(([place, all]) => [
        place.name,
        [...new Set(all.map((name) => nameOf(index.get(name)!)))],
      ]),
    ),
    dies: merged,
  };
}

/** Every link by its law, and how many of it stand side by side there. */
function countedLinks(model: MountModel, { links, network }: Described, T: number) {
  const { laws, structure } = model;
  const lawOf = new Map<string, string>([[coolingLink, coolingLink]]);
  for (const [law, own] of links.linksOf) for (const link of own) lawOf.set(link, law);
  const films = structure.groups.flatMap(({ film }) => film ?? []);
  return network.links.map(({ name, from, to, conductor, count = 1 }) => {
    const law = lawOf.get(name) ?? films.find((film) => name.startsWith(`${film.name} `))!.name;
    const base = laws.get(law)!;
    // Of a film so many squares.
    const part = conductor === base ? 1 : conductor.conductance(T) / base.conductance(T);
    return { law, from, to, count: count * part };
  });
}

/** Y between classes of terminals, rows that sum to 0. @param at - class of each terminal */
function mergedAdmittance(admittance: Float64Array, at: readonly number[], count: number) {
  const n = at.length;
  const merged = new Float64Array(count ** 2);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < i; j++) {
      const [a, b] = [at[i]!, at[j]!];
      if (a === b) continue;
      const entry = admittance[i * n + j]!;
      merged[a * count + b]! += entry;
      merged[b * count + a]! += entry;
    }
  }
  for (let a = 0; a < count; a++) {
    let rest = 0;
    for (let b = 0; b < count; b++) rest += merged[a * count + b]!;
    merged[a * count + a] = -rest;
  }
  return merged;
}

/** Nodes that link to the contacts of a die, without these and without what cools the stage. */
function besideOf(
  { links }: NetworkDescription,
  contacts: readonly string[],
  nameOf: (node: string) => string,
): readonly string[] {
  const own = new Set(contacts);
  const beside = new Set<string>();
  for (const { from, to } of links) {
    if (own.has(to) && !own.has(from) && from !== coolingBase) beside.add(nameOf(from));
    if (own.has(from) && !own.has(to) && to !== coolingBase) beside.add(nameOf(to));
  }
  return [...beside];
}
