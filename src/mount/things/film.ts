/**
 * A metal film on the die: how heat gets into it, what it stores, and how its purity is said.
 * @module
 */
import type { FilmPatches } from "../../chip/film.js";
import { type Conductor, type TemperatureRange, warnOutside } from "../../conductor.js";
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
import { purity, type UncertainPurity } from "../../materials/options.js";
import { dominantWavelength } from "../../materials/phonons.js";
import type { Catalogue } from "../../materials/types.js";
import * as read from "../../units/fields.js";
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

export const platingFields: read.FieldsOf<Plating> = {
  material: read.text,
  thickness: read.quantity("length"),
  residualResistivityRatio: read.optional(purity),
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
  /**
   * Whether the film has phonons of its `own` (default), so that heat crosses the boundary to them and then
   * the coupling to the electrons, or has `shared` those of the die, to which its electrons then couple. A
   * film thinner than the wavelength of its phonons shares them; own is the safe choice, which gives the
   * warmer chip.
   */
  readonly phonons?: FilmPhonons;
}

/** Whose phonons a film's electrons couple to. */
export type FilmPhonons = "own" | "shared";

/** A coupling of the catalogue. */
export interface CouplingSample {
  /** Name of the catalogue's sample. */
  readonly sample: string;
}

/** Fields of a film. */
export const filmFields: read.FieldsOf<Film> = {
  ...platingFields,
  boundary: read.optional(
    read.either(read.isOneValue, read.oneOf("diffuse mismatch"), boundaryField),
  ),
  coupling: read.optional(
    read.either(
      read.has("sample"),
      read.object<CouplingSample>({ sample: read.text }),
      couplingField,
    ),
  ),
  phonons: read.optional(read.oneOf("own", "shared")),
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
  of(mount: M): read.Plain<Film>;
  /** Area through which heat enters one of it [m²]. */
  area(mount: M): number;
  /** Metal in all of it [m³]. */
  volume(mount: M): number;
  /** How many of it lie side by side. */
  count(mount: M): number;
}

/** Where a film's own phonons are. */
const phononsOf = <M>({ name, contacts }: FilmIn<M>) => ({
  behind: contacts,
  place: `${name} phonons`,
  inPieces: true as const,
});

/** The die as far as its model decides what a boundary is. */
interface WithFlights {
  readonly die: { readonly material: string; readonly model?: string };
}

/** Through the boundary into a film's phonons, and on to its electrons; or to them from the die's phonons. */
export function filmPaths<M extends WithFlights>(
  film: FilmIn<M>,
  { phonons = "own" }: read.Plain<Film>,
): readonly HeatPath<M>[] {
  const { name, key, contacts, count } = film;
  const coupling: HeatPath<M> = {
    name: film.coupling,
    from: phonons === "own" ? phononsOf(film) : { on: contacts },
    to: electronsOf(film),
    conductor(mount, catalogue) {
      const { material: metal, thickness, coupling } = film.of(mount);
      const body = { metal, area: film.area(mount), thickness };
      const own = !coupling ? {} : "sample" in coupling ? coupling : { coupling };
      const law = coupling
        ? electronPhonon({ ...body, ...own }, catalogue, key)
        : inMaterial(metal, `${key}.material`, () => electronPhonon(body, catalogue, key));
      if (phonons === "own") return law;
      return withRanges(law, wavelengthRanges(film.of(mount), key, catalogue));
    },
    count,
  };
  if (phonons === "shared") return [coupling];
  return [
    {
      name: `${name} boundary`,
      from: { on: contacts },
      to: phononsOf(film),
      conductor(mount, catalogue) {
        const { material, boundary: kind = "diffuse mismatch" } = film.of(mount);
        const law =
          kind === "diffuse mismatch" ? { between: [mount.die.material, material] as const } : kind;
        const area = film.area(mount);
        const through = inMaterial(material, `${key}.material`, () =>
          boundary({ area, ...law }, catalogue, `${key}.boundary`),
        );
        const ranges = wavelengthRanges(film.of(mount), key, catalogue);
        if (mount.die.model !== "flights") return withRanges(through, ranges);
        const speeds = catalogue.material(mount.die.material, "die.material").soundSpeeds();
        return withRanges(behindRadiation(through, area * phononRadiation(speeds)), ranges);
      },
      count,
    },
    coupling,
  ];
}

const withRanges = (law: Conductor, more: readonly TemperatureRange[]): Conductor => ({
  ...law,
  ranges: [...(law.ranges ?? []), ...more],
});

/**
 * Temperatures below which a film is thinner than the dominant wavelengths of its transverse and
 * longitudinal phonons [K]; undefined where its speeds of sound are not on file, and nothing uses them.
 */
function thinBelow(
  { material: name, thickness }: read.Plain<Film>,
  key: string,
  catalogue: Catalogue,
) {
  const material = catalogue.material(name, `${key}.material`);
  if (!material.properties.has("sound_speed_transverse")) return undefined;
  const { transverse, longitudinal } = material.soundSpeeds();
  return {
    transverse: dominantWavelength(transverse, thickness),
    longitudinal: dominantWavelength(longitudinal, thickness),
  };
}

/** Where a film's choice of phonons is in doubt: own below the wavelength, shared above it. */
function wavelengthRanges(
  film: read.Plain<Film>,
  key: string,
  catalogue: Catalogue,
): readonly TemperatureRange[] {
  const below = thinBelow(film, key, catalogue);
  if (!below) return [];
  const doubt = (of: string, from: number, to?: number): TemperatureRange => ({
    ...warnOutside(of, from, to),
    outside: "doubt",
  });
  const wave = (kind: "transverse" | "longitudinal") =>
    `${key}: ${formatGiven(film.thickness, "m")} of ${film.material} against the wavelength of its ${kind} phonons`;
  if (film.phonons === "shared") return [doubt(wave("transverse"), 0, below.transverse)];
  return [doubt(wave("longitudinal"), below.longitudinal)];
}

/** A mount's films, by what reads them. */
interface WithFilms {
  readonly pads?: read.Plain<Film>;
  readonly ring?: read.Plain<Film>;
  readonly back?: { readonly film: read.Plain<Film> };
  readonly padGroups?: readonly (read.Plain<Film> & { readonly name: string })[];
  readonly patches?: readonly (read.Plain<Film> & { readonly name: string })[];
}

/**
 * The mount with the other choice of phonons in each film whose choice is in doubt, and the names of those
 * films; undefined where none is.
 * @param temperature - of the phonons that a film called `pad`, `ring`, `patch 1` has or would share [K]
 */
export function otherPhonons<M extends WithFilms>(
  mount: M,
  catalogue: Catalogue,
  temperature: (film: string) => number,
): { readonly mount: M; readonly films: readonly string[] } | undefined {
  const films: string[] = [];
  const other = <F extends read.Plain<Film>>(film: F, key: string, name: string): F => {
    const T = temperature(name);
    const ranges = wavelengthRanges(film, key, catalogue);
    if (ranges.every(({ from, to }) => T >= from && T <= to)) return film;
    films.push(name);
    return { ...film, phonons: film.phonons === "shared" ? "own" : "shared" };
  };
  const { pads, ring, back, padGroups, patches } = mount;
  const changed = {
    ...mount,
    ...(pads && { pads: other(pads, "pads", "pad") }),
    ...(ring && { ring: other(ring, "ring", "ring") }),
    ...(back && { back: { ...back, film: other(back.film, "back", "back") } }),
    ...(padGroups && {
      padGroups: padGroups.map((film, g) => other(film, `padGroups[${g}]`, `pads ${film.name}`)),
    }),
    ...(patches && {
      patches: patches.map((film, i) => other(film, `patches[${i}]`, `patch ${film.name}`)),
    }),
  };
  return films.length > 0 ? { mount: changed, films } : undefined;
}

/** The electrons of a film. */
export function electronsOf<M>({ name, contacts }: FilmIn<M>) {
  return { behind: contacts, place: `${name} electrons` };
}

/** A film stores heat in its electrons, and apart in its own phonons; shared ones are the die's. */
export function filmStores<M>(
  film: FilmIn<M>,
  { phonons = "own" }: read.Plain<Film>,
): readonly PlacedStore<M>[] {
  const parts = phonons === "own" ? (["phonons", "electrons"] as const) : (["electrons"] as const);
  return parts.map((part) => ({
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

/** What a film that stands by itself adds to a mount. */
export const filmParts = <M extends WithFlights>(film: FilmIn<M>, own: read.Plain<Film>) => ({
  contacts: [film.contacts],
  paths: filmPaths(film, own),
  stores: filmStores(film, own),
});

/** One square of a film, along the die. */
export function filmSquare(film: read.Plain<Film>, key: string, catalogue: Catalogue): Conductor {
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

/** A film as a drawing says it. @param size - `1 mm wide, ` */
export const filmWords = (own: read.Plain<Plating>, size = ""): readonly string[] => [
  own.material,
  `${size}${metres(own.thickness)} thick`,
  ...purityWords(own.residualResistivityRatio),
];

/** A purity as a drawing says it. */
export function purityWords(ratio: read.Plain<UncertainPurity> | undefined): readonly string[] {
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
