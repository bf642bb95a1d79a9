/**
 * Metal patches: films over any rectangle of the front or the back, which spread heat along the die and,
 * where they are pressed on the box, lead it there.
 * @module
 */

import { faceFilm } from "../../chip/film.js";
import { areaOf, overlapOf, type Rectangle, span } from "../../chip/grid.js";
import {
  glueForms,
  glue as glueJoint,
  type MaterialGlue,
  type NamedGlue,
} from "../../joints/glue.js";
import { heatStore } from "../../joints/heat-store.js";
import type { Catalogue } from "../../materials/types.js";
import { exceeds } from "../../units/checks.js";
import { FieldError } from "../../units/errors.js";
import * as read from "../../units/fields.js";
import { formatGiven } from "../../units/format.js";
import type { Area, Length } from "../../units/quantity.js";
import type { Uncertain } from "../../units/spread.js";
import { boxByDie, type Contacts, type HeatPath, rectanglesOf, type Thing } from "../thing.js";
import { type OnEdges, padsOfGroup } from "./edges.js";
import {
  electronsOf,
  type Film,
  type FilmIn,
  filmContacts,
  filmFields,
  filmPaths,
  filmSquare,
  filmStores,
  filmWords,
  metres,
  patchesThatFit,
} from "./film.js";
import { jointField, jointWords, type StageJoint, screwWarnings, throughJoint } from "./joint.js";
import { bondedMetal } from "./pads.js";

/** Area of the glue under a patch. */
export interface GluedArea {
  /** Of all of it [m²]; the whole patch when absent. */
  readonly area?: Uncertain<Area>;
}

/** Glue of the catalogue's table between a patch and the box. */
export interface TablePatchGlue extends Omit<NamedGlue, "area" | "count">, GluedArea {}

/** Glue or solder of a material of the catalogue between a patch and the box. */
export interface LayerPatchGlue
  extends Omit<MaterialGlue, "area" | "count" | "between">,
    GluedArea {}

/** Glue between a patch and the box. */
export type PatchGlue = TablePatchGlue | LayerPatchGlue;

/** A film over a rectangle of the front or the back of the die. */
export interface MetalPatch extends Film {
  /** As the budget shows it; no two patches have the same. */
  readonly name: string;
  /** The face it lies on. */
  readonly face: "front" | "back";
  /** Left side, from the die's left edge [m]. */
  readonly left: Uncertain<Length>;
  /** Right side, from the die's left edge [m]. */
  readonly right: Uncertain<Length>;
  /** Lower side, from the die's lower edge [m]. */
  readonly bottom: Uncertain<Length>;
  /** Upper side, from the die's lower edge [m]. */
  readonly top: Uncertain<Length>;
  /** How its face meets the box; without it, and without glue, the patch only spreads heat along the die. */
  readonly joint?: StageJoint;
  /**
   * Glue between its face and the box, in place of a joint. Heat enters it from the film's electrons, which is so
   * of metal-filled glue, and the safe side of one through which phonons carry it.
   */
  readonly glue?: PatchGlue;
}

interface WithPatches extends OnEdges {
  readonly die: OnEdges["die"] & { readonly material: string; readonly cells?: number };
  readonly patches?: readonly read.Plain<MetalPatch>[];
  readonly back?: unknown;
}

/** Tiles along the longer side of a die; a patch has as many as its share of that. */
const tilesAlong = 16;

const areaIn = ({ left, right, bottom, top }: Rectangle) => ({ left, right, bottom, top });

function contactsOf(name: string, layer: Contacts<WithPatches>["layer"], i: number) {
  const key = `patches[${i}]`;
  const contacts: Contacts<WithPatches> = {
    name: `patch ${name}`,
    layer,
    field: () => key,
    film: {
      name: `along patch ${name}`,
      place: `patch ${name} electrons`,
      square: ({ patches: all }, catalogue) => filmSquare(all![i]!, key, catalogue),
    },
    lay({ die, patches: all }) {
      const area = areaIn(all![i]!);
      const side = Math.max(die.width, die.length) / patchesThatFit(die, tilesAlong);
      const across = Math.max(1, Math.round((area.right - area.left) / side));
      const along = Math.max(1, Math.round((area.top - area.bottom) / side));
      return filmContacts(faceFilm(name, area, across, along));
    },
  };
  return contacts;
}

/** A patch as a film. */
function filmOf({ name, face }: read.Plain<MetalPatch>, i: number): FilmIn<WithPatches> {
  const of = ({ patches: all }: WithPatches) => all![i]!;
  return {
    name: `patch ${name}`,
    key: `patches[${i}]`,
    coupling: `electron-phonon coupling, patch ${name}`,
    contacts: contactsOf(name, face === "front" ? "face" : "back", i),
    of,
    area: (mount) => areaOf(areaIn(of(mount))),
    volume: (mount) => areaOf(areaIn(of(mount))) * of(mount).thickness,
    count: () => 1,
  };
}

/** @throws FieldError for a patch off the die, or on another piece of metal of its face */
function checkPlace(mount: WithPatches, i: number): void {
  const own = mount.patches![i]!;
  const at = `patches[${i}]`;
  for (const [low, high] of [
    ["left", "right"],
    ["bottom", "top"],
  ] as const) {
    if (own[high] > own[low]) continue;
    const wanted = `more than ${low}, ${metres(own[low])}`;
    throw new FieldError(`${at}.${high}`, wanted, metres(own[high]));
  }
  if (own.face === "back" && mount.back) {
    const wanted = "the front, since the film of the back takes all of it";
    throw new FieldError(`${at}.face`, wanted, "back");
  }
  const { width, length } = mount.die;
  for (const [side, most] of [
    ["right", width],
    ["top", length],
  ] as const) {
    if (own[side] <= most * (1 + 1e-9)) continue;
    throw new FieldError(`${at}.${side}`, `at most the die, ${metres(most)}`, metres(own[side]));
  }
  const others = mount
    .patches!.slice(0, i)
    .flatMap((other, k) =>
      other.face === own.face ? [{ at: `patches[${k}]`, area: areaIn(other) }] : [],
    );
  const inGroups = (mount.padGroups ?? []).flatMap((group, g) => {
    const at = `padGroups[${g}]`;
    return padsOfGroup(mount, group, at).map(({ area }) => ({ at, area }));
  });
  const pads = own.face === "front" ? [...bondedMetal(mount), ...inGroups] : [];
  for (const other of [...others, ...pads]) {
    const shared = overlapOf(areaIn(own), other.area);
    if (!shared) continue;
    throw new FieldError(at, `a place apart from ${other.at}`, `an overlap at ${span(shared)}`);
  }
}

const { area: _area, count: _count, ...tableFields } = glueForms.glue;
const { area: __area, count: __count, between: _between, ...layerFields } = glueForms.material;
const area = read.optional(read.quantity("area"));
const glueField = read.oneForm<PatchGlue>()({
  glue: read.object<TablePatchGlue>({ ...tableFields, area }),
  material: read.object<LayerPatchGlue>({ ...layerFields, area }),
});

/** Area of the glue under a patch [m²]. */
const gluedArea = (own: read.Plain<MetalPatch>) => own.glue!.area ?? areaOf(areaIn(own));

function glueWords(own: read.Plain<MetalPatch>): readonly string[] {
  const { thickness } = own.glue!;
  const material = "material" in own.glue! ? own.glue.material : own.glue!.glue;
  const high = thickness === undefined ? "" : `, ${metres(thickness)} thick`;
  return [`glued by ${material}, ${formatGiven(1e6 * gluedArea(own), "")} mm²${high}`];
}

/** Half of the heat of the glue under a patch. */
const halfOfGlue = (i: number) => ({
  field: `patches[${i}].glue`,
  store({ patches: all }: WithPatches, catalogue: Catalogue) {
    const own = all![i]!;
    const glue = own.glue!;
    const at = `patches[${i}].glue`;
    if (!("material" in glue)) {
      const wanted = "a material of the catalogue, whose heat capacity it has";
      throw new FieldError(at, wanted, glue.glue);
    }
    const volume = (gluedArea(own) * glue.thickness) / 2;
    return heatStore({ material: glue.material, volume }, catalogue, at);
  },
});

export const patches: Thing<readonly MetalPatch[], WithPatches> = {
  holds: "a pressed or glued patch",
  field: read.optional(
    read.list(
      read.object<MetalPatch>({
        ...filmFields,
        name: read.text,
        face: read.oneOf("front", "back"),
        left: read.quantityFromZero("length"),
        right: read.quantity("length"),
        bottom: read.quantityFromZero("length"),
        top: read.quantity("length"),
        joint: read.optional(jointField),
        glue: read.optional(glueField),
      }),
      "a list of patches of metal",
    ),
  ),
  rules(mount) {
    const own = mount.patches ?? [];
    own.forEach(({ name }, i) => {
      if (own.findIndex((other) => other.name === name) !== i) {
        throw new FieldError(`patches[${i}].name`, "a name that no other patch has", name);
      }
      checkPlace(mount, i);
      const { joint, glue, ...area } = own[i]!;
      if (!glue) return;
      if (joint) throw new FieldError(`patches[${i}].glue`, "nothing beside joint", glue);
      const whole = areaOf(areaIn(area));
      if (!exceeds(gluedArea(own[i]!), whole)) return;
      const words = `at most the patch, ${formatGiven(whole, "m^2")}`;
      throw new FieldError(`patches[${i}].glue.area`, words, formatGiven(glue.area!, "m^2"));
    });
  },
  parts({ patches: own = [] }) {
    const films = own.map(filmOf);
    const pressed = own.flatMap(({ name, joint }, i): readonly HeatPath<WithPatches>[] =>
      joint
        ? [
            {
              name: `pressed patch ${name}`,
              from: electronsOf(films[i]!),
              to: boxByDie,
              ...throughJoint(
                ({ patches: all }: WithPatches) => all![i]!.joint!,
                `patches[${i}].joint`,
              ),
            },
          ]
        : [],
    );
    const glued = own.flatMap(({ name, glue }, i): readonly HeatPath<WithPatches>[] =>
      glue
        ? [
            {
              name: `glue under patch ${name}`,
              from: electronsOf(films[i]!),
              to: boxByDie,
              conductor(mount, catalogue) {
                const plain = mount.patches![i]!;
                const layer = { ...plain.glue!, area: gluedArea(plain) };
                return glueJoint(layer, catalogue, `patches[${i}].glue`);
              },
            },
          ]
        : [],
    );
    return {
      contacts: films.map(({ contacts }) => contacts),
      paths: [...films.flatMap((film, i) => filmPaths(film, own[i]!)), ...pressed, ...glued],
      stores: films.flatMap((film, i) => [
        ...filmStores(film, own[i]!),
        ...(own[i]!.glue
          ? [
              { name: `glue, half by ${film.name}`, at: electronsOf(film), ...halfOfGlue(i) },
              { name: `glue of ${film.name}, half by the box`, at: boxByDie, ...halfOfGlue(i) },
            ]
          : []),
      ]),
    };
  },
  warnings: ({ patches: own = [] }, catalogue) =>
    own.flatMap(({ joint }, i) =>
      joint ? screwWarnings(joint, `patches[${i}].joint`, catalogue) : [],
    ),
  drawn: (mount) =>
    (mount.patches ?? []).map((own, i) => ({
      kind: `patches ${i}`,
      look: own.face === "front" ? "film" : "back",
      name: `patch ${own.name}`,
      details: [
        ...filmWords(own, `${metres(own.right - own.left)} × ${metres(own.top - own.bottom)}, `),
        ...(own.joint ? jointWords(own.joint) : []),
        ...(own.glue ? glueWords(own) : []),
      ],
      places: rectanglesOf(filmOf(own, i).contacts, mount),
      thickness: own.thickness,
    })),
};
