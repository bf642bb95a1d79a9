/**
 * What may join two dies, as users write it: bumps, glue, or pressed faces.
 * @module
 */
import { boundaryField, type GivenBoundary, type MeasuredBoundary } from "../../joints/boundary.js";
import { glueForms } from "../../joints/glue.js";
import { type ConductivityOptions, conductivityFields } from "../../materials/options.js";
import * as read from "../../units/fields.js";
import type { Area, Length } from "../../units/quantity.js";
import type { Uncertain } from "../../units/spread.js";
import type { LayerGlue, TableGlue } from "./glue.js";
import { jointField, type StageJoint } from "./joint.js";
import { type Placed, placedFields } from "./spots.js";
import type { WithStack } from "./stack.js";

/** Where bumps stand: at `places`, or in rows over the face that both dies share. */
export interface BumpPlaces extends Placed {
  /** Diameter of a bump [m]. */
  readonly diameter: Uncertain<Length>;
  /** How many; with `pitch` alone as many as fit on the shared face. */
  readonly count?: number;
  /** From middle to middle, across and along [m]; spread evenly when absent. */
  readonly pitch?: Uncertain<Length>;
}

/**
 * Bumps of a metal of the catalogue. Where it superconducts, as indium does below 3.4 K, phonons alone carry
 * heat far below its critical temperature.
 */
export interface MetalBumps extends BumpPlaces, ConductivityOptions {
  /** Metal, by its name in the catalogue. */
  readonly material: string;
  /** Height, from die to die [m]. */
  readonly height: Uncertain<Length>;
  /** How heat passes from each die into the metal: as for a film, by diffuse mismatch when absent. */
  readonly boundary?: "diffuse mismatch" | MeasuredBoundary | GivenBoundary;
}

/** Bumps by a measurement of the catalogue, with their faces: data/joints/glue.csv. */
export interface MeasuredBumps extends BumpPlaces {
  /** Name there, for example `"indium bumps"`. */
  readonly measured: string;
  /** Which measurement, where there is more than one. */
  readonly sample?: string;
  /** Height [m]; for the heat that they store. */
  readonly height?: Uncertain<Length>;
  /** Material of the catalogue whose heat capacity they have; without it no heat of them is counted in time. */
  readonly heatOf?: string;
}

/** Bumps between two dies. */
export type Bumps = MetalBumps | MeasuredBumps;

/** Glue of the catalogue's table between two dies; over all of the shared face where no area is given. */
export interface TableDieGlue extends Omit<TableGlue, "area"> {
  /** Area of one spot [m²]. */
  readonly area?: Uncertain<Area>;
}

/** Glue or solder of a material of the catalogue between two dies, likewise. */
export interface LayerDieGlue extends Omit<LayerGlue, "area"> {
  /** Area of one spot [m²]. */
  readonly area?: Uncertain<Area>;
}

/** Which dies a joint is between. */
export interface BetweenDies {
  /** Shown in the budget; by default `bumps, chip to carrier` or the like. */
  readonly name?: string;
  /** The upper die, by its name in `dies`; the mount's own is `"die"`. */
  readonly from: string;
  /** The lower die, likewise. */
  readonly to: string;
  /** Which face of the upper die is joined: with bumps its `"front"`, else its `"back"` when absent. */
  readonly fromFace?: "front" | "back";
  /** Which face of the lower die; `"front"` when absent. */
  readonly toFace?: "front" | "back";
}

/** Bumps between two dies, as in a flip chip; places are from the lower left corner of the upper die. */
export interface BumpsBetween extends BetweenDies {
  /** The bumps. */
  readonly bumps: Bumps;
}

/** Glue between two dies; places likewise. */
export interface GlueBetween extends BetweenDies {
  /** The glue. */
  readonly glue: TableDieGlue | LayerDieGlue;
}

/** Two dies pressed on each other, or joined as measured, over all of the shared face. */
export interface JointBetween extends BetweenDies {
  /** Pressed faces and their whole force, or a measured joint. */
  readonly joint: StageJoint;
}

/** What joins two dies. */
export type DieJoint = BumpsBetween | GlueBetween | JointBetween;

/** What of a mount says what joins its dies. */
export interface WithBetween extends WithStack {
  readonly between?: readonly read.Plain<DieJoint>[];
}

const dieField = read.oneOf("front", "back");
const common: read.FieldsOf<BetweenDies> = {
  name: read.optional(read.text),
  from: read.text,
  to: read.text,
  fromFace: read.optional(dieField),
  toFace: read.optional(dieField),
};
const bumpPlaces: read.FieldsOf<BumpPlaces> = {
  ...placedFields,
  diameter: read.quantity("length"),
  count: read.optional(read.count),
  pitch: read.optional(read.quantity("length")),
};
const bumps = read.oneForm<Bumps>()({
  material: read.object<MetalBumps>({
    ...bumpPlaces,
    ...conductivityFields,
    material: read.text,
    height: read.quantity("length"),
    boundary: read.optional(
      read.either(read.isOneValue, read.oneOf("diffuse mismatch"), boundaryField),
    ),
  }),
  measured: read.object<MeasuredBumps>({
    ...bumpPlaces,
    measured: read.text,
    sample: read.optional(read.text),
    height: read.optional(read.quantity("length")),
    heatOf: read.optional(read.text),
  }),
});
const { between: _, ...layerFields } = glueForms.material;
const area = read.optional(read.quantity("area"));
const glue = read.oneForm<TableDieGlue | LayerDieGlue>()({
  glue: read.object<TableDieGlue>({
    ...glueForms.glue,
    ...placedFields,
    area,
    heatOf: read.optional(read.text),
  }),
  material: read.object<LayerDieGlue>({
    ...layerFields,
    ...placedFields,
    area,
    boundary: read.optional(read.oneOf("diffuse mismatch")),
  }),
});

/** The field `between` of a mount. */
export const dieJoints: read.Field<readonly DieJoint[]> = read.list(
  read.oneForm<DieJoint>()({
    bumps: read.object<BumpsBetween>({ ...common, bumps }),
    glue: read.object<GlueBetween>({ ...common, glue }),
    joint: read.object<JointBetween>({ ...common, joint: jointField }),
  }),
  "a list of what joins two dies",
  1,
);

/** By which key it is told apart. */
export const kindOf = (own: read.Plain<DieJoint>) =>
  "bumps" in own ? "bumps" : "glue" in own ? "glue" : "joint";
/** As the budget shows it. */
export const nameOf = (own: read.Plain<DieJoint>) =>
  own.name ?? `${kindOf(own)}, ${own.from} to ${own.to}`;
/** Which faces it joins. */
export const facesOf = (own: read.Plain<DieJoint>) => ({
  from: own.fromFace ?? ("bumps" in own ? "front" : "back"),
  to: own.toFace ?? "front",
});
