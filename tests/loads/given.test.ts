import { expect, test } from "vitest";
import { givenLoad } from "../../src/loads/given.js";
import { totalPower } from "../../src/loads/heat-load.js";

test("givenLoad is watts with a name and a note", () => {
  const load = givenLoad({ name: "vibration", power: "3 nW", note: "measured with a dummy" });
  expect(load.name).toBe("vibration");
  expect(load.power).toBeCloseTo(3e-9, 20);
  expect(load.provenance[0]).toMatchObject({ source: "given", note: "measured with a dummy" });
});

test("givenLoad wants a name and a power that is not negative", () => {
  expect(() => givenLoad({ name: "", power: 1 }, "other")).toThrow(
    'other.name: expected a name, got ""',
  );
  expect(() => givenLoad({ name: "x", power: "-1 W" }, "other")).toThrow(
    'other.power: expected a power such as "8 pW" or a number in watts, 0 or more, got "-1 W"',
  );
});

test("totalPower adds loads up", () => {
  const loads = ["1 nW", "2 nW"].map((power) => givenLoad({ name: "x", power: power as "1 nW" }));
  expect(totalPower(loads)).toBeCloseTo(3e-9, 20);
  expect(totalPower([])).toBe(0);
});
