import { describe, expect, it } from "vitest";
import { heatFlowDrawing, thermalBudget } from "../../../src/index.js";
import { exampleMount } from "../../mount/example.js";
import { wellFormed } from "../xml.js";

const budget = thermalBudget(exampleMount());
const drawing = heatFlowDrawing(budget);

/** Height of each band and mark [px] of a drawing 680 px wide. */
const heights = (svg: string, what: RegExp) => [...svg.matchAll(what)].map(([, h]) => Number(h));

describe("the drawing of the heat flow", () => {
  it("is well-formed in both widths, with its numbers in words", () => {
    for (const svg of [drawing.svg, drawing.narrow])
      expect(wellFormed(svg.replace(/<style>.*?<\/style>/, ""))).toBe(true);
    for (const { name } of budget.sources) expect(drawing.alt).toContain(name);
    expect(drawing.alt).toMatch(/^Heat flow of [\d.]+ nW in all: /);
  });

  it("draws bands as wide as their heat: what enters the stage is what the loads bring", () => {
    const bands = heights(drawing.svg, /stroke-width="([\d.]+)" stroke-opacity="0.3"/g);
    const widest = Math.max(...bands);
    const wide = budget.sources.filter(({ power }) => power > 0.05 * budget.total);
    for (const { power } of wide) {
      const wanted = (power / budget.total) * widest;
      expect(bands.some((high) => Math.abs(high - wanted) < 0.02 * widest)).toBe(true);
    }
  });

  it("says so where a heat is too small for the scale", () => {
    const small = { kind: "given", name: "tiny", power: "2 pW" } as const;
    const mount = exampleMount();
    const { svg } = heatFlowDrawing(thermalBudget({ ...mount, loads: [...mount.loads, small] }));
    expect(svg).toContain("Dashed: too little heat to be drawn to scale.");
    expect(svg).toContain('stroke-dasharray="4 3"');
  });

  it("escapes names", () => {
    const mount = exampleMount();
    const evil = { kind: "given", name: "<b>&", power: "3 nW" } as const;
    const { svg } = heatFlowDrawing(thermalBudget({ ...mount, loads: [evil] }));
    expect(svg).toContain("&lt;b&gt;&amp;");
  });
});
