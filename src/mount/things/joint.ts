/**
 * The bolted joint between box and stage, and joints like it.
 * @module
 */
import type { Conductor } from "../../conductor.js";
import { givenJoint } from "../../joints/given.js";
import { pressedJoint } from "../../joints/pressed-joint.js";
import type { Catalogue } from "../../materials/types.js";
import {
  count,
  type Field,
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

/** A joint between two bodies: pressed faces, a measured resistance, or a measured conductance. */
export type StageJoint = PressedFaces | ResistiveJoint | MeasuredJoint;

export const jointField: Field<StageJoint> = oneForm<StageJoint>()({
  resistance: object<ResistiveJoint>({
    resistance: quantity("resistance"),
    count: optional(count),
  }),
  conductance: object<MeasuredJoint>({
    conductance: quantity("conductance"),
    at: quantity("temperature"),
    exponent: optional(number("a number from 0 to 6", (n) => n >= 0 && n <= 6)),
    count: optional(count),
  }),
  faces: object<PressedFaces>({ faces: text, force: quantity("force"), count: optional(count) }),
});

/** One of such joints. @param field - its path in the mount, for errors */
export function stageJoint(
  { count: _, ...own }: Plain<StageJoint>,
  field: string,
  catalogue: Catalogue,
): Conductor {
  return "conductance" in own ? givenJoint(own, field) : pressedJoint(own, catalogue, field);
}

/** A joint as a drawing says it. */
export function jointWords(own: Plain<StageJoint>): readonly string[] {
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

/** What the joint to the stage reads of a mount. */
interface WithJoint {
  readonly path?: readonly { readonly name: string }[];
  readonly joint: Plain<StageJoint>;
}

/** The place behind a piece of the path from box to stage. */
export function placeBehind({ name }: { readonly name: string }) {
  return { shared: `end of ${name}` as const };
}

/** Where the joint to the stage begins. */
function endOfPath({ path = [] }: WithJoint) {
  const last = path.at(-1);
  return last ? placeBehind(last) : boxByBolts;
}

export const joint: Thing<StageJoint, WithJoint> = {
  field: jointField,
  parts: (whole) => ({
    paths: [
      {
        name: "joint to the stage",
        from: endOfPath(whole),
        to: stageEnd,
        conductor: (mount, catalogue) => stageJoint(mount.joint, "joint", catalogue),
        count: (mount) => mount.joint.count ?? 1,
      },
    ],
  }),
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
