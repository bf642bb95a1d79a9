/**
 * One hit on a mount at rest: how high, how long, and how it comes back.
 * @module
 */
import { standardCatalogue } from "../../materials/standard.js";
import type { CatalogueChoice } from "../../materials/types.js";
import type { Mount, Place } from "../../mount/description.js";
import { followed, loadedNetwork } from "../../mount/follow.js";
import { translateInTime } from "../../mount/in-time.js";
import { readMount } from "../../mount/read.js";
import { eigenTimes } from "../../network/eigen-times.js";
import { notNegative, positive } from "../../units/checks.js";
import type { Energy, Time } from "../../units/quantity.js";
import { Pulse } from "./pulse-result.js";

/** A hit, and how to follow it. */
export interface PulseOptions extends CatalogueChoice {
  /** Energy of the hit that becomes heat [J]. */
  readonly energy: Energy;
  /** Where on the die, when it is a sheet; all over it when absent. */
  readonly place?: Place;
  /** Followed for so long [s]; until the slowest of the mount's times has passed ten times when absent. */
  readonly duration?: Time;
  /** Of a temperature, 1e-8 when absent: a pulse may be small beside the temperature. */
  readonly relativeTolerance?: number;
  /** Cells of a sheet along its longer side, 4 to 128; 32 when absent. */
  readonly cells?: number;
}

/**
 * Lets one hit fall on a mount at rest and follows it.
 * @throws FieldError or UnknownNameError naming a wrong field; SolveError
 * @example heatPulse(mount, { energy: "150 keV" }).toText()
 */
export function heatPulse(mount: Mount, options: PulseOptions): Pulse {
  const { relativeTolerance = 1e-8, cells, duration } = options;
  const energy = positive("energy", options.energy, "energy");
  const place = options.place && {
    x: notNegative("place.x", options.place.x, "length"),
    y: notNegative("place.y", options.place.y, "length"),
  };
  const catalogue = options.catalogue ?? standardCatalogue();
  const plain = readMount(mount);
  const inTime = translateInTime(plain, catalogue, cells);
  inTime.hit(place, "place");
  const slowest = () => eigenTimes(loadedNetwork(inTime, inTime.loads), { count: 1 })[0]!.time;
  const course = followed(
    plain,
    inTime,
    {
      duration: duration ?? 10 * slowest(),
      hits: [{ at: 0, energy, ...(place && { place }) }],
      relativeTolerance,
    },
    catalogue,
  );
  return new Pulse(course, energy);
}
