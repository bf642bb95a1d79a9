import { expect, it } from "vitest";
import { valuesOf } from "../../../src/design/fitting/fitted-model.js";

it("parameters are in SI, of those fitted as logarithms the exponential", () => {
  const linear = { name: "offset", logarithmic: false, start: 0 };
  const parameters = [{ ...linear, logarithmic: true }, linear, { ...linear, logarithmic: true }];
  expect(valuesOf(parameters, Float64Array.of(Math.log(7), -3, 0))).toEqual([
    expect.closeTo(7, 12),
    -3,
    1,
  ]);
});
