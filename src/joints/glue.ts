/**
 * A layer of glue, varnish or grease between two faces.
 * @module
 */
import { type Conductor, powerConductor } from "../conductor.js";
import { type ConductivityOptions, conductivityFields } from "../materials/options.js";
import { standardCatalogue } from "../materials/standard.js";
import type { Catalogue } from "../materials/types.js";
import { distinct, given } from "../provenance.js";
import { positive } from "../units/checks.js";
import { FieldError } from "../units/errors.js";
import * as read from "../units/fields.js";
import type { Area, Length } from "../units/quantity.js";
import type { Uncertain } from "../units/spread.js";
import {
  type BoundaryResistance,
  boundary,
  boundaryCoefficient,
  boundaryResistance,
} from "./boundary.js";
import { alike, series } from "./combine.js";
import { recordOf } from "./laws.js";
import { materialConductivity, stripConductor } from "./strip.js";

interface Spots {
  /** Area of one spot [m²]. */
  readonly area: Uncertain<Area>;
  /** How many spots alike, 1 by default. */
  readonly count?: number;
  /** Which measurement, where there is more than one. */
  readonly sample?: string;
}

/** Glue of the catalogue's table. */
export interface NamedGlue extends Spots {
  /** Name in data/joints/glue.csv. */
  readonly glue: string;
  /** Of the layer [m]; needed where the table's law has a bulk part. */
  readonly thickness?: Uncertain<Length>;
}

/**
 * A layer of a material of the catalogue between two boundaries: glue, solder, an indium bump. Metals take their
 * purity; where they superconduct, phonons alone carry heat far below T_c.
 */
export interface MaterialGlue extends Spots, ConductivityOptions {
  /** Name of the glue's material in the catalogue. */
  readonly material: string;
  /** Thickness of the glue [m]. */
  readonly thickness: Uncertain<Length>;
  /** r = R_B T³ of each of its two faces [m² K⁴/W]; left out, they resist nothing. */
  readonly boundaryResistance?: Uncertain<BoundaryResistance>;
  /** Materials on both sides, for boundaries by diffuse mismatch; in place of `boundaryResistance`. */
  readonly between?: readonly [string, string];
}

/** Spots of glue of the table, or of a material of the catalogue. */
export type GlueLayer = NamedGlue | MaterialGlue;

const common = {
  area: read.quantity("area"),
  count: read.optional(read.count),
  sample: read.optional(read.text),
};

const named: read.FieldsOf<NamedGlue> = {
  ...common,
  glue: read.text,
  thickness: read.optional(read.quantity("length")),
};
const ofOneMaterial: read.FieldsOf<MaterialGlue> = {
  ...common,
  ...conductivityFields,
  material: read.text,
  thickness: read.quantity("length"),
  boundaryResistance: read.optional(boundaryResistance),
  between: read.optional(read.pair(read.text, read.text, "the names of two materials")),
};
/** Fields of each form of glue. */
export const glueForms = { glue: named, material: ofOneMaterial };
const fields = read.oneForm<GlueLayer>()(glueForms);

/**
 * Heat path through spots of glue. Two laws:
 *   `per_area`: G = A g (T/1 K)ⁿ, measured on a spot and divided by its area;
 *   `layer`: two boundaries (Θ = A T⁴/(4r) each) and the bulk (Θ = (A/d) ∫κ dT) end to end, in the
 *   small-drop form of `series`. Below about 1 K the boundaries of a thin layer resist more than it.
 * Source of the picture: E. T. Swartz and R. O. Pohl, Rev. Mod. Phys. 61, 605 (1989).
 * @param field - path of the glue in the user's description, for errors
 * @throws FieldError, UnknownNameError listing the glues on hand
 */
export function glue(
  options: GlueLayer,
  catalogue: Catalogue = standardCatalogue(),
  field = "glue",
): Conductor {
  const plain = fields.read(options, field);
  const one =
    "glue" in plain ? ofTable(plain, catalogue, field) : ofMaterial(plain, catalogue, field);
  return alike(field, plain.count, one, [["area of a spot", plain.area, "m^2"]]);
}

function ofTable(
  { glue: name, area, thickness, sample }: read.Plain<NamedGlue>,
  catalogue: Catalogue,
  field: string,
): Conductor {
  const wanted = { kind: "glue", key: "glue", what: "glue", name, sample };
  const { value, form, range, provenance } = recordOf(wanted, catalogue, field);
  const ranges = [range];
  if (form === "per_area") {
    const exponent = value("temperature_exponent", "") + 1;
    const perArea = value("conductance_per_area", "W/(m^2 K)");
    return powerConductor((perArea * area) / exponent, exponent, { ranges, provenance });
  }
  const d = positive(`${field}.thickness`, thickness, "length");
  const bulk = value("bulk_exponent", "") + 1;
  const perKelvin = (value("bulk_conductivity", "W/(m K)") * area) / d;
  const middle = powerConductor(perKelvin / bulk, bulk);
  const resistance = value("boundary_resistance", "m^2 K^4/W");
  return {
    ...betweenFaces(middle, resistance, area),
    ranges,
    provenance: [...provenance, given(`${field}: thickness`, d, "m")],
  };
}

function ofMaterial(
  plain: read.Plain<MaterialGlue>,
  catalogue: Catalogue,
  field: string,
): Conductor {
  const { material, area, thickness, boundaryResistance: r, between } = plain;
  const conductivity = materialConductivity("material", plain, catalogue, field, thickness);
  const middle = stripConductor(conductivity, area / thickness);
  const layer = [...conductivity.provenance, given(`${field}: thickness`, thickness, "m")];
  if (between) {
    if (r !== undefined) throw new FieldError(field, "only one of boundaryResistance, between", r);
    const [first, last] = between.map((side) =>
      boundary({ between: [side, material], area }, catalogue, field),
    ) as [Conductor, Conductor];
    const chain = series(first, { ...middle, provenance: layer }, last);
    return { ...chain, provenance: distinct(chain.provenance ?? []) };
  }
  if (r === undefined) return { ...middle, provenance: layer };
  return {
    ...betweenFaces(middle, r, area),
    provenance: [...layer, given(`${field}: resistance of each boundary`, r, "m^2 K^4/W")],
  };
}

function betweenFaces(middle: Conductor, resistance: number, area: number): Conductor {
  const face = powerConductor(boundaryCoefficient(resistance, area), 4);
  return series(face, middle, face);
}
