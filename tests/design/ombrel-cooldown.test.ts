import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import type { DrawnFit } from "../../src/design/index.js";
import {
  calibrate,
  type Figure,
  fitConductor,
  fitFigure,
  readThermometry,
} from "../../src/index.js";
import { ombrelCooldown, ombrelMount, ombrelTruth } from "./ombrel-cooldown.js";

const file = "ombrel-cooldown.csv";
const text = readFileSync(new URL(`../../data/measurements/${file}`, import.meta.url), "utf8");
const data = readThermometry(text, file);
const inputs = ["pads.coupling.coefficient", "pads.boundary.resistance"] as const;
const fit = calibrate(ombrelMount(2.4e9, 1e-3), data, {
  inputs: [...inputs],
  sharedErrors: [{ thermometers: ["chip", "stage"], gain: 0.005 }],
  date: "2026-09-30",
});

describe("the invented cool-down of the Ombrel camera", () => {
  it("says on top that it is invented, and is what its script makes", () => {
    expect(text.split("\n")[0]).toMatch(/^# INVENTED DATA/);
    expect(text).toBe(ombrelCooldown());
  });

  it("gives back the films it was made with, and finds the thermometers' scale", () => {
    for (const [field, value] of [
      [inputs[0], ombrelTruth.coefficient],
      [inputs[1], ombrelTruth.resistance],
    ] as const) {
      const { low, high, uncertainty } = fit.of(field);
      expect(low, field).toBeLessThan(value);
      expect(high, field).toBeGreaterThan(value);
      expect(uncertainty, field).toBeLessThan(0.1);
    }
    expect(fit.probability).toBeGreaterThan(0.01);
    // A scale that chip and stage share hardly shows in their difference, so it stays uncertain.
    const [shared] = fit.sharedErrors;
    expect(Math.abs(shared!.gain! - 0.004)).toBeLessThan(2 * 0.005);
  });
});

const figures: Record<string, readonly [Figure, DrawnFit]> = {
  "a mount's fit": [fitFigure(fit), fit],
};
const conductor = fitConductor(data, { from: "chip", to: "stage", background: true });
figures["a conductor's fit"] = [fitFigure(conductor), conductor];

interface Trace {
  readonly mode: string;
  readonly x: readonly number[];
  readonly y: readonly number[];
  readonly error_y?: { readonly array: readonly number[] };
}

describe.each(Object.entries(figures))("the figure of %s", (_, [figure, drawn]) => {
  it("is plain data that survives JSON, with units on its axes and an alternative text", () => {
    expect(JSON.parse(JSON.stringify(figure))).toEqual(figure);
    expect(JSON.stringify(figure)).not.toMatch(/NaN|null|Infinity/);
    const { xaxis, yaxis, yaxis2 } = figure.layout as Record<string, { title: { text: string } }>;
    expect([xaxis, yaxis, yaxis2].map((axis) => axis!.title.text)).toEqual([
      "heater power (nW)",
      "hottest point of the chip (mK)",
      "residual (standard uncertainties)",
    ]);
    expect(figure.alt).toContain("degrees of freedom");
  });

  it("shows every reading, and its residual", () => {
    const markers = (figure.data as readonly Trace[]).filter(({ mode }) => mode === "markers");
    expect(markers.flatMap(({ x }) => x)).toHaveLength(2 * drawn.points.length);
    expect(markers).toHaveLength(6);
  });
});

describe("the curve of a fit", () => {
  it("passes where the fit says the readings should be", () => {
    const traces = fitFigure(fit).data as readonly Trace[];
    const curve = traces.find(({ mode }) => mode === "lines")!;
    const readings = traces.find(({ mode }) => mode === "markers")!;
    expect(readings.error_y!.array[0]).toBe(0.15);
    expect([curve.x[0], curve.x.at(-1)]).toEqual([0, 400]);
    // The coldest stage: its first and last reading are within five uncertainties of the curve's ends.
    expect(Math.abs(curve.y[0]! - readings.y[0]!)).toBeLessThan(5 * 0.15);
    expect(Math.abs(curve.y.at(-1)! - readings.y.at(-1)!)).toBeLessThan(5 * 0.15);
  });
});
