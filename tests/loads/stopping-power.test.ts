import { describe, expect, test } from "vitest";
import { muons } from "../../src/loads/muons.js";
import { stoppingMaterials, stoppingPower } from "../../src/loads/stopping-power.js";
import { readCatalogue } from "../../src/materials/catalogue.js";
import { readDataFolder } from "../../src/materials/files.js";
import { elementaryCharge } from "../../src/units/constants.js";

const catalogue = readCatalogue(readDataFolder());
const MeV = 1e6 * elementaryCharge;

describe("stopping power", () => {
  test("falls to one minimum and rises again, without a step where the density effect sets in", () => {
    for (const material of stoppingMaterials(catalogue)) {
      let [before, turns] = [Number.POSITIVE_INFINITY, 0];
      let falling = true;
      for (let momentum = 15; momentum < 1e5; momentum *= 1.005) {
        const { value } = stoppingPower(material, momentum * MeV, catalogue);
        if (before < Number.POSITIVE_INFINITY) {
          expect(Math.abs(value / before - 1)).toBeLessThan(0.012);
        }
        if (value < before !== falling) {
          falling = !falling;
          turns++;
        }
        before = value;
      }
      expect(turns, material).toBe(1);
    }
  });

  test("is of materials that the catalogue has", () => {
    expect(stoppingMaterials(catalogue)).toContain("silicon");
    for (const name of stoppingMaterials(catalogue)) {
      expect(catalogue.materials).toContain(name);
    }
  });

  test("names its sources", () => {
    const { provenance } = stoppingPower("copper", 1000 * MeV, catalogue);
    expect(provenance.some(({ source }) => source.includes("Sternheimer"))).toBe(true);
  });

  test("is refused outside the range of the formula, and for what is not on file", () => {
    expect(() => stoppingPower("silicon", 5 * MeV, catalogue, "m")).toThrow(
      "m: expected a momentum times c from 10.6 MeV to 105 GeV",
    );
    expect(() => stoppingPower("silicn", 500 * MeV, catalogue, "m")).toThrow(
      'm: stopping power of "silicn" is not known, did you mean "silicon"?',
    );
  });
});

describe("muons of a given momentum in a tilted die", () => {
  const die = {
    material: "silicon",
    width: "10 mm",
    length: "10 mm",
    thickness: "0.5 mm",
  } as const;

  test("bring the same heat at every tilt, by fewer of them on longer ways", () => {
    const [flat, upright] = (["0 deg", "90 deg"] as const).map((tilt) =>
      muons({ ...die, tilt }, catalogue),
    );
    expect(upright!.power / flat!.power).toBeCloseTo(1, 9);
    expect(upright!.details["rate [1/s]"]! / flat!.details["rate [1/s]"]!).toBeLessThan(0.6);
  });

  test("cross the edges too, which a die given by its area has not", () => {
    const { width: _, length: __, ...thin } = die;
    const byArea = muons({ ...thin, area: "100 mm^2" }, catalogue);
    const box = muons(die, catalogue);
    expect(box.power / byArea.power).toBeCloseTo(1, 12);
    // Edges of 4 × 5 mm², each from one side a quarter of a horizontal face: 5 % more.
    expect(box.details["rate [1/s]"]! / byArea.details["rate [1/s]"]!).toBeCloseTo(1.05, 9);
  });

  test("lose what Bethe's formula says", () => {
    const load = muons({ ...die, momentum: "4 GeV" }, catalogue);
    const ratio = stoppingPower("silicon", 4000 * MeV, catalogue).value / (1.664 * MeV * 0.1);
    expect(load.power / muons(die, catalogue).power).toBeCloseTo(ratio, 6);
    expect(ratio).toBeGreaterThan(1.15);
  });

  test.each([
    [
      { tilt: "1 mm" },
      'sky.tilt: expected an angle such as "30 deg" or a number in radians, got "1 mm"',
    ],
    [{ exponent: -1 }, "sky.exponent: expected a power of the cosine from 0 to 20, got -1"],
    [{ momentum: "1 MeV" }, "sky.momentum: expected a momentum times c from 10.6 MeV"],
    [{ area: 1 }, 'sky: expected only one of area, width, got "area and width"'],
    [
      { width: undefined },
      'sky: expected an object with one of area, width, got {"material":"silicon"',
    ],
    [{ length: undefined }, "sky.length: expected a length"],
  ])("refuses %j", (change, message) => {
    expect(() => muons({ ...die, ...change } as never, catalogue, "sky")).toThrow(message);
  });
});
