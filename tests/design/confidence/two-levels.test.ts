import { describe, expect, it } from "vitest";
import { solveHere } from "../../../src/design/confidence/samples.js";
import { confidence, sizeWithConfidence } from "../../../src/design/confidence/uncertainty.js";
import type { Mount } from "../../../src/index.js";
import { amplifier, camera, plain } from "./uncertain-mounts.js";

const runner = solveHere;
const withBonds = (mount: Mount, count: number): Mount => ({
  ...mount,
  bonds: { ...mount.bonds!, count },
});

/** Share that held the limit, and its standard error: binomial. */
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
        expect(found.dear).toBeLessThan(alike / 30);
      }
    }
  });

  it("finds the number of bonds that plain samples find", async () => {
    const found = await sizeWithConfidence(camera, { runner });
    // By a straight line between 82 and 84 they cross 95 % at 83.2 ± 0.5.
    expect(found.count).toBeGreaterThanOrEqual(82);
    expect(found.count).toBeLessThanOrEqual(85);
    expect(found.dear).toBeLessThan(400);
    expect(found.confidence.convergence).toContain("of the mount's own");
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
