import { describe, expect, test } from "vitest";
import { infrared } from "../../src/loads/infrared.js";

describe("infrared", () => {
  const gap = { hot: "4 K", area: "1 cm^2", emissivity: 0.5 } as const;

  test("is what was given", () => {
    expect(infrared({ name: "leak", power: "2 nW" })).toMatchObject({ name: "leak", power: 2e-9 });
  });

  test("is σεAF(T_hot⁴ − T_cold⁴)", () => {
    const black = infrared(gap).power;
    expect(black / (0.5 * 5.670374e-8 * 1e-4 * 256)).toBeCloseTo(1, 6);
    expect(infrared({ ...gap, viewFactor: 0.1, cold: "2 K" }).power / black).toBeCloseTo(
      0.1 * (1 - 1 / 16),
      12,
    );
  });

  test("counts the photons of the wall, 2.70 k_BT each on the average", () => {
    // π⁴/(30 ζ(3)) = 2.70118, M. F. Modest, Radiative Heat Transfer (2013), chapter 1
    const load = infrared({ ...gap, pixels: 20 });
    expect(load.power / load.photonRate / (1.380649e-23 * 4)).toBeCloseTo(2.70118, 4);
    expect(load.powerPerPixel / (load.power / 20)).toBeCloseTo(1, 12);
    expect(infrared({ power: "1 nW" }).photonRate).toBe(0);
  });

  test("is none between equal temperatures", () => {
    expect(infrared({ ...gap, cold: "4 K" }).power).toBe(0);
  });

  test.each([
    [{ power: -1 }, 'wall.power: expected a power such as "8 pW"'],
    [{ ...gap, cold: "5 K" }, 'wall.cold: expected a temperature up to hot (4.00 K), got "5 K"'],
    [{ ...gap, emissivity: 1.1 }, "wall.emissivity: expected a number from 0 to 1, got 1.1"],
    [{ ...gap, viewFactor: -1 }, "wall.viewFactor: expected a number from 0 to 1, got -1"],
    [{ ...gap, area: "1 cm" }, 'wall.area: expected an area such as "4 mm^2"'],
    [{ area: 1, emissivity: 1 }, "wall: expected an object with one of power, hot"],
  ])("refuses %j", (options, message) => {
    expect(() => infrared(options as never, "wall")).toThrow(message);
  });
});
