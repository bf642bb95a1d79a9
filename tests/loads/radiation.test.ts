import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { bandFraction, planckPhotonRate, planckPower } from "../../src/loads/planck.js";
import { type Filter, type Radiation, radiation } from "../../src/loads/radiation.js";
import { speedOfLight, stefanBoltzmann } from "../../src/units/constants.js";

const window: Radiation = {
  source: { temperature: "300 K" },
  through: { area: "1 mm^2", viewFactor: 0.01 },
  band: { from: "8 um", to: "12 um" },
};
const see = (change: Partial<Radiation> = {}) => radiation({ ...window, ...change }, "window");
const filter = (change: Partial<Filter> = {}): Filter => ({
  name: "filter",
  temperature: "4 K",
  transmission: 0.5,
  ...change,
});

/** Opaque but for 8 to 12 µm, and leaking a share of everything longer. */
const bandpass = (leak: number) =>
  ({
    points: [
      ["7.9 um", 0],
      ["8 um", 0.8],
      ["12 um", 0.8],
      ["12.1 um", leak],
    ],
    shorter: 0,
    longer: leak,
  }) as const;

describe("radiation with no filter", () => {
  test("is εσT⁴ times area and view factor, and its band the band's share of it", () => {
    const load = see({ source: { temperature: "300 K", emissivity: 0.3 } });
    const whole = 0.3 * stefanBoltzmann * 300 ** 4 * 1e-8;
    expect(load.power / whole).toBeCloseTo(1, 9);
    const share = bandFraction(12e-6 * 300) - bandFraction(8e-6 * 300);
    expect(load.inBand / (whole * share)).toBeCloseTo(1, 9);
    expect((load.inBand + load.outOfBand) / load.power).toBeCloseTo(1, 12);
  });

  test("of an étendue or of an area is the same light", () => {
    const etendue = see({ through: { etendue: Math.PI * 1e-8 } });
    expect(etendue.power / see().power).toBeCloseTo(1, 12);
  });

  test("in one mode is that of one mode, power and photons", () => {
    const [from, to] = [speedOfLight / 3e-3, speedOfLight / 1e-3];
    const load = see({ through: { modes: 1 }, band: { from: "1 mm", to: "3 mm" } });
    expect(load.inBand / planckPower(300, from, to)).toBeCloseTo(1, 9);
    expect(load.photonRate / planckPhotonRate(300, from, to)).toBeCloseTo(1, 9);
    expect(load.power / planckPower(300, 0, Number.POSITIVE_INFINITY)).toBeCloseTo(1, 7);
  });

  test("is as much on each of many pixels", () => {
    const many = see({ pixels: 50 });
    expect(many.powerPerPixel / see().power).toBeCloseTo(1, 12);
    expect(many.emitters[0]!.inBand / (50 * see().inBand)).toBeCloseTo(1, 12);
  });
});

describe("a filter", () => {
  test("of transmission 1 changes nothing, warm or cold, as a number or as a curve", () => {
    const clear = {
      points: [
        ["1 um", 1],
        ["2 um", 1],
      ],
      shorter: 1,
      longer: 1,
    } as const;
    for (const temperature of [0, 4, 400]) {
      for (const transmission of [1, clear]) {
        for (const emissivity of [1, 0.2]) {
          const load = see({ filters: [filter({ transmission, temperature, emissivity })] });
          expect(load.power / see().power).toBeCloseTo(1, 9);
          expect(load.emitters[1]).toMatchObject({ inBand: 0, outOfBand: 0 });
        }
      }
    }
  });

  test("that lets through nothing leaves its own light alone", () => {
    const load = see({ filters: [filter({ transmission: 0, temperature: "77 K" })] });
    expect(load.power / (stefanBoltzmann * 77 ** 4 * 1e-8)).toBeCloseTo(1, 9);
    expect(load.emitters[0]).toMatchObject({ inBand: 0, outOfBand: 0 });
  });

  test("shines with 1 − transmission, or with an emissivity of its own, never with more", () => {
    const shines = (emissivity?: number) =>
      see({
        filters: [filter({ temperature: "77 K", ...(emissivity !== undefined && { emissivity }) })],
      }).parts[1]!.power;
    expect(shines() / (0.5 * stefanBoltzmann * 77 ** 4 * 1e-8)).toBeCloseTo(1, 9);
    expect(shines(0.1) / shines()).toBeCloseTo(0.2, 9);
    expect(shines(0.9)).toBe(shines());
  });

  test("at the temperature of the source leaves a blackbody", () => {
    const filters = [0.1, 0.7].map((transmission) => filter({ transmission, temperature: 300 }));
    expect(see({ filters }).power / see().power).toBeCloseTo(1, 12);
  });

  test("with a leak passes out of band what the leak's share is", () => {
    const tight = see({ filters: [filter({ transmission: bandpass(0), temperature: 0 })] });
    const leaky = see({ filters: [filter({ transmission: bandpass(1e-3), temperature: 0 })] });
    const beyond = stefanBoltzmann * 300 ** 4 * 1e-8 * (1 - bandFraction(12.1e-6 * 300));
    // From 12 to 12.1 µm the two fall to different ends, by half the leak.
    expect((leaky.outOfBand - tight.outOfBand) / (1e-3 * beyond)).toBeCloseTo(1, 1);
    expect(leaky.inBand / tight.inBand).toBeCloseTo(1, 12);
    const share = bandFraction(12e-6 * 300) - bandFraction(8e-6 * 300);
    expect(tight.inBand / (0.8 * share * stefanBoltzmann * 300 ** 4 * 1e-8)).toBeCloseTo(1, 9);
  });

  test("never adds to what comes from the source, and none that is colder than all before it adds at all", () => {
    const share = fc.double({ min: 0, max: 1, noNaN: true });
    const stack = fc.array(fc.tuple(share, share, fc.double({ min: 0, max: 1, noNaN: true })), {
      minLength: 1,
      maxLength: 4,
    });
    fc.assert(
      fc.property(stack, (shares) => {
        let temperature = 300;
        const filters = shares.map(([short, long, colder], i): Filter => {
          temperature *= colder;
          return {
            name: `filter ${i}`,
            temperature,
            transmission: {
              points: [
                ["5 um", short],
                ["15 um", long],
              ],
              shorter: short,
              longer: long,
            },
          };
        });
        let before = see();
        for (let n = 1; n <= filters.length; n++) {
          const after = see({ filters: filters.slice(0, n) });
          const slack = 1 + 1e-9;
          expect(after.emitters[0]!.inBand).toBeLessThanOrEqual(before.emitters[0]!.inBand * slack);
          expect(after.inBand).toBeLessThanOrEqual(before.inBand * slack);
          expect(after.outOfBand).toBeLessThanOrEqual(before.outOfBand * slack);
          before = after;
        }
      }),
      { seed: 11, numRuns: 60 },
    );
  });

  test("in a stack: parts add up to the whole, and photons carry the band's energy", () => {
    const filters = [
      filter({ name: "window", temperature: 300, transmission: bandpass(0.01) }),
      filter({ name: "shader", temperature: 50, transmission: bandpass(0.1), emissivity: 0.3 }),
    ];
    const load = see({ filters, absorption: 0.7 });
    const sum = load.emitters.reduce((total, each) => total + each.inBand + each.outOfBand, 0);
    expect(sum / load.power).toBeCloseTo(1, 12);
    const each = load.inBand / load.photonRate;
    expect(each).toBeGreaterThan((6.62607015e-34 * speedOfLight) / 12e-6);
    expect(each).toBeLessThan((6.62607015e-34 * speedOfLight) / 8e-6);
    expect(load.power / see({ filters }).power).toBeCloseTo(0.7, 12);
  });
});

describe("what radiation refuses", () => {
  const short = {
    points: [
      ["5 um", 0.5],
      ["50 um", 0.5],
    ],
  } as const;
  test.each([
    [
      { source: { temperature: "-1 K" } },
      'window.source.temperature: expected a temperature such as "100 mK" or a number in kelvin, greater than 0, got "-1 K"',
    ],
    [
      { source: { temperature: 300, emissivity: 2 } },
      "window.source.emissivity: expected a number from 0 to 1, got 2",
    ],
    [
      { band: { from: "2 um", to: "1 um" } },
      "window.band.to: expected a wavelength above from (2.00 µm)",
    ],
    [{ band: undefined }, "window.band: expected an object with from, to"],
    [
      { through: undefined },
      "window.through: expected an object with one of area, etendue, modes, got undefined",
    ],
    [
      { through: { etendue: 0 } },
      "window.through.etendue: expected a number in m^2 sr, greater than 0",
    ],
    [
      { through: { area: 1, viewFactor: 1.5 } },
      "window.through.viewFactor: expected a number from 0 to 1",
    ],
    [
      { filters: [filter({ transmission: 1.5 })] },
      "window.filters[0].transmission: expected a number from 0 to 1, or a curve, got 1.5",
    ],
    [
      { filters: [filter({ temperature: "-4 K" as never })] },
      'window.filters[0].temperature: expected a temperature such as "100 mK" or a number in kelvin, 0 or more, got "-4 K"',
    ],
    [{ filters: [filter({ name: "" })] }, 'window.filters[0].name: expected a name, got ""'],
    [
      { filters: [filter({ emissivity: -1 })] },
      "window.filters[0].emissivity: expected a number from 0 to 1",
    ],
    [{ filters: {} }, "window.filters: expected a list of filters, got {}"],
    [
      { filters: [filter({ transmission: short })] },
      // F(1500 µm K) = 1.3 %, 1 − F(15000 µm K) = 3.1 %: table of blackbody functions
      "window.filters[0].transmission: expected a share at every wavelength; missing at 300 K is 1.3 % of a blackbody's power at shorter wavelengths and 3.1 % of a blackbody's power at longer wavelengths. Extend the curve, or say with shorter and longer what the share is there",
    ],
    [
      { absorption: { ...short, longer: 0 } },
      'window.absorption: expected a share at every wavelength; missing at 300 K is 1.3 % of a blackbody\'s power at shorter wavelengths. Extend the curve, or say with shorter what the share is there, got "a curve over 5.000 µm and longer"',
    ],
  ])("%j", (change, message) => {
    expect(() => see(change as never)).toThrow(message);
  });
});

test("a filter curve that leaves part of the band open is refused with how much is missing", () => {
  const curve = {
    points: [
      ["0.5 um", 0.5],
      ["1 um", 0.5],
    ] as const,
  };
  expect(() =>
    radiation({
      source: { temperature: "290 K" },
      through: { modes: 1 },
      filters: [{ name: "short", temperature: "4 K", transmission: curve }],
      band: { from: "0.4 um", to: "1.1 um" },
    }),
  ).toThrow(
    "radiation.filters[0].transmission: expected a curve over the band, 400.0 nm to 1.100 µm: 100 nm (14 %) of it is missing at the short end and 100 nm (14 %) of it is missing at the long end.",
  );
});
