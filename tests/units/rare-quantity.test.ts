import { expect, test } from "vitest";
import { positiveRare } from "../../src/units/rare-quantity.js";

const rate = {
  si: "mol/s",
  units: ["mol/s", "mmol/s"],
  words: 'a rate such as "1 mmol/s" or a number in mol/s',
};

test("positiveRare takes a number in SI or one of its units", () => {
  expect(positiveRare("flow", 2e-3, rate)).toBe(2e-3);
  expect(positiveRare("flow", "0.5 mmol/s", rate)).toBeCloseTo(5e-4, 18);
  expect(positiveRare("flow", "1.72e1 mol/s", rate)).toBeCloseTo(17.2, 12);
});

test.each([0, -1, Number.NaN, "1", "1 mol", "-1 mol/s", "0 mol/s", "fast", undefined, {}])(
  "positiveRare refuses %j",
  (value) => {
    expect(() => positiveRare("flow", value, rate)).toThrow(
      'flow: expected a rate such as "1 mmol/s" or a number in mol/s, greater than 0, got',
    );
  },
);
