/**
 * Glue under the die, down to the box.
 * @module
 */
import { tiles } from "../../chip/contact.js";
import { type BoundaryResistance, boundaryResistance } from "../../joints/boundary.js";
import { glue as glueJoint } from "../../joints/glue.js";
import { FieldError } from "../../units/errors.js";
import {
  count,
  type FieldsOf,
  object,
  oneForm,
  optional,
  type Plain,
  quantity,
  text,
} from "../../units/fields.js";
import { formatGiven } from "../../units/format.js";
import type { Area, Length } from "../../units/quantity.js";
import type { Uncertain } from "../../units/spread.js";
import { boxByDie, type Contacts, rectanglesOf, type Thing } from "../thing.js";
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
  /** Of the layer [m]; needed where the table's law has a bulk part. */
  readonly thickness?: Uncertain<Length>;
}

/** A layer of a material of the catalogue between two boundaries. */
export interface MaterialGlue extends GlueSpots {
  /** Name of the glue's material in the catalogue. */
  readonly material: string;
  /** Thickness of the glue [m]. */
  readonly thickness: Uncertain<Length>;
  /** r = R_B T³ of each of its two faces [m² K⁴/W]; left out, they resist nothing. */
  readonly boundaryResistance?: Uncertain<BoundaryResistance>;
}

/** Glue under the die, down to the box. */
export type Glue = NamedGlue | MaterialGlue;

interface WithGlue {
  readonly die: { readonly width: number; readonly length: number };
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

export const glue: Thing<Glue, WithGlue> = {
  holds: "glue",
  field: optional(
    oneForm<Glue>()({
      glue: object<NamedGlue>({
        ...spotFields,
        glue: text,
        thickness: optional(quantity("length")),
      }),
      material: object<MaterialGlue>({
        ...spotFields,
        material: text,
        thickness: quantity("length"),
        boundaryResistance: optional(boundaryResistance),
      }),
    }),
  ),
  rules({ die, glue: own }) {
    if (!own) return;
    checkPlaces("glue", own);
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
                return glueJoint(layer, catalogue, "glue");
              },
              count: (mount) => spots(mount.glue!),
            },
          ],
        }
      : {},
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
