import { expect, test } from "vitest";
import { strip } from "../../src/joints/strip.js";
import type { ConductivityOptions } from "../../src/materials/options.js";
import type { Catalogue } from "../../src/materials/types.js";
import { given } from "../../src/provenance.js";
import { FieldError } from "../../src/units/errors.js";
import { catalogue, material, powerConductivity, provenance } from "./hand-made.js";

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

test("the material is asked with the options that were given, and those alone", () => {
  const asked: ConductivityOptions[] = [];
  const crystal = material("crystal", (options) => {
    asked.push(options);
    return powerConductivity(1, 3);
  });
  const given = { residualResistivityRatio: 50, state: "normal", sample: "B" } as const;
  strip({ ...rod, ...given, meanFreePath: 2e-3 }, withMaterial(crystal));
  strip({ material: "crystal", length: "1 cm", area: "1 mm^2" }, withMaterial(crystal));
  expect(asked).toStrictEqual([{ ...given, meanFreePath: 2e-3 }, {}]);
});

test("only what the user gave is renamed as the joint's; a publication's number stays the material's", () => {
  const crystal = material("crystal", () => ({
    ...powerConductivity(1, 3),
    provenance: [
      given("crystal: residual resistivity ratio", 50, ""),
      provenance("crystal: resistivity at 295 K", 1, ""),
      given("crystal: mean free path of phonons", 1, "m"),
    ],
  }));
  const found = strip(rod, withMaterial(crystal), "legs").provenance!;
  expect(found.map(({ quantity, note }) => [quantity, note])).toEqual([
    ["legs: residual resistivity ratio", ""],
    ["crystal: resistivity at 295 K", ""],
    ["legs: mean free path of phonons", "the smallest dimension, since none was given"],
    expect.anything(),
    expect.anything(),
  ]);
});
