/**
 * What joins two dies that lie over each other: bumps, glue, or pressed faces. Each spot, or each tile of a
 * whole face, is a contact on both dies.
 * @module
 */
import { tiles } from "../../chip/contact.js";
import { areaOf, overlapOf, type Rectangle, span } from "../../chip/grid.js";
import type { Conductor } from "../../conductor.js";
import {
  behindRadiation,
  boundary,
  boundaryField,
  type GivenBoundary,
  type MeasuredBoundary,
  phononRadiation,
} from "../../joints/boundary.js";
import { series } from "../../joints/combine.js";
import { glueForms, glue as glueJoint } from "../../joints/glue.js";
import { heatStore } from "../../joints/heat-store.js";
import { materialConductivity, stripConductor } from "../../joints/strip.js";
import { type ConductivityOptions, conductivityFields } from "../../materials/options.js";
import type { Catalogue } from "../../materials/types.js";
import { given } from "../../provenance.js";
import { FieldError } from "../../units/errors.js";
import {
  count,
  either,
  type FieldsOf,
  isOneValue,
  list,
  object,
  oneForm,
  oneOf,
  optional,
  type Plain,
  quantity,
  text,
} from "../../units/fields.js";
import { formatGiven } from "../../units/format.js";
import type { Area, Length } from "../../units/quantity.js";
import type { Uncertain } from "../../units/spread.js";
import { ownDie } from "../on-die.js";
import { type Contacts, type DrawnPart, inMaterial, type Thing } from "../thing.js";
import { metres, patchesThatFit, purityWords, times } from "./film.js";
import type { LayerGlue, TableGlue } from "./glue.js";
import {
  jointCount,
  jointField,
  jointWords,
  type StageJoint,
  screwWarnings,
  stageJoint,
} from "./joint.js";
import {
  checkPlaces,
  inRows,
  type Placed,
  type Point,
  placedFields,
  refuseTooMany,
  spots,
  square,
} from "./spots.js";
import { checkDie, faceOfDie, moved, plate, sharedFace, type WithStack } from "./stack.js";

/** Where bumps stand: at `places`, or in rows over the face that both dies share. */
export interface BumpPlaces extends Placed {
  /** Diameter of a bump [m]. */
  readonly diameter: Uncertain<Length>;
  /** How many; with `pitch` alone as many as the shared face has room for. */
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

interface WithBetween extends WithStack {
  readonly between?: readonly Plain<DieJoint>[];
}

const dieField = oneOf("front", "back");
const common: FieldsOf<BetweenDies> = {
  name: optional(text),
  from: text,
  to: text,
  fromFace: optional(dieField),
  toFace: optional(dieField),
};
const bumpPlaces: FieldsOf<BumpPlaces> = {
  ...placedFields,
  diameter: quantity("length"),
  count: optional(count),
  pitch: optional(quantity("length")),
};
const bumps = oneForm<Bumps>()({
  material: object<MetalBumps>({
    ...bumpPlaces,
    ...conductivityFields,
    material: text,
    height: quantity("length"),
    boundary: optional(either(isOneValue, oneOf("diffuse mismatch"), boundaryField)),
  }),
  measured: object<MeasuredBumps>({
    ...bumpPlaces,
    measured: text,
    sample: optional(text),
    height: optional(quantity("length")),
    heatOf: optional(text),
  }),
});
const { between: _, ...layerFields } = glueForms.material;
const area = optional(quantity("area"));
const glue = oneForm<TableDieGlue | LayerDieGlue>()({
  glue: object<TableDieGlue>({
    ...glueForms.glue,
    ...placedFields,
    area,
    heatOf: optional(text),
  }),
  material: object<LayerDieGlue>({
    ...layerFields,
    ...placedFields,
    area,
    boundary: optional(oneOf("diffuse mismatch")),
  }),
});

const kindOf = (own: Plain<DieJoint>) =>
  "bumps" in own ? "bumps" : "glue" in own ? "glue" : "joint";
const nameOf = (own: Plain<DieJoint>) => own.name ?? `${kindOf(own)}, ${own.from} to ${own.to}`;
const facesOf = (own: Plain<DieJoint>) => ({
  from: own.fromFace ?? ("bumps" in own ? "front" : "back"),
  to: own.toFace ?? "front",
});

/** Tiles of a whole face along the longer side of the smaller die. */
const tilesAlong = 12;
/** Most contacts of one joint on either die: their number cubed is the cost of a solve. */
const mostContacts = tilesAlong ** 2;
const mostBumps = 100_000;
/** Of more bumps in each contact than this it is the rectangle around them, which they cover evenly. */
const mostSquares = 4;

/** Side of the square that has a bump's area, over its diameter. */
const squareSide = Math.sqrt(Math.PI) / 2;

/** The face that both dies share. @throws FieldError where there is none */
function sharedBy(mount: WithBetween, { from, to }: Plain<DieJoint>, i: number): Rectangle {
  const shared = sharedFace(mount, from, to);
  if (shared) return shared;
  const field = `between[${i}]`;
  throw new FieldError(field, "dies that lie over each other", `${from} and ${to}, apart`);
}

/** Width and length of a rectangle. */
const sizeOf = ({ left, right, bottom, top }: Rectangle) => ({
  width: right - left,
  length: top - bottom,
});

/** Middles of the bumps, from the corner of the mount's own die. @throws FieldError for more than fit */
function bumpMiddles(mount: WithBetween, own: Plain<BumpsBetween>, i: number): readonly Point[] {
  const at = `between[${i}].bumps`;
  const { places, count: total, pitch, diameter } = own.bumps;
  const shared = sharedBy(mount, own, i);
  const corner = places ? faceOfDie(mount, own.from) : shared;
  const inFrame = ({ x, y }: Point) => ({ x: x + corner.left, y: y + corner.bottom });
  if (places) return places.map(inFrame);
  const { width, length } = sizeOf(shared);
  if (pitch === undefined) return inRows({ width, length }, total ?? 1).map(inFrame);
  const along = (side: number) => Math.floor((side - diameter) / pitch + 1e-9) + 1;
  const [most, mostRows] = [along(width), along(length)];
  const wanted = total ?? most * mostRows;
  if (wanted > most * mostRows || wanted < 1) {
    const words = `at most ${most * mostRows}, which is what the shared face has room for at the pitch`;
    throw new FieldError(`${at}.count`, words, wanted);
  }
  const even = Math.max(1, Math.round(Math.sqrt((wanted * most) / mostRows)));
  // Wide enough that the rows fit.
  const across = Math.min(most, Math.max(even, Math.ceil(wanted / mostRows)));
  const rows = Math.ceil(wanted / across);
  return Array.from({ length: wanted }, (_, k) => {
    const [column, row] = [k % across, Math.floor(k / across)];
    const inRow = row < rows - 1 ? across : wanted - across * (rows - 1);
    return inFrame({
      x: width / 2 + (column - (inRow - 1) / 2) * pitch,
      y: length / 2 + (row - (rows - 1) / 2) * pitch,
    });
  });
}

/** Rectangles of each contact, from the corner of the mount's own die, and its share of them all. */
function contactAreas(mount: WithBetween, i: number) {
  const own = mount.between![i]!;
  if ("bumps" in own) return bumpAreas(mount, own, i);
  const shared = sharedBy(mount, own, i);
  const spot = "glue" in own ? own.glue.area : undefined;
  const side = Math.min(
    ...[own.from, own.to].map((name) => {
      const die = plate(mount, name);
      return Math.max(die.width, die.length) / patchesThatFit(die, tilesAlong);
    }),
  );
  const inTiles = (face: Rectangle) => {
    const { width, length } = sizeOf(face);
    const [across, along] = [width, length].map((each) => Math.max(1, Math.round(each / side)));
    return tiles(face, across!, along!);
  };
  const faces =
    spot === undefined
      ? [shared]
      : glueMiddles(mount, own as Plain<GlueBetween>, shared).map((middle) =>
          square(middle, Math.sqrt(spot)),
        );
  const areas = faces.flatMap(inTiles);
  const sizes = areas.map((pieces) => pieces.reduce((sum, piece) => sum + areaOf(piece), 0));
  const whole = sizes.reduce((sum, size) => sum + size, 0);
  return areas.map((pieces, k) => ({ area: pieces, share: sizes[k]! / whole }));
}

function glueMiddles(mount: WithBetween, own: Plain<GlueBetween>, shared: Rectangle) {
  const { places, count: total = 1 } = own.glue;
  const corner = places ? faceOfDie(mount, own.from) : shared;
  return (places ?? inRows(sizeOf(shared), total)).map(({ x, y }) => ({
    x: x + corner.left,
    y: y + corner.bottom,
  }));
}

/** Bumps, neighbours together where they are more than can be told apart. */
function bumpAreas(mount: WithBetween, own: Plain<BumpsBetween>, i: number) {
  const side = squareSide * own.bumps.diameter;
  const middles = bumpMiddles(mount, own, i);
  const share = 1 / middles.length;
  if (middles.length <= mostContacts) {
    return middles.map((middle) => ({ area: [square(middle, side)], share }));
  }
  const shared = sharedBy(mount, own, i);
  const { width, length } = sizeOf(shared);
  const along = Math.sqrt(mostContacts * (length / width));
  const rows = Math.max(1, Math.floor(along));
  const columns = Math.max(1, Math.floor(mostContacts / rows));
  const groups = new Map<string, { readonly tile: Rectangle; readonly squares: Rectangle[] }>();
  for (const middle of middles) {
    const column = Math.min(columns - 1, Math.floor(((middle.x - shared.left) / width) * columns));
    const row = Math.min(rows - 1, Math.floor(((middle.y - shared.bottom) / length) * rows));
    const key = `${column} ${row}`;
    const [left, bottom] = [column * (width / columns), row * (length / rows)];
    const tile = { left, bottom, right: left + width / columns, top: bottom + length / rows };
    const group = groups.get(key) ?? { tile: moved(tile, shared, 1), squares: [] };
    group.squares.push(square(middle, side));
    groups.set(key, group);
  }
  const isDense = middles.length > mostSquares * groups.size;
  return [...groups.values()].map(({ tile, squares }) => ({
    area: isDense ? [overlapOf(around(squares), tile)!] : squares,
    share: share * squares.length,
  }));
}

/** The rectangle around several. */
function around(all: readonly Rectangle[]): Rectangle {
  return {
    left: Math.min(...all.map(({ left }) => left)),
    right: Math.max(...all.map(({ right }) => right)),
    bottom: Math.min(...all.map(({ bottom }) => bottom)),
    top: Math.max(...all.map(({ top }) => top)),
  };
}

/** The contacts of a joint on one of its dies. */
function contactsOf(own: Plain<DieJoint>, i: number, end: "from" | "to"): Contacts<WithBetween> {
  const die = own[end];
  const name = nameOf(own);
  const inPlaces = "bumps" in own && own.bumps.places;
  return {
    name,
    ...(die !== ownDie && { die }),
    pair: `between[${i}]`,
    layer: facesOf(own)[end] === "back" ? "back" : "face",
    field: (k) => (inPlaces ? `between[${i}].bumps.places[${k}]` : `between[${i}]`),
    lay(mount) {
      const corner = faceOfDie(mount, die);
      return {
        patches: contactAreas(mount, i).map(({ area: pieces, share }) => ({
          area: pieces.map((piece) => moved(piece, corner, -1)),
          share,
          bonds: 0,
        })),
      };
    },
  };
}

/** How many stand side by side. */
function countOf(mount: WithBetween, i: number): number {
  const own = mount.between![i]!;
  if ("joint" in own) return jointCount(own.joint);
  if ("glue" in own) return own.glue.area === undefined ? 1 : spots(own.glue);
  return own.bumps.places?.length ?? bumpMiddles(mount, own, i).length;
}

const bumpArea = ({ diameter }: { readonly diameter: number }) => (Math.PI * diameter ** 2) / 4;
const glueArea = (mount: WithBetween, own: Plain<GlueBetween>, i: number) =>
  own.glue.area ?? areaOf(sharedBy(mount, own, i));

/** One bump, one spot of glue, or the joint. */
function conductorOf(mount: WithBetween, i: number, catalogue: Catalogue): Conductor {
  const own = mount.between![i]!;
  const at = `between[${i}]`;
  if ("joint" in own) return stageJoint(own.joint, `${at}.joint`, catalogue);
  const materials = [own.from, own.to].map((name) => plate(mount, name).material) as [
    string,
    string,
  ];
  if ("glue" in own) {
    const { count: _, places: __, ...layer } = { ...own.glue, area: glueArea(mount, own, i) };
    if (!("material" in layer)) {
      const { heatOf: ___, ...named } = layer;
      return glueJoint(named, catalogue, `${at}.glue`);
    }
    const { boundary: faces, ...more } = layer;
    if (!faces) return glueJoint(more, catalogue, `${at}.glue`);
    return inMaterial(more.material, `${at}.glue.material`, () =>
      glueJoint({ ...more, between: materials }, catalogue, `${at}.glue`),
    );
  }
  const field = `${at}.bumps`;
  const size = bumpArea(own.bumps);
  if ("measured" in own.bumps) {
    const { measured, sample, height } = own.bumps;
    return glueJoint(
      {
        glue: measured,
        area: size,
        ...(sample !== undefined && { sample }),
        ...(height !== undefined && { thickness: height }),
      },
      catalogue,
      field,
    );
  }
  return throughBump(mount, { ...own, bumps: own.bumps }, materials, field, catalogue);
}

/**
 * Through the boundary of the upper die, the metal and the boundary of the lower one. A bump is mostly
 * narrower than phonons fly: what spreads from it in the die is counted by the boundary and by the cells.
 */
function throughBump(
  mount: WithBetween,
  own: Plain<BetweenDies> & { readonly bumps: Plain<MetalBumps> },
  materials: readonly [string, string],
  field: string,
  catalogue: Catalogue,
): Conductor {
  const { material, height, boundary: kind = "diffuse mismatch" } = own.bumps;
  const size = bumpArea(own.bumps);
  const conductivity = materialConductivity("material", own.bumps, catalogue, field);
  const provenance = [
    ...conductivity.provenance,
    given(`${field}: height`, height, "m"),
    given(`${field}: diameter`, own.bumps.diameter, "m"),
  ];
  const metal = { ...stripConductor(conductivity, size / height), provenance };
  const face = (name: string) => {
    const law = kind === "diffuse mismatch" ? { between: [name, material] as const } : kind;
    const through = inMaterial(material, `${field}.material`, () =>
      boundary({ area: size, ...law }, catalogue, `${field}.boundary`),
    );
    if (mount.die.model !== "flights") return through;
    const speeds = catalogue.material(name, `${field}.material`).soundSpeeds();
    return behindRadiation(through, size * phononRadiation(speeds));
  };
  return series(face(materials[0]), metal, face(materials[1]));
}

/** Half of what a joint stores, which its temperature falls across. */
const half = (i: number) => ({
  field: `between[${i}]`,
  store(mount: WithBetween, catalogue: Catalogue) {
    const own = mount.between![i]! as Plain<BumpsBetween | GlueBetween>;
    const [key, layer] = "bumps" in own ? ["bumps", own.bumps] : ["glue", own.glue];
    const at = `between[${i}].${key}`;
    const material = "material" in layer ? layer.material : layer.heatOf;
    if (material === undefined) {
      throw new FieldError(`${at}.heatOf`, "the material whose heat capacity it has", undefined);
    }
    const high = "diameter" in layer ? layer.height : layer.thickness;
    if (high === undefined) {
      const missing = key === "bumps" ? "height" : "thickness";
      throw new FieldError(`${at}.${missing}`, `the ${missing} of the layer`, undefined);
    }
    const size = "bumps" in own ? bumpArea(own.bumps) : glueArea(mount, own, i);
    return heatStore({ material, volume: (countOf(mount, i) * size * high) / 2 }, catalogue, at);
  },
});

/** @throws FieldError for a spot that does not lie on both dies */
function checkSpots(mount: WithBetween, own: Plain<BumpsBetween | GlueBetween>, i: number): void {
  const isBumps = "bumps" in own;
  const key = isBumps ? "bumps" : "glue";
  const at = `between[${i}].${key}`;
  const given = isBumps ? own.bumps : own.glue;
  checkPlaces(at, given);
  if (!isBumps && own.glue.area === undefined) {
    for (const needs of ["count", "places"] as const) {
      if (own.glue[needs] === undefined) continue;
      throw new FieldError(`${at}.area`, "the area of each spot", undefined);
    }
    return;
  }
  if (isBumps) {
    const { places, count: total, pitch, diameter } = own.bumps;
    if (!places && total === undefined && pitch === undefined) {
      throw new FieldError(`${at}.places`, "places, or a count or a pitch beside", undefined);
    }
    if (pitch !== undefined && places) {
      throw new FieldError(`${at}.pitch`, "nothing beside places", formatGiven(pitch, "m"));
    }
    if (pitch !== undefined && pitch < diameter * (1 - 1e-9)) {
      const words = `at least the diameter, ${formatGiven(diameter, "m")}`;
      throw new FieldError(`${at}.pitch`, words, formatGiven(pitch, "m"));
    }
  }
  const shared = sharedBy(mount, own, i);
  if (isBumps) refuseTooManyBumps(own.bumps, shared, at);
  else refuseTooMany(`${at}.count`, own.glue.count);
  const side = isBumps ? own.bumps.diameter : Math.sqrt(own.glue.area!);
  const middles = isBumps ? bumpMiddles(mount, own, i) : glueMiddles(mount, own, shared);
  const areas = middles.map((middle) => square(middle, side));
  const what = isBumps ? "bump" : "spot of glue";
  const where = (k: number) => (given.places ? `${at}.places[${k}]` : at);
  areas.forEach((spot, k) => {
    for (const name of [own.from, own.to]) {
      const face = faceOfDie(mount, name);
      const over = 1e-9 * (face.right - face.left);
      if (
        spot.left >= face.left - over &&
        spot.right <= face.right + over &&
        spot.bottom >= face.bottom - over &&
        spot.top <= face.top + over
      )
        continue;
      const words = `a ${what} on both dies`;
      const here = span(moved(spot, face, -1));
      throw new FieldError(where(k), words, `one over the edge of ${name}, at ${here}`);
    }
  });
  const sorted = areas.map((spot, k) => ({ spot, k })).sort((a, b) => a.spot.left - b.spot.left);
  sorted.forEach(({ spot, k }, n) => {
    for (const other of sorted.slice(n + 1)) {
      if (other.spot.left >= spot.right - 1e-9 * side) break;
      const apart = isBumps
        ? Math.hypot(other.spot.left - spot.left, other.spot.bottom - spot.bottom)
        : Math.max(other.spot.left - spot.left, Math.abs(other.spot.bottom - spot.bottom));
      if (apart >= side * (1 - 1e-9)) continue;
      const [first, last] = [Math.min(k, other.k), Math.max(k, other.k)];
      const corner = faceOfDie(mount, own.from);
      throw new FieldError(
        where(last),
        `a ${what} apart from ${given.places ? where(first) : "the others"}`,
        `an overlap at ${span(moved(areas[last]!, corner, -1))}`,
      );
    }
  });
}

/** @throws FieldError for more bumps than any chip has */
function refuseTooManyBumps(
  { pitch, count: total, diameter }: Plain<Bumps>,
  shared: Rectangle,
  at: string,
): void {
  const words = `at most ${mostBumps} bumps`;
  if (total !== undefined) {
    if (total > mostBumps) throw new FieldError(`${at}.count`, words, total);
  } else if (pitch !== undefined) {
    const { width, length } = sizeOf(shared);
    const most = [width, length].map((each) => Math.max(0, (each - diameter) / pitch) + 1);
    if (most[0]! * most[1]! <= mostBumps) return;
    throw new FieldError(
      `${at}.pitch`,
      `a pitch at which there is room for ${words}`,
      formatGiven(pitch, "m"),
    );
  }
}

/** What a joint is made of, as a drawing says it. */
function detailsOf(mount: WithBetween, own: Plain<DieJoint>, i: number): readonly string[] {
  const where = `from ${own.from} down to ${own.to}`;
  if ("joint" in own) return [...jointWords(own.joint), where];
  if ("glue" in own) {
    const { thickness } = own.glue;
    const size = `${formatGiven(1e6 * glueArea(mount, own, i), "")} mm²`;
    const high = thickness === undefined ? "" : `, ${metres(thickness)} thick`;
    return ["glue" in own.glue ? own.glue.glue : own.glue.material, `${size}${high}`, where];
  }
  const { diameter, height } = own.bumps;
  const high = height === undefined ? "" : `, ${metres(height)} high`;
  return [
    "measured" in own.bumps ? own.bumps.measured : own.bumps.material,
    `${metres(diameter)} in diameter${high}`,
    ...("material" in own.bumps ? purityWords(own.bumps.residualResistivityRatio) : []),
    where,
  ];
}

const wholeName = { bumps: "bump", glue: "spot of glue", joint: "joint" };

export const between: Thing<readonly DieJoint[], WithBetween> = {
  field: optional(
    list(
      oneForm<DieJoint>()({
        bumps: object<BumpsBetween>({ ...common, bumps }),
        glue: object<GlueBetween>({ ...common, glue }),
        joint: object<JointBetween>({ ...common, joint: jointField }),
      }),
      "a list of what joins two dies",
      1,
    ),
  ),
  rules(mount) {
    const { between: all = [] } = mount;
    all.forEach((own, i) => {
      const at = `between[${i}]`;
      for (const end of ["from", "to"] as const) checkDie(mount, own[end], `${at}.${end}`);
      if (own.from === own.to) throw new FieldError(`${at}.to`, "another die", own.to);
      if (all.findIndex((other) => nameOf(other) === nameOf(own)) !== i) {
        throw new FieldError(
          `${at}.name`,
          "a name that nothing else between dies has",
          nameOf(own),
        );
      }
      sharedBy(mount, own, i);
      if (!("joint" in own)) checkSpots(mount, own, i);
      if ("glue" in own && "material" in own.glue && own.glue.boundary) {
        if (own.glue.boundaryResistance === undefined) return;
        const words = "none, since its faces are given by boundary";
        throw new FieldError(`${at}.glue.boundaryResistance`, words, own.glue.boundaryResistance);
      }
    });
  },
  parts({ between: all = [] }) {
    const ends = all.map((own, i) => ({
      from: contactsOf(own, i, "from"),
      to: contactsOf(own, i, "to"),
    }));
    return {
      contacts: ends.flatMap(({ from, to }) => [from, to]),
      paths: all.map((own, i) => ({
        name: nameOf(own),
        from: { on: ends[i]!.from },
        to: { on: ends[i]!.to, in: true },
        conductor: (mount, catalogue) => conductorOf(mount, i, catalogue),
        count: (mount) => countOf(mount, i),
      })),
      stores: all.flatMap((own, i) =>
        "joint" in own
          ? []
          : (["from", "to"] as const).map((end) => ({
              name: `${nameOf(own)}, half by ${own[end]}`,
              at: { on: ends[i]![end] },
              ...half(i),
            })),
      ),
    };
  },
  warnings: ({ between: all = [] }, catalogue) =>
    all.flatMap((own, i) =>
      "joint" in own ? screwWarnings(own.joint, `between[${i}].joint`, catalogue) : [],
    ),
  drawn: (mount) =>
    (mount.between ?? []).map((own, i): DrawnPart => {
      const total = countOf(mount, i);
      const places =
        "bumps" in own
          ? bumpMiddles(mount, own, i).map((middle) => square(middle, own.bumps.diameter))
          : "glue" in own && own.glue.area !== undefined
            ? glueMiddles(mount, own, sharedBy(mount, own, i)).map((middle) =>
                square(middle, Math.sqrt(own.glue.area!)),
              )
            : [sharedBy(mount, own, i)];
      const high =
        "bumps" in own ? own.bumps.height : "glue" in own ? own.glue.thickness : undefined;
      const kind = kindOf(own);
      const name =
        own.name ?? times(total, wholeName[kind], kind === "glue" ? "spots of glue" : undefined);
      return {
        kind: `between ${i}`,
        look: "bump",
        name: own.name && total > 1 ? `${name}, ${times(total, wholeName[kind])}` : name,
        details: detailsOf(mount, own, i),
        places,
        below: own.from,
        ...(high !== undefined && { thickness: high }),
      };
    }),
};
