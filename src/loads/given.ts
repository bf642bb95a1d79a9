/**
 * A heat load that was measured or assumed: vibration, eddy currents, a heater.
 * @module
 */
import { given } from "../provenance.js";
import { object, optional, quantityFromZero, text } from "../units/fields.js";
import type { Power } from "../units/quantity.js";
import type { Uncertain } from "../units/spread.js";
import type { HeatLoad } from "./heat-load.js";
import type { LoadKind } from "./load-kind.js";

/** Watts with a name. */
export interface GivenPower {
  /** Name in the budget. */
  readonly name: string;
  /** Power [W]. */
  readonly power: Uncertain<Power>;
  /** Where it is from, for the budget. */
  readonly note?: string;
}

const power = quantityFromZero("power");
const fields = object<GivenPower>({ name: text, power, note: optional(text) });

/** Watts in a mount, whose loads need no name. */
type GivenInMount = Pick<GivenPower, "power"> & Partial<Pick<GivenPower, "name">>;

export const givenKind: LoadKind<GivenInMount> = {
  fields: object<GivenInMount>({ name: optional(text), power }),
  heat: (options, { name, field }) => givenLoad({ ...options, name }, field),
};

/**
 * A load of so many watts.
 * @param field - path of the load in the user's description, for errors
 * @throws FieldError
 */
export function givenLoad(options: GivenPower, field = "givenLoad"): HeatLoad {
  const { name, power, note = "" } = fields.read(options, field);
  const provenance = [given(`${name}: power`, power, "W", note)];
  return { name, power, provenance, details: {}, warnings: [] };
}
