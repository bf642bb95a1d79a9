/**
 * What a law of a joint must say: the parameters of each form, with their units.
 * @module
 */
import { FieldError } from "../units/errors.js";
import { unitFactor } from "../units/quantity.js";
import type { Law } from "./law.js";

/** Parameters by name, with an SI unit. */
type Parameters = Readonly<Record<string, string>>;

/** Forms by the kind of joint, each with what it needs. */
const forms: Readonly<Record<string, Readonly<Record<string, Parameters>>>> = {
  pressed: {
    pressed: {
      conductance: "W/K",
      reference_force: "N",
      force_exponent: "",
      temperature_exponent: "",
    },
  },
  glue: {
    per_area: { conductance_per_area: "W/(m^2 K)", temperature_exponent: "" },
    layer: {
      boundary_resistance: "m^2 K^4/W",
      bulk_conductivity: "W/(m K)",
      bulk_exponent: "",
    },
  },
  boundary: { boundary: { boundary_resistance: "m^2 K^4/W" } },
  screws: {
    thread: { nominal_diameter: "m", stress_area: "m^2", head_diameter: "m" },
    joint: { nut_factor: "", head_length: "", thread_length: "", cone_slope: "" },
  },
};

/** Kinds whose laws are of the temperature. */
const overTemperature = ["pressed", "glue", "boundary"];

/**
 * Checks the laws of a kind of joint, so that a row that is missing is told by file and line when the text is read.
 * @param file - folder and name: `joints/pressed`; others are not checked
 * @throws FieldError naming file, line and column
 */
export function checkJointLaws(file: string, laws: readonly Law[]): void {
  const [folder, kind = ""] = file.split("/");
  const known = folder === "joints" ? forms[kind] : undefined;
  if (!known) return;
  for (const { form, parameters, row, to } of laws) {
    const needed = known[form];
    if (!needed) {
      throw new FieldError(`${row.place} form`, `one of ${Object.keys(known).join(", ")}`, form);
    }
    for (const [name, unit] of Object.entries(needed)) {
      const found = parameters.get(name);
      if (!found)
        throw new FieldError(`${row.place} parameter`, `a row ${name} for ${form}`, "none");
      const written = found.datum.provenance.unit;
      if (unitFactor(written, unit) !== undefined) continue;
      const wanted = unit === "" ? "no unit" : `a unit such as ${unit}`;
      throw new FieldError(`${found.row.place} unit`, wanted, written);
    }
    if (overTemperature.includes(kind) && to === undefined) {
      throw new FieldError(`${row.place} valid_to`, "the range of the law in kelvin", "nothing");
    }
  }
}
