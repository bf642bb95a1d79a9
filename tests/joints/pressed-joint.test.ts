import { describe, expect, test } from "vitest";
import { pressedJoint } from "../../src/joints/pressed-joint.js";
import { standardCatalogue } from "../../src/materials/standard.js";
import { lorenz } from "../../src/units/constants.js";
import { catalogue, law } from "./hand-made.js";

const numbers = {
  conductance: 0.2,
  reference_force: 100,
  force_from: 50,
  force_to: 200,
  force_exponent: 0.5,
  temperature_exponent: 1,
};
const table = catalogue({
  "joints/pressed": [
    law("gold on gold", "pressed", "lapped", numbers),
    law("tin on tin", "pressed", "rough", numbers),
    law("tin on tin", "pressed", "smooth", { ...numbers, conductance: 0.4 }),
  ],
});

describe("pressedJoint", () => {
  test("scales the conductance with the powers of force and temperature", () => {
    const joint = pressedJoint({ faces: "gold on gold", force: "400 N" }, table);
    expect(joint.conductance(0.3)).toBeCloseTo(0.2 * 2 * 0.3, 14);
    expect(joint.powers![0]!.exponent).toBe(2);
  });

  test("follows Wiedemann and Franz from a measured resistance", () => {
    const joint = pressedJoint({ resistance: "0.1 uohm", count: 2 }, table);
    expect(joint.conductance(0.1) / ((2 * lorenz * 0.1) / 1e-7)).toBeCloseTo(1, 12);
  });

  test("says in its provenance how far the force is from that of the source", () => {
    const joint = pressedJoint({ faces: "gold on gold", force: 400, count: 3 }, table, "clamp");
    const force = joint.provenance!.find((each) => each.quantity === "clamp: force")!;
    expect(force).toMatchObject({
      value: 400,
      unit: "N",
      note: "4.0 times the force of the source",
    });
    expect(joint.provenance).toHaveLength(6);
    const given = { quantity: "force", value: 400, unit: "N" };
    expect(joint.ranges).toEqual([
      { from: 0.1, to: 1, of: "gold on gold", outside: "warn" },
      { from: 50, to: 200, of: "gold on gold", outside: "warn", given },
    ]);
  });

  test("has a range of forces in every law of the catalogue, and the bodies it was measured on", () => {
    const laws = standardCatalogue().laws("joints", "pressed");
    for (const { property: faces, sample, parameters } of laws) {
      const [from, to] = ["force_from", "force_to"].map((name) => parameters.get(name)!);
      const force = from!.value / 2;
      const { ranges } = pressedJoint({ faces, force, sample });
      const { of, ...range } = ranges!.find(({ given }) => given)!;
      expect(range).toMatchObject({ from: from!.value, to: to!.value, outside: "warn" });
      expect(of, faces).toMatch(/: \w.* \w/);
      const reference = parameters.get("reference_force")!.value;
      expect(reference >= from!.value && reference <= to!.value, faces).toBe(true);
    }
  });

  test("can't do without a range of forces", () => {
    const { force_from: _, ...open } = numbers;
    const table = catalogue({ "joints/pressed": [law("a on b", "pressed", "", open)] });
    expect(() => pressedJoint({ faces: "a on b", force: 1 }, table)).toThrow(
      'pressed.csv: a on b: expected a parameter "force_from"',
    );
  });

  test("takes the sample that is named where a pair has more than one", () => {
    const options = { faces: "tin on tin", force: "100 N", sample: "smooth" } as const;
    expect(pressedJoint(options, table).conductance(1)).toBeCloseTo(0.4, 14);
  });

  test("lists the samples when none is named", () => {
    expect(() => pressedJoint({ faces: "tin on tin", force: 1 }, table, "clamp")).toThrow(
      'clamp.sample: expected one of "rough", "smooth", got undefined',
    );
  });

  test("lists the pairs and the nearest when one is not known", () => {
    expect(() => pressedJoint({ faces: "gold on golt", force: 1 }, table, "clamp")).toThrow(
      'clamp.faces: pair of faces "gold on golt" is not known, did you mean "gold on gold"? Known: gold on gold, tin on tin',
    );
  });

  test("wants either faces or a resistance", () => {
    expect(() => pressedJoint({} as never, table, "clamp")).toThrow(
      "clamp: expected an object with one of faces, resistance, got {}",
    );
    const both = { faces: "gold on gold", force: 1, resistance: 1 };
    expect(() => pressedJoint(both as never, table, "clamp")).toThrow(
      'clamp: expected only one of faces, resistance, got "faces and resistance"',
    );
  });

  test("wants a force", () => {
    expect(() => pressedJoint({ faces: "gold on gold" } as never, table, "clamp")).toThrow(
      'clamp.force: expected a force such as "50 N" or a number in newtons, got undefined',
    );
  });

  test("names a parameter that the table has in another dimension", () => {
    const wrong = law("a on b", "pressed", "", numbers, { conductance: "W" });
    const inWatts = catalogue({ "joints/pressed": [wrong] });
    expect(() => pressedJoint({ faces: "a on b", force: 1 }, inWatts)).toThrow(
      'pressed.csv: a on b, conductance: expected a unit such as W/K, got "W"',
    );
    const perKelvin = law("a on b", "pressed", "", numbers, { force_exponent: "1/K" });
    const exponent = catalogue({ "joints/pressed": [perKelvin] });
    expect(() => pressedJoint({ faces: "a on b", force: 1 }, exponent)).toThrow(
      'pressed.csv: a on b, force_exponent: expected no unit, got "1/K"',
    );
  });

  test("names a parameter that the table lacks", () => {
    const lacking = catalogue({ "joints/pressed": [law("a on b", "pressed", "", {})] });
    expect(() => pressedJoint({ faces: "a on b", force: 1 }, lacking)).toThrow(
      'pressed.csv: a on b: expected a parameter "conductance", got undefined',
    );
  });
});

test("its power is the integral of the law of one joint", () => {
  const cubic = law("gold on gold", "pressed", "lapped", { ...numbers, temperature_exponent: 3 });
  const joint = pressedJoint(
    { faces: "gold on gold", force: 100 },
    catalogue({ "joints/pressed": [cubic] }),
  );
  expect(joint.powers).toEqual([{ coefficient: 0.05, exponent: 4 }]);
});
