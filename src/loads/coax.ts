/**
 * A coaxial line as the members of a bundle.
 * @module
 */
import { standardCatalogue } from "../materials/standard.js";
import type { Catalogue } from "../materials/types.js";
import { anObject, positive } from "../units/checks.js";
import { FieldError } from "../units/errors.js";
import type { Length } from "../units/quantity.js";
import { lawNumber, lawOf } from "./law-number.js";
import type { LineMaterial, Member } from "./wiring.js";

/** A coaxial line. */
export type Coax = {
  /** Of the centre, and of the outer conductor unless `outer` says otherwise. */
  readonly conductor: LineMaterial;
  /** Material of the outer conductor. */
  readonly outer?: LineMaterial;
  /** Material of the dielectric. */
  readonly dielectric: LineMaterial;
} & (
  | {
      /** Outer diameter of a usual semi-rigid line: `0.047 in`, `0.085 in`, `0.141 in`. */
      readonly size: string;
    }
  | {
      /** Diameter of the centre conductor [m]. */
      readonly centreDiameter: Length;
      /** Outer diameter of the dielectric [m]. */
      readonly dielectricDiameter: Length;
      /** Outer diameter of the outer conductor [m]. */
      readonly outerDiameter: Length;
    }
);

/**
 * The members of a coaxial line: centre, dielectric around it, outer conductor around that.
 * @throws FieldError; UnknownNameError listing the sizes on hand
 */
export function coax(
  options: Coax,
  catalogue: Catalogue = standardCatalogue(),
  field = "coax",
): readonly [Member, Member, Member] {
  anObject(field, options);
  const { conductor, outer = conductor, dielectric } = options;
  for (const [part, given] of Object.entries({ conductor, outer, dielectric })) {
    catalogue.material(anObject(`${field}.${part}`, given).material, `${field}.${part}.material`);
  }
  const [centre = 0, middle = 0, whole = 0] = diameters(options, catalogue, field);
  if (!(centre < middle && middle < whole)) {
    const wanted = "diameters that rise from the centre to the dielectric to the outer conductor";
    throw new FieldError(field, wanted, [centre, middle, whole]);
  }
  return [
    { name: "centre", ...conductor, diameter: centre },
    { name: "dielectric", ...dielectric, diameter: middle, innerDiameter: centre },
    { name: "shield", ...outer, diameter: whole, innerDiameter: middle },
  ];
}

function diameters(options: Coax, catalogue: Catalogue, field: string): number[] {
  if (!("size" in options)) {
    return (["centreDiameter", "dielectricDiameter", "outerDiameter"] as const).map((name) =>
      positive(`${field}.${name}`, options[name], "length"),
    );
  }
  const { size } = options;
  const line = lawOf(catalogue.laws("loads", "coax"), size, "size of line", `${field}.size`);
  return ["centre_diameter", "dielectric_diameter", "outer_diameter"].map(
    (name) => lawNumber(line, name, `coax.csv: ${size}`).value,
  );
}
