import { describe, expect, it } from "vitest";
import { countNeeded } from "../../../src/design/confidence/count-needed.js";
import { measurementValues, narrowed } from "../../../src/design/confidence/measurement.js";
import type { UncertainModel } from "../../../src/design/confidence/variance-indices.js";
import { type Mount, uncertainMount } from "../../../src/index.js";
import { normalQuantile } from "../../../src/numerics/distributions.js";
import { random } from "../../../src/numerics/random.js";
import { Sobol } from "../../../src/numerics/sobol.js";
import { spread } from "../../../src/units/spread.js";
import { quickMount } from "../../mount/example.js";

const z95 = normalQuantile(0.95);
/** A log-normal input by the ends of its middle 90 %. */
const logNormal = (name: string, low: number, high: number) => ({
  name,
  quantile: (u: number) => Math.sqrt(low * high) * (high / low) ** (normalQuantile(u) / (2 * z95)),
});
/** ln of a product of powers: normal, so that everything has a closed form. */
const model: UncertainModel = {
  inputs: [logNormal("wide", 1, 4), logNormal("narrow", 9, 11), logNormal("idle", 1, 2)],
  evaluate: ([wide, narrow]) => Math.log(wide!) - 2 * Math.log(narrow!),
};
/** Half of the middle 90 % in logarithms. */
const halves = { wide: Math.log(4) / 2, narrow: Math.log(11 / 9) };
const band = (wide: number, narrow: number) => 2 * Math.hypot(wide, narrow);
const combined = (known: number, measured: number) =>
  (known * measured) / Math.hypot(known, measured);

describe("what a measurement would buy", () => {
  const found = measurementValues(
    model,
    { idle: "1 %", narrow: "1 %", wide: "x1.1" },
    { samples: 1024, unit: "" },
  );

  it("is the closed form of a normal result, what was known and the measurement combined", () => {
    const before = band(halves.wide, halves.narrow);
    const [wide, narrow, idle] = found.all;
    expect(found.all.map(({ name }) => name)).toEqual(["wide", "narrow", "idle"]);
    const after = [
      band(combined(halves.wide, Math.log(1.1)), halves.narrow),
      band(halves.wide, 2 * combined(halves.narrow / 2, Math.log(1.01))),
      before,
    ];
    [wide!, narrow!, idle!].forEach((measurement, i) => {
      // 4096 points in four sets: quantiles of a band to a percent.
      expect(measurement.before / before).toBeCloseTo(1, 1.7);
      expect(Math.abs(measurement.after / after[i]! - 1)).toBeLessThan(0.01);
      expect(Math.abs(measurement.saved - (before - after[i]!))).toBeLessThan(
        5 * measurement.savedError + 0.002 * before,
      );
    });
    expect(idle!.saved).toBeCloseTo(0, 14);
    expect(wide!.remaining).toBeCloseTo(combined(1, Math.log(1.1) / halves.wide), 12);
  });

  it("says which would buy the most", () => {
    expect(found.best.name).toBe("wide");
    expect(found.summary).toMatch(
      /^Knowing wide to a factor 1.1 would buy the most: 1\.4\d* would become 0\.4/,
    );
    expect(found.toText()).toMatch(/narrow +± 1 %/);
    expect(found.toText()).toMatch(/idle .*not significant/);
    expect(found.toMarkdown()).toContain("| measured | to | before | after | saved | share |");
    expect(found.toHtml()).toContain("<caption>What a measurement would buy</caption>");
  });

  it("answers another question than the band: here the mean, which no measurement is expected to move", () => {
    const mean = (asked: UncertainModel) => {
      let sum = 0;
      for (let n = 0; n < 512; n++) {
        sum += asked.evaluate(Float64Array.from(asked.inputs, (x) => x.quantile((n + 0.5) / 512)));
      }
      return sum / 512;
    };
    const { all } = measurementValues(model, { wide: "5 %" }, { question: mean });
    expect(all[0]!.before).toBeCloseTo(Math.log(2 / 99), 10);
    expect(all[0]!.saved).toBeCloseTo(0, 10);
  });
});

describe("how many would be needed", () => {
  // load/count ≤ 1 with 95 %: count is the 95 % end of the load, e^(1.645 σ) times its median.
  const load: UncertainModel<{ readonly ratio: number }> = {
    inputs: [logNormal("load", 20, 80)],
    evaluate: ([x]) => ({ ratio: x! }),
  };
  const needed = countNeeded<{ readonly ratio: number }>(
    (count) => ({ evaluate: (x) => ({ ratio: load.evaluate(x).ratio / count }) }),
    ({ ratio }) => ratio <= 1,
    { most: 200, samples: 4096 },
  );

  it("is the end of the load, and less once that is measured", () => {
    expect(needed(load, 0)).toBeGreaterThanOrEqual(79);
    expect(needed(load, 0)).toBeLessThanOrEqual(81);
    const { all } = measurementValues(load, { load: "x1.1" }, { question: needed, unit: "" });
    // Known to s of its σ about e^(σμ), μ normal of variance 1 − s²: the mean of e^(σ(μ + 1.645 s)).
    const sigma = Math.log(4) / 2 / z95;
    const s = all[0]!.remaining;
    const after = 40 * Math.exp(sigma * z95 * s + (sigma ** 2 * (1 - s ** 2)) / 2);
    // Counts are rounded up, by half a one in the mean.
    expect(Math.abs(all[0]!.after - after - 0.5)).toBeLessThan(0.6);
    expect(all[0]!.before).toBeCloseTo(80, -0.5);
  });

  it("is refused where no number is enough", () => {
    const few = countNeeded<{ readonly ratio: number }>(
      () => load,
      ({ ratio }) => ratio < 40,
      {
        most: 5,
      },
    );
    expect(() => few(load, 0)).toThrow(
      "countNeeded: even 5 hold with a probability of 50 % only, 95 % is asked for.",
    );
  });
});

describe("what a measurement of a mount would buy", () => {
  const example = quickMount();
  const mount: Mount = {
    ...example,
    pads: { ...example.pads!, thickness: spread("150 nm", "600 nm") },
    loads: [{ kind: "infrared", name: "infrared leak", power: spread("4 nW", "5 nW") }],
  };
  const options = { rows: "none", samples: 64, replicates: 2 } as const;

  it("is told of its inputs, by their names or their fields", () => {
    const accuracies = { "pads.thickness": "3 %", "infrared leak: power": "3 %" } as const;
    const found = measurementValues(mount, accuracies, options);
    expect(found.all.map(({ name }) => name)).toEqual(["pads: thickness", "infrared leak: power"]);
    const compiled = uncertainMount(mount, options);
    const again = measurementValues(compiled, accuracies, {
      ...options,
      quantity: ({ chip }) => chip,
    });
    // A model of its own has no name, and nobody tells its ranges.
    expect({ ...again }).toEqual({ ...found, name: "", warnings: [] });
    expect(found.best.after).toBeLessThan(0.5 * found.best.before);
  });

  it("is told in bonds, as many as meet the limit on the same points", () => {
    const hot: Mount = { ...mount, limit: { rise: "3.5 mK" } };
    const { all, unit } = measurementValues(
      hot,
      { "pads: thickness": "3 %" },
      { ...options, question: "bonds needed", probability: 0.7 },
    );
    const compiled = uncertainMount(hot, options);
    const holding = (count: number, replicate: number) => {
      const sequence = new Sobol(2, random(1, replicate));
      const { evaluate } = compiled.withBonds(count);
      const held = Array.from({ length: 64 }, () => {
        const u = new Float64Array(2);
        sequence.next(u);
        return evaluate(u.map((x, i) => compiled.inputs[i]!.quantile(x))).margin >= 0;
      });
      return held.filter(Boolean).length / 64;
    };
    const fewest = (replicate: number) => {
      let count = 1;
      while (holding(count, replicate) < 0.7) count++;
      return count;
    };
    expect(all[0]!.before).toBe((fewest(0) + fewest(1)) / 2);
    expect(all[0]!.before).toBeGreaterThan(1);
    expect(unit).toBe("");
  });

  it("is refused where there are no bonds, or no limit", () => {
    const { limit: _, ...open } = mount;
    expect(() =>
      measurementValues(
        open,
        { "pads.thickness": "3 %" },
        { ...options, question: "bonds needed" },
      ),
    ).toThrow("limit: expected a limit to hold");
  });
});

describe("a model with an input known better", () => {
  it("keeps its spread over all outcomes: variances add up to what was known", () => {
    const remaining = 0.6;
    const known = narrowed(model, "wide", { median: 0.5, remaining }).inputs[0]!;
    const z = (u: number) => Math.log(known.quantile(u) / 2) / (halves.wide / z95);
    expect(z(0.5)).toBeCloseTo(0.5, 12);
    expect((z(0.95) - z(0.05)) / (2 * z95)).toBeCloseTo(remaining, 10);
  });

  it("may be known exactly", () => {
    const known = narrowed(model, "narrow", { median: 1, remaining: 0 }).inputs[1]!;
    expect(known.quantile(0.01)).toBe(known.quantile(0.99));
  });
});

describe("measurements that can't be made", () => {
  it.each([
    [
      { wid: "5 %" },
      'measurement: expected the name of an input: "wide", "narrow", "idle", got "wid"',
    ],
    [
      { wide: "5" },
      'accuracy of wide: expected "10 %" or "x1.5" (a factor either way), more than nothing, got "5"',
    ],
    [{ wide: "0 %" }, "accuracy of wide: expected"],
    [{}, "accuracies: expected at least one input, got {}"],
  ])("%j", (accuracies, message) => {
    expect(() => measurementValues(model, accuracies as never)).toThrow(message);
  });

  it("one outcome of which has no answer, which the error names", () => {
    const question = ({ inputs }: typeof model) => {
      if (inputs[0]!.quantile(0.5) > 2.5) throw new RangeError("no count holds");
      return 1;
    };
    const withUnit = { ...model, inputs: model.inputs.map((input) => ({ ...input, unit: "m" })) };
    expect(() => measurementValues(withUnit, { wide: "5 %" }, { question })).toThrow(
      /^wide, if it is found to be [3-9]\.\d m: no count holds$/,
    );
  });

  it("a band that is not finite", () => {
    const infinite = { ...model, evaluate: () => Number.POSITIVE_INFINITY };
    expect(() => measurementValues(infinite, { wide: "5 %" })).toThrow(
      "before any measurement: answer: expected a finite number, got NaN",
    );
  });
});
