import { describe, expect, it } from "vitest";
import { fieldAlong, fieldLabel } from "../../../src/plots/figures/fields.js";

describe("labels of fields", () => {
  it("name known fields in their own unit, and others by their last word", () => {
    expect(fieldLabel("bonds.length")).toEqual({
      title: "bond length (mm)",
      name: "bond length",
      unit: "mm",
      factor: 1e3,
    });
    expect(fieldLabel("bonds.count")).toMatchObject({ title: "number of bonds", unit: "" });
    expect(fieldLabel("loads.2.power")).toMatchObject({ title: "loads 2 power (nW)", factor: 1e9 });
    expect(fieldLabel("ring.residualStress").title).toBe("ring residual stress");
  });

  it("carry the values along in that unit", () => {
    const { values } = fieldAlong({ field: "pads.thickness", values: Float64Array.of(3e-7) });
    expect(values).toEqual([300]);
  });
});
