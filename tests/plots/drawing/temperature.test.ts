import { describe, expect, it } from "vitest";
import { type Mount, temperatureDrawing, thermalBudget } from "../../../src/index.js";
import { mapColours } from "../../../src/plots/ramp.js";
import { exampleMount, quickMount } from "../../mount/example.js";
import { coarseMount } from "../read.js";
import { wellFormed } from "../xml.js";

const { pads: _p, bonds: _b, ...bare } = exampleMount();
const mounts: Record<string, Mount> = {
  "bonds on pads": coarseMount(),
  "a die of two nodes": quickMount(),
  "clamps <b>alone</b>": {
    ...bare,
    name: "<b>",
    clamps: [{ name: "<i>", faces: "sapphire on silicon", force: "5 N", count: 4 }],
  },
};

describe.each(Object.entries(mounts))("temperatures in the section of %s", (_, mount) => {
  const budget = thermalBudget(mount);
  const drawing = temperatureDrawing(mount, budget);

  it("are drawn wide and narrow, every text escaped", () => {
    for (const svg of [drawing.svg, drawing.narrow]) {
      expect(() => wellFormed(svg)).not.toThrow();
      expect(svg).not.toMatch(/<(b|i)>/);
    }
  });

  it("have the drop of each element, which add up to the rise", () => {
    const sum = budget.mainPath.reduce((all, { drop }) => all + drop, 0);
    expect(sum / budget.chip.rise).toBeCloseTo(1, 6);
    for (const { name } of budget.mainPath) expect(drawing.alt).toContain(name);
    const boxes = [...drawing.svg.matchAll(/<rect [^>]*width="30" height="16" fill="(rgb[^"]*)"/g)];
    expect(boxes).toHaveLength(budget.mainPath.length + 1);
  });

  it("are bright at the hottest point and dark at the stage", () => {
    const colours = [
      ...drawing.svg.matchAll(/<rect [^>]*width="30" height="16" fill="(rgb[^"]*)"/g),
    ].map(([, colour]) => mapColours.findIndex(([, own]) => own === colour));
    expect(colours[0]).toBe(mapColours.length - 1);
    expect(colours.at(-1)).toBe(0);
    expect(colours).toEqual([...colours].sort((a, b) => b - a));
  });
});

describe("temperatures in a section", () => {
  it("need a chip that is warmer than its stage", () => {
    const cold = { ...quickMount(), loads: [] };
    const budget = thermalBudget(cold);
    expect(() => temperatureDrawing(cold, budget)).toThrow(
      /^budget: expected a chip that is warmer/,
    );
  });
});
