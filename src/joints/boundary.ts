/**
 * The boundary between two solids (Kapitza resistance).
 * @module
 */
import { type Backing, type Conductor, powerConductor } from "../conductor.js";
import { standardCatalogue } from "../materials/standard.js";
import type { Catalogue, SoundSpeeds } from "../materials/types.js";
import { given } from "../provenance.js";
import { boltzmann, reducedPlanck } from "../units/constants.js";
import * as read from "../units/fields.js";
import type { Area, RareQuantity } from "../units/quantity.js";
import type { Uncertain } from "../units/spread.js";
import { alike } from "./combine.js";
import { recordOf } from "./laws.js";

/** A boundary: computed between two materials, measured, or given by hand. */
export type Boundary = {
  /** Area that touches [m²]. */
  readonly area: Uncertain<Area>;
  /** How many alike side by side, 1 by default. */
  readonly count?: number;
} & (
  | {
      /** Names of the two materials: diffuse mismatch from their speeds of sound. */
      readonly between: readonly [string, string];
    }
  | MeasuredBoundary
  | GivenBoundary
);

/** A boundary that was measured. */
export interface MeasuredBoundary {
  /** Name in data/joints/boundary.csv, for example `metal on sapphire`. */
  readonly measured: string;
  /** Which of the catalogue's samples of it, by name. */
  readonly sample?: string;
}

/** A boundary whose resistance is given. */
export interface GivenBoundary {
  /** r = R_B T³ [m² K⁴/W]; 1 cm² K⁴/W is 1e-4. */
  readonly resistance: Uncertain<BoundaryResistance>;
}

/** R_B T³ of a boundary: m² K⁴/W, or a string such as `"20 cm^2 K^4/W"`. */
export type BoundaryResistance = RareQuantity<"m^2 K^4/W" | "cm^2 K^4/W">;

/** Reads R_B T³ of a boundary. */
export const boundaryResistance = read.rareQuantity<"m^2 K^4/W" | "cm^2 K^4/W">({
  units: ["m^2 K^4/W", "cm^2 K^4/W"],
  words: 'a boundary resistance times T³ such as "20 cm^2 K^4/W" or a number in m^2 K^4/W',
});

const measured: read.FieldsOf<MeasuredBoundary> = {
  measured: read.text,
  sample: read.optional(read.text),
};
const resistance: read.FieldsOf<GivenBoundary> = { resistance: boundaryResistance };
/** Reads a boundary that is not computed. */
export const boundaryField = read.oneForm<MeasuredBoundary | GivenBoundary>()({
  measured,
  resistance,
});

const common = { area: read.quantity("area"), count: read.optional(read.count) };

const fields = read.oneForm<Boundary>()({
  between: { ...common, between: read.pair(read.text, read.text, "the names of two materials") },
  measured: { ...common, ...measured },
  resistance: { ...common, ...resistance },
});

/**
 * Heat path of phonons through a boundary: Q = A_B S (T₁⁴ − T₂⁴) = S (T₁⁴ − T₂⁴)/(4r), S its area.
 *
 * Holds while the phonons' wavelengths are long against the lattice, to about 30 K. Clean boundaries
 * are within some tens of percent of diffuse mismatch; damaged or half-touching ones are far off.
 * Source: E. T. Swartz and R. O. Pohl, Rev. Mod. Phys. 61, 605 (1989).
 * @param field - path of the boundary in the user's description, for errors
 * @throws FieldError, UnknownNameError
 */
export function boundary(options: Boundary, catalogue?: Catalogue, field = "boundary"): Conductor {
  const plain = fields.read(options, field);
  const { resistance, ranges, provenance } = lawOf(plain, catalogue, field);
  const one = powerConductor(boundaryCoefficient(resistance, plain.area), 4, {
    ranges,
    provenance,
  });
  return alike(field, plain.count, one, [["area", plain.area, "m^2"]]);
}

/**
 * Diffuse mismatch far below the Debye temperatures: q = A_B (T₁⁴ − T₂⁴),
 *   A_B = π²k_B⁴/(120ħ³) · S₁S₂/(S₁ + S₂),  S = c_l⁻² + 2c_t⁻².
 * Symmetric in the two materials. Between two pieces of one material it gives half
 * the blackbody flow, since the model does not keep track of the side from which a phonon came.
 * Source: E. T. Swartz and R. O. Pohl, Rev. Mod. Phys. 61, 605 (1989), section on the diffuse
 * mismatch model.
 * @param a - speeds of sound on the one side [m/s]
 * @param b - and on the other
 * @returns A_B [W/(m² K⁴)]
 */
export function diffuseMismatch(
  a: Pick<SoundSpeeds, "longitudinal" | "transverse">,
  b: Pick<SoundSpeeds, "longitudinal" | "transverse">,
): number {
  // The part S₂/(S₁ + S₂) of what meets the boundary from the first side passes.
  const [one, other] = [phononRadiation(a), phononRadiation(b)];
  return (one * other) / (one + other);
}

/**
 * What phonons bring to a wall of the solid that they are in: q = σ T⁴, σ = π²k_B⁴/(120ħ³) Σ c⁻².
 * Silicon: 211 W/(m² K⁴). Source: as for `diffuseMismatch`.
 * @param speeds - of sound [m/s]
 * @returns σ [W/(m² K⁴)]
 */
export function phononRadiation({
  longitudinal,
  transverse,
}: Pick<SoundSpeeds, "longitudinal" | "transverse">): number {
  const flow = (Math.PI ** 2 * boltzmann ** 4) / (120 * reducedPlanck ** 3);
  return flow * (longitudinal ** -2 + 2 * transverse ** -2);
}

/** Largest share of what meets a boundary that passes it here: a measured one may seem to pass more. */
const mostPassed = 0.999;

/**
 * A boundary without what it takes a black wall to send out, 1/(1/A_B − 1/σ): what is left of it where the
 * phonons of the first side are followed in flight, since their exchange counts the rest. Of a boundary
 * that passes all that meets it nothing is left.
 * @param whole - Θ = A_B S T⁴, as `boundary` gives it
 * @param radiation - σ S of the first side [W/K⁴]
 */
export function behindRadiation(whole: Conductor, radiation: number): Conductor {
  const { coefficient } = whole.powers![0]!;
  const passed = Math.min(mostPassed, coefficient / radiation);
  const { ranges = [], provenance = [] } = whole;
  return powerConductor((radiation * passed) / (1 - passed), 4, { ranges, provenance });
}

/** c of Θ = cT⁴: S/(4r). @param resistance - r = R_B T³ [m² K⁴/W] @param area - S [m²] */
export function boundaryCoefficient(resistance: number, area: number): number {
  return area / (4 * resistance);
}

function lawOf(
  plain: read.Plain<Boundary>,
  catalogue: Catalogue | undefined,
  field: string,
): Required<Backing> & { readonly resistance: number } {
  if ("resistance" in plain) {
    const { resistance } = plain;
    const provenance = [given(`${field}: resistance times T³`, resistance, "m^2 K^4/W")];
    return { resistance, ranges: [], provenance };
  }
  const materials = catalogue ?? standardCatalogue();
  if ("measured" in plain) {
    const { measured: name, sample } = plain;
    const wanted = { kind: "boundary", key: "measured", what: "boundary", name, sample };
    const { value, range, provenance } = recordOf(wanted, materials, field);
    return { resistance: value("boundary_resistance", "m^2 K^4/W"), ranges: [range], provenance };
  }
  const { between } = plain;
  const [a, b] = between.map((name, i) =>
    materials.material(name, `${field}.between[${i}]`).soundSpeeds(),
  ) as [SoundSpeeds, SoundSpeeds];
  return {
    resistance: 1 / (4 * diffuseMismatch(a, b)),
    ranges: [{ from: 0, to: 30, of: `${between.join(" on ")}: diffuse mismatch`, outside: "warn" }],
    provenance: [...a.provenance, ...b.provenance],
  };
}
