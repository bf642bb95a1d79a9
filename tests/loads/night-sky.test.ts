import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { loadMarkdown, loadText } from "../../src/loads/heat-load.js";
import { type NightSky, nightSky, starPhotons } from "../../src/loads/night-sky.js";
import { photometricBand, photonEnergy } from "../../src/loads/photometry.js";
import { readCatalogue } from "../../src/materials/catalogue.js";
import { readDataFolder } from "../../src/materials/files.js";

const catalogue = readCatalogue(readDataFolder());
const camera: NightSky = {
  pixels: 10_000,
  band: "V",
  sky: "dark",
  telescopeArea: "10 m^2",
  pixelScale: "0.5 arcsec",
};
const see = (change: Partial<NightSky>) => nightSky({ ...camera, ...change }, catalogue, "sky");

describe("the night sky", () => {
  test("on all pixels is that on one, times their number", () => {
    const load = see({});
    expect(load.photonRate / load.photonRatePerPixel).toBeCloseTo(1e4, 6);
    expect(load.power / load.powerPerPixel).toBeCloseTo(1e4, 6);
    expect(load.details["sky seen by a pixel [arcsec^2]"]).toBeCloseTo(0.25, 12);
  });

  test("is energy as photons of the band: hc/λ each", () => {
    const { from, to } = photometricBand("V", catalogue);
    const each = see({}).power / see({}).photonRate;
    expect(each).toBeGreaterThan(photonEnergy(to));
    expect(each).toBeLessThan(photonEnergy(from));
  });

  test("is a hundred times brighter five magnitudes up, and brighter under the Moon", () => {
    expect(see({ sky: 16 }).power / see({ sky: 21 }).power).toBeCloseTo(100, 9);
    const [dark, half, full] = (["dark", "half moon", "full moon"] as const).map(
      (sky) => see({ sky }).power,
    );
    expect(half! / dark!).toBeGreaterThan(1);
    expect(full! / half!).toBeGreaterThan(1);
  });

  test("is dimmed by throughput and absorption, number or flat curve alike", () => {
    const half = see({ throughput: 0.5, absorption: 0.4 });
    expect(half.power / see({}).power).toBeCloseTo(0.2, 12);
    const curve = {
      points: [
        ["0.4 um", 0.5],
        ["0.7 um", 0.5],
      ],
    } as const;
    expect(see({ throughput: curve, absorption: 0.4 }).power / half.power).toBeCloseTo(1, 12);
  });

  test("through a filter's curve that is a box is that of the box", () => {
    const transmission = {
      points: [
        ["0.5 um", 1],
        ["0.6 um", 1],
      ],
    } as const;
    const curve = see({ band: { transmission, zeroPoint: "AB" }, sky: 21 });
    const box = see({ band: { wavelength: "0.55 um", width: "0.1 um", zeroPoint: "AB" }, sky: 21 });
    // One is flat in photons, the other in flux a hertz: they differ by (Δλ/λ)²/12 = 0.28 %.
    expect(curve.photonRate / box.photonRate).toBeCloseTo(1 + 0.1 ** 2 / (12 * 0.55 ** 2), 4);
  });

  test("takes AB magnitudes of any band: V of Vega is near AB", () => {
    const vega = starPhotons(photometricBand("V", catalogue), 10);
    const ab = starPhotons(photometricBand({ name: "V", zeroPoint: "AB" }, catalogue), 10);
    // V = V(AB) + 0.044 (Frei and Gunn 1995): 4 %; the zero points here differ by 0.1 %
    expect(Math.abs(ab / vega - 1)).toBeLessThan(0.05);
    expect(photometricBand({ name: "J", system: "2mass" }, catalogue).system).toBe("2mass");
  });

  test("has a star among it, of which one pixel takes the most", () => {
    const star = { magnitude: 12, extinction: 0.12, shareOnBrightest: 0.3 };
    const load = see({ star, throughput: 0.5 });
    const alone = see({ throughput: 0.5 });
    const light = starPhotons(photometricBand("V", catalogue), 12.12) * 10 * 0.5;
    expect((load.photonRate - alone.photonRate) / light).toBeCloseTo(1, 9);
    const brightest = load.details["photons on the brightest pixel [1/s]"]!;
    expect(brightest / (alone.photonRatePerPixel + 0.3 * light)).toBeCloseTo(1, 9);
    expect(load.parts.map(({ name }) => name)).toEqual(["sky", "star"]);
  });

  test("keeps energy and photons: parts add up, and no share brings more than all of it", () => {
    const share = fc.double({ min: 0, max: 1, noNaN: true });
    fc.assert(
      fc.property(share, share, fc.double({ min: 5, max: 25, noNaN: true }), (t, a, magnitude) => {
        const load = see({ throughput: t, absorption: a, star: { magnitude } });
        const whole = see({ star: { magnitude } });
        expect(load.power).toBeLessThanOrEqual(whole.power * (1 + 1e-12));
        const sum = load.parts.reduce((total, part) => total + part.power, 0);
        expect(Math.abs(sum - load.power)).toBeLessThanOrEqual(1e-12 * whole.power);
        expect(Math.abs(load.power - t * a * whole.power)).toBeLessThanOrEqual(1e-12 * whole.power);
      }),
      { seed: 4 },
    );
  });

  test("carries the source of every number", () => {
    const sources = see({ sky: "full moon" }).provenance.map(({ source }) => source);
    expect(sources.some((source) => source.includes("Bessell"))).toBe(true);
    expect(sources.some((source) => source.includes("Benn"))).toBe(true);
  });

  test("prints as a small table", () => {
    const load = see({ star: { magnitude: 15 } });
    expect(loadText(load).split("\n")[0]).toMatch(/^ +power +photons a second$/);
    expect(loadMarkdown(load)).toContain("| on the average pixel | ");
    expect(loadMarkdown(load).split("\n")).toHaveLength(11);
  });
});

describe("what a night sky refuses", () => {
  test.each([
    [{ band: "v" }, 'sky.band: photometric band "v" is not known'],
    [
      { band: { name: "V", system: "besell" } },
      'did you mean "bessell"? Known: bessell, 2mass, sdss',
    ],
    [{ band: { name: "V", zeroPoint: "ab" } }, 'sky.band.zeroPoint: expected "AB"'],
    [{ band: 5 }, "sky.band: expected a band, by name, as a box, or as a curve, got 5"],
    [
      { band: { wavelength: "1 um", width: "3 um", zeroPoint: "AB" } },
      "sky.band.width: expected less than twice the wavelength",
    ],
    [{ sky: "darc" }, 'sky.sky: expected "dark" or "half moon" or "full moon"'],
    [
      { band: "g" },
      'sky.sky: expected a number of magnitudes a square arcsecond (nights by name are on file for U, B, V, R, I, J, H, K of bessell), got "dark in g (sdss)"',
    ],
    [{ sky: Number.NaN }, "sky.sky: expected a magnitude from -50 to 50"],
    [
      { pixelScale: 0.5 },
      'sky.pixelScale: expected an angle such as "0.5 arcsec", 1 deg at most, got "0.5 rad"',
    ],
    [{ pixelScale: "1 mm" }, "sky.pixelScale: expected an angle"],
    [{ throughput: 1.1 }, "sky.throughput: expected a number from 0 to 1, or a curve, got 1.1"],
    [
      {
        absorption: {
          points: [
            ["0.54 um", 1],
            ["0.7 um", 1],
          ],
        },
      },
      "sky.absorption: expected a curve over the band, 502.5 nm to 587.5 nm: 37.5 nm (44 %) of it is missing at the short end",
    ],
    [
      { star: { magnitude: 5, extinction: -1 } },
      "sky.star.extinction: expected a number of 0 or more, got -1",
    ],
    [{ star: { magnitude: "5" } }, "sky.star.magnitude: expected a magnitude"],
  ])("%j", (change, message) => {
    expect(() => see(change as never)).toThrow(message);
  });
});
