/**
 * Plain samples of 2-D dies, against which the chance by two levels is held: independent points,
 * `random(seed).uniform()` for each input in turn, the same for every number of bonds. Drawn once and
 * kept in plain-samples.json; `COLDPATH_PLAIN=write` before two-levels.slow.test.ts draws them anew.
 */
import { readFileSync, writeFileSync } from "node:fs";
import { Inputs } from "../../../src/design/confidence/uncertain-inputs.js";
import { uncertainMount } from "../../../src/design/confidence/uncertain-mount.js";
import { standardCatalogue } from "../../../src/materials/standard.js";
import { MountModel } from "../../../src/mount/model.js";
import type { Mount } from "../../../src/mount/mount.js";
import { readMount } from "../../../src/mount/read.js";
import { random } from "../../../src/numerics/random.js";

const file = new URL("plain-samples.json", import.meta.url);

/** How many of the samples with so many bonds met the limit. */
export interface PlainSamples {
  readonly mount: string;
  readonly bonds: number;
  readonly samples: number;
  readonly seed: number;
  readonly held: number;
  /** Samples solved again by the mount's model as it is, and the largest difference in parts of the rise. */
  readonly checked: { readonly samples: number; readonly worst: number };
}

/** The samples of a mount by number of bonds, fewest first. */
export function plainOf({ name }: Mount): readonly PlainSamples[] {
  const all: readonly PlainSamples[] = JSON.parse(readFileSync(file, "utf8"));
  return all.filter(({ mount }) => mount === name);
}

/** Share that met the limit, and its standard error: binomial. */
export function shareOf({ held, samples }: Pick<PlainSamples, "held" | "samples">) {
  const share = held / samples;
  return { share, error: Math.sqrt((share * (1 - share)) / samples) };
}

/** Where the shares of a mount reach a probability, between the numbers that were sampled, and its error. */
export function crossing(of: readonly PlainSamples[], probability: number) {
  const k = of.findIndex((each) => shareOf(each).share >= probability);
  const [below, above] = [of[k - 1]!, of[k]!];
  const [low, high] = [shareOf(below), shareOf(above)];
  // All numbers share their samples, and so the error.
  const slope = (high.share - low.share) / (above.bonds - below.bonds);
  const bonds = below.bonds + (probability - low.share) / slope;
  return { bonds, error: low.error / slope, slope };
}

/** Draws the samples of a mount, and puts them in the place of those that are kept. */
export function drawPlain(
  mount: Mount,
  counts: readonly number[],
  { samples, seed, checkEach }: { samples: number; seed: number; checkEach: number },
): void {
  const compiled = uncertainMount(mount);
  const catalogue = standardCatalogue();
  const plain = readMount(mount);
  const inputs = new Inputs(compiled.inputs, plain, catalogue);
  const made = counts.map((bonds): PlainSamples => {
    const fast = compiled.withBonds(bonds);
    const stream = random(seed);
    const values = new Float64Array(inputs.list.length);
    let [held, checked, worst] = [0, 0, 0];
    for (let k = 0; k < samples; k++) {
      for (let i = 0; i < values.length; i++) {
        values[i] = inputs.list[i]!.quantile(stream.uniform());
      }
      const { chip, stage, margin } = fast.evaluate(values);
      if (margin >= 0) held++;
      if (k % checkEach !== 0) continue;
      const { mount: own, catalogue: data } = inputs.at(values);
      const changed = { ...own, bonds: { ...own.bonds!, count: bonds } };
      const point = new MountModel(changed, data).point();
      worst = Math.max(worst, Math.abs((chip - stage) / (point.chip - point.stage) - 1));
      checked++;
    }
    return { mount: mount.name, bonds, samples, seed, held, checked: { samples: checked, worst } };
  });
  const all: readonly PlainSamples[] = JSON.parse(readFileSync(file, "utf8"));
  const others = all.filter((each) => each.mount !== mount.name);
  const lines = [...others, ...made].map((each) => JSON.stringify(each));
  writeFileSync(file, `[\n  ${lines.join(",\n  ")}\n]\n`);
}
