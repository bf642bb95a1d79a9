/**
 * A mount brought to rest: solved, with loads that depend on the chip's temperature in balance with it.
 * @module
 */
import type { Catalogue } from "../materials/types.js";
import type { SteadySolution } from "../network/solution.js";
import { isSheet, place } from "./part.js";
import type { PlainMount } from "./read.js";
import type { SheetStore } from "./sheet-model.js";
import { type Reading, type Translation, translate } from "./translate.js";

/** A mount at rest. */
export interface Settled {
  /** The mount as a network. */
  readonly translation: Translation;
  /** Temperatures and flows of heat it was read from. */
  readonly solution: SteadySolution;
  /** How the network's temperatures are read. */
  readonly reading: Reading;
  /** Temperature of the chip's hottest place [K]. */
  readonly chip: number;
  /** Temperature of the stage [K]. */
  readonly stage: number;
}

/** Steps of the search for rest; each is one solve, and few are needed. */
const mostSteps = 100;
/** Where chip and loads agree to this, they are at rest. */
const tolerance = 1e-10;

/**
 * The coolest state of rest. A quick die holds its own loads. On a sheet they are followed from the cold
 * up: as long as the chip comes out warmer than its loads were taken at, they are taken at a warmer
 * one, by secants; once it comes out colder, rest lies between, and false position closes in on it.
 * @throws SolveError when there is no state of rest
 */
export function settle(mount: PlainMount, catalogue: Catalogue, sheets: SheetStore): Settled {
  const at = (chip?: number): Settled => {
    const translation = translate(mount, catalogue, sheets, chip);
    const solution = sheets.network(translation.network).solve();
    const reading = readAt(translation, solution);
    return {
      translation,
      solution,
      reading,
      chip: reading.temperatures.get(translation.structure.chip)!,
      stage: reading.temperatures.get(place.stage)!,
    };
  };
  const cold = at();
  if (!cold.translation.loads.some(({ law }) => law)) return cold;
  if (!isSheet(mount)) return at(cold.chip);
  let low = { assumed: cold.stage, off: cold.chip - cold.stage };
  let high: typeof low | undefined;
  let assumed = cold.chip;
  for (let step = 0; step < mostSteps; step++) {
    const now = at(assumed);
    const off = now.chip - assumed;
    if (Math.abs(off) <= tolerance * now.chip) return now;
    const slope = (off - low.off) / (assumed - low.assumed);
    if (off < 0) {
      // The Illinois rule: an end that stays is counted at half, so that both ends move.
      if (high) low = { ...low, off: low.off / 2 };
      high = { assumed, off };
    } else {
      if (high) high = { ...high, off: high.off / 2 };
      low = { assumed, off };
    }
    if (high)
      assumed = low.assumed + ((high.assumed - low.assumed) * low.off) / (low.off - high.off);
    else assumed = slope < 0 ? assumed - off / slope : now.chip;
  }
  throw new Error(`${mount.name}: chip and readout found no rest in ${mostSteps} steps.`);
}

/** @throws Error in the mount's words where the sheet cannot carry what its contacts take */
function readAt(translation: Translation, solution: SteadySolution): Reading {
  try {
    return translation.read(solution);
  } catch (error) {
    if (!(error instanceof Error) || !error.message.startsWith("chip:")) throw error;
    throw new Error(
      "die: it conducts too badly, or its cells are too coarse, for the heat that is drawn from it: " +
        "no temperature above 0 K fits everywhere. Raise die.cells, die.thickness or " +
        "die.meanFreePath, or spread the load.",
    );
  }
}
