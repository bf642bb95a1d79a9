/** No place of a 2-D die is colder than what cools it. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Mount, thermalBudget } from "../../src/index.js";
import type { Place } from "../../src/mount/things/spots.js";
import type { Area, Power } from "../../src/units/quantity.js";
import { randomSheet } from "./random-mount.js";

const glued = (
  glue: { area: Area; count?: number; places?: readonly Place[] },
  power: Power = "1 nW",
): Mount => ({
  name: "glued",
  die: { material: "silicon", width: "20 mm", length: "20 mm", thickness: "0.1 mm" },
  glue: { glue: "epoxy", thickness: "10 um", ...glue },
  box: {
    material: "copper",
    residualResistivityRatio: 50,
    crossSection: "50 mm^2",
    pathLength: "20 mm",
  },
  joint: { faces: "gold-plated copper on gold-plated copper", force: "1 kN", count: 2 },
  stage: "100 mK",
  loads: [{ kind: "given", power }],
});

describe("contacts that are wide against how far heat comes through the die", () => {
  it("are cut: three spots of glue of 3 mm leave no place colder than the stage", () => {
    for (const power of ["1 nW", "1 uW"] as const) {
      const { field, stage, solution, total, elements } = thermalBudget(
        glued({ area: "9 mm^2", count: 3 }, power),
      );
      expect(field!.coldest.temperature).toBeGreaterThan(stage);
      expect(solution.imbalance.relative).toBeLessThan(1e-9);
      expect(elements.find(({ name }) => name === "glue")!.power / total).toBeCloseTo(1, 9);
    }
  });

  it("are as many small ones side by side", () => {
    const whole = thermalBudget(glued({ area: "9 mm^2", places: [{ x: "10 mm", y: "10 mm" }] }));
    const at = (k: number) => `${8.75 + 0.5 * k} mm` as const;
    const places: Place[] = Array.from({ length: 36 }, (_, k) => ({
      x: at(k % 6),
      y: at(Math.floor(k / 6)),
    }));
    const many = thermalBudget(glued({ area: "0.25 mm^2", places }));
    expect(whole.chip.rise / many.chip.rise).toBeCloseTo(1, 1);
  });

  it("are measured against the box, also on a stage of finite cooling power", () => {
    const mount = glued({ area: "9 mm^2", count: 3 });
    const held = thermalBudget(mount);
    const cooled = thermalBudget({
      ...mount,
      // At 100 mK it takes the same heat; without load it is far colder, which is no bound for the die.
      stage: {
        coolingCurve: {
          points: [
            ["10 mK", "0 W"],
            ["100 mK", "1 nW"],
          ],
        },
      },
    });
    expect(cooled.stage).toBeCloseTo(held.stage, 9);
    const box = ({ places }: typeof held) =>
      places.find(({ name }) => name === "box by the die")!.temperature;
    for (const of of [held, cooled]) {
      expect(of.field!.coldest.temperature).toBeGreaterThan(box(of) - 2e-3 * of.chip.rise);
    }
    expect(cooled.chip.rise / held.chip.rise).toBeCloseTo(1, 9);
  });

  it("never leave a place of any mount below the coldest that cools it, or the solve is refused", () => {
    const thickness = fc.double({ min: 2e-5, max: 3e-4, noNaN: true });
    fc.assert(
      fc.property(randomSheet, thickness, fc.double({ min: 1, max: 1e4 }), (mount, thin, times) => {
        const die = { ...mount.die, thickness: thin };
        const heater = { kind: "given", power: 1e-10 * times } as const;
        try {
          const { field, places } = thermalBudget({ ...mount, die, loads: [heater] });
          const coldest = Math.min(...places.map(({ temperature }) => temperature));
          // Where cells end the cutting, up to a fiftieth of the span of Θ is let pass.
          const span = field!.hottest.temperature - coldest;
          return field!.coldest.temperature > coldest - 0.1 * span - 1e-9 * coldest;
        } catch (error) {
          return /^(SolveError|RangeError|FieldError)$/.test((error as Error).name);
        }
      }),
      // A failure takes many runs to be made small.
      { numRuns: 5, seed: 11, endOnFailure: true },
    );
  });
});
