import { expect, test } from "vitest";
import { givenJoint } from "../../src/joints/given.js";

test("givenJoint has the conductance that was measured, where it was measured", () => {
  const joint = givenJoint({ conductance: "20 nW/K", at: "100 mK", exponent: 3, count: 2 });
  expect(joint.conductance(0.1)).toBeCloseTo(40e-9, 18);
  expect(joint.conductance(0.2)).toBeCloseTo(320e-9, 17);
  expect(joint.provenance!.map((each) => each.source)).toEqual(["given", "given", "given"]);
});

test("givenJoint is linear in temperature unless told otherwise", () => {
  expect(givenJoint({ conductance: 1, at: 1 }).powers![0]!.exponent).toBe(2);
});

test.each([
  [
    { conductance: "20 nW", at: 1 },
    'link.conductance: expected a thermal conductance such as "20 nW/K" or a number in watts a kelvin, got "20 nW"',
  ],
  [{ conductance: 1, at: 0 }, 'link.at: expected a temperature such as "100 mK"'],
  [
    { conductance: 1, at: 1, exponent: -1 },
    "link.exponent: expected an exponent of the temperature, greater than 0, at most 20, got -1",
  ],
])("givenJoint refuses %j", (options, message) => {
  expect(() => givenJoint(options as never, "link")).toThrow(message);
});

test("the coefficient of its power is G₀/((n + 1) T₀ⁿ)", () => {
  const { powers } = givenJoint({ conductance: 8, at: 2, exponent: 3 });
  expect(powers![0]!.coefficient).toBeCloseTo(0.25, 15);
});
