/**
 * The loads of a mount: what each brings, in watts, and where it falls; a warm end for each wire.
 * @module
 */
import type { Conductor } from "../conductor.js";
import { resonator } from "../device/quality.js";
import { strip } from "../joints/strip.js";
import { type Background, background } from "../loads/background.js";
import { givenLoad } from "../loads/given.js";
import type { HeatLoad } from "../loads/heat-load.js";
import { infrared } from "../loads/infrared.js";
import { lamp } from "../loads/lamp.js";
import { millimetre } from "../loads/millimetre.js";
import { nightSky } from "../loads/night-sky.js";
import { optical } from "../loads/optical.js";
import type { MuonHits } from "../loads/particle-events.js";
import { muons } from "../loads/particles.js";
import { radiation } from "../loads/radiation.js";
import { type ReadoutLaw, readout, readoutLaw } from "../loads/readout.js";
import { wiring } from "../loads/wiring.js";
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
  switch (load.kind) {
    case "readout":
      return readout({ ...(load as Exclude<typeof load, { resonator: unknown }>), name }, field);
    case "optical":
      return optical({ ...load, name }, field);
    case "infrared":
      return infrared({ ...load, name }, field);
    case "muons":
      return muons(muonsOf(load, die, name), catalogue, field);
    case "background":
      return background(backgroundOf(load, die, name), catalogue, field);
    case "sky":
      return nightSky({ ...load, name }, catalogue, field);
    case "millimetre":
      return millimetre({ ...load, name }, field);
    case "radiation":
      return radiation({ ...load, name }, field);
    case "lamp":
      return lamp({ ...load, name }, field);
    case "wiring":
      return wiring({ ...load, name }, catalogue, field);
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

/** Muons through a mount's die. */
export function muonsOf(load: LoadOf<"muons">, die: PlainMount["die"], name: string): MuonHits {
  const { material, width, length, thickness } = die;
  return { material, width, length, thickness, ...load, name };
}

/** Background of a mount; by the die's mass where heat per mass is given. */
export function backgroundOf(
  load: LoadOf<"background">,
  die: PlainMount["die"],
  name: string,
): Background {
  if ("powerPerMass" in load) {
    const { powerPerMass, spectrum } = load;
    const { material, width, length, thickness } = die;
    const whole = { name, powerPerMass, material, area: width * length, thickness };
    return spectrum === undefined ? whole : { ...whole, spectrum };
  }
  const { kind, on, map, ...hits } = load;
  return { ...hits, name };
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
