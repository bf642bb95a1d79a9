/**
 * How warm the chip of a mount may become.
 * @module
 */
import { highestTemperatureForDensity, highestTemperatureForQuality } from "../device/limit.js";
import { resonator } from "../device/quality.js";
import { superconductor } from "../device/superconductor.js";
import type { Catalogue } from "../materials/types.js";
import type { PlainMount } from "./read.js";

/**
 * Highest allowed temperature of the chip [K], for a temperature of the stage; undefined when the
 * mount gives no limit.
 * @throws FieldError when no temperature gives the wanted quality or density
 */
export function limitOf(
  { limit }: PlainMount,
  catalogue: Catalogue,
): ((stage: number) => number) | undefined {
  if (!limit) return undefined;
  if ("rise" in limit) return (stage) => stage + limit.rise;
  if ("temperature" in limit) return () => limit.temperature;
  const highest =
    "quality" in limit
      ? highestTemperatureForQuality(
          resonator(limit.resonator, catalogue, "limit.resonator"),
          limit.quality,
          "limit.quality",
        )
      : highestTemperatureForDensity(
          superconductor(limit.superconductor, catalogue, "limit.superconductor"),
          limit.quasiparticleDensity,
          "limit.quasiparticleDensity",
        );
  return () => highest;
}
