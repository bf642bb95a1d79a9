import { describe, expect, test } from "vitest";
import { boundary } from "../../src/joints/boundary.js";
import { glue } from "../../src/joints/glue.js";
import { pressedJoint } from "../../src/joints/pressed-joint.js";
import { readCatalogue } from "../../src/materials/catalogue.js";
import { readDataFolder } from "../../src/materials/files.js";

const catalogue = readCatalogue(readDataFolder());
const rows = (kind: string) =>
  catalogue.laws("joints", kind).map(({ property, sample }) => [property, sample] as const);

/** No joint of a few square millimetres or a screw lies outside these at 1 K [W/K]. */
const plausible = (conductance: number) => conductance > 1e-8 && conductance < 10;

describe("every row of the tables makes a joint of a plausible conductance", () => {
  test.each(rows("pressed"))("pressed: %s (%s)", (faces, sample) => {
    const joint = pressedJoint({ faces, sample, force: "10 N" }, catalogue);
    expect(plausible(joint.conductance(1))).toBe(true);
    expect(joint.provenance!.every((each) => each.source !== "")).toBe(true);
  });

  test.each(rows("glue"))("glue: %s (%s)", (name, sample) => {
    const spot = glue({ glue: name, sample, area: "1 mm^2", thickness: "20 um" }, catalogue);
    expect(plausible(spot.conductance(1))).toBe(true);
  });

  test.each(rows("boundary"))("boundary: %s (%s)", (measured, sample) => {
    const face = boundary({ measured, sample, area: "1 mm^2" }, catalogue);
    expect(plausible(face.conductance(1))).toBe(true);
  });
});

test("a pair of faces that has one sample needs no name of it", () => {
  expect(() => pressedJoint({ faces: "sapphire on copper", force: 1 }, catalogue)).not.toThrow();
});
