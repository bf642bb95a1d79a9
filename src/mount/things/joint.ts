/**
 * The bolted joint between box and stage, and joints like it.
 * @module
 */
import type { Conductor } from "../../conductor.js";
import { type GivenJoint, givenJoint, givenJointField } from "../../joints/given.js";
import { type PressedJoint, pressedForms, pressedJoint } from "../../joints/pressed-joint.js";
import { type Screws, screwForce, screwsField } from "../../joints/screws.js";
import type { Catalogue } from "../../materials/types.js";
import * as read from "../../units/fields.js";
import { formatGiven } from "../../units/format.js";
import { boxByBolts, stageEnd, type Thing } from "../thing.js";
import { times } from "./film.js";

/** Faces that screws press on each other, by the torque that tightened them. */
export interface ScrewedFaces {
  /** Pair of faces of data/joints/pressed.csv. */
  readonly faces: string;
  /** Which measurement, where the table has more than one of this pair. */
  readonly sample?: string;
  /** The screws: of box, back or body each presses a joint of its own, on a clamp their forces add up. */
  readonly screws: Screws;
}

/**
 * A joint between two bodies: faces pressed by a force or by screws, a measured resistance, or a measured
 * conductance.
 */
export type StageJoint = PressedJoint | ScrewedFaces | GivenJoint;

export const jointField: read.Field<StageJoint> = read.oneForm<StageJoint>()({
  resistance: pressedForms.resistance,
  conductance: givenJointField,
  faces: read.either(
    read.has("screws"),
    read.object<ScrewedFaces>({
      faces: read.text,
      sample: read.optional(read.text),
      screws: screwsField,
    }),
    pressedForms.faces,
  ),
});

type Uncounted<J> = J extends unknown ? Omit<J, "count"> : never;
/** One joint, in any of its forms. */
export type OneJoint = Uncounted<StageJoint>;

/** Reads one joint, for what says by itself how many there are. */
export const oneJointField: read.Field<OneJoint> = {
  names: jointField.names!.filter((name) => name !== "count"),
  read: (written, at, visit) => jointField.read(written, at, visit) as read.Plain<OneJoint>,
};

/** How many joints stand side by side: as many as there are screws. */
export function jointCount(own: read.Plain<StageJoint>): number {
  return ("screws" in own ? own.screws.count : own.count) ?? 1;
}

/**
 * One joint.
 * @param field - its path in the mount, for errors
 * @param screws - how many press it together
 */
export function oneJoint(
  own: read.Plain<OneJoint>,
  field: string,
  catalogue: Catalogue,
  screws = 1,
): Conductor {
  if ("conductance" in own) return givenJoint(own, field);
  if (!("screws" in own)) return pressedJoint(own, catalogue, field);
  const { screws: written, ...faces } = own;
  const { cold, provenance } = screwForce(written, catalogue, `${field}.screws`);
  const joint = pressedJoint({ ...faces, force: screws * cold }, catalogue, field);
  return { ...joint, provenance: [...provenance, ...(joint.provenance ?? [])] };
}

/** One of such joints. @param field - its path in the mount, for errors */
export function stageJoint(
  own: read.Plain<StageJoint>,
  field: string,
  catalogue: Catalogue,
): Conductor {
  if ("screws" in own) return oneJoint(own, field, catalogue);
  const { count: _, ...one } = own;
  return oneJoint(one, field, catalogue);
}

/** A path through such joints. @param field - its path in the mount, for errors */
export const throughJoint = <M>(of: (mount: M) => read.Plain<StageJoint>, field: string) => ({
  conductor: (mount: M, catalogue: Catalogue) => stageJoint(of(mount), field, catalogue),
  count: (mount: M) => jointCount(of(mount)),
});

/** What is odd about the screws of a joint, in words. */
export function screwWarnings(
  own: read.Plain<OneJoint>,
  field: string,
  catalogue: Catalogue,
): readonly string[] {
  return "screws" in own ? screwForce(own.screws, catalogue, `${field}.screws`).warnings : [];
}

/** Screws as a drawing says them: `4 M3 screws, 0.6 N m each`. */
export function screwWords({ size, torque, count: total = 1 }: read.Plain<Screws>): string {
  return `${times(total, `${size} screw`)}, ${formatGiven(torque, "N m")}${total > 1 ? " each" : ""}`;
}

/** A joint as a drawing says it. */
export function jointWords(own: read.Plain<StageJoint>): readonly string[] {
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

/** What the joint to the stage reads of a mount. */
interface WithJoint {
  readonly path?: readonly { readonly name: string }[];
  readonly joint: read.Plain<StageJoint>;
}

/** The place behind a piece of the path from box to stage. */
export function placeBehind({ name }: { readonly name: string }) {
  return { shared: `end of ${name}` as const };
}

export const joint: Thing<StageJoint, WithJoint> = {
  field: jointField,
  parts: ({ path = [] }) => ({
    paths: [
      {
        name: "joint to the stage",
        from: path.length > 0 ? placeBehind(path.at(-1)!) : boxByBolts,
        to: stageEnd,
        ...throughJoint(({ joint: own }: WithJoint) => own, "joint"),
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
