import { describe, expect, it } from "vitest";
import {
  phononConductivity,
  plateMeanFreePath,
  rodMeanFreePath,
} from "../../src/materials/phonons.js";

describe("phononConductivity(speeds)", () => {
  it("is the single-velocity form 2π²k⁴/(15ħ³v²) when the speeds are equal", () => {
    // Casimir, Physica 5, 495 (1938), in the form of textbooks: at v = 5000 m/s, 1.631 kW/(m² K⁴)
    const v = 5000;
    const [k, hbar] = [1.380649e-23, 1.054571817e-34];
    const exact = (2 * Math.PI ** 2 * k ** 4) / (15 * hbar ** 3 * v ** 2);
    expect(phononConductivity({ longitudinal: v, transverse: v }) / exact).toBeCloseTo(1, 8);
  });

  it("counts the transverse branch twice", () => {
    const slow = phononConductivity({ longitudinal: 1e9, transverse: 5000 });
    const fast = phononConductivity({ longitudinal: 5000, transverse: 1e9 });
    expect(slow / fast).toBeCloseTo(2, 8);
  });
});

describe("plateMeanFreePath(plate)", () => {
  it("is three quarters of the thickness times the logarithm of width over thickness", () => {
    const path = plateMeanFreePath({ thickness: "0.5 mm", width: "20 mm" });
    expect(path).toBeCloseTo(0.75 * 0.5e-3 * Math.log(40), 15);
  });

  it("grows with mirror reflections up to the width of the plate", () => {
    const plate = { thickness: "0.5 mm", width: "20 mm" } as const;
    const rough = plateMeanFreePath(plate);
    expect(plateMeanFreePath({ ...plate, specularity: 0.5 })).toBeCloseTo(3 * rough, 15);
    expect(plateMeanFreePath({ ...plate, specularity: 0.99 })).toBe(20e-3);
  });

  it("refuses what is no plate, no length and no share", () => {
    expect(() => plateMeanFreePath({ thickness: "1 mm", width: "2 mm" })).toThrow(
      "plate.width: expected at least four times the thickness (0.004 m), or rodMeanFreePath",
    );
    expect(() => plateMeanFreePath({ thickness: 0, width: "2 mm" })).toThrow(
      'plate.thickness: expected a length such as "25 um" or a number in metres, greater than 0, got 0',
    );
    expect(() => plateMeanFreePath({ thickness: "1 mm", width: "9 mm", specularity: 1 })).toThrow(
      "plate.specularity: expected a share from 0 up to below 1, got 1",
    );
  });
});

describe("rodMeanFreePath(rod)", () => {
  it("is Casimir's length: 1.115 sides of a square, the diameter of a circle", () => {
    expect(rodMeanFreePath({ width: "2 mm" })).toBeCloseTo(2.23e-3, 15);
    expect(rodMeanFreePath({ width: "2 mm", section: "round" })).toBeCloseTo(2e-3, 15);
    // The circle of equal area has a diameter of 2/√π sides.
    expect(rodMeanFreePath({ width: 1 }) / (2 / Math.sqrt(Math.PI))).toBeCloseTo(1, 1);
  });

  it("refuses a section it does not know", () => {
    const rod = { width: "2 mm", section: "hexagon" } as unknown as { width: "2 mm" };
    expect(() => rodMeanFreePath(rod)).toThrow(
      'rod.section: expected "square" or "round", got "hexagon"',
    );
  });
});
