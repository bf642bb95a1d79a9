import { describe, expect, it } from "vitest";
import {
  digits,
  measuredKey,
  savedFit,
  uncertaintyText,
  withMeasured,
} from "../../../src/design/fitting/saved-fit.js";
import { isSpread, z95 } from "../../../src/units/spread.js";
import { padded, smallest } from "../../mount/things/smallest.js";

const mount = smallest(padded);
const fit = { what: "pads and bonds", file: "cooldown.csv", date: "2026-11-30" };
const row = (property: string, value: string, more: object = {}) => ({
  property,
  form: "measured",
  parameter: "value",
  value,
  ...more,
});
const saved = (...rows: readonly object[]) => savedFit(fit, { from: 0.1, to: 0.3 }, rows).csv;

describe("a saved fit", () => {
  it("has its date as a key, and none that is no day", () => {
    expect(measuredKey("2026-11-30")).toBe("measured-2026-11-30");
    for (const date of [undefined, "2026-13-01", "2026-02-30x", "today", 20261130])
      expect(() => measuredKey(date as string)).toThrow(
        'date: expected a date such as "2026-03-14"',
      );
  });

  it("writes twelve digits, and half of the 90 % interval as a factor or in the unit", () => {
    expect([digits(1 / 3), digits(5e-7)]).toEqual(["0.333333333333", "5e-7"]);
    const parameter = { uncertainty: 0.1, logarithmic: true } as never;
    expect(Number(uncertaintyText(parameter).slice(1))).toBeCloseTo(Math.exp(0.1 * z95), 7);
    expect(Number(uncertaintyText({ uncertainty: 2, logarithmic: false } as never))).toBeCloseTo(
      2 * z95,
      10,
    );
  });

  it("comes back into a mount: factors as log-normal spreads, amounts and shares as normal ones", () => {
    const csv = saved(
      row("pads.thickness", "4e-7", { unit: "m", uncertainty: "x1.25" }),
      row("bonds.length", "0.002", { unit: "m", uncertainty: "0.0005" }),
      row("joint.resistance", "2e-6", { unit: "ohm", uncertainty: "10 %" }),
      row("bonds.length", "0.5", { parameter: "correlation with pads.thickness" }),
    );
    const { pads, bonds, joint, correlations } = withMeasured(mount, csv) as never as Record<
      string,
      Record<string, { low: number; high: number; distribution: string }>
    >;
    expect([pads!.thickness!.low, pads!.thickness!.high]).toEqual([
      expect.closeTo(3.2e-7, 15),
      expect.closeTo(5e-7, 15),
    ]);
    expect(bonds!.length).toMatchObject({ distribution: "normal", low: 0.0015, high: 0.0025 });
    expect(joint!.resistance).toMatchObject({ low: expect.closeTo(1.8e-6, 15) });
    expect(isSpread(pads!.thickness)).toBe(true);
    expect(correlations).toEqual([
      {
        of: ["pads.thickness", "bonds.length"],
        coefficient: 0.5,
        reason: "fitted together to cooldown.csv",
      },
    ]);
    expect(mount.bonds!.length).toBe(2e-3);
  });

  it("is refused by file, line and what is wrong", () => {
    const length = row("bonds.length", "0.002", { uncertainty: "x2" });
    const read =
      (...rows: readonly object[]) =>
      () =>
        withMeasured(mount, saved(...rows), "fit.csv");
    expect(read({ ...length, form: "power" })).toThrow(
      "fit.csv: expected rows of the form measured",
    );
    expect(read(row("bonds.length", "0.002"))).toThrow(
      /^fit\.csv:3 uncertainty: expected an uncertainty/,
    );
    expect(read({ ...length, property: "bonds.lenght" })).toThrow(/^fit\.csv:3 bonds\.lenght/);
    const with_ = { parameter: "correlation with pads.thickness" };
    expect(read(length, row("bonds.length", "0.5", with_))).toThrow(
      /^fit\.csv:4 correlation with pads\.thickness: expected a row with the value of pads\.thickness/,
    );
    const own = { parameter: "correlation with bonds.length" };
    expect(read(length, row("bonds.length", "1.5", own))).toThrow(
      /^fit\.csv:4 value: expected a coefficient of correlation from -1 to 1, got 1\.5/,
    );
  });
});
