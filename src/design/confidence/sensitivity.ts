/**
 * Which unknown costs the most margin: the chip's rise between the low and the high end of each
 * unknown, all others at their medians, and the local slope of the rise there.
 * @module
 */
import { standardCatalogue } from "../../materials/standard.js";
import type { Mount } from "../../mount/description.js";
import { provenanceLater } from "../../mount/numbers.js";
import { readMount } from "../../mount/read.js";
import { FieldError } from "../../units/errors.js";
import { type Effect, Sensitivity, swing } from "./sensitivity-result.js";
import { RestingMount } from "./slopes.js";
import { Inputs, type UncertainInput } from "./uncertain-inputs.js";
import { type Evaluated, type UncertainMountOptions, uncertainMount } from "./uncertain-mount.js";

/** How to ask: of which catalogue, and which of its rows count beside the mount's spreads. */
export type SensitivityOptions = Pick<UncertainMountOptions, "catalogue" | "rows">;

/**
 * How much each uncertain input of a mount moves the chip. Two solves an input, and a local slope from
 * the laws of the parts alone, which all share one transposed solve.
 * @throws FieldError for a mount in which nothing is uncertain, and as `uncertainMount` does
 */
export function sensitivity(mount: Mount, options: SensitivityOptions = {}): Sensitivity {
  const { catalogue = standardCatalogue(), rows = "all" } = options;
  const compiled = uncertainMount(mount, { catalogue, rows });
  if (compiled.inputs.length === 0) {
    throw new FieldError(
      mount.name,
      "a mount with a spread, such as bonds.length: spread(…)",
      "none",
    );
  }
  const inputs = new Inputs(compiled.inputs, readMount(mount), catalogue);
  const rest = new RestingMount(inputs.mount, catalogue);
  const { chip, stage } = rest.at;
  const effects = inputs.list.map((input, i): Effect => {
    const only = new Set([i]);
    const values = (x: number) => {
      const moved = compiled.medians.slice();
      moved[i] = x;
      return moved;
    };
    const low = compiled.evaluate(values(input.low));
    const high = compiled.evaluate(values(input.high));
    const at = (x: number) => inputs.at(values(x), only);
    const slopes = rest.slopes(at, input.median, stepOf(input));
    const slope = slopes.chip - slopes.stage;
    return {
      input,
      riseAtLow: riseOf(low),
      riseAtHigh: riseOf(high),
      marginAtLow: low.margin,
      marginAtHigh: high.margin,
      slope,
      logarithmicSlope: (input.median * slope) / (chip - stage),
    };
  });
  return new Sensitivity(
    mount.name,
    rest.at,
    effects.sort((a, b) => swing(b) - swing(a)),
    provenanceLater(mount, catalogue),
  );
}

/** A chip that runs away is infinitely warm. */
function riseOf({ chip, stage }: Evaluated): number {
  return chip === Number.POSITIVE_INFINITY ? chip : chip - stage;
}

/** Small beside the value and within what it may be. */
function stepOf({ low, high, median }: UncertainInput): number {
  const within = Math.abs(high - low) / 40;
  return median === 0 ? within : Math.min(5e-3 * Math.abs(median), within);
}
