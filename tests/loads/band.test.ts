import { describe, expect, it } from "vitest";
import { millimetre } from "../../src/loads/millimetre.js";
import { nightSky } from "../../src/loads/night-sky.js";
import { optical } from "../../src/loads/optical.js";
import { radiation } from "../../src/loads/radiation.js";
import { numbersOf } from "../../src/mount/read.js";
import { spread } from "../../src/units/spread.js";
import { smallest } from "../mount/things/smallest.js";

// The speed of light is exact (SI): 2 mm is 149.896229 GHz, and 150 GHz is 1.99861639 mm.
const bands = [
  { from: "142.758313 GHz", to: "157.785504 GHz" },
  { from: "1.9 mm", to: "2.1 mm" },
  { from: 142.758313e9, to: 157.785504e9 },
  { from: 1.9e-3, to: 2.1e-3 },
] as const;

describe("a band", () => {
  it.each([
    ["optical", (band: object) => optical({ pixels: 1, temperature: "20 K", band } as never).power],
    [
      "millimetre",
      (band: object) =>
        millimetre({ pixels: 1, source: { temperature: "20 K" }, band } as never).power,
    ],
    [
      "radiation",
      (band: object) =>
        radiation({ source: { temperature: "20 K" }, through: { modes: 1 }, band } as never).inBand,
    ],
    [
      "sky",
      (band: object) =>
        nightSky({
          pixels: 1,
          band: { ...band, zeroPoint: "AB" },
          sky: 20,
          telescopeArea: 1,
          pixelScale: "1 arcsec",
        } as never).power,
    ],
  ])("is written alike, as frequencies or wavelengths, in a load of kind %s", (_, power) => {
    const all = bands.map(power);
    for (const each of all) expect(each / all[0]!).toBeCloseTo(1, 7);
    const refused = (band: object) => () => power(band);
    expect(refused({ from: "1 mm", to: "300 GHz" })).toThrow(
      "band.to: expected a wavelength, as the lower edge is",
    );
    expect(refused({ from: "300 GHz", to: "200 GHz" })).toThrow(
      "band.to: expected a frequency above from (300 GHz)",
    );
    expect(refused({ from: "5 K", to: "200 GHz" })).toThrow(
      'band.from: expected a frequency such as "150 GHz" or a wavelength such as "2 mm", got "5 K"',
    );
  });

  it("may be a photometric one by its name", () => {
    // Johnson V is 84 or 85 nm wide around 551 nm (M. S. Bessell, Annu. Rev. Astron. Astrophys. 43, 293 (2005)).
    const hot = { pixels: 1, temperature: "3000 K" } as const;
    const named = optical({ ...hot, band: "V" }).power;
    const box = optical({ ...hot, band: { from: "509 nm", to: "593 nm" } }).power;
    expect(named / box).toBeCloseTo(1, 1);
    expect(() => optical({ ...hot, band: "W" })).toThrow(
      'optical.band: photometric band "W" is not known',
    );
  });

  it("may have a spread at each edge, in the unit of what was written", () => {
    const band = { from: spread("140 GHz", "145 GHz"), to: "160 GHz" } as const;
    const mount = smallest({ loads: [{ kind: "optical", pixels: 1, temperature: 20, band }] });
    const numbers = numbersOf(mount);
    expect(numbers.get("loads.0.band.from")).toMatchObject({ unit: "Hz" });
    const long = { kind: "optical", pixels: 1, temperature: 20, band: bands[1] } as const;
    expect(numbersOf(smallest({ loads: [long] })).get("loads.0.band.to")).toMatchObject({
      unit: "m",
    });
  });
});
