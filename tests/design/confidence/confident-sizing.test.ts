import { describe, expect, it } from "vitest";
import { Confidence } from "../../../src/design/confidence/confidence.js";
import { ConfidentSizing } from "../../../src/design/confidence/confident-sizing.js";

/** 8 replicates of 500 samples, of which so many in a thousand are under the limit. */
function confidence(perMille: number, warnings: readonly string[] = []) {
  const replicates = Array.from({ length: 8 }, (_, r) =>
    Float64Array.from(
      Array.from({ length: 500 }, (_, k) => {
        const isUnder = k < perMille / 2 + (r % 2 ? 1 : -1);
        return [isUnder ? 0.104 : 0.106, 0.1, 0.105, 0];
      }).flat(),
    ),
  );
  return new Confidence("by hand", [], replicates, { seed: 1, limited: true, pairs: [], warnings });
}
const sizing = (count: number | undefined, own = confidence(952)) =>
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
    expect(sizing(undefined, confidence(949.8)).summary).toMatch(
      /^The 40 bonds that fit meet the limit with 94\.9\d* % confidence, less than 95 %\.$/,
    );
  });

  it("tells no chance of a number with which too many samples leave a refused range", () => {
    const text = sizing(15).toText();
    expect(text).toMatch(/10 +90\.0 % +0\.2\d* % +0 %/);
    expect(text).toMatch(/20 +not determined +2\.0 %/);
  });

  it("has the warnings and the name of its samples", () => {
    const warned = sizing(15, confidence(952, ["glue: told"]));
    expect([warned.name, warned.warnings]).toEqual(["by hand", ["glue: told"]]);
    expect(warned.summary).toMatch(/1 warning\.$/);
  });
});
