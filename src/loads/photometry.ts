/**
 * Photometric bands: how many photons a magnitude is, and how bright the night sky.
 * @module
 */
import { standardCatalogue } from "../materials/standard.js";
import type { Catalogue, LawRecord } from "../materials/types.js";
import { given, type Provenance } from "../provenance.js";
import { positive, positiveNumber } from "../units/checks.js";
import { planck, speedOfLight } from "../units/constants.js";
import { FieldError, UnknownNameError } from "../units/errors.js";
import type { Length } from "../units/quantity.js";
import { type Curve, readTransmission, type TransmissionCurve } from "./curve.js";

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
      readonly wavelength: Length;
      /** Width of the band [m]. */
      readonly width: Length;
      /** Of magnitude 0 [W/(m² Hz)], or `AB`. */
      readonly zeroPoint: number | "AB";
    }
  | {
      /** Transmission against wavelength. */
      readonly transmission: TransmissionCurve;
      /** Of magnitude 0 [W/(m² Hz)], or `AB`. */
      readonly zeroPoint: number | "AB";
    };

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
  if (typeof choice === "string") return namedBand({ name: choice }, catalogue, field);
  if (typeof choice !== "object" || choice === null) {
    throw new FieldError(field, "a band, by name, as a box, or as a curve", choice);
  }
  if ("name" in choice) return namedBand(choice, catalogue, field);
  const zero = zeroPoint(choice.zeroPoint, catalogue, `${field}.zeroPoint`);
  if ("transmission" in choice) {
    const curve = readTransmission(`${field}.transmission`, choice.transmission);
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
  const wavelength = positive(`${field}.wavelength`, choice.wavelength, "length");
  const width = positive(`${field}.width`, choice.width, "length");
  return box("given band", wavelength, width, zero.value, field, [
    given(`${field}: wavelength`, wavelength, "m"),
    given(`${field}: width`, width, "m"),
    zero.provenance,
  ]);
}

function namedBand(
  choice: Extract<BandChoice, { name: string }>,
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
  const [wavelength, width, own] = ["effective_wavelength", "bandwidth", "flux_density"].map(
    (parameter) => parameterOf(law, parameter),
  ) as [number, number, number];
  const zero =
    choice.zeroPoint === undefined
      ? undefined
      : zeroPoint(choice.zeroPoint, catalogue, `${field}.zeroPoint`);
  const label = `${name} (${law.sample}${zero ? ", AB" : ""})`;
  const sources = zero
    ? [
        ...law.provenance.filter(({ quantity }) => !quantity.includes("flux density")),
        zero.provenance,
      ]
    : law.provenance;
  return {
    ...box(label, wavelength, width, zero?.value ?? own, field, sources),
    ...(zero === undefined && { system: law.sample }),
  };
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
    throw new FieldError(`${field}.width`, "less than twice the wavelength", width);
  }
  const photons = fluxDensity / (planck * wavelength);
  return {
    name,
    from: wavelength - width / 2,
    to: wavelength + width / 2,
    transmission: readTransmission(field, 1),
    photons: () => photons,
    provenance,
  };
}

function zeroPoint(
  value: unknown,
  catalogue: Catalogue,
  field: string,
): { readonly value: number; readonly provenance: Provenance } {
  if (value === "AB") {
    const law = catalogue.laws("loads", "photometric-bands").find((each) => each.property === "AB");
    return law!.parameters.get("flux_density")!;
  }
  if (typeof value === "string") throw new UnknownNameError(field, "zero point", value, ["AB"]);
  const density = positiveNumber(field, value, `"AB" or a flux density in W/(m² Hz)`);
  return { value: density, provenance: given(field, density, "W/(m^2 Hz)") };
}

/** Name of a night on file: `dark`, `half moon`, `full moon`. */
export type Night = "dark" | "half moon" | "full moon";

/**
 * Brightness of the night sky at the zenith of a good site, in Vega magnitudes a square arcsecond;
 * airglow and, for K, heat are in it. Sources: data/loads/sky-brightness.csv.
 * @param band - of the bessell system
 * @throws FieldError, UnknownNameError listing what is on file
 */
export function skyBrightness(
  night: Night,
  band: PhotometricBand,
  catalogue: Catalogue = standardCatalogue(),
  field = "sky",
): {
  readonly value: number;
  /** Sources of the numbers that enter. */
  readonly provenance: Provenance;
} {
  const skies = catalogue.laws("loads", "sky-brightness");
  const nights = [...new Set(skies.map((law) => law.sample))];
  if (!nights.includes(night)) throw new UnknownNameError(field, "night", night, nights);
  const known = skies.filter((law) => law.sample === night);
  const name = band.name.split(" ")[0];
  const law = band.system === "bessell" ? known.find((each) => each.property === name) : undefined;
  if (!law) {
    const bands = known.map((each) => each.property).join(", ");
    throw new FieldError(
      field,
      `a number of magnitudes a square arcsecond (nights by name are on file for ${bands} of bessell)`,
      `${night} in ${band.name}`,
    );
  }
  return law.parameters.get("magnitude")!;
}

function parameterOf(law: LawRecord, parameter: string): number {
  const found = law.parameters.get(parameter);
  if (found) return found.value;
  throw new FieldError(`photometric-bands.csv: ${law.property}`, `a row ${parameter}`, "none");
}

/** Energy of a photon, hc/λ [J]. */
export function photonEnergy(wavelength: number): number {
  return (planck * speedOfLight) / wavelength;
}
