/**
 * Two faces pressed or bolted together.
 * @module
 */
import {
  type Conductor,
  type PowerTerm,
  powerConductor,
  type TemperatureRange,
} from "../conductor.js";
import { standardCatalogue } from "../materials/standard.js";
import type { Catalogue } from "../materials/types.js";
import type { Provenance } from "../provenance.js";
import { anObject, positive } from "../units/checks.js";
import { FieldError } from "../units/errors.js";
import type { Force, Resistance } from "../units/quantity.js";
import { alike } from "./alike.js";
import { recordOf } from "./laws.js";
import { wiedemannFranz } from "./wire-bond.js";

/** A joint from the table by its pair of faces, or by its measured electrical resistance. */
export type PressedJoint = {
  /** How many alike side by side, 1 by default. */
  readonly count?: number;
} & (
  | {
      /** Pair of faces, as in data/joints/pressed.csv: `gold-plated copper on gold-plated copper`. */
      readonly faces: string;
      /** Force that presses one joint [N]. */
      readonly force: Force;
      /** Which measurement, where the table has more than one of this pair. */
      readonly sample?: string;
    }
  | {
      /** Electrical resistance of one joint, measured at low temperature [Ω]. Metal on metal only. */
      readonly resistance: Resistance;
    }
);

/** Published law of a pair of faces: G = G₁ (F/F₁)ᵐ (T/1 K)ⁿ. */
export interface PressedLaw {
  /** G₁, at 1 K and F₁ [W/K] */
  readonly conductance: number;
  /** F₁ [N] */
  readonly referenceForce: number;
  /** m */
  readonly forceExponent: number;
  /** n */
  readonly temperatureExponent: number;
  readonly range: TemperatureRange;
  readonly provenance: readonly Provenance[];
}

/**
 * Heat path through pressed joints: G = G₁ (F/F₁)ᵐ (T/1 K)ⁿ, or by Wiedemann and Franz from a
 * measured resistance: G = L₀T/R.
 *
 * G depends on the force, not on the area: heat passes where the highest points touch. m follows
 * from the physics where a source has one force only (0.95 for metals: M. G. Cooper, B. B. Mikic and
 * M. M. Yovanovich, Int. J. Heat Mass Transfer 12, 279 (1969); 2/3 for a ball on a plane: H. Hertz).
 * Joints of one recipe differ by a factor of two; a resistance measured cold is worth more.
 * @param field - path of the joint in the user's description, for errors
 * @throws FieldError, UnknownNameError listing the pairs on hand
 */
export function pressedJoint(
  options: PressedJoint,
  catalogue?: Catalogue,
  field = "pressedJoint",
): Conductor {
  anObject(field, options);
  const { faces, force, sample, resistance } = options as Partial<
    Extract<PressedJoint, { faces: string }> & Extract<PressedJoint, { resistance: Resistance }>
  >;
  if ((faces === undefined) === (resistance === undefined)) {
    throw new FieldError(
      field,
      "either faces with a force, or a measured resistance",
      faces === undefined ? "neither" : "both",
    );
  }
  if (faces === undefined) {
    const ohms = positive(`${field}.resistance`, resistance, "resistance");
    return alike(field, options.count, powerConductor(wiedemannFranz(ohms), 2), [
      ["electrical resistance", ohms, "ohm"],
    ]);
  }
  const newtons = positive(`${field}.force`, force, "force");
  const law = pressedLaw(faces, sample, catalogue ?? standardCatalogue(), field);
  const { coefficient, exponent } = pressedTerm(law, newtons);
  const share = (newtons / law.referenceForce).toPrecision(2);
  const one = powerConductor(coefficient, exponent, {
    ranges: [law.range],
    provenance: law.provenance,
  });
  return alike(field, options.count, one, [
    ["force", newtons, "N", `${share} times the force of the source`],
  ]);
}

/**
 * The published law of a pair of faces.
 * @throws UnknownNameError, or FieldError when more than one sample fits
 */
export function pressedLaw(
  faces: string,
  sample: string | undefined,
  catalogue: Catalogue,
  field: string,
): PressedLaw {
  const { value, range, provenance } = recordOf(
    { kind: "pressed", key: "faces", what: "pair of faces", name: faces, sample },
    catalogue,
    field,
  );
  return {
    conductance: value("conductance", "W/K"),
    referenceForce: value("reference_force", "N"),
    forceExponent: value("force_exponent", ""),
    temperatureExponent: value("temperature_exponent", ""),
    range,
    provenance,
  };
}

/**
 * Θ of one joint: G₁ (F/F₁)ᵐ Tⁿ⁺¹/(n + 1).
 * @param force - F [N]
 */
export function pressedTerm(law: PressedLaw, force: number): PowerTerm {
  const exponent = law.temperatureExponent + 1;
  const atOneKelvin = law.conductance * (force / law.referenceForce) ** law.forceExponent;
  return { coefficient: atOneKelvin / exponent, exponent };
}
