/**
 * What lies between the box and the stage beside their bolts: bars, straps, plates and joints, one after
 * the other from the box on. The joint to the stage comes last.
 * @module
 */
import type { Conductor } from "../../conductor.js";
import { heatStore } from "../../joints/heat-store.js";
import { radialSpreading } from "../../joints/spreading.js";
import { crossSection, strip } from "../../joints/strip.js";
import { purity, type UncertainPurity } from "../../materials/options.js";
import type { Catalogue } from "../../materials/types.js";
import { FieldError } from "../../units/errors.js";
import * as read from "../../units/fields.js";
import { formatGiven } from "../../units/format.js";
import type { Area, Length } from "../../units/quantity.js";
import type { Uncertain } from "../../units/spread.js";
import {
  boxByBolts,
  type HeatPath,
  type PlacedStore,
  pick,
  type SharedPlace,
  type Thing,
} from "../thing.js";
import { metres, purityWords, times } from "./film.js";
import {
  jointCount,
  jointField,
  jointWords,
  placeBehind,
  type StageJoint,
  screwWarnings,
  stageJoint,
} from "./joint.js";

/** What pieces of metal have. */
interface Piece {
  /** As the budget shows it; no two pieces have the same. */
  readonly name: string;
  /** Material, by its name in the catalogue. */
  readonly material: string;
  /** Purity: resistivity warm over residual, above 1. */
  readonly residualResistivityRatio?: UncertainPurity;
}

/** A bar, rod or finger. */
export interface PathBar extends Piece {
  readonly kind: "bar";
  /** Area that the heat crosses [m²]. */
  readonly crossSection: Uncertain<Area>;
  /** Along the heat [m]. */
  readonly length: Uncertain<Length>;
}

/** Strands side by side: a braid of wires, or foils. */
export interface PathStrap extends Piece {
  readonly kind: "strap";
  /** How many strands. */
  readonly strands: number;
  /** Of a round strand [m]. Give this, or `width` and `thickness` of a foil. */
  readonly diameter?: Uncertain<Length>;
  /** Of a foil [m]. */
  readonly width?: Uncertain<Length>;
  /** Of a foil [m]. */
  readonly thickness?: Uncertain<Length>;
  /** Along a strand [m]. */
  readonly length: Uncertain<Length>;
}

/** A plate in which heat spreads from a round foot outward. */
export interface PathPlate extends Piece {
  readonly kind: "plate";
  /** Thickness [m]. */
  readonly thickness: Uncertain<Length>;
  /** Radius at which the heat comes in [m]. */
  readonly innerRadius: Uncertain<Length>;
  /** Radius at which it leaves [m]. */
  readonly outerRadius: Uncertain<Length>;
}

/** A joint between two pieces, or of one with the box. */
export interface PathJoint {
  readonly kind: "joint";
  /** As the budget shows it; no two pieces have the same. */
  readonly name: string;
  /** Pressed faces, or a joint by its measured resistance or conductance. */
  readonly joint: StageJoint;
}

/** A piece of the way from box to stage. */
export type PathPiece = PathBar | PathStrap | PathPlate | PathJoint;

/** A mount as far as it has a path. */
export interface WithPath {
  readonly path?: readonly read.Plain<PathPiece>[];
}

const metal = {
  name: read.text,
  material: read.text,
  residualResistivityRatio: read.optional(purity),
} as const;

const pieces = read.list(
  read.byKind<PathPiece>({
    bar: read.object<PathBar>({
      kind: read.oneOf("bar"),
      ...metal,
      crossSection: read.quantity("area"),
      length: read.quantity("length"),
    }),
    strap: read.object<PathStrap>({
      kind: read.oneOf("strap"),
      ...metal,
      strands: read.count,
      diameter: read.optional(read.quantity("length")),
      width: read.optional(read.quantity("length")),
      thickness: read.optional(read.quantity("length")),
      length: read.quantity("length"),
    }),
    plate: read.object<PathPlate>({
      kind: read.oneOf("plate"),
      ...metal,
      thickness: read.quantity("length"),
      innerRadius: read.quantity("length"),
      outerRadius: read.quantity("length"),
    }),
    joint: read.object<PathJoint>({
      kind: read.oneOf("joint"),
      name: read.text,
      joint: jointField,
    }),
  }),
  "a list of pieces from the box to the stage",
);

/** Places behind the pieces, from the box on. */
export function pathPlaces({ path = [] }: WithPath): readonly SharedPlace[] {
  return path.map((piece) => placeBehind(piece).shared);
}

/** The place before a piece, where what falls on it comes in: of its ends the one by the box. */
export function placeBefore({ path = [] }: WithPath, name: string) {
  const i = path.findIndex((piece) => piece.name === name);
  return i > 0 ? placeBehind(path[i - 1]!) : boxByBolts;
}

/** Every piece as something that heat falls on, and where it comes in. */
export function heatedPieces(mount: WithPath) {
  return (mount.path ?? []).map(({ name }) => ({ on: name, at: placeBefore(mount, name) }));
}

/** The conductor of a piece. */
function conductorOf(own: read.Plain<PathPiece>, at: string, catalogue: Catalogue): Conductor {
  if (own.kind === "joint") return stageJoint(own.joint, `${at}.joint`, catalogue);
  const { material } = own;
  const pure = pick(own, "residualResistivityRatio");
  switch (own.kind) {
    case "bar":
      return strip(
        { material, length: own.length, area: own.crossSection, ...pure },
        catalogue,
        at,
      );
    case "strap": {
      const shape = pick(own, "diameter", "width", "thickness");
      return strip({ material, length: own.length, ...shape, ...pure }, catalogue, at);
    }
    case "plate": {
      const { thickness, innerRadius, outerRadius } = own;
      return radialSpreading(
        { material, thickness, innerRadius, outerRadius, ...pure },
        catalogue,
        at,
      );
    }
  }
}

/** How many of a piece lie side by side. */
function sideBySide(own: read.Plain<PathPiece>): number {
  if (own.kind === "joint") return jointCount(own.joint);
  return own.kind === "strap" ? own.strands : 1;
}

/** Metal in a piece [m³]. */
function volumeOf(own: read.Plain<Exclude<PathPiece, PathJoint>>, at: string): number {
  switch (own.kind) {
    case "bar":
      return own.crossSection * own.length;
    case "strap": {
      const { area } = crossSection(at, pick(own, "diameter", "width", "thickness"));
      return own.strands * area * own.length;
    }
    case "plate":
      return Math.PI * (own.outerRadius ** 2 - own.innerRadius ** 2) * own.thickness;
  }
}

/** Half of a piece's heat at either end. */
function storesOf(
  { name, kind }: read.Plain<PathPiece>,
  i: number,
  ends: readonly { readonly shared: SharedPlace }[],
): readonly PlacedStore<WithPath>[] {
  if (kind === "joint") return [];
  const at = `path[${i}]`;
  return (["near half", "far half"] as const).map((half, k) => ({
    name: `${name}, ${half}`,
    at: ends[k]!,
    field: `${at}.material`,
    store({ path }, catalogue) {
      const own = path![i] as read.Plain<Exclude<PathPiece, PathJoint>>;
      return heatStore({ material: own.material, volume: volumeOf(own, at) / 2 }, catalogue, at);
    },
  }));
}

/** A piece as a drawing says it. */
function wordsOf(own: read.Plain<PathPiece>): readonly string[] {
  if (own.kind === "joint") return jointWords(own.joint);
  const shape = {
    bar: (bar: read.Plain<PathBar>) =>
      `${formatGiven(1e6 * bar.crossSection, "")} mm² over ${metres(bar.length)}`,
    strap: ({ strands, diameter, width, thickness, length }: read.Plain<PathStrap>) => {
      const one =
        diameter !== undefined ? metres(diameter) : `${metres(width!)} × ${metres(thickness!)}`;
      return `${times(strands, "strand")} of ${one}, ${metres(length)} long`;
    },
    plate: ({ thickness, innerRadius, outerRadius }: read.Plain<PathPlate>) =>
      `${metres(thickness)} thick, from ${metres(innerRadius)} to ${metres(outerRadius)} of radius`,
  }[own.kind] as (piece: typeof own) => string;
  return [own.material, ...purityWords(own.residualResistivityRatio), shape(own)];
}

export const path: Thing<readonly PathPiece[], WithPath> = {
  field: read.optional(pieces),
  rules({ path: own = [] }) {
    own.forEach((piece, i) => {
      const at = `path[${i}]`;
      if (own.findIndex(({ name }) => name === piece.name) !== i) {
        throw new FieldError(`${at}.name`, "a name that no other piece has", piece.name);
      }
      if (piece.name === "die" || piece.name === "box") {
        throw new FieldError(`${at}.name`, "a name that neither die nor box has", piece.name);
      }
      if (piece.kind === "strap") volumeOf(piece, at);
      if (piece.kind === "plate" && !(piece.outerRadius > piece.innerRadius)) {
        const words = `more than the inner radius, ${formatGiven(piece.innerRadius, "m")}`;
        throw new FieldError(`${at}.outerRadius`, words, formatGiven(piece.outerRadius, "m"));
      }
    });
  },
  parts({ path: own = [] }) {
    const ends = [boxByBolts, ...own.map(placeBehind)];
    return {
      paths: own.map(
        ({ name }, i): HeatPath<WithPath> => ({
          name,
          from: ends[i]!,
          to: ends[i + 1]!,
          conductor: (mount, catalogue) => conductorOf(mount.path![i]!, `path[${i}]`, catalogue),
          count: (mount) => sideBySide(mount.path![i]!),
        }),
      ),
      stores: own.flatMap((piece, i) => storesOf(piece, i, ends.slice(i, i + 2))),
    };
  },
  warnings: ({ path: own = [] }, catalogue) =>
    own.flatMap((piece, i) =>
      piece.kind === "joint" ? screwWarnings(piece.joint, `path[${i}].joint`, catalogue) : [],
    ),
  drawn: ({ path: own = [] }) =>
    own.map((piece) => ({
      kind: piece.kind,
      look: "path",
      name: piece.name,
      details: wordsOf(piece),
      places: [],
    })),
};
