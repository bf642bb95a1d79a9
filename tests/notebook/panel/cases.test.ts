import { describe, expect, it } from "vitest";
import {
  confidence,
  type Mount,
  pessimisticCase,
  spread,
  standardCatalogue,
  thermalBudget,
} from "../../../src/index.js";
import { readControls } from "../../../src/notebook/panel/controls.js";
import { PanelModel } from "../../../src/notebook/panel/model.js";

const mount: Mount = {
  name: "camera",
  die: {
    material: "silicon",
    width: "25 mm",
    length: "25 mm",
    thickness: "0.38 mm",
    model: "two nodes",
  },
  pads: {
    material: "gold",
    width: "150 um",
    length: "300 um",
    thickness: spread("270 nm", "330 nm", { distribution: "normal" }),
    residualResistivityRatio: spread(2.5, 10),
  },
  bonds: {
    material: "gold",
    count: 88,
    diameter: "25 um",
    length: "1.5 mm",
    residualResistivityRatio: 30,
  },
  box: {
    material: "copper",
    residualResistivityRatio: 50,
    crossSection: "120 mm^2",
    pathLength: "30 mm",
  },
  joint: {
    faces: "gold-plated copper on gold-plated copper",
    force: spread("0.5 kN", "2 kN"),
    count: 4,
  },
  stage: "110 mK",
  loads: [{ kind: "given", name: "leak", power: spread("4 nW", "16 nW") }],
  limit: { rise: "10 mK" },
};
const controls = readControls(mount, [
  { field: "pads.thickness", from: "100 nm", to: "2000 nm" },
  { field: "bonds.count", from: 10, to: 200 },
]);
const modelOf = (of: Mount) => new PanelModel(of, controls, standardCatalogue());
const solved = (of: Mount, wanted: "nominal" | "probable" | "pessimistic") => {
  const model = modelOf(of);
  model.case = wanted;
  return model.solve(model.initial);
};

describe("a case of a panel", () => {
  it("is the library's own, nominal and pessimistic", () => {
    expect(solved(mount, "nominal").chip.temperature).toBe(thermalBudget(mount).chip.temperature);
    const worst = pessimisticCase(mount);
    const wanted = thermalBudget(worst.mount as Mount, { catalogue: worst.catalogue });
    expect(solved(mount, "pessimistic").chip.temperature).toBe(wanted.chip.temperature);
  });

  it.each([88, 30, 300])("is nearly the sampled one with %d bonds, probable", async (count) => {
    const own = { ...mount, bonds: { ...mount.bonds!, count } };
    const sampled = await confidence(own, { samples: 16_384 });
    const rise = sampled.band[1].value - 0.11;
    const estimate = solved(own, "probable").chip.rise;
    expect(Math.abs(estimate / rise - 1)).toBeLessThan(0.02);
  });

  it("moves a spread with its slider and keeps its relative width", () => {
    const model = modelOf(mount);
    const moved = model.mountAt([600, 88]);
    expect(moved.pads!.thickness).toEqual(spread("540 nm", "660 nm", { distribution: "normal" }));
    const sampled = pessimisticCase(moved);
    const wanted = thermalBudget(sampled.mount as Mount, { catalogue: sampled.catalogue });
    model.case = "pessimistic";
    expect(model.solve([600, 88]).chip.temperature).toBe(wanted.chip.temperature);
  });

  it("has a curve through its answer, also of an input that the case moves", () => {
    const model = modelOf(mount);
    model.case = "pessimistic";
    for (const index of [0, 1]) {
      const steps = model.curve(model.initial, index);
      let step = steps.next();
      while (!step.done) step = steps.next();
      const { values } = step.value.axes[0]!;
      const at = values.findIndex((value) => value >= [300e-9, 88][index]! * (1 - 1e-9));
      const numbers = model.initial.map((number, i) =>
        i === index ? (index === 0 ? 1e9 : 1) * values[at]! : number,
      );
      expect(step.value.rise(at)).toBeCloseTo(model.solve(numbers).chip.rise, 9);
    }
  });

  it("is not offered where nothing is uncertain", () => {
    expect(modelOf(mount).uncertainRows()!.length).toBeGreaterThan(3);
    const known = new PanelModel(mount, controls, standardCatalogue(), []);
    expect(known.uncertainRows()).toEqual([]);
    const { thickness: _t, residualResistivityRatio: _r, ...pads } = mount.pads!;
    const sure = {
      ...mount,
      pads: { ...pads, thickness: "300 nm", residualResistivityRatio: 5 },
      joint: { ...mount.joint, force: "1 kN" },
      loads: [{ kind: "given", power: "8 nW" }],
    } as Mount;
    expect(new PanelModel(sure, controls, standardCatalogue(), []).uncertainRows()).toBeUndefined();
  });
});
