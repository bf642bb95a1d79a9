/**
 * Electrons to phonons inside a metal film.
 * @module
 */
import { type Conductor, powerConductor } from "../conductor.js";
import { standardCatalogue } from "../materials/standard.js";
import type { Catalogue, ElectronPhononCoupling } from "../materials/types.js";
import { given } from "../provenance.js";
import * as read from "../units/fields.js";
import type { Area, Length, RareQuantity } from "../units/quantity.js";
import type { Uncertain } from "../units/spread.js";
import { alike } from "./combine.js";
import { type Volume, volumes } from "./heat-store.js";

type CouplingUnit = `${"W/(m^3" | "nW/(um^3"} K^${number})`;

/** A coupling that was measured or assumed: P = ΣV(Tₑⁿ − Tₚⁿ). */
export interface GivenCoupling {
  /** Σ: W/(m³ Kⁿ), or a string such as `"2 nW/(um^3 K^5)"`. */
  readonly coefficient: Uncertain<RareQuantity<CouplingUnit>>;
  /** n, 3 to 8 */
  readonly exponent: Uncertain<number>;
}

/** A metal film or block: its area and thickness, or its volume. */
export type ElectronPhonon = {
  /** Name in the catalogue. */
  readonly metal: string;
  /** Which measured coupling, where the catalogue has more than one. */
  readonly sample?: string;
  /** Your own coupling in place of the catalogue's. */
  readonly coupling?: GivenCoupling;
  /** How many alike side by side, 1 by default. */
  readonly count?: number;
} & (
  | {
      /** Area of the film [m²]. */
      readonly area: Uncertain<Area>;
      /** Thickness of the film [m]. */
      readonly thickness: Uncertain<Length>;
    }
  | {
      /** Volume of the film. */
      readonly volume: Uncertain<Volume>;
    }
);

const exponent = read.number("a number from 3 to 8", (n) => n >= 3 && n <= 8);

/** Reads a coupling. The unit of its coefficient follows from the exponent, of a spread from the median. */
export const couplingField: read.Field<GivenCoupling> = {
  read(written, at, visit) {
    const anything: read.Field<GivenCoupling["coefficient"]> = { read: () => 1 };
    const fields = { coefficient: anything, exponent };
    const { exponent: n } = read.object<GivenCoupling>(fields).read(written, at);
    const power = Number(n.toPrecision(3));
    const coefficient = read.aboveZeroIn<CouplingUnit>(
      `W/(m^3 K^${power})`,
      `nW/(um^3 K^${power})`,
    );
    return read.object<GivenCoupling>({ coefficient, exponent }).read(written, at, visit);
  },
};

const common = {
  metal: read.text,
  sample: read.optional(read.text),
  coupling: read.optional(couplingField),
  count: read.optional(read.count),
};

const fields = read.oneForm<ElectronPhonon>()({
  area: { ...common, area: read.quantity("area"), thickness: read.quantity("length") },
  volume: { ...common, volume: read.rareQuantity(volumes) },
});

/**
 * Heat path between the electrons of a metal and its phonons: P = ΣV(Tₑⁿ − Tₚⁿ).
 *
 * n = 5 in a clean bulk metal; thin disordered films show 4.5 to 6. Σ is known to a factor of about
 * two. Not included: phonons of a film thinner than their wavelength.
 * Source: F. Giazotto, T. T. Heikkilä, A. Luukanen, A. M. Savin and J. P. Pekola, Rev. Mod. Phys. 78,
 * 217 (2006), section II and table I.
 * @param field - path of the film in the user's description, for errors
 * @throws FieldError, UnknownNameError
 */
export function electronPhonon(
  options: ElectronPhonon,
  catalogue: Catalogue = standardCatalogue(),
  field = "electronPhonon",
): Conductor {
  const plain = fields.read(options, field);
  const volume = "volume" in plain ? plain.volume : plain.area * plain.thickness;
  const { coefficient, exponent, ranges, provenance } = plain.coupling
    ? givenCoupling(plain.coupling, `${field}.coupling`)
    : catalogue.material(plain.metal, `${field}.metal`).electronPhononCoupling(plain.sample);
  const film = powerConductor(coefficient * volume, exponent, { ranges, provenance });
  return alike(field, plain.count, film, [["volume", volume, "m^3"]]);
}

function givenCoupling(
  { coefficient, exponent }: read.Plain<GivenCoupling>,
  field: string,
): ElectronPhononCoupling {
  return {
    coefficient,
    exponent,
    ranges: [],
    provenance: [
      given(`${field}: coefficient`, coefficient, `W/(m^3 K^${exponent})`),
      given(`${field}: exponent`, exponent, ""),
    ],
  };
}
