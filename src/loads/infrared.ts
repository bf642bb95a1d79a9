/**
 * Thermal radiation from warmer walls, through a gap or a window.
 * @module
 */
import { given } from "../provenance.js";
import { stefanBoltzmann } from "../units/constants.js";
import { FieldError } from "../units/errors.js";
import * as read from "../units/fields.js";
import { formatGiven, formatQuantity } from "../units/format.js";
import type { Area, Power, Temperature } from "../units/quantity.js";
import type { Uncertain } from "../units/spread.js";
import { type LightLoad, lightLoad } from "./heat-load.js";
import type { LoadKind } from "./load-kind.js";
import { exitance, photonExitance } from "./planck.js";

/** Radiated power: given, or of a grey body. */
export type Infrared = {
  /** Name in the budget, `infrared` by default. */
  readonly name?: string;
  /** That it spreads over, 1 by default; the power and the gap are of all of them. */
  readonly pixels?: number;
} & (
  | {
      /** Power that falls on the chip [W]. */
      readonly power: Uncertain<Power>;
    }
  | {
      /** Of the wall that radiates [K]. */
      readonly hot: Uncertain<Temperature>;
      /** Of what absorbs, 0 by default [K]. */
      readonly cold?: Uncertain<Temperature>;
      /** Of the gap or window the radiation passes [m²]. */
      readonly area: Uncertain<Area>;
      /** Share a blackbody's power is multiplied by: of wall and absorber together, 0 to 1. */
      readonly emissivity: Uncertain<number>;
      /** Share of what passes the gap that reaches the node, 1 by default. */
      readonly viewFactor?: Uncertain<number>;
    }
);

const common = { name: read.optional(read.text), pixels: read.optional(read.count) };

export const infraredKind: LoadKind<Infrared> = {
  fields: read.oneForm<Infrared>()({
    power: { ...common, power: read.quantityFromZero("power") },
    hot: {
      ...common,
      hot: read.quantity("temperature"),
      cold: read.optional(read.quantityFromZero("temperature")),
      area: read.quantity("area"),
      emissivity: read.share,
      viewFactor: read.optional(read.share),
    },
  }),
  heat: (options, { name, field }) => infrared({ ...options, name }, field),
};

/**
 * Infrared load, given or of a grey body (`greyBodyPower`). Photons are those that arrive: the power
 * is less by what the absorber sends back.
 * @param field - path of the load in the user's description, for errors
 * @throws FieldError
 */
export function infrared(options: Infrared, field = "infrared"): LightLoad {
  const plain = infraredKind.fields.read(options, field);
  const { name = "infrared", pixels = 1 } = plain;
  if ("power" in plain) {
    const { power } = plain;
    const provenance = [given(`${field}: power`, power, "W")];
    return lightLoad(name, pixels, [{ name, power, photonRate: 0 }], provenance);
  }
  const { hot, cold = 0, area, emissivity, viewFactor = 1 } = plain;
  if (cold > hot) {
    const wanted = `a temperature up to hot (${formatQuantity(hot, "K")})`;
    throw new FieldError(`${field}.cold`, wanted, formatGiven(cold, "K"));
  }
  const power = greyBodyPower(emissivity, area, viewFactor, hot, cold);
  const photonRate = emissivity * area * viewFactor * photonExitance(hot);
  return lightLoad(
    name,
    pixels,
    [{ name, power, photonRate }],
    [
      given(`${field}: temperature of the wall`, hot, "K"),
      given(`${field}: temperature of the absorber`, cold, "K"),
      given(`${field}: area of the gap`, area, "m^2"),
      given(`${field}: emissivity`, emissivity, ""),
      given(`${field}: view factor`, viewFactor, ""),
    ],
    { "exitance of the wall [W/m^2]": exitance(hot) },
  );
}

/**
 * Power of a grey body through an area: P = ε σ A F (T_hot⁴ − T_cold⁴) [W].
 * Source: law of Stefan and Boltzmann; σ from the SI's exact constants.
 */
export function greyBodyPower(
  emissivity: number,
  area: number,
  viewFactor: number,
  hot: number,
  cold: number,
): number {
  return emissivity * stefanBoltzmann * area * viewFactor * (hot ** 4 - cold ** 4);
}
