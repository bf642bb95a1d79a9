import { describe, expect, it } from "vitest";
import { dieModels, dieModelWords, flownError } from "../../src/mount/die-models.js";
import { readMount } from "../../src/mount/read.js";
import { catalogue, modelOf, padded, smallest } from "./things/smallest.js";

/** A die of 4 mm with pads of 0.2 mm × 0.3 mm in the middle of its edges. */
const withPath = (meanFreePath: number) => {
  const mount = smallest(padded);
  return { ...mount, die: { ...mount.die, meanFreePath } };
};
const pads = (meanFreePath: number) => dieModels(modelOf(withPath(meanFreePath), "sheet").point())!;

describe("which model of the die fits", () => {
  const far = pads(1e-3);

  it("is told by the mean free path over die, contact and pitch", () => {
    expect(far.overDie).toBeCloseTo(1 / 4, 12);
    expect(far.overContact).toBeCloseTo(1e-3 / Math.sqrt(2e-4 * 3e-4), 10);
    // From the middle of one edge to that of the next: 2 mm less half a pad's length in both directions.
    expect(far.overPitch).toBeCloseTo(1 / (Math.SQRT2 * 1.85), 10);
    expect(far.flown).toBeUndefined();
    expect(dieModels(modelOf(withPath(1e-3), "one node").point())).toBeUndefined();
  });

  it("is a sheet as long as phonons scatter three times over the smallest of them", () => {
    const side = Math.sqrt(2e-4 * 3e-4);
    expect([0.99 * (side / 3), 1.01 * (side / 3)].map((path) => pads(path).trusted)).toEqual([
      "sheet",
      "flights",
    ]);
    // One contact has no pitch.
    const places = [{ x: 2e-3, y: 2e-3 }];
    const clamps = [{ faces: "sapphire on silicon", force: 2.7, places }];
    const single = dieModels(modelOf(smallest({ clamps }), "sheet").point())!;
    expect(single).not.toHaveProperty("overPitch");
  });

  it("is said where the one that was taken is not to be trusted", () => {
    expect(dieModelWords(pads(5e-5), 1e-3)).toBe("");
    expect(dieModelWords({ ...far, otherRise: 2e-3 }, 1e-3)).toBe(
      "A sheet was taken, since die.finish is not given. Phonons fly further than a sheet can tell: their mean free path, 1.00 mm, is 0.25 times the die's " +
        "side, 4.1 times that of its smallest contact and 0.38 times the distance to the next. The model " +
        '"flights" of the die is to be trusted there. The flights would give 2.00 mK in place of 1.00 mK.',
    );
    expect(dieModelWords({ ...far, since: undefined! }, 1e-3)).toMatch(/^Phonons fly further/);
    const flown = { rays: 4096, flights: 12, meanPath: 3e-3, time: 5e-7, error: 2e-6 };
    expect(dieModelWords({ ...far, flown, since: "die.finish is given" }, 1e-3)).toMatch(
      /^Flights were taken, since die.finish is given. 4096 phonons .* 12 times .* 3.00 mm in 500 ns; .* off by 2.0 µK\. .* flights are to be trusted\.$/,
    );
  });

  it("has a chance of its flights, of about one over the root of their number, and none without", () => {
    const error = (model: "sheet" | "flights") => {
      const mount = smallest(padded);
      return flownError(
        readMount({ ...mount, die: { ...mount.die, model, rays: 256 } }),
        catalogue,
      );
    };
    expect(error("sheet")).toBe(0);
    const scaled = error("flights") * Math.sqrt(256);
    expect(scaled).toBeGreaterThan(0.1);
    expect(scaled).toBeLessThan(3);
  });
});
