/**
 * The metal between the ledge and the bolts to the stage.
 * @module
 */
import { parallel } from "../../joints/combine.js";
import { heatStore } from "../../joints/heat-store.js";
import { strip } from "../../joints/strip.js";
import { purity, type UncertainPurity } from "../../materials/options.js";
import type { Catalogue } from "../../materials/types.js";
import { object, optional, type Plain, quantity, text } from "../../units/fields.js";
import { formatGiven } from "../../units/format.js";
import type { Area, Length } from "../../units/quantity.js";
import type { Uncertain } from "../../units/spread.js";
import { boxByBolts, boxByDie, pick, type Thing } from "../thing.js";
import { metres, type Plating, platingFields, purityWords } from "./film.js";

/** The metal between the ledge and the bolts to the stage. */
export interface Box {
  /** Material, by its name in the catalogue. */
  readonly material: string;
  /** Purity: resistivity warm over residual, above 1. */
  readonly residualResistivityRatio?: UncertainPurity;
  /** Metal area that the heat crosses [m²]. */
  readonly crossSection: Uncertain<Area>;
  /** From the ledge to the bolts [m]. */
  readonly pathLength: Uncertain<Length>;
  /** Plating along that path, beside the metal; its width is how broad the plated faces are. */
  readonly plating?: BoxPlating;
}

/** Plating along the path through the box. */
export interface BoxPlating extends Plating {
  /** How broad the plated faces are together [m]. */
  readonly width: Uncertain<Length>;
}

interface WithBox {
  readonly box: Plain<Box>;
  readonly bonds?: unknown;
}

/** Half of the metal of the path, which is all of the box that is counted. */
const half = {
  field: "box.material",
  store: ({ box: { material, crossSection, pathLength } }: WithBox, catalogue: Catalogue) =>
    heatStore({ material, volume: (crossSection * pathLength) / 2 }, catalogue, "box"),
};

export const box: Thing<Box, WithBox> = {
  field: object<Box>({
    material: text,
    residualResistivityRatio: optional(purity),
    crossSection: quantity("area"),
    pathLength: quantity("length"),
    plating: optional(object<BoxPlating>({ ...platingFields, width: quantity("length") })),
  }),
  parts: () => ({
    paths: [
      {
        name: "box wall",
        from: boxByDie,
        to: boxByBolts,
        conductor({ box: own }, catalogue) {
          const length = own.pathLength;
          const pure = pick(own, "residualResistivityRatio");
          const metal = strip(
            { material: own.material, length, area: own.crossSection, ...pure },
            catalogue,
            "box",
          );
          if (!own.plating) return metal;
          return parallel(metal, strip({ ...own.plating, length }, catalogue, "box.plating"));
        },
      },
    ],
    stores: [
      { name: "box, near half", at: boxByDie, ...half },
      { name: "box, far half", at: boxByBolts, ...half },
    ],
  }),
  drawn: ({ box: own, bonds }) => [
    {
      kind: "box",
      look: "box",
      name: bonds ? "box with its ledge" : "box",
      details: [
        own.material,
        ...purityWords(own.residualResistivityRatio),
        `${formatGiven(1e6 * own.crossSection, "")} mm² over ${metres(own.pathLength)} to the bolts`,
        ...(own.plating
          ? [`plated with ${metres(own.plating.thickness)} of ${own.plating.material}`]
          : []),
      ],
      places: [],
    },
  ],
};
