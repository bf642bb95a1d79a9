import { expect, test } from "vitest";
import { strip } from "../../src/joints/strip.js";
import type { Catalogue } from "../../src/materials/types.js";
import { given } from "../../src/provenance.js";
import { FieldError } from "../../src/units/errors.js";
import { catalogue, material, powerConductivity } from "./hand-made.js";

const rod = { material: "crystal", length: "1 cm", diameter: "1 mm" } as const;

function withMaterial(made: ReturnType<typeof material>): Catalogue {
  return { ...catalogue(), material: () => made };
}

test("a mean free path that nobody gave says so in its note", () => {
  const crystal = material("crystal", ({ meanFreePath }) => ({
    ...powerConductivity(1, 3),
    provenance: [given("crystal: mean free path of phonons", Number(meanFreePath), "m")],
  }));
  const note = (options: object) =>
    strip({ ...rod, ...options }, withMaterial(crystal)).provenance![0]!;
  expect(note({})).toMatchObject({
    value: 1e-3,
    note: "the smallest dimension, since none was given",
  });
  expect(note({ meanFreePath: 2e-3 })).toMatchObject({ value: 2e-3, note: "" });
});

test("an option that the material refuses is named by the user's path", () => {
  const picky = material("gold", () => {
    throw new FieldError("gold.residualResistivityRatio", "a number above 1", 0.5);
  });
  expect(() => strip(rod, withMaterial(picky), "supports[2]")).toThrow(
    "supports[2].residualResistivityRatio: expected a number above 1 (gold), got 0.5",
  );
});

test("a fault of another kind passes through as it is", () => {
  const broken = material("gold", () => {
    throw new FieldError("golden.csv:3", "a number", "x");
  });
  expect(() => strip(rod, withMaterial(broken), "legs")).toThrow(
    'golden.csv:3: expected a number, got "x"',
  );
});
