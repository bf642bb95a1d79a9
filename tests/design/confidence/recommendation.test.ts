import { describe, expect, it } from "vitest";
import { Recommendation } from "../../../src/design/confidence/recommendation.js";

const chance = (value: number) => ({ chance: { value, error: 1e-3 } });
const sized = (count: number | undefined, warnings: readonly string[] = [], enough = true) => ({
  count,
  room: 41,
  enough,
  warnings,
});
interface Cases {
  readonly nominal?: object;
  readonly probable?: object;
  readonly pessimistic?: object;
  readonly perPad?: number;
}
function recommendation({ nominal = {}, probable = {}, pessimistic = {}, perPad = 1 }: Cases = {}) {
  const confidence = { ...chance(0.953), convergence: "4096 samples." };
  return new Recommendation({
    nominal: { ...sized(10), ...nominal },
    probable: { ...sized(22), name: "by hand", confidence, provenance: [], ...probable },
    pessimistic: { ...sized(38), ...pessimistic },
    perPad,
    withNominal: chance(0.51),
    withPessimistic: chance(0.999),
  } as never);
}

describe("how many bonds to build", () => {
  it("is the probable number in whole pads, no more than fit", () => {
    expect(recommendation().build).toBe(22);
    expect(recommendation({ perPad: 3 }).build).toBe(24);
    expect(recommendation({ perPad: 3, probable: { count: 41 } }).build).toBe(41);
    expect(recommendation({ probable: { count: undefined } }).build).toBeUndefined();
  });

  it("is told beside the nominal and the pessimistic case", () => {
    expect(recommendation().summary).toBe(
      "Build 22 bonds: they meet the limit with 95.3 % confidence. The 10 that meet it nominally do so with " +
        "51.0 % confidence. Every unknown at its pessimistic limit at once, far less likely than one in " +
        "twenty, would ask for 38.",
    );
    const hard = recommendation({ pessimistic: sized(60, [], false) });
    expect(hard.summary).toContain("at once no number that fits would hold it.");
    const easy = recommendation({ pessimistic: sized(20) });
    expect(easy.summary).toContain("They hold it with every unknown at its pessimistic limit");
    expect(recommendation({ nominal: sized(22) }).summary).not.toContain("nominally");
    expect(recommendation({ probable: { count: undefined } }).summary).toMatch(
      /^No number of bonds is recommended: the 41 that fit meet the limit with 95\.3 % confidence only\./,
    );
  });

  it("warns once of one thing, whichever cases it is told of", () => {
    const { warnings } = recommendation({
      probable: { warnings: ["clamps: 3 % of the samples"] },
      nominal: { warnings: ["clamps: 110 mK", "glue: 110 mK"] },
      pessimistic: { warnings: ["glue: 120 mK", "joint: 120 mK"] },
    });
    expect(warnings).toEqual([
      "clamps: 3 % of the samples",
      "nominal: glue: 110 mK",
      "pessimistic: glue: 120 mK",
      "pessimistic: joint: 120 mK",
    ]);
  });

  it("shows every case, also where it needs more than fit", () => {
    const text = recommendation({
      pessimistic: sized(60, [], false),
      nominal: sized(undefined),
    }).toText();
    expect(text).toMatch(/nominal +at its median +none is enough/);
    expect(text).toMatch(/pessimistic .* 60, of at most 41 +99\.9/);
    expect(recommendation().toCsv()).toContain('"to build",,,"number",22');
  });
});
