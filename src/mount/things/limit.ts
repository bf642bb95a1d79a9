/**
 * How warm the chip of a mount may become.
 * @module
 */
import {
  densityField,
  highestTemperatureForDensity,
  highestTemperatureForQuality,
  type QuasiparticleDensity,
} from "../../device/limit.js";
import { type ResonatorOptions, resonator, resonatorFields } from "../../device/quality.js";
import { superconductor, superconductorFields } from "../../device/superconductor.js";
import type { Catalogue } from "../../materials/types.js";
import { FieldError } from "../../units/errors.js";
import { aboveZero, object, oneForm, optional, type Plain, quantity } from "../../units/fields.js";
import { formatGiven } from "../../units/format.js";
import type { Temperature } from "../../units/quantity.js";
import type { Uncertain } from "../../units/spread.js";
import type { Thing } from "../thing.js";

/** A limit above the stage. */
export interface RiseLimit {
  /** Highest temperature above the stage [K]. */
  readonly rise: Uncertain<Temperature>;
}

/** A limit by temperature. */
export interface TemperatureLimit {
  /** Highest temperature [K]. */
  readonly temperature: Uncertain<Temperature>;
}

/** A limit by the quality factor that is left. */
export interface QualityLimit {
  /** Lowest internal quality factor that will do. */
  readonly quality: Uncertain<number>;
  /** The resonator whose quality it is. */
  readonly resonator: ResonatorOptions;
}

/** A limit by the density of thermal quasiparticles. */
export interface DensityLimit {
  /** Highest density [1/m³], or such as `"10 1/um^3"`. */
  readonly quasiparticleDensity: Uncertain<QuasiparticleDensity>;
  /** The superconductor in which the density is counted. */
  readonly superconductor: ResonatorOptions["superconductor"];
}

/**
 * How warm the chip may become: above the stage, absolutely, or as warm as leaves a wanted quality
 * factor or no more than a density of thermal quasiparticles.
 */
export type Limit = RiseLimit | TemperatureLimit | QualityLimit | DensityLimit;

interface WithLimit {
  readonly stage: unknown;
  readonly limit?: Plain<Limit>;
}

/**
 * Highest allowed temperature of the chip [K], for a temperature of the stage; undefined when the
 * mount gives no limit.
 * @throws FieldError when no temperature gives the wanted quality or density
 */
export function limitOf(
  { limit: own }: Pick<WithLimit, "limit">,
  catalogue: Catalogue,
): ((stage: number) => number) | undefined {
  if (!own) return undefined;
  if ("rise" in own) return (stage) => stage + own.rise;
  if ("temperature" in own) return () => own.temperature;
  const highest =
    "quality" in own
      ? highestTemperatureForQuality(
          resonator(own.resonator, catalogue, "limit.resonator"),
          own.quality,
          "limit.quality",
        )
      : highestTemperatureForDensity(
          superconductor(own.superconductor, catalogue, "limit.superconductor"),
          own.quasiparticleDensity,
          "limit.quasiparticleDensity",
        );
  return () => highest;
}

export const limit: Thing<Limit, WithLimit> = {
  field: optional(
    oneForm<Limit>()({
      rise: object<RiseLimit>({ rise: quantity("temperature") }),
      temperature: object<TemperatureLimit>({ temperature: quantity("temperature") }),
      quality: object<QualityLimit>({ quality: aboveZero, resonator: resonatorFields }),
      quasiparticleDensity: object<DensityLimit>({
        quasiparticleDensity: densityField,
        superconductor: superconductorFields,
      }),
    }),
  ),
  rules({ limit: own, stage }) {
    if (!own || !("temperature" in own) || typeof stage !== "number") return;
    if (own.temperature > stage) return;
    const wanted = `above the stage, ${formatGiven(stage, "K")}`;
    throw new FieldError("limit.temperature", wanted, formatGiven(own.temperature, "K"));
  },
};
