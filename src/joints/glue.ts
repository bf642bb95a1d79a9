/**
 * A layer of glue, varnish or grease between two faces.
 * @module
 */
import { type Conductor, type PowerTerm, powerConductor } from "../conductor.js";
import { standardCatalogue } from "../materials/standard.js";
import type { Catalogue } from "../materials/types.js";
import { given } from "../provenance.js";
import { anObject, positive, positiveNumber } from "../units/checks.js";
import { FieldError } from "../units/errors.js";
import type { Area, Length } from "../units/quantity.js";
import { alike } from "./alike.js";
import { boundaryCoefficient } from "./boundary.js";
import { series } from "./combine.js";
import { materialConductivity } from "./conductivity.js";
import { recordOf } from "./laws.js";
import { stripConductor } from "./strip.js";

/** Glue of the table, or a layer of a material of the catalogue between two boundaries. */
export type GlueLayer = {
  /** Area of one spot [m²]. */
  readonly area: Area;
  /** How many spots alike, 1 by default. */
  readonly count?: number;
  /** Which measurement, where there is more than one. */
  readonly sample?: string;
} & (
  | {
      /** Name in data/joints/glue.csv. */
      readonly glue: string;
      /** Of the layer [m]; needed where the table's law has a bulk part. */
      readonly thickness?: Length;
    }
  | {
      /** Name of the glue's material in the catalogue. */
      readonly material: string;
      /** Thickness of the glue [m]. */
      readonly thickness: Length;
      /** r = R_B T³ of each of its two faces [m² K⁴/W]; left out, they resist nothing. */
      readonly boundaryResistance?: number;
    }
);

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
  anObject(field, options);
  const area = positive(`${field}.area`, options.area, "area");
  const byName = "glue" in options && options.glue !== undefined;
  const byMaterial = "material" in options && options.material !== undefined;
  if (byName === byMaterial) {
    throw new FieldError(
      field,
      "either glue, a name in the table, or material with a thickness",
      byName ? "both" : "neither",
    );
  }
  const one = byName
    ? ofTable(options, area, catalogue, field)
    : ofMaterial(options as Extract<GlueLayer, { material: string }>, area, catalogue, field);
  return alike(field, options.count, one, [["area of a spot", area, "m^2"]]);
}

/** Θ of a spot whose G = A g Tⁿ. @param perArea - g, at 1 K [W/(m² K)] */
export function glueTerm(perArea: number, exponent: number, area: number): PowerTerm {
  return { coefficient: (perArea * area) / (exponent + 1), exponent: exponent + 1 };
}

function ofTable(
  options: Extract<GlueLayer, { glue: string }>,
  area: number,
  catalogue: Catalogue,
  field: string,
): Conductor {
  const { value, form, range, provenance } = recordOf(
    { kind: "glue", key: "glue", what: "glue", name: options.glue, sample: options.sample },
    catalogue,
    field,
  );
  const ranges = [range];
  if (form === "per_area") {
    const term = glueTerm(
      value("conductance_per_area", "W/(m^2 K)"),
      value("temperature_exponent", ""),
      area,
    );
    return powerConductor(term.coefficient, term.exponent, { ranges, provenance });
  }
  const thickness = positive(`${field}.thickness`, options.thickness, "length");
  const bulk = value("bulk_exponent", "") + 1;
  const face = powerConductor(
    boundaryCoefficient(value("boundary_resistance", "m^2 K^4/W"), area),
    4,
  );
  const middle = powerConductor(
    (value("bulk_conductivity", "W/(m K)") * area) / thickness / bulk,
    bulk,
  );
  return {
    ...series(face, middle, face),
    ranges,
    provenance: [...provenance, given(`${field}: thickness`, thickness, "m")],
  };
}

function ofMaterial(
  options: Extract<GlueLayer, { material: string }>,
  area: number,
  catalogue: Catalogue,
  field: string,
): Conductor {
  const thickness = positive(`${field}.thickness`, options.thickness, "length");
  const conductivity = materialConductivity("material", options, catalogue, field, thickness);
  const middle = stripConductor(conductivity, area / thickness);
  const layer = [...conductivity.provenance, given(`${field}: thickness`, thickness, "m")];
  if (options.boundaryResistance === undefined) return { ...middle, provenance: layer };
  const r = positiveNumber(
    `${field}.boundaryResistance`,
    options.boundaryResistance,
    "a boundary resistance times T³ in m² K⁴/W",
  );
  const face = powerConductor(boundaryCoefficient(r, area), 4);
  return {
    ...series(face, middle, face),
    provenance: [...layer, given(`${field}: resistance of each boundary`, r, "m^2 K^4/W")],
  };
}
