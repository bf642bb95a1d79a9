/**
 * The loads of a mount: what each brings, in watts, and where it falls; a warm end for each wire.
 * @module
 */
import type { Conductor } from "../conductor.js";
import { strip } from "../joints/strip.js";
import { givenLoad } from "../loads/given.js";
import type { HeatLoad } from "../loads/heat-load.js";
import { infrared } from "../loads/infrared.js";
import { optical } from "../loads/optical.js";
import { background, muons } from "../loads/particles.js";
import { readout } from "../loads/readout.js";
import type { Catalogue } from "../materials/types.js";
import { chipPlace, place } from "./part.js";
import type { PlainLoad, PlainMount } from "./read.js";

/** A load of known power on a place. */
export interface PowerSource {
  readonly name: string;
  readonly on: string;
  /** Its description in a mount of this structure. */
  of(mount: PlainMount): PlainLoad;
  load(mount: PlainMount): HeatLoad;
}

/** A wire or support from a warm end, whose heat comes out of the solution. */
export interface WarmSource {
  readonly name: string;
  readonly on: string;
  /** Name of the warm node. */
  readonly warmEnd: string;
  /** The contact of the die that it touches, when the die is a sheet. */
  readonly group: string;
  temperature(mount: PlainMount): number;
  conductor(mount: PlainMount): Conductor;
  count(mount: PlainMount): number;
}

type LoadOf<K extends PlainLoad["kind"]> = Extract<PlainLoad, { readonly kind: K }>;

/** Every load of a mount, in its order. */
export function sourcesOf(
  mount: PlainMount,
  catalogue: Catalogue,
): { readonly powers: readonly PowerSource[]; readonly warm: readonly WarmSource[] } {
  const powers: PowerSource[] = [];
  const warm: WarmSource[] = [];
  const names = sourceNames(mount.loads);
  mount.loads.forEach((load, i) => {
    const name = names[i]!;
    const on = "on" in load && load.on === "box" ? place.boxByDie : chipPlace(mount);
    if (load.kind === "conduction") {
      warm.push(warmSource(name, on, i, catalogue));
    } else {
      powers.push({
        name,
        on,
        of: (m) => m.loads[i]!,
        load: (m) => powerLoad(m.loads[i]! as typeof load, name, m, `loads[${i}]`, catalogue),
      });
    }
  });
  return { powers, warm };
}

function powerLoad(
  load: Exclude<PlainLoad, LoadOf<"conduction">>,
  name: string,
  { die }: PlainMount,
  field: string,
  catalogue: Catalogue,
): HeatLoad {
  switch (load.kind) {
    case "readout":
      return readout({ ...load, name }, field);
    case "optical":
      return optical({ ...load, name }, field);
    case "infrared":
      return infrared({ ...load, name }, field);
    case "muons": {
      const { material, width, length, thickness } = die;
      const plate = { material, area: width * length, thickness };
      return muons({ ...plate, ...load, name }, catalogue, field);
    }
    case "background":
      return background({ rate: load.rate, energy: load.energy, name }, catalogue, field);
    case "given":
      return givenLoad({ name, power: load.power }, field);
  }
}

function warmSource(name: string, on: string, i: number, catalogue: Catalogue): WarmSource {
  const loadOf = (m: PlainMount) => m.loads[i] as LoadOf<"conduction">;
  return {
    name,
    on,
    warmEnd: `warm end of ${name}`,
    group: name,
    temperature: (m) => loadOf(m).from,
    conductor: (m) => {
      const { kind, name: _, on: __, from, count, place: ___, ...wire } = loadOf(m);
      return strip(wire, catalogue, `loads[${i}]`);
    },
    count: (m) => loadOf(m).count ?? 1,
  };
}

/** Each load's own name, or its kind; numbered where two would read alike. */
export function sourceNames(loads: readonly PlainLoad[]): readonly string[] {
  const plain = loads.map((load) => load.name ?? load.kind);
  return plain.map((name, i) =>
    plain.filter((other) => other === name).length > 1
      ? `${name} ${plain.slice(0, i + 1).filter((other) => other === name).length}`
      : name,
  );
}
