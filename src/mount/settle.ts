/**
 * A mount brought to rest: solved, with loads that depend on the chip's temperature in balance with it.
 * @module
 */
import type { Catalogue } from "../materials/types.js";
import type { SteadySolution } from "../network/solution.js";
import { solveSteady } from "../network/steady.js";
import { isSheet } from "./part.js";
import type { PlainMount } from "./read.js";
import type { SheetStore } from "./sheet-model.js";
import { type Reading, type Translation, translate } from "./translate.js";

/** A mount at rest. */
export interface Settled {
  readonly translation: Translation;
  readonly solution: SteadySolution;
  readonly reading: Reading;
  /** Temperature of the chip's hottest place [K]. */
  readonly chip: number;
  /** Temperature of the stage [K]. */
  readonly stage: number;
}

/** Steps of the search for rest; each is one solve, and a load that grows slowly needs few. */
const mostSteps = 100;

/**
 * The coolest state of rest. A quick die holds its own loads; on a sheet they are followed from the cold
 * up, by secants of the chip's temperature against the one its loads were taken at.
 * @throws SolveError, or Error when the loads run away with the chip
 */
export function settle(mount: PlainMount, catalogue: Catalogue, sheets: SheetStore): Settled {
  const at = (chip?: number): Settled => {
    const translation = translate(mount, catalogue, sheets, chip);
    const solution = solveSteady(translation.network);
    const reading = translation.read(solution);
    return {
      translation,
      solution,
      reading,
      chip: reading.temperatures.get(translation.structure.chip)!,
      stage: reading.temperatures.get("stage")!,
    };
  };
  let now = at();
  if (!now.translation.loads.some(({ law }) => law)) return now;
  if (!isSheet(mount)) return at(now.chip);
  let [before, assumed] = [now.stage, now.chip];
  let off = now.chip - before;
  for (let step = 0; step < mostSteps; step++) {
    now = at(assumed);
    const offNow = now.chip - assumed;
    if (Math.abs(offNow) <= 1e-10 * now.chip) return now;
    // A secant may overshoot the coolest state where the load turns up; then a plain step is taken.
    const slope = (offNow - off) / (assumed - before);
    const next = slope < 0 && slope > -1.5 ? assumed - offNow / slope : now.chip;
    [before, off, assumed] = [assumed, offNow, next > 0 ? next : now.chip];
  }
  throw new Error(`${mount.name}: the readout warms the chip without end; lower the tones' power.`);
}
