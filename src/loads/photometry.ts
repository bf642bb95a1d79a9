/**
 * Photometric bands: how many photons a magnitude is, and how bright the night sky.
 * @module
 */

import { standardCatalogue } from "../materials/standard.js";
import type { Catalogue, Datum } from "../materials/types.js";
import { given, type Provenance } from "../provenance.js";
import { planck, speedOfLight } from "../units/constants.js";
import { FieldError, UnknownNameError } from "../units/errors.js";
import * as read from "../units/fields.js";
import { formatGiven } from "../units/format.js";
import type { Length, RareQuantity } from "../units/quantity.js";
import type { Uncertain } from "../units/spread.js";
import { type BandEdges, bandEdges, edgeLimits } from "./band-edges.js";
import { type Curve, curveOf, type TransmissionCurve, transmissionCurve } from "./curve.js";
import { lawNumber, propertyNumber } from "./law-number.js";

/** A band: by name, as a box, or as the transmission curve of a filter. */
export type BandChoice =
  | string
  | {
      /** Such as `V`, `Ks`, `g`. */
      readonly name: string;
      /** `bessell` (U B V R I J H K), `2mass` (J H Ks) or `sdss` (u g r i z); the first that has it. */
      readonly system?: string;
      /** `AB` counts magnitudes from 3631 Jy instead of the system's own zero point. */
      readonly zeroPoint?: "AB";
    }
  | {
      /** Its middle [m]. */
      readonly wavelength: Uncertain<Length>;
      /** Width of the band [m]. */
      readonly width: Uncertain<Length>;
      /** Of magnitude 0 [W/(m² Hz)], or `AB`. */
      readonly zeroPoint: Uncertain<RareQuantity<"W/(m^2 Hz)">> | "AB";
    }
  | (BandEdges & {
      /** Of magnitude 0 [W/(m² Hz)], or `AB`. */
      readonly zeroPoint: Uncertain<RareQuantity<"W/(m^2 Hz)">> | "AB";
    })
  | {
      /** Transmission against wavelength. */
      readonly transmission: TransmissionCurve;
      /** Of magnitude 0 [W/(m² Hz)], or `AB`. */
      readonly zeroPoint: Uncertain<RareQuantity<"W/(m^2 Hz)">> | "AB";
    };

const fluxDensity = read.either<"AB", Uncertain<RareQuantity<"W/(m^2 Hz)">>>(
  (written) => written === "AB",
  read.oneOf("AB"),
  read.rareQuantity<"W/(m^2 Hz)">({
    units: ["W/(m^2 Hz)"],
    words: '"AB" or a flux density such as "3.6e-23 W/(m^2 Hz)" or a number in W/(m^2 Hz)',
  }),
);
type OwnBand = Exclude<BandChoice, string>;

export const band = read.either<string, OwnBand>(
  read.isOneValue,
  read.textOf("a band, by name, as a box, or as a curve"),
  read.oneForm<OwnBand>()({
    name: {
      name: read.text,
      system: read.optional(read.text),
      zeroPoint: read.optional(read.oneOf("AB")),
    },
    wavelength: {
      wavelength: read.quantity("length"),
      width: read.quantity("length"),
      zeroPoint: fluxDensity,
    },
    from: { ...bandEdges, zeroPoint: fluxDensity },
    transmission: { transmission: transmissionCurve, zeroPoint: fluxDensity },
  }),
);

/** A band, ready to count photons. */
export interface PhotometricBand {
  /** As it is printed. */
  readonly name: string;
  /** Name of the photometric system, where it has one, and whether magnitudes are its own. */
  readonly system?: string;
  /** Shortest wavelength [m]. */
  readonly from: number;
  /** Longest wavelength [m]. */
  readonly to: number;
  /** Of the band alone. */
  readonly transmission: Curve;
  /** Photons of magnitude 0 above the atmosphere per second, area and wavelength [1/(s m³)]. */
  photons(wavelength: number): number;
  /** Sources of its numbers. */
  readonly provenance: readonly Provenance[];
}

/**
 * A photometric band. A named band is a box of the width given in data/, in which a magnitude of 0
 * brings f_ν/(hλ_eff) photons per second, area and wavelength; a curve is multiplied by a spectrum
 * flat in f_ν: f_ν/(hλ).
 * @param field - path of the band in the user's description, for errors
 * @throws FieldError, UnknownNameError
 */
export function photometricBand(
  choice: BandChoice,
  catalogue: Catalogue = standardCatalogue(),
  field = "band",
): PhotometricBand {
  const plain = band.read(choice, field);
  if (typeof plain === "string") return namedBand({ name: plain }, catalogue, field);
  if ("name" in plain) return namedBand(plain, catalogue, field);
  const zero = zeroPoint(plain.zeroPoint, catalogue, `${field}.zeroPoint`);
  if ("transmission" in plain) {
    const curve = curveOf(plain.transmission, `${field}.transmission`);
    const [from, to] = [curve.bends[0]!, curve.bends.at(-1)!];
    return {
      name: "given curve",
      from,
      to,
      transmission: curve,
      photons: (wavelength) => zero.value / (planck * wavelength),
      provenance: [zero.provenance],
    };
  }
  if ("from" in plain) {
    const [short, long] = edgeLimits(plain, field).wavelengths;
    return box("given band", (short + long) / 2, long - short, zero.value, field, [
      given(`${field}: shortest wavelength`, short, "m"),
      given(`${field}: longest wavelength`, long, "m"),
      zero.provenance,
    ]);
  }
  const { wavelength, width } = plain;
  return box("given band", wavelength, width, zero.value, field, [
    given(`${field}: wavelength`, wavelength, "m"),
    given(`${field}: width`, width, "m"),
    zero.provenance,
  ]);
}

function namedBand(
  choice: read.Having<read.Plain<OwnBand>, "name">,
  catalogue: Catalogue,
  field: string,
): PhotometricBand {
  const { name, system } = choice;
  const bands = catalogue.laws("loads", "photometric-bands").filter((law) => law.form === "band");
  const systems = [...new Set(bands.map((law) => law.sample))];
  if (system !== undefined && !systems.includes(system)) {
    throw new UnknownNameError(`${field}.system`, "photometric system", system, systems);
  }
  const fitting = bands.filter((law) => system === undefined || law.sample === system);
  const law = fitting.find((each) => each.property === name);
  if (!law) {
    const known = [...new Set(fitting.map((each) => each.property))];
    throw new UnknownNameError(field, "photometric band", name, known);
  }
  const number = (row: string) => lawNumber(law, row, `photometric-bands.csv: ${name}`).value;
  const [wavelength, width] = [number("effective_wavelength"), number("bandwidth")];
  if (choice.zeroPoint === undefined) {
    const label = `${name} (${law.sample})`;
    const band = box(label, wavelength, width, number("flux_density"), field, law.provenance);
    return { ...band, system: law.sample };
  }
  const zero = zeroPoint(choice.zeroPoint, catalogue, `${field}.zeroPoint`);
  const shape = law.provenance.filter(({ quantity }) => !quantity.includes("flux density"));
  const sources = [...shape, zero.provenance];
  return box(`${name} (${law.sample}, AB)`, wavelength, width, zero.value, field, sources);
}

function box(
  name: string,
  wavelength: number,
  width: number,
  fluxDensity: number,
  field: string,
  provenance: readonly Provenance[],
): PhotometricBand {
  if (width >= 2 * wavelength) {
    const wanted = "less than twice the wavelength";
    throw new FieldError(`${field}.width`, wanted, formatGiven(width, "m"));
  }
  const photons = fluxDensity / (planck * wavelength);
  return {
    name,
    from: wavelength - width / 2,
    to: wavelength + width / 2,
    transmission: curveOf(1, field),
    photons: () => photons,
    provenance,
  };
}

function zeroPoint(value: number | "AB", catalogue: Catalogue, field: string): Datum {
  if (value === "AB") return propertyNumber(catalogue, "photometric-bands", "AB", "flux_density");
  return { value, provenance: given(field, value, "W/(m^2 Hz)") };
}

/** Name of a night on file: `dark`, `half moon`, `full moon`. */
export type Night = "dark" | "half moon" | "full moon";

export const night = read.oneOf("dark", "half moon", "full moon");

/**
 * Brightness of the night sky at the zenith of a good site, in Vega magnitudes a square arcsecond;
 * airglow and, for K, heat are in it. Sources: data/loads/sky-brightness.csv.
 * @param band - of the bessell system
 * @throws FieldError listing what is on file
 */
export function skyBrightness(
  choice: Night,
  band: PhotometricBand,
  catalogue: Catalogue = standardCatalogue(),
  field = "sky",
): Datum {
  const sample = night.read(choice, field);
  const skies = catalogue.laws("loads", "sky-brightness");
  const known = skies.filter((law) => law.sample === sample);
  const name = band.name.split(" ")[0];
  const law = band.system === "bessell" ? known.find((each) => each.property === name) : undefined;
  if (!law) {
    const bands = known.map((each) => each.property).join(", ");
    const wanted = `a number of magnitudes a square arcsecond (nights by name are on file for ${bands} of bessell)`;
    throw new FieldError(field, wanted, `${sample} in ${band.name}`);
  }
  return law.parameters.get("magnitude")!;
}

/** Energy of a photon, hc/λ [J]. */
export function photonEnergy(wavelength: number): number {
  return (planck * speedOfLight) / wavelength;
}
