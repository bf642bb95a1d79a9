/**
 * The loads of a mount: what each brings, in watts, and where it falls; a warm end for each wire.
 * @module
 */
import type { Conductor } from "../conductor.js";
import { resonator } from "../device/quality.js";
import { strip } from "../joints/strip.js";
import type { HeatLoad } from "../loads/heat-load.js";
import * as kinds from "../loads/kinds.js";
import type { LoadKind } from "../loads/load-kind.js";
import { type Readout, type ReadoutLaw, readout, readoutLaw } from "../loads/readout.js";
import type { Catalogue } from "../materials/types.js";
import { FieldError } from "../units/errors.js";
import { chipPlace, place } from "./part.js";
import type { PlainLoad, PlainMount } from "./read.js";

/** A load of known power on a place. */
export interface PowerSource {
  /** Its name, as results and messages show it. */
  readonly name: string;
  /** What it falls on: the die or another part, by name. */
  readonly on: string;
  /** Its path in the mount, for errors. */
  readonly field: string;
  /** Its description in a mount of this structure. */
  of(mount: PlainMount): PlainLoad;
  /** What it brings when the chip has a temperature, on which most loads do not depend [K]. */
  load(mount: PlainMount, chip: number): HeatLoad;
  /** Its law of the chip's temperature, when it has one. */
  law?(mount: PlainMount): ReadoutLaw;
}

/** A wire or support from a warm end, whose heat comes out of the solution. */
export interface WarmSource {
  /** Its name, as results and messages show it. */
  readonly name: string;
  /** What it falls on: the die or another part, by name. */
  readonly on: string;
  /** Name of the warm node. */
  readonly warmEnd: string;
  /** The contact of the die that it touches, when the die is a sheet. */
  readonly group: string;
  /** Of its warm end [K]. */
  temperature(mount: PlainMount): number;
  /** Of one wire or support. */
  conductor(mount: PlainMount): Conductor;
  /** How many are side by side. */
  count(mount: PlainMount): number;
}

/** The loads of one kind. */
export type LoadOf<K extends PlainLoad["kind"]> = Extract<PlainLoad, { readonly kind: K }>;

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
      const field = `loads[${i}]`;
      const of = (m: PlainMount) => m.loads[i]! as typeof load;
      const warms = load.kind === "readout" && "resonator" in load;
      const law = (m: PlainMount) => readoutOf(of(m) as LoadOf<"readout">, name, field, catalogue);
      powers.push({
        name,
        on,
        field,
        of,
        load: (m, chip) => (warms ? law(m).at(chip) : powerLoad(of(m), name, m, field, catalogue)),
        ...(warms && { law }),
      });
    }
  });
  return { powers, warm };
}

/** Tones whose resonators lose quality as the chip warms. */
function readoutOf(
  load: LoadOf<"readout">,
  name: string,
  field: string,
  catalogue: Catalogue,
): ReadoutLaw {
  if (!("resonator" in load)) throw new FieldError(`${field}.resonator`, "a resonator", undefined);
  const { resonator: film, kind, on, map, ...tones } = load;
  const { internalQuality, provenance } = resonator(film, catalogue, `${field}.resonator`);
  const law = readoutLaw({ ...tones, name, internalQuality }, field);
  return {
    ...law,
    at: (T) => {
      const heat = law.at(T);
      return { ...heat, provenance: [...heat.provenance, ...provenance] };
    },
  };
}

function powerLoad(
  load: Exclude<PlainLoad, LoadOf<"conduction">>,
  name: string,
  { die }: PlainMount,
  field: string,
  catalogue: Catalogue,
): HeatLoad {
  const options = optionsOf(load);
  if (load.kind === "readout") return readout({ ...options, name } as Readout, field);
  const kind = Object.entries(kinds).find(([each]) => each === load.kind)![1] as LoadKind<unknown>;
  const on = ("on" in load && load.on) || "die";
  return kind.heat(kind.fields.read(options, field), { name, field, on, catalogue, die });
}

/** What a load's own kind reads. */
export function optionsOf(load: PlainLoad): object {
  const { kind, on, map, ...options } = load as PlainLoad & { on?: unknown; map?: unknown };
  return options;
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
