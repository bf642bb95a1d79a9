import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Millimetre, millimetre } from "../../src/loads/millimetre.js";
import { optical } from "../../src/loads/optical.js";
import { planckPower } from "../../src/loads/planck.js";
import { boltzmann, planck } from "../../src/units/constants.js";

const beam: Millimetre = {
  pixels: 100,
  from: "130 GHz",
  to: "170 GHz",
  source: { temperature: "20 K" },
};
const see = (change: Partial<Millimetre> = {}) => millimetre({ ...beam, ...change }, "beam");

describe("millimetre waves", () => {
  test("from a black source are modes × absorption × the power of a mode, as `optical` has them", () => {
    const load = see({ modes: 2, absorption: 0.6 });
    expect(load.powerPerPixel / (1.2 * planckPower(20, 130e9, 170e9))).toBeCloseTo(1, 12);
    const other = optical({
      pixels: 100,
      temperature: "20 K",
      from: "130 GHz",
      to: "170 GHz",
      modes: 2,
      efficiency: 0.6,
    });
    expect(load.power / other.power).toBeCloseTo(1, 12);
  });

  test("are k_BTΔν a mode by Rayleigh and Jeans, and below it by Planck as hν nears k_BT", () => {
    const flat = see({ law: "rayleigh-jeans" });
    expect(flat.powerPerPixel / (boltzmann * 20 * 40e9)).toBeCloseTo(1, 12);
    const x = (planck * 150e9) / (boltzmann * 20);
    const correction = see().details["Planck's power over k_BTΔν at the warmest"]!;
    expect(correction).toBeCloseTo(x / Math.expm1(x), 12);
    // The band is a fourth of its middle wide: the middle's correction holds to Δx²/24.
    expect(see().power / flat.power).toBeCloseTo(correction, 3);
  });

  test("are photons of about hν each", () => {
    const { power, photonRate } = see();
    expect(power / photonRate / (planck * 150e9)).toBeCloseTo(1, 1);
    const flat = see({ law: "rayleigh-jeans" });
    expect(flat.power / flat.photonRate / (planck * 150e9)).toBeCloseTo(1, 1);
  });

  test("come from air of some opacity and from what is behind it", () => {
    const source = {
      opacity: 0.1,
      airmass: 2,
      airTemperature: "260 K",
      behind: "2.725 K",
    } as const;
    const load = see({ source });
    const through = Math.exp(-0.2);
    const [behind, air] = [planckPower(2.725, 130e9, 170e9), planckPower(260, 130e9, 170e9)];
    expect(load.powerPerPixel / (through * behind + (1 - through) * air)).toBeCloseTo(1, 12);
    expect(load.parts.map(({ name }) => name)).toEqual(["behind the air", "air"]);
    expect(load.details["emissivity of the air"]).toBeCloseTo(1 - through, 12);
  });

  test("through no air are those of the sky behind it; through thick air, those of the air", () => {
    const air = { airTemperature: "260 K", behind: "3 K" } as const;
    const clear = see({ source: { opacity: 0, ...air } });
    expect(clear.powerPerPixel / planckPower(3, 130e9, 170e9)).toBeCloseTo(1, 12);
    const thick = see({ source: { opacity: 50, ...air } });
    expect(thick.powerPerPixel / planckPower(260, 130e9, 170e9)).toBeCloseTo(1, 12);
  });

  test("in an enclosure of one temperature are those of a blackbody, whatever the chain", () => {
    const share = fc.double({ min: 0, max: 1, noNaN: true });
    fc.assert(
      fc.property(fc.array(share, { maxLength: 5 }), (transmissions) => {
        const chain = transmissions.map((transmission, i) => ({
          name: `element ${i}`,
          transmission,
          temperature: "20 K" as const,
        }));
        expect(see({ chain }).power / see().power).toBeCloseTo(1, 12);
      }),
      { seed: 9 },
    );
  });

  test("lose by a cold element exactly what it does not let through", () => {
    const cold = { name: "filter", transmission: 0.7, temperature: 0 };
    expect(see({ chain: [cold] }).power / see().power).toBeCloseTo(0.7, 12);
    expect(see({ chain: [{ ...cold, transmission: 1 }] }).power).toBe(see().power);
  });
});

describe("what a beam refuses", () => {
  test.each([
    [{ from: "180 GHz" }, "beam.to: expected a frequency above the lower edge (180 GHz)"],
    [{ from: 0 }, "beam.from: expected a frequency"],
    [{ modes: 0 }, "beam.modes: expected a number greater than 0, got 0"],
    [{ absorption: 1.2 }, "beam.absorption: expected a number from 0 to 1, got 1.2"],
    [{ law: "wien" }, 'beam.law: expected "planck" or "rayleigh-jeans", got "wien"'],
    [
      { source: { temperature: "-3 K" } },
      'beam.source.temperature: expected a temperature such as "100 mK" or a number in kelvin, 0 or more, got "-3 K"',
    ],
    [
      { source: undefined },
      "beam.source: expected an object with one of temperature, opacity, got undefined",
    ],
    [
      { source: { opacity: -1, airTemperature: 260 } },
      "beam.source.opacity: expected a number of 0 or more, got -1",
    ],
    [
      { source: { opacity: 1, airmass: 0.5, airTemperature: 260 } },
      "beam.source.airmass: expected a number of air masses from 1 to 40, got 0.5",
    ],
    [{ source: { opacity: 1 } }, "beam.source.airTemperature: expected a temperature"],
    [
      { chain: [{ name: "lens", transmission: 1.01 }] },
      "beam.chain[0].transmission: expected a number from 0 to 1, got 1.01",
    ],
    [
      { chain: [{ name: "lens", transmission: 1, temperature: "-4 K" }] },
      "beam.chain[0].temperature: expected a temperature",
    ],
    [{ chain: [{ transmission: 1 }] }, "beam.chain[0].name: expected a name, got undefined"],
    [{ chain: {} }, "beam.chain: expected a list of elements, got {}"],
  ])("%j", (change, message) => {
    expect(() => see(change as never)).toThrow(message);
  });
});
