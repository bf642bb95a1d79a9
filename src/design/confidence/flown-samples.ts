/**
 * Samples of a die of flights. Where an unknown changes what phonons fly in, such as the finish of a face,
 * those of each sample fly anew. One of four is then flown, and the rise is multiplied by what all give over
 * what the fewer give at the medians and at both ends of what changes the die: the noisier a map, the hotter
 * its hottest point.
 * @module
 */
import type { Catalogue } from "../../materials/types.js";
import type { ModelOptions } from "../../mount/assembly.js";
import { flownError } from "../../mount/die-models.js";
import { Dies } from "../../mount/dies.js";
import { MountModel } from "../../mount/model.js";
import type { PlainMount } from "../../mount/mount.js";
import type { Inputs, Sample } from "./uncertain-inputs.js";

/** At the medians, at the low ends and at the high ends. */
const places = 3;

/** What dies of samples that are flown anew are made with. */
export const thinnedDies = () => new Dies(4);

/**
 * Rise with all phonons over that with the fewer.
 * @param by - the inputs that change what is flown in
 */
export function thinnedFactor(
  inputs: Inputs,
  by: readonly number[],
  options: Pick<ModelOptions, "die">,
): number {
  const sample = inputs.moving(by);
  const rise = ({ mount, catalogue }: Sample, dies: Dies) => {
    const { chip, stage } = new MountModel(mount, catalogue, { ...options, dies }).point();
    return chip - stage;
  };
  const ends = (["median", "low", "high"] as const).map((end) => {
    const values = inputs.medians.slice();
    for (const i of by) values[i] = inputs.list[i]![end];
    const at = sample(values);
    return Math.log(rise(at, new Dies()) / rise(at, thinnedDies()));
  });
  return Math.exp(ends.reduce((sum, each) => sum + each / places, 0));
}

/**
 * Standard error of the rise that all samples share by the chance of their flights, in parts of it.
 * @param isThinned - whether each sample is flown anew
 */
export function sharedError(mount: PlainMount, catalogue: Catalogue, isThinned: boolean): number {
  const all = flownError(mount, catalogue);
  if (!isThinned) return all;
  return Math.hypot(all, flownError(mount, catalogue, thinnedDies()) / Math.sqrt(places));
}
