import { describe, expect, it } from "vitest";
import {
  inputNamed,
  nameOfField,
  withOwnNames,
} from "../../../src/design/confidence/uncertain-inputs.js";
import { readMount } from "../../../src/mount/read.js";
import { exampleMount } from "../../mount/example.js";

describe("names of uncertain inputs", () => {
  it("say part and field in words, a load by its own name", () => {
    const plain = readMount(exampleMount());
    const name = (field: string) => nameOfField(field, plain);
    expect(name("pads.residualResistivityRatio")).toBe("pads: residual resistivity ratio");
    expect(name("loads.2.power")).toBe("infrared leak: power");
    expect(name("clamps.0.force")).toBe("clamps: 1, force");
    expect(name("stage")).toBe("stage");
  });

  it("have their path or row behind them where two are alike", () => {
    const inputs = [{ name: "a", row: "x.csv:1" }, { name: "a", field: "b.c" }, { name: "d" }];
    expect(withOwnNames(inputs).map(({ name }) => name)).toEqual(["a (x.csv:1)", "a (b.c)", "d"]);
  });

  it("find an input by name, field or row", () => {
    const inputs = [
      { name: "a", row: "x.csv:1" },
      { name: "d", field: "b.c" },
    ];
    expect(["a", "x.csv:1"].map((each) => inputNamed(inputs, each, "who"))).toEqual([
      inputs[0],
      inputs[0],
    ]);
    expect(inputNamed(inputs, "b.c", "who")).toBe(inputs[1]);
    expect(() => inputNamed(inputs, "z", "who")).toThrow(
      'who: expected the name of an input: "a", "d", got "z"',
    );
  });
});
