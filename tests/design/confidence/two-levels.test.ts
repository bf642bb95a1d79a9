import { describe, expect, it } from "vitest";
import type { Evaluated } from "../../../src/design/confidence/fast-mount.js";
import { solveHere } from "../../../src/design/confidence/samples.js";
import { confidence, sizeWithConfidence } from "../../../src/design/confidence/uncertainty.js";
import {
  type Mount,
  measurementValues,
  uncertainMount,
  varianceIndices,
} from "../../../src/index.js";
import { amplifier, camera, plain } from "./uncertain-mounts.js";

const runner = solveHere;
const withBonds = (mount: Mount, count: number): Mount => ({
  ...mount,
  bonds: { ...mount.bonds!, count },
});

/** Share that met the limit, and its standard error: binomial. */
function shareOf({ held, samples }: { readonly held: number; readonly samples: number }) {
  const share = held / samples;
  return { share, error: Math.sqrt((share * (1 - share)) / samples) };
}

describe("the chance by two levels of the die", () => {
  it("is that of plain samples of the 2-D die, within both errors", async () => {
    for (const [mount, references] of [
      [camera, plain.camera],
      [amplifier, plain.amplifier],
    ] as const) {
      for (const reference of references) {
        const found = await confidence(withBonds(mount, reference.bonds), { runner });
        const { share, error } = shareOf(reference);
        const off = Math.hypot(error, found.chance!.error);
        expect(Math.abs(found.chance!.value - share)).toBeLessThan(3 * off);
        expect(found.chance!.error).toBeLessThan(3e-3);
        // Plain samples of as small an error.
        const alike = (share * (1 - share)) / 3e-3 ** 2;
        expect(found.expensive).toBeLessThan(alike / 30);
      }
    }
  });

  it("finds the number of bonds that plain samples find", async () => {
    const found = await sizeWithConfidence(camera, { runner });
    // 94.57 ± 0.16 % at 82, and a bond is worth 0.3 points: they cross 95 % at 83.4 ± 0.5.
    expect(found.count).toBeGreaterThanOrEqual(82);
    expect(found.count).toBeLessThanOrEqual(85);
    expect(found.expensive).toBeLessThan(400);
    expect(found.confidence.convergence).toContain("of the mount's own");
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
