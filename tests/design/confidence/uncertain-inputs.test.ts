import { describe, expect, it } from "vitest";
import {
  fieldInputs,
  heldExtent,
  Inputs,
  rowInput,
  tail,
} from "../../../src/design/confidence/uncertain-inputs.js";
import { withField } from "../../../src/design/field.js";
import { standardCatalogue } from "../../../src/materials/standard.js";
import { readMount } from "../../../src/mount/read.js";
import { spread } from "../../../src/units/spread.js";
import { exampleMount } from "../../mount/example.js";

const mount = withField(exampleMount(), "pads.thickness", spread("200 nm", "450 nm"));
const anything = () => {};

describe("the uncertain inputs of a mount", () => {
  it("are its spreads, in SI", () => {
    const [input, ...rest] = fieldInputs(mount, anything);
    expect(rest).toEqual([]);
    expect(input).toMatchObject({ name: "pads: thickness", field: "pads.thickness", unit: "m" });
    expect(input!.median).toBeCloseTo(300e-9, 16);
    expect(input!.quantile(0.5)).toBeCloseTo(300e-9, 16);
    expect(input!.source).toBe("given");
  });

  it("are cut off where the mount refuses a value, and refused where it refuses many", () => {
    const die = (low: number, high: number) =>
      withField(exampleMount(), "die.specularity", spread(low, high, { distribution: "normal" }));
    const [cut] = fieldInputs(die(0.02, 0.3), anything);
    expect(cut!.quantile(1e-9)).toBeGreaterThanOrEqual(0);
    expect(cut!.quantile(1e-9)).toBeLessThan(0.01);
    // An uncertainty that reaches below 0 in half of its values.
    const wide = withField(exampleMount(), "pads.inset", spread(0, 2, { distribution: "uniform" }));
    expect(() => fieldInputs(wide, anything)).toThrow(/^pads\.(inset|length)/);
  });

  it("put values into copies of mount and catalogue", () => {
    const plain = readMount(mount);
    const catalogue = standardCatalogue();
    const [input] = fieldInputs(mount, anything);
    const inputs = new Inputs([input!], plain, catalogue);
    expect([...inputs.medians]).toEqual([input!.median]);
    const at = inputs.at(Float64Array.of(1e-7));
    expect(at.mount.pads!.thickness).toBe(1e-7);
    expect(at.mount.bonds).toBe(plain.bonds);
    expect(at.catalogue).toBe(catalogue);
    expect(plain.pads!.thickness).toBeCloseTo(300e-9, 16);
    expect(inputs.moving(new Set())(Float64Array.of(1e-7)).mount).toBe(plain);
  });

  it("say between what temperatures a node is held", () => {
    const warm = withField(exampleMount(), "stage", spread(0.1, 0.12, { distribution: "uniform" }));
    const inputs = new Inputs(fieldInputs(warm, anything), readMount(warm), standardCatalogue());
    const [low, high] = heldExtent(inputs, ({ stage }) => stage as number);
    expect(low).toBeCloseTo(0.1 + tail * 0.02, 12);
    expect(high).toBeCloseTo(0.12 - tail * 0.02, 12);
  });

  it("are rows of the catalogue, log-normal within their factor, negative ones too", () => {
    const row = { key: "a.csv:1", quantity: "gold: x", unit: "m", factor: 2, source: "s" };
    const up = rowInput({ ...row, value: 4 } as never);
    expect([up.low, up.median, up.high]).toEqual([2, 4, 8]);
    expect(up.quantile(0.95)).toBeCloseTo(8, 10);
    const down = rowInput({ ...row, value: -4 } as never);
    expect([down.low, down.high]).toEqual([-8, -2]);
    expect(down.quantile(0.95)).toBeCloseTo(-2, 10);
  });
});
