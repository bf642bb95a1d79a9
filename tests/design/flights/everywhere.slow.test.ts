/** A die of flights in every question that is asked of a mount. */
import { describe, expect, it } from "vitest";
import { sizeBonds } from "../../../src/design/confidence/margin.js";
import { confidence } from "../../../src/design/confidence/uncertainty.js";
import { simulateHits } from "../../../src/design/events/hits.js";
import { heatPulse } from "../../../src/design/events/pulse.js";
import { calibrate } from "../../../src/design/fitting/calibrate.js";
import { readThermometry } from "../../../src/design/fitting/thermometry.js";
import { influence } from "../../../src/design/influence.js";
import { sweep } from "../../../src/design/sweeping/sweep.js";
import { standardCatalogue } from "../../../src/materials/standard.js";
import { thermalBudget } from "../../../src/mount/budget.js";
import { MountModel } from "../../../src/mount/model.js";
import type { Mount } from "../../../src/mount/mount.js";
import { readMount } from "../../../src/mount/read.js";
import { readControls } from "../../../src/notebook/panel/controls.js";
import { PanelModel } from "../../../src/notebook/panel/model.js";
import { mountDrawing } from "../../../src/plots/drawing/drawing.js";
import { dieMapFigure } from "../../../src/plots/figures/die-map.js";
import { dropsFigure } from "../../../src/plots/figures/drops.js";
import { spread } from "../../../src/units/spread.js";
import { exampleMount } from "../../mount/example.js";

const few: Mount["die"] = {
  material: "silicon",
  width: "12 mm",
  length: "10 mm",
  thickness: "0.4 mm",
  model: "flights",
  rays: 4096,
};
function flying(die: Partial<Mount["die"]> = {}, count = 40): Mount {
  const mount = exampleMount();
  return {
    ...mount,
    die: { ...few, ...die },
    bonds: { ...mount.bonds!, count },
    loads: [{ kind: "given", power: "2 nW" }],
    limit: { rise: "4 mK" },
  };
}
const riseOf = (mount: Mount) => thermalBudget(mount).chip.rise;

describe("a die of flights", () => {
  it("is sized: the smallest number of bonds meet the limit, and one fewer do not, as budgets by themselves say", () => {
    const { count, budget, alternatives, floor } = sizeBonds(flying());
    expect(budget.chip.rise).toBeLessThanOrEqual(4e-3);
    expect(riseOf(flying({}, count!)) / budget.chip.rise).toBeCloseTo(1, 12);
    expect(riseOf(flying({}, count! - 1))).toBeGreaterThan(4e-3);
    expect(floor).toBeLessThan(4e-3);
    expect(alternatives.length).toBeGreaterThan(5);
    // With more phonons the answer moves by no more than their error.
    const more = sizeBonds(flying({ rays: 32768 })).count!;
    expect(Math.abs(more - count!)).toBeLessThanOrEqual(2);
  });

  it("is swept, to the same bits as its points by themselves", () => {
    const swept = sweep(flying(), { field: "bonds.count", values: [20, 40, 80] });
    [20, 40, 80].forEach((count, k) => {
      expect(swept.rise(k) / riseOf(flying({}, count))).toBeCloseTo(1, 12);
    });
  });

  it("has chances whose error holds that of its flights", async () => {
    const mount = (rays: number): Mount => ({
      ...flying({ rays }),
      pads: { ...exampleMount().pads!, residualResistivityRatio: spread(3, 9) },
      loads: [{ kind: "given", power: spread("1.5 nW", "3 nW") as never }],
    });
    const [rough, fine] = [
      await confidence(mount(512), { samples: 256 }),
      await confidence(mount(16384), { samples: 256 }),
    ];
    const flown = thermalBudget(mount(512)).dieModels!.flown!.error;
    expect(rough.median.error).toBeGreaterThan(0.8 * flown);
    expect(fine.median.error).toBeLessThan(rough.median.error);
    expect(Math.abs(rough.median.value - fine.median.value)).toBeLessThan(4 * rough.median.error);
  });

  it("is fitted: readings that it made give its coupling back", () => {
    const of = (coefficient: number): Mount => {
      const mount = flying();
      return { ...mount, pads: { ...mount.pads!, coupling: { coefficient, exponent: 5 } } };
    };
    const truth = new MountModel(
      readMount({ ...of(3.1e9), loads: [{ kind: "given", name: "heater", power: 0 }] }),
      standardCatalogue(),
    );
    const lines = [0, 4, 20, 60].map((power) => {
      truth.set("loads.0.power", power * 1e-9);
      truth.solve();
      return `${power},${truth.temperature(truth.chip)},0.11`;
    });
    const data = readThermometry(
      ["heater power [nW],chip [K],stage [K]", ...lines].join("\n"),
      "cool.csv",
    );
    const start: Mount = { ...of(2.4e9), loads: [] };
    const fit = calibrate(start, data, { inputs: ["pads.coupling.coefficient"] });
    expect(fit.of("pads.coupling.coefficient").value / 3.1e9).toBeCloseTo(1, 4);
  });

  it("tells how heat at one place warms another, alike both ways within its error", () => {
    const found = influence(flying({ rays: 32768 }), [
      { name: "a", x: "3 mm", y: "3 mm", size: "2 mm" },
      { name: "b", x: "8 mm", y: "6 mm", size: "2 mm" },
    ]);
    expect(found.rises[0]![1]! / found.rises[1]![0]!).toBeGreaterThan(0.97);
    expect(found.rises[0]![1]! / found.rises[1]![0]!).toBeLessThan(1.03);
    expect(found.share(1, 0)).toBeLessThan(1);
  });

  it("is solved in a panel, as a budget does, and its curve over the number of bonds falls", () => {
    const mount = flying();
    const controls = readControls(mount, [{ field: "bonds.count", from: 20, to: 60 }]);
    const model = new PanelModel(mount, controls, standardCatalogue());
    expect(model.solve([40]).chip.rise / riseOf(mount)).toBeCloseTo(1, 12);
    const curve = model.curve([40], 0);
    let step = curve.next();
    while (!step.done) step = curve.next();
    const last = step.value.axes[0]!.values.length - 1;
    expect(last).toBeGreaterThan(8);
    expect(step.value.rise(last)).toBeLessThan(0.7 * step.value.rise(0));
  });

  it("is hit, followed in time, drawn and mapped", () => {
    const pulse = heatPulse(flying(), { energy: "150 keV" });
    expect(pulse.chip.height).toBeGreaterThan(0);
    const record = simulateHits(
      { ...flying(), loads: [{ kind: "muons" }, { kind: "given", power: "2 nW" }] },
      { duration: "2 min" },
    );
    expect(record.hits.length).toBeGreaterThan(0);
    expect(record.warnings.join()).not.toContain("two nodes");
    const budget = thermalBudget(flying());
    for (const figure of [dieMapFigure(budget), dropsFigure(budget)]) {
      expect(figure.data.length).toBeGreaterThan(0);
      expect(figure.alt).not.toMatch(/NaN|undefined/);
    }
    expect(mountDrawing(flying()).svg).toContain("<svg");
  });
});
