/**
 * The bolted joint between box and stage, and joints like it.
 * @module
 */
import type { Conductor } from "../../conductor.js";
import { givenJoint } from "../../joints/given.js";
import { pressedJoint } from "../../joints/pressed-joint.js";
import { type ScrewForce, type Screws, screwForce, screwsField } from "../../joints/screws.js";
import type { Catalogue } from "../../materials/types.js";
import {
  count,
  either,
  type Field,
  has,
  number,
  object,
  oneForm,
  optional,
  type Plain,
  quantity,
  text,
} from "../../units/fields.js";
import { formatGiven } from "../../units/format.js";
import type { Conductance, Force, Resistance, Temperature } from "../../units/quantity.js";
import type { Uncertain } from "../../units/spread.js";
import { boxByBolts, stageEnd, type Thing } from "../thing.js";
import { times } from "./film.js";

/** Faces that bolts press on each other. */
export interface PressedFaces {
  /** Pair of faces of data/joints/pressed.csv. */
  readonly faces: string;
  /** On each bolt [N]. */
  readonly force: Uncertain<Force>;
  /** Bolts; 1 when absent. */
  readonly count?: number;
}

/** Faces that screws press on each other, by the torque that tightened them. */
export interface ScrewedFaces {
  /** Pair of faces of data/joints/pressed.csv. */
  readonly faces: string;
  /** The screws, each of which presses a joint of its own. */
  readonly screws: Screws;
}

/** A joint by its electrical resistance, measured cold: the heat follows Wiedemann-Franz. */
export interface ResistiveJoint {
  /** Electrical resistance of the joint [Ω]. */
  readonly resistance: Uncertain<Resistance>;
  /** Such joints side by side; 1 when absent. */
  readonly count?: number;
}

/** A joint by its measured thermal conductance. */
export interface MeasuredJoint {
  /** Measured thermal conductance at the temperature `at` [W/K]. */
  readonly conductance: Uncertain<Conductance>;
  /** Temperature at which the conductance was measured [K]. */
  readonly at: Uncertain<Temperature>;
  /** G ∝ Tⁿ; 1 when absent, as for metals. */
  readonly exponent?: Uncertain<number>;
  /** Such joints side by side; 1 when absent. */
  readonly count?: number;
}

/**
 * A joint between two bodies: faces pressed by a force or by screws, a measured resistance, or a measured
 * conductance.
 */
export type StageJoint = PressedFaces | ScrewedFaces | ResistiveJoint | MeasuredJoint;

/** Fields of one joint in each of its forms. */
export const jointForms = {
  resistance: { resistance: quantity("resistance") },
  conductance: {
    conductance: quantity("conductance"),
    at: quantity("temperature"),
    exponent: optional(number("a number from 0 to 6", (n) => n >= 0 && n <= 6)),
  },
  force: { faces: text, force: quantity("force") },
  screws: { faces: text, screws: screwsField },
} as const;

const counted = { count: optional(count) };

export const jointField: Field<StageJoint> = oneForm<StageJoint>()({
  resistance: object<ResistiveJoint>({ ...jointForms.resistance, ...counted }),
  conductance: object<MeasuredJoint>({ ...jointForms.conductance, ...counted }),
  faces: either(
    has("screws"),
    object<ScrewedFaces>(jointForms.screws),
    object<PressedFaces>({ ...jointForms.force, ...counted }),
  ),
});

type Uncounted<J> = J extends unknown ? Omit<J, "count"> : never;
/** One joint, in any of its forms. */
export type OneJoint = Uncounted<StageJoint>;

/** How many joints stand side by side: as many as there are screws. */
export function jointCount(own: Plain<StageJoint>): number {
  return ("screws" in own ? own.screws.count : own.count) ?? 1;
}

/**
 * One joint.
 * @param field - its path in the mount, for errors
 * @param screws - how many press it together
 */
export function oneJoint(
  own: Plain<OneJoint>,
  field: string,
  catalogue: Catalogue,
  screws = 1,
): Conductor {
  if ("conductance" in own) return givenJoint(own, field);
  if (!("screws" in own)) return pressedJoint(own, catalogue, field);
  const { cold, provenance } = screwForce(own.screws, catalogue, `${field}.screws`);
  const joint = pressedJoint({ faces: own.faces, force: screws * cold }, catalogue, field);
  return { ...joint, provenance: [...provenance, ...(joint.provenance ?? [])] };
}

/** One of such joints. @param field - its path in the mount, for errors */
export function stageJoint(own: Plain<StageJoint>, field: string, catalogue: Catalogue): Conductor {
  if ("screws" in own) return oneJoint(own, field, catalogue);
  const { count: _, ...one } = own;
  return oneJoint(one, field, catalogue);
}

/** What is odd about the screws of a joint, in words. */
export function screwWarnings(
  own: Plain<OneJoint>,
  field: string,
  catalogue: Catalogue,
): ScrewForce["warnings"] {
  return "screws" in own ? screwForce(own.screws, catalogue, `${field}.screws`).warnings : [];
}

/** Screws as a drawing says them: `4 M3 screws, 0.6 N m each`. */
export function screwWords({ size, torque, count: total = 1 }: Plain<Screws>): string {
  return `${times(total, `${size} screw`)}, ${formatGiven(torque, "N m")}${total > 1 ? " each" : ""}`;
}

/** A joint as a drawing says it. */
export function jointWords(own: Plain<StageJoint>): readonly string[] {
  if ("screws" in own) return [own.faces, screwWords(own.screws)];
  const total = own.count ?? 1;
  const each = total > 1 ? " each" : "";
  if ("faces" in own) {
    return [own.faces, `${times(total, "bolt")}, ${formatGiven(own.force, "N")}${each}`];
  }
  if ("resistance" in own) {
    return [
      `${times(total, "joint")}, ${formatGiven(own.resistance, "ohm")}${each}`.replace("ohm", "Ω"),
    ];
  }
  return [
    `${times(total, "joint")}, ${formatGiven(own.conductance, "W/K")}${each} at ${formatGiven(own.at, "K")}`,
  ];
}

export const joint: Thing<StageJoint, { readonly joint: Plain<StageJoint> }> = {
  field: jointField,
  parts: () => ({
    paths: [
      {
        name: "joint to the stage",
        from: boxByBolts,
        to: stageEnd,
        conductor: (mount, catalogue) => stageJoint(mount.joint, "joint", catalogue),
        count: (mount) => jointCount(mount.joint),
      },
    ],
  }),
  warnings: (mount, catalogue) => screwWarnings(mount.joint, "joint", catalogue),
  drawn: ({ joint: own }) => [
    {
      kind: "joint",
      look: "joint",
      name: "joint to the stage",
      details: jointWords(own),
      places: [],
    },
  ],
};
