import { describe, expect, it } from "vitest";
import { agrees, digitsAgreed, type ReferenceRow, readReference } from "./rows.js";

const row = (tolerance: ReferenceRow["tolerance"]): ReferenceRow => ({
  place: "x.csv:2",
  quantity: "q",
  inputs: readReference("materials.csv")[0]!.inputs,
  inputsText: "",
  value: 200,
  unit: "W",
  tolerance,
  source: "s, w",
});

describe("agrees(row, computed)", () => {
  it("holds a share, an amount and a factor, and fails outside each and on NaN", () => {
    expect(agrees(row({ kind: "relative", share: 0.01 }), 201.9)).toBe(true);
    expect(agrees(row({ kind: "relative", share: 0.01 }), 202.1)).toBe(false);
    expect(agrees(row({ kind: "absolute", amount: 1 }), 199.1)).toBe(true);
    expect(agrees(row({ kind: "absolute", amount: 1 }), 198.9)).toBe(false);
    expect(agrees(row({ kind: "factor", factor: 2 }), 101)).toBe(true);
    expect(agrees(row({ kind: "factor", factor: 2 }), 401)).toBe(false);
    for (const kind of [
      { kind: "factor", factor: 2 },
      { kind: "relative", share: 1 },
    ] as const) {
      expect(agrees(row(kind), Number.NaN)).toBe(false);
    }
  });
});

describe("digitsAgreed(value, computed)", () => {
  it("is three for a part in a thousand, and never more than fifteen", () => {
    expect(digitsAgreed(100, 100.1)).toBeCloseTo(3, 6);
    expect(digitsAgreed(100, 100)).toBe(15);
    expect(digitsAgreed(100, 300)).toBe(0);
  });
});

describe("readReference(file)", () => {
  it("reads quantities of inputs in SI and complains about missing ones", () => {
    const wire = readReference("materials.csv").find((r) => r.inputsText.includes("0.1 K"))!;
    expect(wire.inputs.quantity("temperature", "temperature")).toBe(0.1);
    expect(() => wire.inputs.text("colour")).toThrow("inputs: expected an input colour");
  });
});
