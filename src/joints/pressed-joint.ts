/**
 * Two faces pressed or bolted together.
 * @module
 */
import { type Conductor, powerConductor } from "../conductor.js";
import { standardCatalogue } from "../materials/standard.js";
import type { Catalogue } from "../materials/types.js";
import { count, object, oneForm, optional, quantity, text } from "../units/fields.js";
import type { Force, Resistance } from "../units/quantity.js";
import type { Uncertain } from "../units/spread.js";
import { alike } from "./combine.js";
import { recordOf } from "./laws.js";
import { wiedemannFranz } from "./wire-bond.js";

/** Faces that are pressed on each other, as by a bolt. */
export interface PressedFaces {
  /** Pair of faces, as in data/joints/pressed.csv: `gold-plated copper on gold-plated copper`. */
  readonly faces: string;
  /** Force that presses one joint [N]. */
  readonly force: Uncertain<Force>;
  /** Which measurement, where the table has more than one of this pair. */
  readonly sample?: string;
  /** How many alike side by side, such as bolts; 1 by default. */
  readonly count?: number;
}

/** A joint by its electrical resistance, measured cold: the heat follows Wiedemann and Franz. */
export interface ResistiveJoint {
  /** Electrical resistance of one joint, measured at low temperature [Ω]. Metal on metal only. */
  readonly resistance: Uncertain<Resistance>;
  /** How many alike side by side, 1 by default. */
  readonly count?: number;
}

/** A joint from the table by its pair of faces, or by its measured electrical resistance. */
export type PressedJoint = PressedFaces | ResistiveJoint;

/** Reads either form of a joint. */
export const pressedForms = {
  faces: object<PressedFaces>({
    faces: text,
    force: quantity("force"),
    sample: optional(text),
    count: optional(count),
  }),
  resistance: object<ResistiveJoint>({
    resistance: quantity("resistance"),
    count: optional(count),
  }),
};
const fields = oneForm<PressedJoint>()(pressedForms);

/**
 * Heat path through pressed joints: G = G₁ (F/F₁)ᵐ (T/1 K)ⁿ, or by Wiedemann and Franz from a
 * measured resistance: G = L₀T/R.
 *
 * G depends on the force, not on the area: heat passes where the highest points touch. m follows
 * from the physics where a source has one force only (0.95 for metals: M. G. Cooper, B. B. Mikic and
 * M. M. Yovanovich, Int. J. Heat Mass Transfer 12, 279 (1969); 2/3 for a ball on a plane: H. Hertz).
 * Joints of one recipe differ by a factor of two; a resistance measured cold is worth more. Outside the
 * forces that the source measured at (`force_from`, `force_to`) the law is continued, and `ranges` tells.
 * @param field - path of the joint in the user's description, for errors
 * @throws FieldError, UnknownNameError listing the pairs on hand
 */
export function pressedJoint(
  options: PressedJoint,
  catalogue?: Catalogue,
  field = "pressedJoint",
): Conductor {
  const plain = fields.read(options, field);
  if ("resistance" in plain) {
    const { resistance, count } = plain;
    return alike(field, count, powerConductor(wiedemannFranz(resistance), 2), [
      ["electrical resistance", resistance, "ohm"],
    ]);
  }
  const { faces: name, force, sample, count } = plain;
  const { value, range, rangeOf, provenance } = recordOf(
    { kind: "pressed", key: "faces", what: "pair of faces", name, sample },
    catalogue ?? standardCatalogue(),
    field,
  );
  const conductance = value("conductance", "W/K");
  const share = force / value("reference_force", "N");
  const atOneKelvin = conductance * share ** value("force_exponent", "");
  const exponent = value("temperature_exponent", "") + 1;
  const ranges = [range, rangeOf({ quantity: "force", value: force, unit: "N" })];
  const one = powerConductor(atOneKelvin / exponent, exponent, { ranges, provenance });
  return alike(field, count, one, [
    ["force", force, "N", `${share.toPrecision(2)} times the force of the source`],
  ]);
}
