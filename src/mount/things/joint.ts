/**
 * The bolted joint between box and stage, and joints like it.
 * @module
 */
import type { Conductor } from "../../conductor.js";
import { type GivenJoint, givenJoint, givenJointField } from "../../joints/given.js";
import { type PressedJoint, pressedForms, pressedJoint } from "../../joints/pressed-joint.js";
import type { Catalogue } from "../../materials/types.js";
import { type Field, oneForm, type Plain } from "../../units/fields.js";
import { formatGiven } from "../../units/format.js";
import { boxByBolts, stageEnd, type Thing } from "../thing.js";
import { times } from "./film.js";

/** A joint between two bodies: pressed faces, a measured resistance, or a measured conductance. */
export type StageJoint = PressedJoint | GivenJoint;

export const jointField: Field<StageJoint> = oneForm<StageJoint>()({
  resistance: pressedForms.resistance,
  conductance: givenJointField,
  faces: pressedForms.faces,
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
