import fc from "fast-check";
import { unit } from "mathjs";
import { describe, expect, it } from "vitest";
import { positive } from "../../src/units/checks.js";
import { boltzmann, elementaryCharge, lorenz, stefanBoltzmann } from "../../src/units/constants.js";
import {
  type Dimension,
  dBm,
  numberAndUnit,
  spelled,
  takenBy,
  toSI,
  unitFactor,
} from "../../src/units/quantity.js";

describe("constants", () => {
  // CODATA 2018 lists the derived values to ten digits
  it("derive to the values CODATA lists", () => {
    expect(stefanBoltzmann / 5.670374419e-8).toBeCloseTo(1, 9);
    expect(lorenz / 2.44300451e-8).toBeCloseTo(1, 8);
  });
});

/** One of each, so that none is left out. */
const each: Readonly<Record<Dimension, true>> = {
  length: true,
  area: true,
  temperature: true,
  power: true,
  force: true,
  resistance: true,
  speed: true,
  conductance: true,
  energy: true,
  frequency: true,
  time: true,
  angle: true,
};

describe("a unit", () => {
  // What is built of mathjs has arithmetic of plain numbers; all of mathjs is the reference, to the last bit.
  it.each(Object.keys(each) as Dimension[])(
    "of a %s is in SI what all of mathjs says",
    (dimension) => {
      const { units, si = units[0]! } = takenBy(dimension);
      const inSI = (symbol: string) =>
        (/^1\s*\//.test(symbol) ? unit(symbol) : unit(1, symbol)).toSI().toNumber();
      // Of its own, or exact since 2019.
      const own = /mas|thou|sr|eV|dBm/;
      for (const symbol of units.filter((each) => each !== "" && !own.test(each))) {
        expect(unitFactor(symbol, si), symbol).toBe(inSI(symbol) / inSI(si));
      }
    },
  );

  it.each([
    ["W/(m K)", "mW/(cm K)"],
    ["J/(mol K^2)", "mJ/(mol K^2)"],
    ["m^2 K^4/W", "cm^2 K^4/W"],
    ["kg/m^3", "g/cm^3"],
    ["K", "degR"],
    ["Pa", "psi"],
    ["1/s", "1/hour"],
  ])("of %s is so: %s", (si, symbol) => {
    const inSI = (text: string) =>
      (text.startsWith("1/") ? unit(text) : unit(1, text)).toSI().toNumber();
    expect(unitFactor(symbol, si)).toBe(inSI(symbol) / inSI(si));
  });

  it.each(["degF", "degC", "furlongs/", "m kg K )", "", "3 m"])("is none: %s", (symbol) => {
    expect(unitFactor(symbol, "K")).toBeUndefined();
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

  // lbf by ISO 31-3 and kgf by the CGPM of 1901, exactly; thou is another name of the mil; 1 in = 25.4 mm
  it.each([
    ["25 μm", "length", 25e-6],
    ["25 \u00b5m", "length", 25e-6],
    ["25um", "length", 25e-6],
    ["\u22123 mK", "temperature", -3e-3],
    ["1e\u22123 K", "temperature", 1e-3],
    ["3 nΩ", "resistance", 3e-9],
    ["3 n\u2126", "resistance", 3e-9],
    ["2 mOhm", "resistance", 2e-3],
    ["2 Ohm", "resistance", 2],
    ["4 mm²", "area", 4e-6],
    ["4 µm^2", "area", 4e-12],
    ["4 μm²", "area", 4e-12],
    ["1 in^2", "area", 6.4516e-4],
    ["1 in²", "area", 6.4516e-4],
    ["7 thou", "length", 177.8e-6],
    ["1 lbf", "force", 4.4482216152605],
    ["1 kgf", "force", 9.80665],
    ["2 µW/K", "conductance", 2e-6],
    ["3\u00a0mm", "length", 3e-3],
  ] as const)("%s, as people type it, is %s in SI", (text, dimension, value) => {
    expect(toSI("field", text, dimension) / value).toBeCloseTo(1, 12);
  });

  it("is refused with the units that its field takes", () => {
    expect(() => toSI("joint.force", "3 lbs", "force")).toThrow(
      'joint.force: expected a force such as "50 N" or a number in newtons, got "3 lbs" (units: N, kN, mN, lbf, kgf)',
    );
  });

  it("is refused at once when it is longer than any that is meant", () => {
    const spaces = " ".repeat(1e5);
    for (const text of [`1${spaces}m`, `${spaces}1 m`, `1 m${spaces}x`, "1".repeat(1e5)])
      expect(() => toSI("field", text, "length")).toThrow("field: expected a length");
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

describe("any text with a unit", () => {
  const all: readonly (readonly [Dimension, readonly string[]])[] = (
    ["length", "area", "temperature", "power", "force", "resistance", "conductance"] as const
  ).map((dimension) => [dimension, takenBy(dimension).units]);
  const unit = fc.constantFrom(
    ...all.flatMap(([dimension, units]) => units.map((name) => [dimension, name] as const)),
  );
  /** Another spelling of the same unit. */
  const respelled = (name: string, micro: string, ohm: string, square: string) =>
    name.replace(/^u/, micro).replace(/ohm$/, ohm).replace(/\^2$/, square);

  it("is the same number in every spelling of the unit, with or without a space", () => {
    fc.assert(
      fc.property(
        unit,
        fc.double({ min: 1e-3, max: 500, noNaN: true }),
        fc.constantFrom("u", "µ", "μ"),
        fc.constantFrom("ohm", "Ohm", "Ω", "\u2126"),
        fc.constantFrom("^2", "²"),
        fc.constantFrom(" ", "", "  ", "\u00a0"),
        ([dimension, name], number, micro, ohm, square, space) => {
          const text = `${number}${space}${respelled(name, micro, ohm, square)}`;
          expect(toSI("f", text, dimension)).toBe(toSI("f", `${number} ${name}`, dimension));
        },
      ),
      { seed: 7 },
    );
  });

  it("is never taken by a field of another dimension", () => {
    fc.assert(
      fc.property(unit, fc.constantFrom(...all), ([own, name], [other, units]) => {
        if (own === other) return;
        const refused = `got "1 ${name}" (units: ${units.join(", ")})`;
        expect(() => toSI("f", `1 ${name}`, other)).toThrow(refused);
      }),
      { seed: 7 },
    );
  });

  it("has a unit that is one of those the error lists, or is refused", () => {
    const text = fc.tuple(
      fc.double(),
      fc.string({ maxLength: 6 }),
      unit,
      fc.string({ maxLength: 3 }),
    );
    fc.assert(
      fc.property(text, ([number, before, [dimension, name], behind]) => {
        const written = `${number} ${before}${name}${behind}`;
        let si: number;
        try {
          si = toSI("f", written, dimension);
        } catch (error) {
          expect((error as Error).message).toMatch(/^f: expected an? /);
          return;
        }
        const [value, symbol] = numberAndUnit(written)!;
        const { units } = takenBy(dimension);
        expect(units).toContain(spelled(symbol));
        if (symbol === "dBm") return;
        const exact = value * unitFactor(spelled(symbol), units[0]!)!;
        // Converted by a division where that rounds once, which differs in the last digit.
        expect(Math.abs(si - exact)).toBeLessThanOrEqual(4e-16 * Math.abs(exact));
      }),
      { seed: 7, numRuns: 500 },
    );
  });
});

describe("a quantity of a few units", () => {
  const rate = {
    si: "mol/s",
    units: ["mol/s", "mmol/s"],
    words: 'a rate such as "1 mmol/s" or a number in mol/s',
  };

  it("is a number in SI or one of its units", () => {
    expect(positive("flow", 2e-3, rate)).toBe(2e-3);
    expect(positive("flow", "0.5 mmol/s", rate)).toBeCloseTo(5e-4, 18);
    expect(positive("flow", "1.72e1 mol/s", rate)).toBeCloseTo(17.2, 12);
  });

  it.each([0, -1, Number.NaN, "1", "1 mol", "-1 mol/s", "0 mol/s", "fast", undefined, {}])(
    "is not %j",
    (value) => {
      expect(() => positive("flow", value, rate)).toThrow(
        'flow: expected a rate such as "1 mmol/s" or a number in mol/s',
      );
    },
  );
});
