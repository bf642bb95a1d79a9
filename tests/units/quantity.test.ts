import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { boltzmann, elementaryCharge, lorenz, stefanBoltzmann } from "../../src/units/constants.js";
import { type Dimension, dBm, toSI, unitFactor } from "../../src/units/quantity.js";

describe("constants", () => {
  // CODATA 2018 lists the derived values to ten digits
  it("derive to the values CODATA lists", () => {
    expect(stefanBoltzmann / 5.670374419e-8).toBeCloseTo(1, 9);
    expect(lorenz / 2.44300451e-8).toBeCloseTo(1, 8);
  });
});

describe("a quantity", () => {
  it.each([
    ["25 um", "length", 25e-6],
    ["25 µm", "length", 25e-6],
    ["1 mil", "length", 25.4e-6],
    ["1 in", "length", 25.4e-3],
    ["-95 dBm", "power", 3.16227766e-13],
    ["0 dBm", "power", 1e-3],
    ["8 pW", "power", 8e-12],
    ["4 mm^2", "area", 4e-6],
    ["110 mK", "temperature", 0.11],
    ["1 kN", "force", 1000],
    ["2 mohm", "resistance", 2e-3],
    ["20 nW/K", "conductance", 20e-9],
    ["200 keV", "energy", 200e3 * elementaryCharge],
    ["5 GHz", "frequency", 5e9],
    ["3.39 km/s", "speed", 3390],
    ["2 h", "time", 7200],
    ["30 deg", "angle", Math.PI / 6],
    ["1 arcsec", "angle", Math.PI / 648000],
    ["20 mas", "angle", Math.PI / 32400000],
    ["1.5e-3 m", "length", 1.5e-3],
    [".5 mm", "length", 5e-4],
  ] as const)("%s is %s in SI", (text, dimension, value) => {
    expect(toSI("field", text, dimension) / value).toBeCloseTo(1, 8);
  });

  it("rounds once: a part of the SI unit is what the same number with an exponent is", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e6 }), (n) => {
        expect(toSI("f", `${n} um`, "length")).toBe(Number(`${n}e-6`));
        expect(toSI("f", `${n} mm`, "length")).toBe(Number(`${n}e-3`));
        expect(toSI("f", `${n} aW`, "power")).toBe(Number(`${n}e-18`));
      }),
      { seed: 1 },
    );
  });

  it("takes the electronvolt of the present SI, not of an older table", () => {
    expect(toSI("e", "1 eV", "energy") / elementaryCharge).toBeCloseTo(1, 14);
  });

  it.each([
    ["25 mK", "length", 'a length such as "25 um" or a number in metres'],
    ["25", "length", 'a length such as "25 um" or a number in metres'],
    ["25 um um", "length", "a length"],
    ["um", "length", "a length"],
    ["1e999 m", "length", "a length"],
    ["20 degC", "temperature", 'a temperature such as "100 mK" or a number in kelvin'],
    ["3 furlong", "length", "a length"],
    ["1 dBm", "length", "a length"],
    ["", "power", "a power"],
    [null, "power", "a power"],
    [{ toString: () => "1 W" }, "power", "a power"],
    [Number.NaN, "force", "a force"],
    [Number.NEGATIVE_INFINITY, "force", "a force"],
  ] as const)("%j is refused as %s", (value, dimension, wanted) => {
    expect(() => toSI("bonds.diameter", value, dimension as Dimension)).toThrow(
      `bonds.diameter: expected ${wanted}`,
    );
  });

  it("never becomes anything but a finite number or an error that names the field", () => {
    fc.assert(
      fc.property(fc.anything(), (value) => {
        try {
          expect(Number.isFinite(toSI("f", value, "length"))).toBe(true);
        } catch (error) {
          expect((error as Error).message).toMatch(/^f: expected a length/);
        }
      }),
    );
  });

  it("turns decibels above a milliwatt into watts", () => {
    // −110, −100, −90, −85 dBm by definition
    for (const [level, watts] of [
      [-110, 1e-14],
      [-100, 1e-13],
      [-90, 1e-12],
      [-85, 3.16227766e-12],
    ]) {
      expect(dBm(level!) / watts!).toBeCloseTo(1, 8);
    }
  });
});

describe("a unit of the catalogue", () => {
  it.each([
    ["W/(cm K)", "W/(m K)", 100],
    ["uohm cm", "ohm m", 1e-8],
    ["mJ/(mol K^2)", "J/(mol K^2)", 1e-3],
    ["g/cm^3", "kg/m^3", 1000],
    ["cm^2 K^4/W", "m^2 K^4/W", 1e-4],
    ["MeV cm^2/g", "J m^2/kg", 1e6 * elementaryCharge * 0.1],
    ["1/(m^2 s)", "1/(m^2 s)", 1],
    ["", "", 1],
  ])("%s is so many of %s", (from, to, factor) => {
    expect(unitFactor(from, to)! / factor).toBeCloseTo(1, 12);
  });

  it.each([
    ["W/(m K)", "W/K"],
    ["parsnip", "m"],
    ["m", ""],
    ["", "m"],
  ])("%s is no %s", (from, to) => expect(unitFactor(from, to)).toBeUndefined());

  it("of the Boltzmann constant agrees with electronvolts per kelvin", () => {
    // CODATA 2018: k = 8.617333262e-5 eV/K
    expect(boltzmann / unitFactor("eV/K", "J/K")! / 8.617333262e-5).toBeCloseTo(1, 9);
  });
});
