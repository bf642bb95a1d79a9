/**
 * Thermal radiation from warmer walls, through a gap or a window.
 * @module
 */
import { given } from "../provenance.js";
import { anObject, notNegative, positive, share, wholeCount } from "../units/checks.js";
import { stefanBoltzmann } from "../units/constants.js";
import { FieldError } from "../units/errors.js";
import { formatQuantity } from "../units/format.js";
import type { Area, Power, Temperature } from "../units/quantity.js";
import { type LightLoad, lightLoad } from "./heat-load.js";
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
      readonly power: Power;
    }
  | {
      /** Of the wall that radiates [K]. */
      readonly hot: Temperature;
      /** Of what absorbs, 0 by default [K]. */
      readonly cold?: Temperature;
      /** Of the gap or window the radiation passes [m²]. */
      readonly area: Area;
      /** Share a blackbody's power is multiplied by: of wall and absorber together, 0 to 1. */
      readonly emissivity: number;
      /** Share of what passes the gap that reaches the node, 1 by default. */
      readonly viewFactor?: number;
    }
);

/**
 * Infrared load, given or of a grey body (`greyBodyPower`). Photons are those that arrive: the power
 * is less by what the absorber sends back.
 * @param field - path of the load in the user's description, for errors
 * @throws FieldError
 */
export function infrared(options: Infrared, field = "infrared"): LightLoad {
  anObject(field, options);
  const { name = "infrared" } = options;
  const pixels = wholeCount(`${field}.pixels`, options.pixels);
  if ("power" in options && options.power !== undefined) {
    const power = notNegative(`${field}.power`, options.power, "power");
    return lightLoad(
      name,
      pixels,
      [{ name, power, photonRate: 0 }],
      [given(`${field}: power`, power, "W")],
      {},
    );
  }
  const body = options as Extract<Infrared, { hot: Temperature }>;
  const { cold: coldGiven = 0, viewFactor = 1 } = body;
  const hot = positive(`${field}.hot`, body.hot, "temperature");
  const cold = notNegative(`${field}.cold`, coldGiven, "temperature");
  if (cold > hot) {
    throw new FieldError(
      `${field}.cold`,
      `a temperature up to hot (${formatQuantity(hot, "K")})`,
      coldGiven,
    );
  }
  const area = positive(`${field}.area`, body.area, "area");
  const emissivity = share(`${field}.emissivity`, body.emissivity, "an emissivity");
  share(`${field}.viewFactor`, viewFactor, "a view factor");
  return lightLoad(
    name,
    pixels,
    [
      {
        name,
        power: greyBodyPower(emissivity, area, viewFactor, hot, cold),
        photonRate: emissivity * area * viewFactor * photonExitance(hot),
      },
    ],
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
