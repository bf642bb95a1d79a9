import { describe, expect, it } from "vitest";
import {
  type EnergySpectrum,
  spectrumFields,
  spectrumOf,
} from "../../src/loads/energy-spectrum.js";
import { random } from "../../src/numerics/random.js";
import { kolmogorovSmirnov } from "../numerics/statistics.js";

const readSpectrum = (field: string, given: EnergySpectrum) =>
  spectrumOf(spectrumFields.read(given, field), field);

const keV = 1.602176634e-16;
const drawn = (given: EnergySpectrum, count = 20_000) => {
  const spectrum = readSpectrum("spectrum", given);
  const stream = random(12);
  return Array.from({ length: count }, () => spectrum.draw(stream) / keV);
};

describe("a spectrum", () => {
  it("is drawn as the triangle that it is, with its mean and rate", () => {
    // Rate per keV rises from 0 at 100 keV to 0.02 at 200 keV and falls to 0 at 400 keV: a triangle of
    // area 3 /s and mean (100 + 200 + 400)/3 keV.
    const csv = "rate [1/(keV s)],energy [keV]\n0,100\n0.02,200\n0,400";
    const spectrum = readSpectrum("spectrum", { csv });
    expect(spectrum.rate).toBeCloseTo(3, 12);
    expect(spectrum.mean / keV).toBeCloseTo(700 / 3, 10);
    const share = (e: number) =>
      e < 200 ? (e - 100) ** 2 / (300 * 100) : 1 - (400 - e) ** 2 / (300 * 200);
    expect(kolmogorovSmirnov(drawn({ csv }), share)).toBeLessThan(1.63);
  });

  it("may be given in another unit, as points or as weights alone", () => {
    const weights = { csv: "energy [MeV],weight\n0.1,0\n0.2,5\n0.4,0" };
    const points = {
      points: [
        ["100 keV", 0],
        ["200 keV", 1],
        ["0.4 MeV", 0],
      ],
    } as const;
    for (const given of [weights, points]) {
      const spectrum = readSpectrum("spectrum", given);
      expect(spectrum.rate).toBeUndefined();
      expect(spectrum.mean / keV).toBeCloseTo(700 / 3, 10);
    }
    expect(
      readSpectrum("s", { csv: "energy [keV],rate [1/(keV min)]\n100,0.6\n200,0.6" }).rate,
    ).toBeCloseTo(1, 12);
  });

  it("leaves out energies between pieces without weight", () => {
    const energies = drawn({
      csv: "energy [keV],weight\n10,1\n20,1\n20.001,0\n90,0\n90.001,1\n100,1",
    });
    expect(energies.filter((e) => e > 20.001 && e < 90)).toEqual([]);
    expect(Math.abs(energies.filter((e) => e < 50).length / 10_000 - 1)).toBeLessThan(0.04);
  });

  it("of lines picks each as often as its share", () => {
    const lines = [
      { energy: "662 keV", rate: 3 },
      { energy: "1461 keV", rate: 1 },
    ] as const;
    const spectrum = readSpectrum("spectrum", { lines });
    expect(spectrum.rate).toBe(4);
    expect(spectrum.mean / keV).toBeCloseTo((3 * 662 + 1461) / 4, 9);
    const upper = drawn({ lines }).filter((e) => e > 1000).length;
    expect(Math.abs(upper - 5000)).toBeLessThan(3 * Math.sqrt(20_000 * 0.25 * 0.75));
  });

  it.each([
    [
      { csv: "energy [keV]\n1\n2" },
      "gammas.csv:1 rate: expected the columns energy [J],rate [1/(J s)]",
    ],
    [{ csv: "rate [1/(keV s)]\n1\n2" }, "gammas.csv:1 energy: expected the columns"],
    [
      { csv: "energy [K],weight\n1,1\n2,1" },
      'gammas.csv:1 energy: expected a unit such as [J], got "K"',
    ],
    [
      { csv: "energy [keV],weight\n2,1\n1,1" },
      "gammas.csv:3 energy: expected each energy above the one before",
    ],
    [
      { csv: "energy [keV],weight\n2,1\n2,1" },
      "gammas.csv:3 energy: expected each energy above the one before",
    ],
    [{ csv: "energy [keV],weight\n0,1\n1,1" }, "gammas.csv:2 energy: expected an energy"],
    [{ csv: "energy [keV],weight\n-3,1\n1,1" }, "gammas.csv:2 energy: expected an energy"],
    [
      { csv: "energy,weight\n100,1\n200,1" },
      "gammas.csv:2 energy: expected an energy below a millijoule",
    ],
    [
      { csv: "energy [keV],rate [1/(keV s)]\n1,1\n2,-1" },
      'gammas.csv:3 rate: expected a number of 0 or more, got "-1 1/(keV s)"',
    ],
    [{ csv: "energy [keV],weight\n1,0\n2,0" }, "gammas.csv: expected some energy with more than 0"],
    [{ csv: "energy [keV],weight\n1,1" }, "gammas.csv: expected two energies or more, got 1"],
    [
      {
        points: [
          ["1 keV", 1],
          ["2 mm", 1],
        ],
      },
      "spectrum.points[1][0]: expected an energy",
    ],
    [
      {
        points: [
          ["1 keV", 1],
          ["2 keV", "x"],
        ],
      },
      'spectrum.points[1][1]: expected a number of 0 or more, got "x"',
    ],
    [{ points: [1, 2] }, "spectrum.points[0]: expected an energy and a weight, got 1"],
    [{ from: "2 keV", to: "1 keV" }, "spectrum.to: expected each energy above the one before it"],
    [
      { from: 0, to: "1 keV" },
      'spectrum.from: expected an energy such as "200 keV" or a number in joules, greater than 0',
    ],
    [{ lines: [] }, "spectrum.lines: expected a list of one line or more"],
    [{ lines: [{ energy: -1, rate: 1 }] }, "spectrum.lines[0].energy: expected an energy"],
    [
      { lines: [{ energy: "1 keV", rate: -1 }] },
      "spectrum.lines[0].rate: expected a number in 1/s, greater than 0",
    ],
    [
      {
        lines: [
          { energy: "1 keV", rate: 1 },
          { energy: "1 keV", share: 1 },
        ],
      },
      "spectrum.lines[1].rate: expected hits a second, as the first line has",
    ],
    [
      { lines: [{ energy: "1 keV", rate: 1, share: 1 }] },
      'spectrum.lines[0]: expected either a rate or a share, got "both"',
    ],
    [{}, "spectrum: expected an object with one of points, csv, lines, from"],
    [{ from: 1, to: 2, lines: [] }, 'got "lines and from"'],
    ["flat", "spectrum: expected an object with one of points, csv, lines, from"],
  ])("refuses %j", (given, message) => {
    const named =
      typeof given === "object" && "csv" in given ? { ...given, file: "gammas.csv" } : given;
    expect(() => readSpectrum("spectrum", named as never)).toThrow(message);
  });
});
