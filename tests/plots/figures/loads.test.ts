import { describe, expect, it } from "vitest";
import { loadsFigure, type Mount } from "../../../src/index.js";
import { budgetOf, read } from "../read.js";

const given = (name: string, power: string, on?: "box") =>
  ({ kind: "given", name, power, ...(on && { on }) }) as Mount["loads"][number];
const budgets = [
  budgetOf({ name: "dark", loads: [given("heater", "2 nW")] }),
  budgetOf({
    name: "light",
    loads: [given("heater", "2 nW"), given("lamp", "3 nW"), given("wire", "7 nW", "box")],
  }),
];

describe("the loads of mounts", () => {
  it("are one bar a source, nought where a mount has none of it", () => {
    const { traces, x } = read(loadsFigure(budgets));
    expect(traces.map(({ name, x: powers }) => [name, powers])).toEqual([
      ["heater", [2, 2]],
      ["lamp", [0, 3]],
    ]);
    expect(x).toBe("heat (nW)");
  });

  it("count what falls on the box only when asked, with the total beside each bar", () => {
    expect(read(loadsFigure(budgets)).notes[1]).toMatch(/^5\.0* nW$/);
    const all = loadsFigure(budgets, { on: "all" });
    expect(read(all).notes[1]).toMatch(/^12\.0* nW$/);
    expect(all.alt).toContain("light 12.0 nW");
  });

  it("take the unit that fits the largest", () => {
    const units = ["2 pW", "2 uW", "2 mW"].map(
      (power) => read(loadsFigure([budgetOf({ loads: [given("a", power)] })])).x,
    );
    expect(units).toEqual(["heat (pW)", "heat (µW)", "heat (mW)"]);
  });
});
