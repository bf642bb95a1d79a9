import { describe, expect, test } from "vitest";
import { background } from "../../src/loads/background.js";
import { catalogue, law } from "../joints/hand-made.js";

const laboratory = law("background", "constant", "", { power_per_mass: 3e-11 });
const table = catalogue({ "loads/particles": [laboratory] });
const die = { material: "metal", area: "4 cm^2", thickness: "0.3 mm" } as const;

describe("background", () => {
  test("is rate times energy", () => {
    const load = background({ rate: 0.02, energy: "200 keV" }, table);
    expect(load.power).toBeCloseTo(0.02 * 200e3 * 1.602176634e-19, 24);
  });

  test("is mass times the power per mass of the table, or one that is given", () => {
    expect(background({ mass: 1e-3 }, table).power).toBeCloseTo(3e-14, 22);
    expect(background({ mass: 1e-3, powerPerMass: 1e-10 }, table).power).toBeCloseTo(1e-13, 22);
    const byShape = background(die, table);
    expect(byShape.power / (2000 * 4e-4 * 3e-4 * 3e-11)).toBeCloseTo(1, 12);
    expect(byShape.provenance).toHaveLength(4);
  });

  test.each([
    [{ rate: -1, energy: 1 }, "cave.rate: expected a number in 1/s, greater than 0, got -1"],
    [{ rate: 1, energy: "1 W" }, 'cave.energy: expected an energy such as "200 keV"'],
    [{ mass: 0 }, "cave.mass: expected a number in kg, greater than 0, got 0"],
    [
      { mass: 1, powerPerMass: "x" },
      'cave.powerPerMass: expected a number in W/kg, got "x" (units: W/kg, nW/kg, pW/kg)',
    ],
    [{ ...die, material: "metals" }, 'cave.material: material "metals" is not known'],
  ])("refuses %j", (options, message) => {
    expect(() => background(options as never, table, "cave")).toThrow(message);
  });
});
