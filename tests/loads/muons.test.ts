import { describe, expect, test } from "vitest";
import { horizontalFlux, muons } from "../../src/loads/muons.js";
import { catalogue, law } from "../joints/hand-made.js";

const sky = law("muons", "constant", "all", { vertical_intensity: 100 });
const fast = law("muons", "constant", "above 1 GeV/c", { vertical_intensity: 60 });
const hill = law(
  "overburden",
  "power-of-depth",
  "muons",
  { depth: 50, exponent: 2, depth_to: 500 },
  { depth: "m", depth_to: "m" },
);
const table = catalogue({ "loads/particles": [fast, sky, hill] });
const die = { material: "metal", area: "4 cm^2", thickness: "0.3 mm" } as const;

describe("muons", () => {
  test("is rate times mean path times density times mass stopping power", () => {
    const load = muons(die, table);
    const rate = (Math.PI / 2) * 100 * 4e-4;
    expect(load.details["rate [1/s]"]).toBeCloseTo(rate, 12);
    expect(load.power / (rate * 0.4e-3 * 2000 * 3e-14)).toBeCloseTo(1, 12);
    expect(load.provenance.map((each) => each.quantity)).toEqual([
      "muons: vertical_intensity",
      "metal: density",
      "metal: mass_stopping_power",
      "muons: area",
      "muons: thickness",
    ]);
  });

  test("takes a flux that is given", () => {
    expect(muons({ ...die, flux: 50 }, table).details["rate [1/s]"]).toBeCloseTo(0.02, 12);
    expect(() => muons({ ...die, flux: 0 }, table, "sky")).toThrow(
      "sky.flux: expected a number in 1/(m^2 s), greater than 0, got 0",
    );
  });

  test("counts all muons or the fast ones", () => {
    const all = muons(die, table).power;
    expect(muons({ ...die, counted: "all" }, table).power).toBe(all);
    expect(muons({ ...die, counted: "above 1 GeV/c" }, table).power / all).toBeCloseTo(0.6, 12);
    expect(() => muons({ ...die, counted: "all", flux: 50 }, table, "sky")).toThrow(
      'sky.counted: expected none beside a flux, got "all"',
    );
  });

  test("are fewer under a roof, by metres of water", () => {
    const under = (overburden: number) => muons({ ...die, overburden }, table).power;
    expect(under(0)).toBe(muons(die, table).power);
    expect(under(50) / under(0)).toBeCloseTo(1 / 4, 12);
    expect(muons({ ...die, overburden: "50 m" }, table).power).toBe(under(50));
    expect(() => muons({ ...die, overburden: 501 }, table, "sky")).toThrow(
      "sky.overburden: expected at most 500 m of water, got 501",
    );
  });

  test("names a row that the table lacks, or has in another dimension", () => {
    expect(() => muons(die, catalogue())).toThrow(
      "particles.csv: muons vertical_intensity: expected a row, got undefined",
    );
    const units = { vertical_intensity: "1/(m^2 s)" };
    const perArea = law("muons", "constant", "all", { vertical_intensity: 100 }, units);
    expect(() => muons(die, catalogue({ "loads/particles": [perArea] }))).toThrow(
      'particles.csv: muons vertical_intensity: expected the unit 1/(m^2 s sr), got "1/(m^2 s)"',
    );
  });

  test("averages over directions as a numerical integral does", () => {
    let [flux, path] = [0, 0];
    const n = 2000;
    for (let i = 0; i < n; i++) {
      const cos = (i + 0.5) / n;
      flux += (2 * Math.PI * cos ** 2 * cos) / n;
      path += (2 * Math.PI * cos ** 2) / n;
    }
    expect(horizontalFlux(1)).toBeCloseTo(flux, 5);
    expect(muons({ ...die, thickness: 1 }, table).details["mean path [m]"]).toBeCloseTo(
      path / flux,
      5,
    );
  });
});
