/**
 * The boundary between two solids (Kapitza resistance).
 * @module
 */
import { type Conductor, powerConductor, type TemperatureRange } from "../conductor.js";
import { standardCatalogue } from "../materials/standard.js";
import type { Catalogue, SoundSpeeds } from "../materials/types.js";
import { given, type Provenance } from "../provenance.js";
import { anObject, positive, positiveNumber } from "../units/checks.js";
import { boltzmann, reducedPlanck } from "../units/constants.js";
import { FieldError } from "../units/errors.js";
import type { Area } from "../units/quantity.js";
import { alike } from "./alike.js";
import { recordOf } from "./laws.js";

/** A boundary: computed between two materials, measured, or given by hand. */
export type Boundary = {
  /** Area that touches [m²]. */
  readonly area: Area;
  /** How many alike side by side, 1 by default. */
  readonly count?: number;
} & (
  | {
      /** Names of the two materials: diffuse mismatch from their speeds of sound. */
      readonly between: readonly [string, string];
    }
  | {
      /** Name in data/joints/boundary.csv, for example `metal on sapphire`. */
      readonly measured: string;
      /** Which of the catalogue's samples of it, by name. */
      readonly sample?: string;
    }
  | {
      /** r = R_B T³ [m² K⁴/W]; 1 cm² K⁴/W is 1e-4. */
      readonly resistance: number;
    }
);

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
  anObject(field, options);
  const area = positive(`${field}.area`, options.area, "area");
  const { resistance, ranges, provenance } = resistanceOf(options, catalogue, field);
  const one = powerConductor(boundaryCoefficient(resistance, area), 4, { ranges, provenance });
  return alike(field, options.count, one, [["area", area, "m^2"]]);
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
  const [s1, s2] = [a, b].map((v) => v.longitudinal ** -2 + 2 * v.transverse ** -2) as [
    number,
    number,
  ];
  const flow = (Math.PI ** 2 * boltzmann ** 4) / (120 * reducedPlanck ** 3);
  return (flow * s1 * s2) / (s1 + s2);
}

/** c of Θ = cT⁴: S/(4r). @param resistance - r = R_B T³ [m² K⁴/W] @param area - S [m²] */
export function boundaryCoefficient(resistance: number, area: number): number {
  return area / (4 * resistance);
}

interface BoundaryLaw {
  readonly resistance: number;
  readonly ranges: readonly TemperatureRange[];
  readonly provenance: readonly Provenance[];
}

function resistanceOf(
  options: Boundary,
  catalogue: Catalogue | undefined,
  field: string,
): BoundaryLaw {
  const { between, measured, resistance } = options as {
    between?: unknown;
    measured?: string;
    resistance?: number;
  };
  const ways = [between, measured, resistance].filter((each) => each !== undefined).length;
  if (ways !== 1) {
    throw new FieldError(field, "one of between, measured or resistance", `${ways} of them`);
  }
  if (measured !== undefined) {
    const { sample } = options as { sample?: string };
    const law = recordOf(
      { kind: "boundary", key: "measured", what: "boundary", name: measured, sample },
      catalogue ?? standardCatalogue(),
      field,
    );
    const resistance = law.value("boundary_resistance", "m^2 K^4/W");
    return { resistance, ranges: [law.range], provenance: law.provenance };
  }
  if (resistance !== undefined) {
    const wanted = "a boundary resistance times T³ in m² K⁴/W";
    const r = positiveNumber(`${field}.resistance`, resistance, wanted);
    const provenance = [given(`${field}: resistance times T³`, r, "m^2 K^4/W")];
    return { resistance: r, ranges: [], provenance };
  }
  if (!Array.isArray(between) || between.length !== 2) {
    throw new FieldError(`${field}.between`, "the names of two materials", between);
  }
  const materials = catalogue ?? standardCatalogue();
  const [a, b] = between.map((name, i) =>
    materials.material(name, `${field}.between[${i}]`).soundSpeeds(),
  ) as [SoundSpeeds, SoundSpeeds];
  return {
    resistance: 1 / (4 * diffuseMismatch(a, b)),
    ranges: [{ from: 0, to: 30, of: `${between.join(" on ")}: diffuse mismatch`, outside: "warn" }],
    provenance: [...a.provenance, ...b.provenance],
  };
}
