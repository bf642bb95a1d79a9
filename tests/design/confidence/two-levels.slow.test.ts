/**
 * Whether the printed error of a chance is what it says: many runs, each with a seed of its own; and the
 * plain samples that it is held against.
 */
import { describe, expect, it } from "vitest";
import { solveHere } from "../../../src/design/confidence/samples.js";
import { confidence } from "../../../src/design/confidence/uncertainty.js";
import type { Mount } from "../../../src/index.js";
import { crossing, drawPlain, plainOf, shareOf } from "./plain-samples.js";
import { amplifier, camera, clamped, plainAmplifier, sapphire } from "./uncertain-mounts.js";

describe.runIf(process.env.COLDPATH_PLAIN === "write")("plain samples", () => {
  for (const [mount, counts] of [
    [camera, [82, 84, 86]],
    [sapphire, [82, 84, 86]],
    [clamped, [43, 45, 47]],
  ] as const) {
    it(`are drawn anew: ${mount.name}`, () => {
      drawPlain(mount, counts, { samples: 200_000, seed: 20261130, checkEach: 2000 });
      expect(crossing(plainOf(mount), 0.95).error).toBeLessThan(1);
    }, 3_600_000);
  }
});

/** Probability that a binomial count of n with chance p lies at or below k. */
function binomialBelow(k: number, n: number, p: number): number {
  let [term, sum] = [(1 - p) ** n, 0];
  for (let i = 0; i <= k; i++) {
    sum += term;
    term *= ((n - i) / (i + 1)) * (p / (1 - p));
  }
  return sum;
}

const [, middle] = plainOf(camera);

describe("the error of a chance by two levels", () => {
  for (const [mount, reference, runs] of [
    [amplifier, plainAmplifier, 100],
    [{ ...camera, bonds: { ...camera.bonds!, count: middle!.bonds } }, middle!, 200],
  ] as const) {
    it(`covers, over ${runs} runs, as often as it says: ${mount.name}`, async () => {
      const found: { readonly value: number; readonly error: number }[] = [];
      for (let seed = 100; seed < 100 + runs; seed++) {
        const options = { runner: solveHere, seed, within: 0.01 };
        const { chance } = await confidence(mount as Mount, options);
        found.push(chance!);
      }
      const mean = found.reduce((sum, { value }) => sum + value / runs, 0);
      const square = found.reduce((sum, { value }) => sum + (value - mean) ** 2, 0);
      const spread = Math.sqrt(square / (runs - 1));
      // No bias against plain samples, beyond their own error.
      const { share, error } = shareOf(reference);
      expect(Math.abs(mean - share)).toBeLessThan(3 * Math.hypot(error, spread / Math.sqrt(runs)));
      // Within ± t(0.975; 15) = 2.131 errors (W. S. Gosset's table) in 95 % of the runs; not more seldom
      // than in one of a thousand draws of a binomial count.
      const inside = found.filter(({ value, error }) => Math.abs(value - mean) < 2.131 * error);
      console.log(
        `${mount.name}: ${runs} runs, mean ${mean}, spread ${spread}, inside ${inside.length}, ` +
          `mean error ${found.reduce((sum, { error }) => sum + error / runs, 0)}`,
      );
      expect(binomialBelow(inside.length, runs, 0.95)).toBeGreaterThan(1e-3);
      // Nor is it so wide that it says nothing.
      const printed = found.reduce((sum, { error }) => sum + error / runs, 0);
      expect(printed).toBeLessThan(1.6 * spread);
      expect(printed).toBeGreaterThan(0.6 * spread);
    }, 1_200_000);
  }
});
