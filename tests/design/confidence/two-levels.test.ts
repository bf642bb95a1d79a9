import { describe, expect, it } from "vitest";
import type { Evaluated } from "../../../src/design/confidence/evaluated.js";
import { solveHere } from "../../../src/design/confidence/samples.js";
import { confidence, sizeWithConfidence } from "../../../src/design/confidence/uncertainty.js";
import {
  type Mount,
  measurementValues,
  uncertainMount,
  varianceIndices,
} from "../../../src/index.js";
import { slowly } from "../../slowly.js";
import { crossing, plainOf, shareOf } from "./plain-samples.js";
import { amplifier, camera, clamped, plainAmplifier, sapphire } from "./uncertain-mounts.js";

const runner = solveHere;
const withBonds = (mount: Mount, count: number): Mount => ({
  ...mount,
  bonds: { ...mount.bonds!, count },
});

describe("the chance by two levels of the die", () => {
  slowly("is that of plain samples of the 2-D die, within both errors", async () => {
    for (const [mount, reference] of [
      ...[camera, sapphire, clamped].map((each) => [each, plainOf(each)[1]!] as const),
      [amplifier, plainAmplifier] as const,
    ]) {
      const found = await confidence(withBonds(mount, reference.bonds), { runner });
      const { share, error } = shareOf(reference);
      const off = Math.hypot(error, found.chance!.error);
      // In one of a thousand it is farther off: Student's t at 0.9995 for the 16 replicates, from tables.
      expect(Math.abs(found.chance!.value - share)).toBeLessThan(4.073 * off);
      expect(found.chance!.error).toBeLessThan(3e-3);
      // Plain samples of as small an error.
      const alike = (share * (1 - share)) / 3e-3 ** 2;
      expect(found.expensive).toBeLessThan(alike / 30);
    }
  });

  slowly("finds the number of bonds that plain samples find", async () => {
    for (const mount of [camera, sapphire, clamped]) {
      const found = await sizeWithConfidence(mount, { runner });
      const exact = crossing(plainOf(mount), 0.95);
      const off = Math.hypot(exact.error, found.confidence.chance!.error / exact.slope);
      // A whole number at or beyond the crossing.
      expect(found.count).toBeGreaterThan(exact.bonds - 4.073 * off);
      expect(found.count).toBeLessThan(exact.bonds + 1 + 4.073 * off);
      expect(off).toBeLessThan(1);
      expect(found.expensive).toBeLessThan(250);
      expect(found.confidence.convergence).toContain("of the mount's own");
    }
  });

  it("rests on samples that the whole model of the die confirms", () => {
    for (const mount of [camera, sapphire, clamped]) {
      const all = plainOf(mount);
      expect(all.length).toBeGreaterThan(2);
      for (const { samples, checked } of all) {
        expect(samples).toBe(200_000);
        expect(checked.samples).toBeGreaterThanOrEqual(100);
        expect(checked.worst).toBeLessThan(1e-6);
      }
    }
  });

  it("gives the variance's shares of the 2-D die, within both errors", () => {
    const power = "amplifier: power";
    const found = varianceIndices(amplifier, { samples: 256, replicates: 4, apart: [power] });
    const compiled = uncertainMount(amplifier);
    const quantity = ({ chip }: Evaluated) => chip;
    const own = varianceIndices(compiled, { quantity, samples: 32, replicates: 4, apart: [power] });
    const [ours, theirs] = [found.of(power), own.of(power)];
    const off = Math.hypot(ours.totalError, theirs.totalError);
    expect(Math.abs(ours.total - theirs.total)).toBeLessThan(4 * off);
    expect(Math.abs(found.mean / own.mean - 1)).toBeLessThan(5e-3);
    expect(found.expensive).toBeLessThan(200);
  });

  it("says what a measurement would buy by a two-node model that is fitted to the 2-D die", () => {
    const found = measurementValues(amplifier, { "amplifier: power": "10 %" }, { samples: 64 });
    expect(found.best.after).toBeLessThan(found.best.before);
    expect(found.expensive).toBeGreaterThan(40);
    expect(found.toText()).toContain(`fitted to ${found.expensive} solves of the 2-D one`);
  });

  it("refuses an error that is none, or two ways to say how many samples", async () => {
    await expect(confidence(camera, { within: 0.5 })).rejects.toThrow(
      "within: expected a standard error from 0.0001 to 0.1, got 0.5",
    );
    await expect(confidence(camera, { within: 0.01, samples: 64 })).rejects.toThrow(
      "samples: expected either samples or within, not both",
    );
  });
});
