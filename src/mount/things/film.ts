/**
 * A metal film on the die: how heat gets into it, what it stores, and how its purity is said.
 * @module
 */
import type { FilmPatches } from "../../chip/film.js";
import type { Conductor } from "../../conductor.js";
import {
  behindRadiation,
  boundary,
  boundaryField,
  type GivenBoundary,
  type MeasuredBoundary,
  phononRadiation,
} from "../../joints/boundary.js";
import { couplingField, electronPhonon, type GivenCoupling } from "../../joints/electron-phonon.js";
import { heatStore } from "../../joints/heat-store.js";
import { stripConductor } from "../../joints/strip.js";
import { purity, type UncertainPurity } from "../../materials/purity.js";
import type { Catalogue } from "../../materials/types.js";
import {
  either,
  type FieldsOf,
  has,
  isOneValue,
  object,
  oneOf,
  optional,
  type Plain,
  quantity,
  text,
} from "../../units/fields.js";
import { formatGiven } from "../../units/format.js";
import type { Length } from "../../units/quantity.js";
import type { Uncertain } from "../../units/spread.js";
import { type Contacts, type HeatPath, inMaterial, type PlacedStore, pick } from "../thing.js";

/** A metal film on a surface. */
export interface Plating {
  /** Metal, by its name in the catalogue: for example `"gold"`. */
  readonly material: string;
  /** Thickness [m]. */
  readonly thickness: Uncertain<Length>;
  /** Purity: resistivity warm over residual, above 1. */
  readonly residualResistivityRatio?: UncertainPurity;
}

export const platingFields: FieldsOf<Plating> = {
  material: text,
  thickness: quantity("length"),
  residualResistivityRatio: optional(purity),
};

/** A metal film on the die: how heat gets into it. */
export interface Film extends Plating {
  /**
   * Heat flow from die to film: `"diffuse mismatch"` (default, from speeds of sound), a `measured` one
   * by its name in data/joints/boundary.csv, or a given boundary resistance R_B·T³ [m² K⁴/W].
   */
  readonly boundary?: "diffuse mismatch" | MeasuredBoundary | GivenBoundary;
  /**
   * Electron-phonon coupling: the catalogue's when absent; a `sample` of it by name; or your own
   * `coefficient` Σ [W/(m³ Kⁿ)] with its `exponent` n.
   */
  readonly coupling?: CouplingSample | GivenCoupling;
}

/** A coupling of the catalogue. */
export interface CouplingSample {
  /** Name of the catalogue's sample. */
  readonly sample: string;
}

/** Fields of a film. */
export const filmFields: FieldsOf<Film> = {
  ...platingFields,
  boundary: optional(either(isOneValue, oneOf("diffuse mismatch"), boundaryField)),
  coupling: optional(
    either(has("sample"), object<CouplingSample>({ sample: text }), couplingField),
  ),
};

/** A film as it lies in a mount. */
export interface FilmIn<M> {
  /** Beginning of its places' names: `pad`, `ring`, `back`. */
  readonly name: string;
  /** Field of the mount that describes it. */
  readonly key: string;
  /** As the budget shows its coupling. */
  readonly coupling: string;
  /** Where it touches the die. */
  readonly contacts: Contacts<M>;
  /** Its description. */
  of(mount: M): Plain<Film>;
  /** Area through which heat enters one of it [m²]. */
  area(mount: M): number;
  /** Metal in all of it [m³]. */
  volume(mount: M): number;
  /** How many of it lie side by side. */
  count(mount: M): number;
}

/** The die as far as its model decides what a boundary is. */
interface WithFlights {
  readonly die: { readonly material: string; readonly model?: string };
}

/** Through the boundary into a film's phonons, and on to its electrons. */
export function filmPaths<M extends WithFlights>(film: FilmIn<M>): readonly HeatPath<M>[] {
  const { name, key, contacts, count } = film;
  const phonons = { behind: contacts, place: `${name} phonons`, inPieces: true } as const;
  return [
    {
      name: `${name} boundary`,
      from: { on: contacts },
      to: phonons,
      conductor(mount, catalogue) {
        const { material, boundary: kind = "diffuse mismatch" } = film.of(mount);
        const law =
          kind === "diffuse mismatch" ? { between: [mount.die.material, material] as const } : kind;
        const area = film.area(mount);
        const whole = inMaterial(material, `${key}.material`, () =>
          boundary({ area, ...law }, catalogue, `${key}.boundary`),
        );
        if (mount.die.model !== "flights") return whole;
        const speeds = catalogue.material(mount.die.material, "die.material").soundSpeeds();
        return behindRadiation(whole, area * phononRadiation(speeds));
      },
      count,
    },
    {
      name: film.coupling,
      from: phonons,
      to: electronsOf(film),
      conductor(mount, catalogue) {
        const { material: metal, thickness, coupling } = film.of(mount);
        const body = { metal, area: film.area(mount), thickness };
        if (!coupling) {
          return inMaterial(metal, `${key}.material`, () => electronPhonon(body, catalogue, key));
        }
        const own = "sample" in coupling ? coupling : { coupling };
        return electronPhonon({ ...body, ...own }, catalogue, key);
      },
      count,
    },
  ];
}

/** The electrons of a film. */
export function electronsOf<M>({ name, contacts }: FilmIn<M>) {
  return { behind: contacts, place: `${name} electrons` };
}

/** A film stores heat in its phonons and in its electrons, apart. */
export function filmStores<M>(film: FilmIn<M>): readonly PlacedStore<M>[] {
  return (["phonons", "electrons"] as const).map((part) => ({
    name: `${film.name} ${part}`,
    at: { behind: film.contacts, place: `${film.name} ${part}` },
    field: `${film.key}.material`,
    store: (mount, catalogue) =>
      heatStore(
        { material: film.of(mount).material, volume: film.volume(mount), part },
        catalogue,
        film.key,
      ),
  }));
}

/** One square of a film, along the die. */
export function filmSquare(film: Plain<Film>, key: string, catalogue: Catalogue): Conductor {
  const conductivity = catalogue
    .material(film.material, `${key}.material`)
    .thermalConductivity(pick(film, "residualResistivityRatio"));
  return stripConductor(conductivity, film.thickness);
}

/** A length as a drawing says it. */
export const metres = (value: number) => formatGiven(value, "m");

/** `1 pad`, `2 pads`. */
export const times = (count: number, one: string, many = `${one}s`) =>
  count === 1 ? `1 ${one}` : `${count} ${many}`;

/** A purity as a drawing says it. */
export function purityWords(ratio: Plain<UncertainPurity> | undefined): readonly string[] {
  return ratio === undefined ? [] : [`RRR ${typeof ratio === "number" ? ratio : ratio.value}`];
}

/** So many patches of a film, or fewer where the cells of the die are too coarse to tell them apart. */
export function patchesThatFit(die: { readonly cells?: number }, wanted: number): number {
  return Math.min(wanted, Math.floor(0.6 * (die.cells ?? 128)));
}

/** A film in patches as contacts of a group. @param bonds - on each patch; none when absent */
export function filmContacts({ patches, links }: FilmPatches, bonds: readonly number[] = []) {
  const whole = patches.reduce((sum, { size }) => sum + size, 0);
  const index = new Map(patches.map(({ name }, i) => [name, i]));
  return {
    patches: patches.map(({ area, size }, i) => ({
      area,
      share: size / whole,
      bonds: bonds[i] ?? 0,
    })),
    links: links.map(({ from, to, squares }) => ({
      from: index.get(from)!,
      to: index.get(to)!,
      squares,
    })),
  };
}
