import { describe, expect, it } from "vitest";
import { withField } from "../../../src/design/field.js";
import { contactGroups } from "../../../src/mount/assemble.js";
import { thermalBudget } from "../../../src/mount/budget.js";
import { drawnParts } from "../../../src/mount/mount.js";
import { readMount } from "../../../src/mount/read.js";
import { drawn } from "./films.js";
import {
  area,
  catalogue,
  conductorOf,
  count,
  itBalances,
  itReads,
  itTouches,
  length,
  lorenz,
  maybe,
  name,
  number,
  oneOf,
  purity,
  smallest,
  storeOf,
} from "./smallest.js";

const mount = smallest({ glue: { glue: "epoxy", area: 1e-6, thickness: 3e-5, count: 2 } });
const layer = smallest({ glue: { material: "gold", area: 1e-6, thickness: 3e-5 } });
const spots = { area, count: maybe(count), sample: maybe(name) };
const G = (changed: typeof mount) => conductorOf(changed, "glue").conductance(0.2);

describe("glue", () => {
  itReads(mount, "glue", {
    ...spots,
    glue: undefined,
    thickness: maybe(length),
    places: undefined,
    heatOf: maybe(name),
  });
  itReads(layer, "glue", {
    ...spots,
    residualResistivityRatio: maybe(purity),
    state: maybe(oneOf("superconducting", "normal")),
    meanFreePath: maybe(length),
    material: undefined,
    thickness: length,
    boundaryResistance: maybe(
      number(
        'a boundary resistance times T³ such as "20 cm^2 K^4/W" or a number in m^2 K^4/W',
        1e-3,
        0,
        -1,
      ),
    ),
    places: undefined,
    boundary: maybe(oneOf("diffuse mismatch")),
  });
  itBalances(mount);
  itTouches(mount, ["glue"]);

  it("is of the table or of a material, no larger than the die, as many spots as places", () => {
    const glue = (fields: object) => () =>
      readMount({ ...mount, glue: { ...mount.glue, ...fields } });
    expect(glue({ material: "gold" })).toThrow(
      'glue: expected only one of glue, material, got "glue and material"',
    );
    expect(glue({ glue: undefined })).toThrow(
      "glue: expected an object with one of glue, material",
    );
    expect(glue({ area: 9e-6 })).toThrow(
      "glue.area: expected at most the die's face in all, 1.6e-5 m^2, got 0.000009 (9e-6 m^2)",
    );
    expect(glue({ places: [{ x: 2e-3, y: 2e-3 }] })).toThrow(
      "glue.count: expected as many as there are places, 1, got 2",
    );
  });

  it("is two boundaries and a bulk in series, or a law by its area", () => {
    // data/joints/glue.csv: epoxy r = 0.0015 m² K⁴/W at each face, κ = 0.039 W/(m K) (T/1 K)^1.9 between.
    const [faces, bulk] = [(2 * 0.0015) / 0.2 ** 3, 3e-5 / (0.039 * 0.2 ** 1.9)];
    expect(G(mount) / (1e-6 / (faces + bulk))).toBeCloseTo(1, 6);
    expect(conductorOf(mount, "glue").count).toBe(2);
    const fast = withField(mount, "glue.glue", "fast epoxy");
    expect(G(fast) / (1.32e3 * 1e-6 * 0.2 ** 3)).toBeCloseTo(1, 10);
  });

  it("spreads its spots over the die in rows", () => {
    const [group] = contactGroups(readMount(mount));
    expect(group!.field(0)).toBe("glue.places");
    const { places } = drawn(drawnParts(readMount(mount)), "glue")!;
    // Two spots of 1 mm² on a square of 4 mm stand above each other, each in the middle of a half.
    const at = (bottom: number) => ({ left: 1.5e-3, right: 2.5e-3, bottom, top: bottom + 1e-3 });
    for (const [k, each] of [at(0.5e-3), at(2.5e-3)].entries()) {
      for (const side of ["left", "right", "bottom", "top"] as const)
        expect(places[k]![side]).toBeCloseTo(each[side], 12);
    }
  });

  it("is drawn spot by spot", () => {
    const part = drawn(drawnParts(readMount(mount)), "glue")!;
    expect(part.places).toHaveLength(2);
    expect(part.name).toBe("2 spots of glue");
    expect(part.details).toEqual(["epoxy", "1 mm² each, 30 µm thick", "under the die"]);
  });

  const indium = {
    material: "indium",
    area: 2.5e-7,
    thickness: 1e-5,
    residualResistivityRatio: 100,
  };

  it("is a metal that carries heat by phonons alone far below its critical temperature", () => {
    const bump = smallest({ glue: indium });
    const at = (T: number, glue: object = indium) =>
      conductorOf(smallest({ glue } as never), "glue").conductance(T);
    // κ = 3.47e4 ℓ T³ W/(m K), from a heat capacity of 1.22 mJ/(mol K⁴) and a speed of 1343 m/s: 9 µW/K here.
    // The catalogue's speeds of sound are known to 10 %, and the heat of phonons goes with their cube.
    expect(at(0.1) / (3.47e-5 / 4)).toBeGreaterThan(0.5);
    expect(at(0.1) / (3.47e-5 / 4)).toBeLessThan(1.5);
    expect(at(0.1) / at(0.05)).toBeCloseTo(8, 1);
    // Normal, it would carry a thousand times as much: L₀T A/(ρ d), ρ = 8.8 µΩ cm/100 at 295 K.
    const normal = at(0.1, { ...indium, state: "normal" });
    expect(normal / ((lorenz * 0.1 * 2.5e-7) / ((8.8e-8 / 100) * 1e-5))).toBeCloseTo(1, 1);
    expect(thermalBudget(bump).warnings.join()).toContain(
      "glue: indium superconducts, and heat must pass its faces by phonons",
    );
  });

  it("has faces by diffuse mismatch, which resist more than a bump of indium does", () => {
    const faced = smallest({ glue: { ...indium, boundary: "diffuse mismatch" } });
    const resistance = 2.5e-7 / conductorOf(faced, "glue").conductance(0.1);
    // Silicon on indium 12.5 cm² K⁴/W (tests/reference/joints.csv); copper on indium 3.4 by the same model.
    expect(resistance * 0.1 ** 3).toBeGreaterThan(15.9e-4);
    expect(resistance * 0.1 ** 3).toBeLessThan(17e-4);
    // Two chips of silicon on bumps of indium: 7.7 to 15.4 K⁴ µm²/nW T⁻³ (arXiv:2303.01228, abstract).
    const measured = smallest({ glue: { glue: "indium bumps", area: 0.306e-6 } });
    const [low, high] = [7.7e-3, 15.4e-3].map((r) => (0.306e-6 * 0.3 ** 3) / r);
    const found = conductorOf(measured, "glue").conductance(0.3);
    expect(found).toBeGreaterThan(high!);
    expect(found).toBeLessThan(low!);
    expect(thermalBudget(faced).warnings.join()).not.toContain("superconducts");
    const both = { ...indium, boundary: "diffuse mismatch", boundaryResistance: 1e-3 } as const;
    expect(() => readMount(smallest({ glue: both }))).toThrow(
      "glue.boundaryResistance: expected none, since its faces are given by boundary",
    );
  });

  it.each(["tin-lead", "indium-tin", "silver-epoxy"])(
    "is solder or filled epoxy: %s",
    (material) => {
      const own = { ...indium, material, residualResistivityRatio: 3 };
      const [cold, warm] = [0.1, 0.2].map((T) =>
        conductorOf(smallest({ glue: own }), "glue").conductance(T),
      );
      // Phonons T³ in a superconductor, electrons T in what is none.
      expect(warm! / cold!).toBeCloseTo(material === "silver-epoxy" ? 2 : 8, 0);
    },
  );

  it("stores heat by its material, half at the die and half at the box", () => {
    const stored = ["glue, half by the die", "glue, half by the box"].map((part) =>
      storeOf(smallest({ glue: indium }), part).heatCapacity(0.1),
    );
    const whole = 2.5e-12 * catalogue.material("indium").heatCapacity().value(0.1);
    for (const part of stored) expect(part / (whole / 2)).toBeCloseTo(1, 12);
    expect(() => storeOf(mount, "glue, half by the box")).toThrow(
      "glue.heatOf: expected the material whose heat capacity it has, got undefined",
    );
    const said = withField(mount, "glue.heatOf", "stycast-1266");
    expect(storeOf(said, "glue, half by the box").heatCapacity(0.1)).toBeGreaterThan(0);
  });

  describe("of a metal", () => {
    itBalances(smallest({ glue: { ...indium, count: 2 } }));
  });
});
