import { describe, expect, test } from "vitest";
import { curveOf, demandCover, type Transmission, transmission } from "../../src/loads/curve.js";
import { speedOfLight } from "../../src/units/constants.js";

const readTransmission = (field: string, given: Transmission) =>
  curveOf(transmission.read(given, field), field);

const filter = "# a filter\nwavelength [um],transmission\n1,0\n1.2,0.8\n1.4,0.8\n1.6,0\n";

describe("a transmission", () => {
  test("may be one number at every wavelength", () => {
    const curve = readTransmission("t", 0.3);
    expect([curve.at(1e-9), curve.at(1)]).toEqual([0.3, 0.3]);
    expect(() => demandCover("t", curve, 1e-6, 1)).not.toThrow();
  });

  test("is straight between the points of a CSV over wavelength", () => {
    const curve = readTransmission("t", { csv: filter });
    for (const [um, share] of [
      [1, 0],
      [1.1, 0.4],
      [1.3, 0.8],
      [1.5, 0.4],
      [1.6, 0],
    ] as const) {
      expect(curve.at(um * 1e-6)).toBeCloseTo(share, 12);
    }
    expect([curve.from, curve.to]).toEqual([1e-6, 1.6e-6]);
  });

  test("is straight over frequency where the CSV gives frequencies", () => {
    const csv = "frequency [GHz],transmission\n100,0\n200,1\n400,0.5\n";
    const curve = readTransmission("t", { csv, shorter: 0.1, longer: 0.2 });
    expect(curve.at(speedOfLight / 150e9)).toBeCloseTo(0.5, 12);
    expect(curve.at(speedOfLight / 300e9)).toBeCloseTo(0.75, 12);
    expect(curve.at(speedOfLight / 500e9)).toBe(0.1);
    expect(curve.at(speedOfLight / 50e9)).toBe(0.2);
    expect(curve.bends[0]).toBeCloseTo(speedOfLight / 400e9, 15);
  });

  test("may be points in the code", () => {
    const points = [
      ["1 um", 0.5],
      ["2 um", 1],
    ] as const;
    expect(readTransmission("t", { points }).at(1.5e-6)).toBeCloseTo(0.75, 12);
  });

  test.each([
    [
      "a share above 1",
      filter.replace("1.2,0.8", "1.2,1.08"),
      "lens.csv:4 transmission: expected a number from 0 to 1, got 1.08",
    ],
    [
      "a negative share",
      filter.replace("1.6,0", "1.6,-0.1"),
      "lens.csv:6 transmission: expected a number from 0 to 1, got -0.1",
    ],
    [
      "wavelengths out of order",
      filter.replace("1.4,", "1.1,"),
      'lens.csv:5 wavelength: expected each wavelength above the one before it, got "1.1 um"',
    ],
    [
      "a wavelength of 0",
      filter.replace("1,0\n", "0,0\n"),
      'lens.csv:3 wavelength: expected each wavelength above 0, got "0 um"',
    ],
    ["no number", filter.replace("1.4,0.8", "1.4,n/a"), "lens.csv:5 transmission"],
    [
      "a unit of time",
      filter.replace("[um]", "[s]"),
      "lens.csv:2 wavelength: expected a unit such as [m]",
    ],
    ["one point", "wavelength [um],transmission\n1,1\n", "t: expected two points or more, got 1"],
  ])("refuses %s, naming the place", (_what, csv, message) => {
    expect(() => readTransmission("t", { csv, file: "lens.csv" })).toThrow(message);
  });

  test.each([
    [1.2, "t: expected a number from 0 to 1, or a curve, got 1.2"],
    [{}, "t: expected an object with one of points, csv, got {}"],
    [{ csv: filter, points: [] }, "t: expected only one of points, csv"],
    [
      { points: [["1 um", 1], "2 um"] },
      "t.points[1]: expected a pair of wavelength and transmission",
    ],
    [
      { points: [["1 K", 1]] },
      't.points[0][0]: expected a length such as "25 um" or a number in metres',
    ],
    [{ csv: filter, shorter: 2 }, "t.shorter: expected a number from 0 to 1, got 2"],
  ])("refuses %j", (given, message) => {
    expect(() => readTransmission("t", given as never)).toThrow(message);
  });
});

describe("a curve that leaves part of a band open", () => {
  const curve = readTransmission("t", { csv: filter });

  test("is refused with how much is missing at either end", () => {
    expect(() => demandCover("filters[0]", curve, 0.9e-6, 1.9e-6)).toThrow(
      "filters[0]: expected a curve over the band, 900.0 nm to 1.900 µm: 100 nm (10 %) of it is " +
        "missing at the short end and 300 nm (30 %) of it is missing at the long end. Extend the " +
        'curve, or say with shorter and longer what the share is there, got "a curve over 1.000 µm ' +
        'to 1.600 µm"',
    );
    expect(() => demandCover("t", curve, 2e-6, 4e-6)).toThrow("2.00 µm (100 %) of it is missing");
  });

  test("is taken once it says what it is there", () => {
    const open = readTransmission("t", { csv: filter, shorter: 0, longer: 0 });
    expect(() => demandCover("t", open, 0.9e-6, 1.9e-6)).not.toThrow();
    expect(() => demandCover("t", curve, 1e-6, 1.6e-6)).not.toThrow();
  });
});
