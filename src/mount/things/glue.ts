/**
 * Glue under the die, down to the box.
 * @module
 */
import { tiles } from "../../chip/contact.js";
import { glue as glueJoint } from "../../joints/glue.js";
import { heatStore } from "../../joints/heat-store.js";
import { type ConductivityOptions, conductivityFields } from "../../materials/options.js";
import type { Catalogue } from "../../materials/types.js";
import { FieldError } from "../../units/errors.js";
import {
  aboveZeroIn,
  count,
  type FieldsOf,
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
import { boxByDie, type Contacts, inMaterial, rectanglesOf, type Thing } from "../thing.js";
import { metres, times } from "./film.js";
import { checkPlaces, type Place, places, refuseTooMany, spots, square } from "./spots.js";

/** Spots of glue: square, as many as the count, or as there are places. */
export interface GlueSpots {
  /** Area of one spot [m²]. */
  readonly area: Uncertain<Area>;
  /** How many spots alike; 1 when absent. */
  readonly count?: number;
  /** Which measurement, where there is more than one. */
  readonly sample?: string;
  /** Middles of the spots; spread over the die when absent. */
  readonly places?: readonly Place[];
}

/** Glue of the catalogue's table. */
export interface NamedGlue extends GlueSpots {
  /** Name in data/joints/glue.csv. */
  readonly glue: string;
  /** Of the layer [m]; needed where the table's law has a bulk part, and for the heat it stores. */
  readonly thickness?: Uncertain<Length>;
  /** Material of the catalogue whose heat capacity it has; without it no heat of it is counted in time. */
  readonly heatOf?: string;
}

/** A layer of a material of the catalogue between two boundaries: glue, solder, indium bumps. */
export interface MaterialGlue extends GlueSpots, ConductivityOptions {
  /** Name of the glue's material in the catalogue. */
  readonly material: string;
  /** Thickness of the glue [m]. */
  readonly thickness: Uncertain<Length>;
  /** r = R_B T³ of each of its two faces [m² K⁴/W]; left out, they resist nothing. */
  readonly boundaryResistance?: Uncertain<number>;
  /** `"diffuse mismatch"`: its faces by the speeds of sound of die and box, in place of a resistance. */
  readonly boundary?: "diffuse mismatch";
}

/** Glue under the die, down to the box. */
export type Glue = NamedGlue | MaterialGlue;

interface WithGlue {
  readonly die: { readonly material: string; readonly width: number; readonly length: number };
  readonly box: { readonly material: string };
  readonly glue?: Plain<Glue>;
}

const spotFields: FieldsOf<GlueSpots> = {
  area: quantity("area"),
  count: optional(count),
  sample: optional(text),
  places: optional(places),
};

/** Spots are cut into about so many patches along the die, so that each takes its own share of the heat. */
const patchesAlong = 12;

const contacts: Contacts<WithGlue> = {
  name: "glue",
  layer: "back",
  field: () => "glue.places",
  lay({ die, glue: own }) {
    refuseTooMany("glue.count", own!.count);
    const side = Math.sqrt(own!.area);
    const middles = own!.places ?? overFace(die, own!.count ?? 1);
    const pieces = Math.max(1, Math.ceil((patchesAlong * side) / Math.max(die.width, die.length)));
    const areas = middles.flatMap((middle) => tiles(square(middle, side), pieces, pieces));
    return { patches: areas.map((area) => ({ area, share: 1 / areas.length, bonds: 0 })) };
  },
};

/** In rows over the die, as even as the number allows: five are two, one and two. */
function overFace(die: WithGlue["die"], total: number) {
  const across = Math.max(1, Math.round(Math.sqrt((total * die.width) / die.length)));
  const rows = Math.ceil(total / across);
  const upTo = (row: number) => Math.round((row * total) / rows);
  return Array.from({ length: rows }, (_, row) => {
    const inRow = upTo(row + 1) - upTo(row);
    return Array.from({ length: inRow }, (_, k) => ({
      x: ((k + 0.5) / inRow) * die.width,
      y: ((row + 0.5) / rows) * die.length,
    }));
  }).flat();
}

/** Half of the glue's heat; the temperature falls across it. */
const half = {
  field: "glue",
  store({ glue: own }: WithGlue, catalogue: Catalogue) {
    const named = own as Plain<NamedGlue>;
    const material = "material" in own! ? own.material : named.heatOf;
    if (material === undefined) {
      throw new FieldError("glue.heatOf", "the material whose heat capacity it has", undefined);
    }
    const { thickness } = named;
    if (thickness === undefined) {
      throw new FieldError("glue.thickness", "the thickness of the layer", undefined);
    }
    const volume = (spots(own!) * own!.area * thickness) / 2;
    return heatStore({ material, volume }, catalogue, "glue");
  },
};

export const glue: Thing<Glue, WithGlue> = {
  holds: "glue",
  field: optional(
    oneForm<Glue>()({
      glue: object<NamedGlue>({
        ...spotFields,
        glue: text,
        thickness: optional(quantity("length")),
        heatOf: optional(text),
      }),
      material: object<MaterialGlue>({
        ...spotFields,
        ...conductivityFields,
        material: text,
        thickness: quantity("length"),
        boundaryResistance: optional(aboveZeroIn("m^2 K^4/W")),
        boundary: optional(oneOf("diffuse mismatch")),
      }),
    }),
  ),
  rules({ die, glue: own }) {
    if (!own) return;
    checkPlaces("glue", own);
    if ("material" in own && own.boundary && own.boundaryResistance !== undefined) {
      const words = "none, since its faces are given by boundary";
      throw new FieldError("glue.boundaryResistance", words, own.boundaryResistance);
    }
    const face = die.width * die.length;
    if (own.area * spots(own) > face) {
      const words = `at most the die's face in all, ${formatGiven(face, "m^2")}`;
      throw new FieldError("glue.area", words, formatGiven(own.area, "m^2"));
    }
  },
  parts: ({ glue: own }) =>
    own
      ? {
          contacts: [contacts],
          paths: [
            {
              name: "glue",
              from: { on: contacts },
              to: boxByDie,
              conductor(mount, catalogue) {
                const { count: _, places: __, ...layer } = mount.glue!;
                if (!("material" in layer)) {
                  const { heatOf: ___, ...named } = layer;
                  return glueJoint(named, catalogue, "glue");
                }
                const { boundary, ...own } = layer;
                if (!boundary) return glueJoint(own, catalogue, "glue");
                const [side, other] = [mount.die.material, mount.box.material];
                return inMaterial(side, "die.material", () =>
                  inMaterial(other, "box.material", () =>
                    glueJoint({ ...own, between: [side, other] }, catalogue, "glue"),
                  ),
                );
              },
              count: (mount) => spots(mount.glue!),
            },
          ],
          stores: [
            { name: "glue, half by the die", at: { on: contacts }, ...half },
            { name: "glue, half by the box", at: boxByDie, ...half },
          ],
        }
      : {},
  warnings({ glue: own }, catalogue) {
    if (!own || !("material" in own) || own.boundary || own.boundaryResistance !== undefined)
      return [];
    const { properties } = catalogue.material(own.material, "glue.material");
    if (!properties.has("critical_temperature") || own.state === "normal") return [];
    return [
      `glue: ${own.material} superconducts, and heat must pass its faces by phonons; they resist nothing as long ` +
        "as neither boundary nor boundaryResistance is given.",
    ];
  },
  drawn(mount) {
    const { glue: own } = mount;
    if (!own) return [];
    const pieces = rectanglesOf(contacts, mount);
    const total = spots(own);
    const each = pieces.length / total;
    return [
      {
        kind: "glue",
        look: "glue",
        name: times(total, "spot of glue", "spots of glue"),
        details: [
          "glue" in own ? own.glue : own.material,
          `${formatGiven(1e6 * own.area, "")} mm²${total > 1 ? " each" : ""}` +
            (own.thickness === undefined ? "" : `, ${metres(own.thickness)} thick`),
          "under the die",
        ],
        places: Array.from({ length: total }, (_, k) => {
          const spot = pieces.slice(k * each, (k + 1) * each);
          return {
            left: Math.min(...spot.map(({ left }) => left)),
            right: Math.max(...spot.map(({ right }) => right)),
            bottom: Math.min(...spot.map(({ bottom }) => bottom)),
            top: Math.max(...spot.map(({ top }) => top)),
          };
        }),
        ...(own.thickness !== undefined && { thickness: own.thickness }),
      },
    ];
  },
};
