import { describe, expect, test } from "vitest";
import { dilution } from "../../src/loads/dilution.js";
import { catalogue } from "./catalogue.js";

describe("dilution", () => {
  test("is 84 n T² with an ideal exchanger, from zero temperature on", () => {
    const stage = dilution({ circulation: "0.6 mmol/s" }, catalogue);
    expect(stage.power(0.1)).toBeCloseTo(504e-6, 12);
    expect(stage.temperature(504e-6)).toBeCloseTo(0.1, 9);
    expect(stage.base).toBe(1e-6);
    expect(stage.largestPower).toBe(Number.POSITIVE_INFINITY);
  });

  test("is 95 T² less 11 T² of what comes in with the exchanger's temperature", () => {
    const stage = dilution({ circulation: 1e-3, exchangerTemperature: "60 mK" }, catalogue);
    expect(stage.power(0.1)).toBeCloseTo(1e-3 * (95 * 0.01 - 11 * 0.0036), 12);
    expect(stage.power(stage.base)).toBe(0);
    expect(stage.base).toBeCloseTo(0.06 / 2.9387, 5);
  });

  test("vanishes at the temperature that was measured without load", () => {
    const stage = dilution({ circulation: "1 mmol/s", base: "20 mK" }, catalogue);
    expect(stage.base).toBe(0.02);
    expect(stage.power(0.1)).toBeCloseTo(84e-3 * (0.01 - 0.0004), 12);
    expect(stage.temperature(0)).toBe(0.02);
    const { conductor } = stage;
    expect(conductor.integral(0.07) - conductor.integral(0.02)).toBeCloseTo(stage.power(0.07), 15);
  });

  test("warns above 0.1 K, and names its source", () => {
    const stage = dilution({ circulation: 1e-3, name: "chamber" }, catalogue);
    expect(stage.conductor.ranges).toEqual([
      { from: 0, to: 0.1, of: "chamber: dilution of degenerate helium-3", outside: "warn" },
    ]);
    expect(stage.provenance[0]!.source).toMatch(/Pobell/);
    expect(stage.provenance[0]!.note).toMatch(/from memory/);
  });

  test.each([
    [
      { circulation: "0.6 mol" },
      'd.circulation: expected a circulation such as "0.6 mmol/s" or a number in mol/s, got "0.6 mol" (units: mol/s, mmol/s, umol/s)',
    ],
    [{ circulation: 0 }, "d.circulation: expected a circulation such as"],
    [
      { circulation: 1e-3, exchangerTemperature: "-1 K" },
      'd.exchangerTemperature: expected a temperature such as "100 mK" or a number in kelvin, greater than 0, got "-1 K"',
    ],
    [
      { circulation: 1e-3, exchangerTemperature: "60 mK", base: "10 mK" },
      'd.base: expected a temperature of 20.4 mK or more, since helium-3 that comes in at 60.0 mK cools no further, got "10 mK"',
    ],
  ])("refuses %j", (options, message) => {
    expect(() => dilution(options as never, catalogue, "d")).toThrow(message);
  });

  test("refuses a negative load", () => {
    expect(() => dilution({ circulation: 1e-3 }, catalogue).temperature(-1)).toThrow(
      "mixing chamber.load: expected a power such as",
    );
  });
});
