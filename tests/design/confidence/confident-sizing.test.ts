import { describe, expect, it } from "vitest";
import { Confidence } from "../../../src/design/confidence/confidence.js";
import { ConfidentSizing } from "../../../src/design/confidence/confident-sizing.js";

/** Replicates of 500 samples, so many of each under the limit. */
function confidence(under: readonly number[], warnings: readonly string[] = []) {
  const replicates = under.map((count) =>
    Float64Array.from({ length: 4 * 500 }, (_, k) => {
      const chip = Math.floor(k / 4) < count ? 0.104 : 0.106;
      return [chip, 0.1, 0.105, 0][k % 4]!;
    }),
  );
  return new Confidence("by hand", [], replicates, { seed: 1, limited: true, pairs: [], warnings });
}
/** 952 in a thousand. */
const most = [477, 475, 477, 475];
const sizing = (count: number | undefined, own = confidence(most)) =>
  new ConfidentSizing({
    probability: 0.95,
    count,
    room: 40,
    confidence: own,
    expensive: 0,
    tried: [
      { count: 10, chance: { value: 0.9, error: 2e-3 }, outside: 0 },
      { count: 20, chance: { value: 0.3, error: 2e-3 }, outside: 0.02 },
    ],
  });

describe("how many bonds, to be this sure", () => {
  it("is told with the chance that was reached, beside the one that was wanted", () => {
    expect(sizing(15).summary).toBe(
      "15 bonds meet the limit with 95.2 % confidence (95 % were wanted), of 40 that fit.",
    );
    expect(sizing(1).summary).toMatch(/^1 bond meets the limit with/);
  });

  it("shows on which side of the wanted one a chance is, where none is enough", () => {
    // 3799 of 4000 are 94.975 %, which is not 95.0 %.
    expect(sizing(undefined, confidence([476, 474, 475, 475, 475, 475, 475, 474])).summary).toMatch(
      /^The 40 bonds that fit meet the limit with 94\.9[78] % confidence, less than 95 %\.$/,
    );
  });

  it("tells no chance of a number with which too many samples leave a refused range", () => {
    const text = sizing(15).toText();
    expect(text).toMatch(/10 +90\.0 % +0\.2 % +0\.0 %/);
    expect(text).toMatch(/20 +not determined +2\.0 %/);
  });

  it("has the warnings and the name of its samples", () => {
    const warned = sizing(15, confidence(most, ["glue: told"]));
    expect([warned.name, warned.warnings]).toEqual(["by hand", ["glue: told"]]);
    expect(warned.summary).toMatch(/1 warning\.$/);
  });
});
