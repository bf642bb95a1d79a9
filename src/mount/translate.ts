/**
 * From a mount to its thermal network.
 * @module
 */
import type { Conductor } from "../conductor.js";
import type { HeatLoad } from "../loads/heat-load.js";
import type { Catalogue } from "../materials/types.js";
import type { LinkDescription, NetworkDescription } from "../network/description.js";
import { FieldError } from "../units/errors.js";
import { type PowerSource, sourcesOf, type WarmSource } from "./heat-sources.js";
import { chipPlace, type Part, partsOf, place } from "./parts.js";
import type { PlainMount } from "./read.js";

/** A mount's structure: its parts and sources, whose numbers come from any mount of that structure. */
export interface Structure {
  /** Places in the order the heat takes; the stage last. */
  readonly places: readonly string[];
  /** Hottest place on the die. */
  readonly chip: string;
  readonly parts: readonly Part[];
  readonly powers: readonly PowerSource[];
  readonly warm: readonly WarmSource[];
}

/** A mount translated: the network, and what each link and load was made of. */
export interface Translation {
  readonly structure: Structure;
  readonly network: NetworkDescription;
  readonly conductors: ReadonlyMap<string, Conductor>;
  readonly loads: readonly { readonly on: string; readonly load: HeatLoad }[];
}

/** Which places and parts a mount has. */
export function structureOf(mount: PlainMount, catalogue: Catalogue): Structure {
  const parts = partsOf(mount, catalogue);
  const { powers, warm } = sourcesOf(mount, catalogue);
  const used = new Set(parts.flatMap(({ from, to }) => [from, to]));
  const names = new Set<string>();
  for (const { name } of [...parts, ...warm]) {
    if (names.has(name)) throw new FieldError("name", "a name that no other part has", name);
    names.add(name);
  }
  return {
    places: Object.values(place).filter((name) => used.has(name)),
    chip: chipPlace(mount),
    parts,
    powers,
    warm,
  };
}

/**
 * The network of a mount.
 * @throws FieldError or UnknownNameError naming the field of the mount
 */
export function translate(mount: PlainMount, catalogue: Catalogue): Translation {
  const structure = structureOf(mount, catalogue);
  const loads = structure.powers.map((source) => ({ on: source.on, load: source.load(mount) }));
  const links: LinkDescription[] = [];
  for (const part of structure.parts) {
    const { name, from, to } = part;
    links.push({
      name,
      from,
      to,
      conductor: part.conductor(mount),
      count: part.count?.(mount) ?? 1,
    });
  }
  for (const wire of structure.warm) {
    const { name, warmEnd: from, on: to } = wire;
    links.push({ name, from, to, conductor: wire.conductor(mount), count: wire.count(mount) });
  }
  return {
    structure,
    conductors: new Map(links.map((link) => [link.name, link.conductor])),
    loads,
    network: {
      nodes: [
        ...structure.places.map((name) =>
          name === place.stage
            ? { name, temperature: mount.stage }
            : { name, load: loadOn(name, loads) },
        ),
        ...structure.warm.map((w) => ({ name: w.warmEnd, temperature: w.temperature(mount) })),
      ],
      links,
    },
  };
}

function loadOn(name: string, loads: Translation["loads"]): number {
  return loads.filter(({ on }) => on === name).reduce((sum, { load }) => sum + load.power, 0);
}
