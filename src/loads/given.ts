/**
 * A heat load that was measured or assumed: vibration, eddy currents, a heater.
 * @module
 */
import { given } from "../provenance.js";
import { anObject, notNegative } from "../units/checks.js";
import { FieldError } from "../units/errors.js";
import type { Power } from "../units/quantity.js";
import type { HeatLoad } from "./heat-load.js";

/** Watts with a name. */
export interface GivenPower {
  /** Name in the budget. */
  readonly name: string;
  /** Power [W]. */
  readonly power: Power;
  /** Where it is from, for the budget. */
  readonly note?: string;
}

/**
 * A load of so many watts.
 * @param field - path of the load in the user's description, for errors
 * @throws FieldError
 */
export function givenLoad(options: GivenPower, field = "givenLoad"): HeatLoad {
  anObject(field, options);
  const { name, note = "" } = options;
  if (typeof name !== "string" || name === "") {
    throw new FieldError(`${field}.name`, "a name for the budget", name);
  }
  const power = notNegative(`${field}.power`, options.power, "power");
  return { name, power, provenance: [given(`${name}: power`, power, "W", note)], details: {} };
}
