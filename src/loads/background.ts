/**
 * Background of a laboratory, radioactivity and cosmic rays together: its mean heat, and single hits.
 * @module
 */

import { standardCatalogue } from "../materials/standard.js";
import type { Catalogue } from "../materials/types.js";
import type { Random } from "../numerics/random.js";
import { given } from "../provenance.js";
import { FieldError } from "../units/errors.js";
import * as read from "../units/fields.js";
import { formatGiven } from "../units/format.js";
import type { Area, Energy, Length, RareQuantity } from "../units/quantity.js";
import type { Uncertain } from "../units/spread.js";
import {
  type EnergySpectrum,
  type Spectrum,
  spectrumFields,
  spectrumOf,
} from "./energy-spectrum.js";
import type { HeatLoad } from "./heat-load.js";
import { particleNumber } from "./law-number.js";
import type { LoadContext, LoadKind } from "./load-kind.js";
import type { HitPlace, ParticleSource } from "./particle-source.js";

/**
 * Background heat: a counted rate of hits of a mean energy or of a spectrum; or watts per kilogram of a
 * mass or a die.
 */
export type Background = {
  /** Name in the budget, `background` by default. */
  readonly name?: string;
} & (
  | {
      /** Hits [1/s]. */
      readonly rate: Uncertain<Rate>;
      /** Mean energy of a hit [J]. */
      readonly energy: Uncertain<Energy>;
    }
  | {
      /** Hits [1/s]; the spectrum's own when absent. */
      readonly rate?: Uncertain<Rate>;
      /** Energies of the hits and how often each comes. */
      readonly spectrum: EnergySpectrum;
    }
  | ({
      /** Heat for each mass [W/kg]; that of an unshielded laboratory by default. */
      readonly powerPerMass?: Uncertain<PowerPerMass>;
      /** How the heat is shared among hits; only draws of hits need it. */
      readonly spectrum?: EnergySpectrum;
    } & (
      | {
          /** Mass of the die [kg]. */
          readonly mass: Uncertain<RareQuantity<"kg" | "g" | "mg">>;
        }
      | {
          /** Material of the die, for its mass. */
          readonly material: string;
          /** Area of the die [m²], for its mass. */
          readonly area: Uncertain<Area>;
          /** Thickness of the die [m], for its mass. */
          readonly thickness: Uncertain<Length>;
        }
    ))
);

/** How often hits come: 1/s, or a string such as `"3 1/min"`. */
export type Rate = RareQuantity<"1/s" | "1/min" | "1/h">;
/** Heat for each mass: W/kg, or a string such as `"30 pW/kg"`. */
export type PowerPerMass = RareQuantity<"W/kg" | "nW/kg" | "pW/kg">;

type OfEnergy = read.Having<Background, "energy">;
type OfSpectrum = Extract<Background, { readonly spectrum: EnergySpectrum }>;
type OfMass = read.Having<Background, "powerPerMass">;
/** Background of a mount, by the mass of its die. */
export type BackgroundByMass = Pick<OfMass, "name" | "spectrum"> &
  Required<Pick<OfMass, "powerPerMass">>;

const name = read.optional(read.text);
const rate = read.aboveZeroIn("1/s", "1/min", "1/h");
const powerPerMass = read.aboveZeroIn("W/kg", "nW/kg", "pW/kg");
const spectrum = read.optional(spectrumFields);
const byHits = read.oneForm<OfEnergy | OfSpectrum>()({
  energy: { name, rate, energy: read.quantity("energy") },
  spectrum: { name, rate: read.optional(rate), spectrum: spectrumFields },
});
const massFields = { name, powerPerMass: read.optional(powerPerMass), spectrum };
const backgroundFields = read.either<OfMass, OfEnergy | OfSpectrum>(
  read.has("mass", "material", "powerPerMass"),
  read.oneForm<OfMass>()({
    mass: { ...massFields, mass: read.aboveZeroIn("kg", "g", "mg") },
    material: {
      ...massFields,
      material: read.text,
      area: read.quantity("area"),
      thickness: read.quantity("length"),
    },
  }),
  byHits,
);

/** Background as a kind of load; where it goes by mass, the die is the mount's. */
export const backgroundKind: LoadKind<BackgroundByMass | OfEnergy | OfSpectrum> = {
  fields: read.either<BackgroundByMass, OfEnergy | OfSpectrum>(
    read.has("powerPerMass"),
    read.object<BackgroundByMass>({ name, powerPerMass, spectrum }),
    byHits,
  ),
  heat: (options, context) =>
    background(inMount(options, context), context.catalogue, context.field),
  hits: (options, context, place) =>
    backgroundHits(inMount(options, context), context.catalogue, context.field, place),
};

function inMount(
  options: read.Plain<BackgroundByMass | OfEnergy | OfSpectrum>,
  { name, field, on, die }: LoadContext,
): Background {
  if (!("powerPerMass" in options)) return { ...options, name };
  if (on !== "die") throw new FieldError(`${field}.on`, '"die", whose mass it goes by', on);
  const { material, width, length, thickness } = die;
  return { ...options, name, material, area: width * length, thickness };
}

/**
 * Mean heat of radioactivity and cosmic rays together: rate × mean energy, or mass × W/kg.
 * @param field - path of the load in the user's description, for errors
 * @throws FieldError, UnknownNameError
 */
export function background(
  options: Background,
  catalogue: Catalogue = standardCatalogue(),
  field = "background",
): HeatLoad {
  return figuresOf(backgroundFields.read(options, field), catalogue, field).load;
}

/** The load, and its hits [1/s] with their energies; without them where only heat per mass was given. */
interface Figures {
  readonly load: HeatLoad;
  readonly hits?: { readonly rate: number; readonly spectrum: Spectrum };
}

function figuresOf(options: read.Plain<Background>, catalogue: Catalogue, field: string): Figures {
  const { name = "background" } = options;
  if ("mass" in options || "material" in options) return byMass(options, name, catalogue, field);
  const [spectrum, note] =
    "energy" in options
      ? [oneEnergy(options.energy), ""]
      : [spectrumOf(options.spectrum, `${field}.spectrum`), "of the spectrum"];
  if (spectrum.rate !== undefined && options.rate !== undefined) {
    const wanted = "no rate, since the spectrum has its own";
    throw new FieldError(`${field}.rate`, wanted, formatGiven(options.rate, "1/s"));
  }
  const rate = spectrum.rate ?? options.rate;
  if (rate === undefined) {
    const wanted = "hits a second, or a spectrum with a rate of its own";
    throw new FieldError(`${field}.rate`, wanted, rate);
  }
  const from = spectrum.rate === undefined ? "" : note;
  const provenance = [given(`${field}: rate`, rate, "1/s", from)];
  const load = { name, power: rate * spectrum.mean, provenance, details: {}, warnings: [] };
  return withHits(load, rate, spectrum, field, note);
}

function oneEnergy(energy: number): Spectrum {
  return { rate: undefined, mean: energy, draw: () => energy };
}

/** A load whose hits are known, with their figures. */
function withHits(
  load: HeatLoad,
  rate: number,
  spectrum: Spectrum,
  field: string,
  note: string,
): Figures {
  const { mean } = spectrum;
  const energy = given(`${field}: mean energy of an event`, mean, "J", note);
  const details = { ...load.details, "rate [1/s]": rate, "mean energy of an event [J]": mean };
  return {
    load: { ...load, provenance: [...load.provenance, energy], details },
    hits: { rate, spectrum },
  };
}

function byMass(
  options: read.Plain<OfMass>,
  name: string,
  catalogue: Catalogue,
  field: string,
): Figures {
  const mass = massOf(options, catalogue, field);
  const { powerPerMass: value } = options;
  const perMass =
    value === undefined
      ? particleNumber(catalogue, "background", "power_per_mass", "W/kg")
      : { value, provenance: given(`${field}: power per mass`, value, "W/kg") };
  const load = {
    name,
    power: mass.value * perMass.value,
    provenance: [perMass.provenance, ...mass.provenance],
    details: { "mass [kg]": mass.value, "power per mass [W/kg]": perMass.value },
    warnings: [],
  };
  if (options.spectrum === undefined) return { load };
  const spectrum = spectrumOf(options.spectrum, `${field}.spectrum`);
  if (spectrum.rate !== undefined) {
    const wanted = "shares or weights, since powerPerMass tells how many hits there are";
    throw new FieldError(`${field}.spectrum`, wanted, "rates");
  }
  return withHits(load, load.power / spectrum.mean, spectrum, field, "of the spectrum");
}

function massOf(options: read.Plain<OfMass>, catalogue: Catalogue, field: string) {
  if ("mass" in options) {
    return { value: options.mass, provenance: [given(`${field}: mass`, options.mass, "kg")] };
  }
  const { area, thickness } = options;
  const density = catalogue.material(options.material, `${field}.material`).constant("density");
  return {
    value: density.value * area * thickness,
    provenance: [
      density.provenance,
      given(`${field}: area`, area, "m^2"),
      given(`${field}: thickness`, thickness, "m"),
    ],
  };
}

/** Background of which hits can be drawn, and where they fall. */
export type BackgroundHits = Background & {
  /** Sides of the die over which they fall evenly; without them hits have no place. */
  readonly die?: { readonly width: Uncertain<Length>; readonly length: Uncertain<Length> };
};

type Sides = NonNullable<BackgroundHits["die"]>;
const hitFields = read.together(
  backgroundFields,
  read.object<Pick<BackgroundHits, "die">>({
    die: read.optional(
      read.object<Sides>({ width: read.quantity("length"), length: read.quantity("length") }),
    ),
  }),
);

/**
 * Background as hits: energies of a spectrum, or all of one energy where only that is given; places even
 * over the die. Rate and mean energy are those of `background`.
 * @param field - path of the load in the user's description, for errors
 * @param place - draws where a hit falls, in place of the die's sides
 * @throws FieldError, UnknownNameError
 */
export function backgroundHits(
  options: BackgroundHits,
  catalogue: Catalogue = standardCatalogue(),
  field = "background",
  place?: (random: Random) => HitPlace,
): ParticleSource {
  const { die, ...plain } = hitFields.read(options, field);
  const { load, hits } = figuresOf(plain, catalogue, field);
  if (!hits) {
    throw new FieldError(`${field}.spectrum`, "how the heat is shared among hits", undefined);
  }
  const { rate, spectrum } = hits;
  const onDie = (random: Random) =>
    die && { x: die.width * random.uniform(), y: die.length * random.uniform() };
  return {
    name: load.name,
    rate,
    energy: spectrum.mean,
    draw(random) {
      const wait = random.exponential() / rate;
      const energy = spectrum.draw(random);
      const hit = (place ?? onDie)(random);
      return { wait, energy, source: load.name, ...(hit && { place: hit }) };
    },
    provenance: load.provenance,
  };
}
