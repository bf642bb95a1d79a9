import { describe, expect, it } from "vitest";
import { drawnParts } from "../../../src/mount/mount.js";
import { readMount } from "../../../src/mount/read.js";
import { coldest, type Stage, stageModel } from "../../../src/mount/things/stage.js";
import { spread } from "../../../src/units/spread.js";
import { drawn } from "./films.js";
import { catalogue, dieModels, itBalances, modelOf, smallest } from "./smallest.js";

const curve = {
  coolingCurve: {
    points: [
      [0.09, 0],
      [0.13, 4e-9],
      [0.5, 1e-6],
    ],
  },
} as const;
const dilution = { dilution: { circulation: "0.3 mmol/s", base: "20 mK" } } as const;
const on = (stage: unknown) => smallest({ stage: stage as Stage });
const model = (stage: Stage) => stageModel(readMount(on(stage)), catalogue);

describe("a stage", () => {
  itBalances(on(0.1));

  it("is a temperature above 0, or one way of cooling", () => {
    const wanted = 'stage: expected a temperature such as "100 mK" or a number in kelvin';
    for (const value of ["0.1 mm", Number.NaN, undefined, true])
      expect(() => readMount(on(value))).toThrow(wanted);
    for (const value of [0, -1, "0 K"])
      expect(() => readMount(on(value))).toThrow(`${wanted}, greater than 0`);
    expect(() => readMount(on({ ...curve, ...dilution }))).toThrow(
      "stage: expected only one of coolingCurve, dilution, demagnetisation, got",
    );
    expect(() => readMount(on({}))).toThrow(
      "stage: expected an object with one of coolingCurve, dilution, demagnetisation, got {}",
    );
    expect(() => readMount(on({ dilutoin: {} }))).toThrow(
      'stage.dilutoin: field "dilutoin" is not known, did you mean "dilution"?',
    );
    expect(readMount(on(spread("90 mK", "0.1 K"))).stage).toBeCloseTo(Math.sqrt(0.009), 12);
  });

  it("is held, or starts from the temperature at which it takes no heat", () => {
    expect(model("0.1 K")).toEqual({ temperature: 0.1 });
    expect(coldest(model("0.1 K"))).toBe(0.1);
    expect(coldest(model(curve))).toBe(0.09);
    expect(coldest(model(dilution))).toBeCloseTo(0.02, 12);
  });

  it.each(dieModels)(
    "finds its temperature on its cooling curve, on a die with model %s",
    (die) => {
      // 1 nW of 4 nW: a quarter of the way from 90 mK to 130 mK, where the points are joined by lines.
      const point = modelOf(on(curve), die).point();
      expect(point.stage).toBeGreaterThan(0.09);
      expect(point.stage).toBeLessThan(0.13);
      const cooled = point.solution.flows.find(({ link }) => link === "cooling of the stage")!;
      expect(cooled.power / 1e-9).toBeCloseTo(1, 9);
    },
  );

  it("is drawn by what holds it", () => {
    const words = (stage: Stage) => drawn(drawnParts(readMount(on(stage))), "stage")!.details;
    expect(words(0.1)).toEqual(["held at 100 mK"]);
    expect(words(curve)).toEqual(["as warm as its cooling leaves it"]);
  });
});
