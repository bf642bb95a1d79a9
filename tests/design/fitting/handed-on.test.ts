/** A fit hands on its covariance whole: to a mount, to a file, to the next fit and to samples. */
import { describe, expect, it } from "vitest";
import { solveHere } from "../../../src/design/confidence/samples.js";
import { calibrate } from "../../../src/design/fitting/calibrate.js";
import { withMeasured } from "../../../src/design/fitting/saved-fit.js";
import { readThermometry } from "../../../src/design/fitting/thermometry.js";
import { confidence, type Mount } from "../../../src/index.js";
import { readMount } from "../../../src/mount/read.js";
import { correlationsOf } from "../../../src/mount/things/correlations.js";
import { z95 } from "../../../src/units/spread.js";
import { ombrelCooldown, ombrelMount } from "../ombrel-cooldown.js";

const coupling = "pads.coupling.coefficient";
const boundary = "pads.boundary.resistance";
const inputs = [coupling, boundary] as const;
const start = { ...ombrelMount(2.4e9, 1.26e-3), limit: { rise: 0.01 } };
// So fine that the model is linear over what they leave open.
const [header, ...lines] = ombrelCooldown(20)
  .trim()
  .split("\n")
  .filter((line) => !line.startsWith("#"));
const part = (some: readonly string[], file: string) =>
  readThermometry([header, ...some].join("\n"), file);
const all = part(lines, "all.csv");
// Every other line, so that each half tells both inputs.
const [first, second] = [0, 1].map((odd) =>
  part(
    lines.filter((_, i) => i % 2 === odd),
    `half ${odd}.csv`,
  ),
) as [ReturnType<typeof part>, ReturnType<typeof part>];
const date = "2026-09-30";

describe("a fit of two inputs", () => {
  const fit = calibrate(start, first, { inputs, date });
  const r = fit.correlation(coupling, boundary);

  it("hands its covariance on in its mount, and through its file", () => {
    expect(Math.abs(r)).toBeGreaterThan(0.7);
    const back = withMeasured(start, fit.toInputsCsv().csv);
    for (const mount of [fit.mount, back]) {
      const { names, matrix, pairs } = correlationsOf(readMount(mount));
      expect([...names].sort()).toEqual([...inputs].sort());
      expect(matrix[0]![1]).toBeCloseTo(r, 11);
      expect(pairs[0]!.reason).toBe("fitted together to half 0.csv");
    }
  });

  it("refuses a file whose correlation belongs to nothing, or is none", () => {
    const { csv } = fit.toInputsCsv();
    const spoilt = (from: RegExp, to: string) =>
      withMeasured(start, csv.replace(from, to), "f.csv");
    expect(() => spoilt(/correlation with [^,]*/, "correlation with die.width")).toThrow(
      "f.csv:5 correlation with die.width: expected a row with the value of die.width",
    );
    expect(() => spoilt(/(correlation with [^,]*),[^,]*/, "$1,1.2")).toThrow(
      "f.csv:5 value: expected a coefficient of correlation from -1 to 1, got 1.2",
    );
  });

  it("gives with more data what a joint fit gives", () => {
    const joint = calibrate(start, all, { inputs });
    const next = calibrate(fit.mount, second, { inputs, useSpreads: true });
    const { correlations: _, ...parted } = fit.mount;
    const apart = calibrate(parted, second, { inputs, useSpreads: true });
    for (const name of inputs) {
      const [one, two] = [joint.of(name), next.of(name)];
      // Weights and slopes move a little between the halves, no more.
      expect(Math.abs(Math.log(two.value / one.value)) / one.uncertainty).toBeLessThan(0.02);
      expect(two.uncertainty / one.uncertainty).toBeCloseTo(1, 2);
    }
    expect(next.correlation(...inputs)).toBeCloseTo(joint.correlation(...inputs), 2);
    // Without it, more is promised than is known: the first half's spreads are wide, one by one.
    expect(
      Math.abs(apart.of(boundary).uncertainty / joint.of(boundary).uncertainty - 1),
    ).toBeGreaterThan(0.02);
  });

  it("must keep together what it takes as known before", () => {
    expect(() => calibrate(fit.mount, second, { inputs: [coupling], useSpreads: true })).toThrow(
      `inputs: expected ${boundary} among them, since ${coupling} varies together with it`,
    );
    const alone = calibrate(fit.mount, second, { inputs: [coupling] });
    expect(alone.warnings).toContain(
      `${boundary} no longer varies together with ${coupling}, which is fitted from the data alone.`,
    );
    expect(correlationsOf(readMount(alone.mount)).names).toEqual([]);
  });

  it("is sampled together: the rise is known better than its inputs", async () => {
    const drawn = async (mount: Mount) => {
      const { band } = await confidence(mount, { rows: "none", runner: solveHere });
      return band[1].value - band[0].value;
    };
    const { correlations: _, ...parted } = fit.mount;
    const [whole, apart] = [await drawn(fit.mount), await drawn(parted)];
    // By the slopes of ln(rise), taken here by differences: σ² = gᵀCg.
    const rise = async (name: string, by: number) => {
      const { of } = fit;
      const value = of.call(fit, name).value * Math.exp(by);
      const at = (which: string) => (which === name ? value : fit.of(which).value);
      const mount = { ...ombrelMount(at(coupling), at(boundary)), limit: { rise: 0.01 } };
      const { median } = await confidence(mount, { rows: "none", runner: solveHere, samples: 16 });
      return median.value;
    };
    const h = 1e-2;
    const g = await Promise.all(
      inputs.map(async (name) => ((await rise(name, h)) - (await rise(name, -h))) / (2 * h)),
    );
    const variance = (c: (i: number, j: number) => number) =>
      g.reduce((sum, a, i) => sum + g.reduce((s, b, j) => s + a * b * c(i, j), 0), 0);
    const expected = 2 * z95 * Math.sqrt(variance((i, j) => fit.covariance[i]![j]!));
    const without = 2 * z95 * Math.sqrt(variance((i, j) => (i === j ? fit.covariance[i]![i]! : 0)));
    expect(whole / expected).toBeCloseTo(1, 1);
    expect(apart / without).toBeCloseTo(1, 1);
    expect(without / expected).toBeGreaterThan(1.3);
  });
});
