/**
 * Glue under the die, down to the box.
 * @module
 */
import { tiles } from "../../chip/contact.js";
import { boundsOf } from "../../chip/grid.js";
import type { HeatStore } from "../../conductor.js";
import {
  glueForms,
  glue as glueJoint,
  type MaterialGlue,
  type NamedGlue,
} from "../../joints/glue.js";
import { heatStore } from "../../joints/heat-store.js";
import type { Catalogue } from "../../materials/types.js";
import { FieldError } from "../../units/errors.js";
import { oneForm, oneOf, optional, type Plain, text } from "../../units/fields.js";
import { formatGiven } from "../../units/format.js";
import { boxByDie, type Contacts, inMaterial, rectanglesOf, type Thing } from "../thing.js";
import { metres, times } from "./film.js";
import {
  checkPlaces,
  inRows,
  type Placed,
  placedFields,
  refuseTooMany,
  spots,
  square,
} from "./spots.js";

/** Glue of the catalogue's table under the die. */
export interface TableGlue extends NamedGlue, Placed {
  /** Material of the catalogue whose heat capacity it has; without it no heat of it is counted in time. */
  readonly heatOf?: string;
}

/** Glue, solder or bumps of a material of the catalogue under the die. */
export interface LayerGlue extends Omit<MaterialGlue, "between">, Placed {
  /** `"diffuse mismatch"`: its faces by the speeds of sound of die and box, in place of a resistance. */
  readonly boundary?: "diffuse mismatch";
}

/** Glue under the die, down to the box: square spots, as many as the count, or as there are places. */
export type Glue = TableGlue | LayerGlue;

interface WithGlue {
  readonly die: { readonly material: string; readonly width: number; readonly length: number };
  readonly box: { readonly material: string };
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
    const middles = own!.places ?? inRows(die, own!.count ?? 1);
    const pieces = Math.max(1, Math.ceil((patchesAlong * side) / Math.max(die.width, die.length)));
    const areas = middles.flatMap((middle) => tiles(square(middle, side), pieces, pieces));
    return { patches: areas.map((area) => ({ area, share: 1 / areas.length, bonds: 0 })) };
  },
};

/**
 * Half of the heat of a layer of glue or bumps; the temperature falls across it.
 * @param area - of it all [m²]
 * @param high - name of its field for the height
 * @throws FieldError where the layer does not say what is in it, or how high it is
 */
export function halfOfLayer(
  layer: { readonly material: string } | { readonly heatOf?: string },
  area: number,
  [high, height]: readonly [high: string, height: number | undefined],
  at: string,
  catalogue: Catalogue,
): HeatStore {
  const material = "material" in layer ? layer.material : layer.heatOf;
  if (material === undefined) {
    throw new FieldError(`${at}.heatOf`, "the material whose heat capacity it has", undefined);
  }
  if (height === undefined) {
    throw new FieldError(`${at}.${high}`, `the ${high} of the layer`, undefined);
  }
  return heatStore({ material, volume: (area * height) / 2 }, catalogue, at);
}

const half = {
  field: "glue",
  store({ glue: own }: WithGlue, catalogue: Catalogue) {
    const area = spots(own!) * own!.area;
    return halfOfLayer(own!, area, ["thickness", own!.thickness], "glue", catalogue);
  },
};

const { between: _, ...layerFields } = glueForms.material;

export const glue: Thing<Glue, WithGlue> = {
  holds: "glue",
  field: optional(
    oneForm<Glue>()({
      glue: { ...glueForms.glue, ...placedFields, heatOf: optional(text) },
      material: { ...layerFields, ...placedFields, boundary: optional(oneOf("diffuse mismatch")) },
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
      `glue: ${own.material} superconducts, and heat must pass its faces by phonons; they resist nothing as ` +
        "long as neither boundary nor boundaryResistance is given.",
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
        places: Array.from({ length: total }, (_, k) =>
          boundsOf(pieces.slice(k * each, (k + 1) * each)),
        ),
        ...(own.thickness !== undefined && { thickness: own.thickness }),
      },
    ];
  },
};
