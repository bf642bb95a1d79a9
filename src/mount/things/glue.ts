/**
 * Glue under the die, down to the box.
 * @module
 */
import { tiles } from "../../chip/contact.js";
import { type GlueLayer, glueForms, glue as glueJoint } from "../../joints/glue.js";
import { FieldError } from "../../units/errors.js";
import { oneForm, optional, type Plain } from "../../units/fields.js";
import { formatGiven } from "../../units/format.js";
import { boxByDie, type Contacts, rectanglesOf, type Thing } from "../thing.js";
import { metres, times } from "./film.js";
import { checkPlaces, type Placed, placedFields, refuseTooMany, spots, square } from "./spots.js";

/** Glue under the die, down to the box: square spots, as many as the count, or as there are places. */
export type Glue = GlueLayer & Placed;

interface WithGlue {
  readonly die: { readonly width: number; readonly length: number };
  readonly glue?: Plain<Glue>;
}

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
      glue: { ...glueForms.glue, ...placedFields },
      material: { ...glueForms.material, ...placedFields },
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
