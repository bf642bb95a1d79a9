import { describe, expect, it } from "vitest";
import { sensitivity } from "../../../src/design/confidence/sensitivity.js";
import { type Mount, thermalBudget, withField } from "../../../src/index.js";
import { spread } from "../../../src/units/spread.js";
import { quickMount } from "../../mount/example.js";
import { logarithmicDerivative } from "../../network/derivative.js";

/** The example with what is not known exactly. */
function uncertain(): Mount {
  const mount = quickMount();
  return {
    ...mount,
    pads: { ...mount.pads!, thickness: spread("240 nm", "360 nm") },
    bonds: { ...mount.bonds!, residualResistivityRatio: spread(15, 60) },
    loads: [
      mount.loads[0]!,
      mount.loads[1]!,
      { kind: "infrared", name: "infrared leak", power: spread("0.5 nW", "8 nW") },
    ],
  };
}
const rise = (mount: Mount) => thermalBudget(mount).chip.rise;

describe("the sensitivity of a mount to its own spreads", () => {
  const found = sensitivity(uncertain(), { rows: "none" });

  it("has the rises of whole budgets with one input at either end, the others at their medians", () => {
    expect(found.rise).toBeCloseTo(rise(uncertain()), 14);
    for (const [field, low, high] of [
      ["pads.thickness", "240 nm", "360 nm"],
      ["bonds.residualResistivityRatio", 15, 60],
      ["loads.2.power", "0.5 nW", "8 nW"],
    ] as const) {
      const effect = found.of(field);
      expect(effect.riseAtLow).toBeCloseTo(rise(withField(uncertain(), field, low)), 13);
      expect(effect.riseAtHigh).toBeCloseTo(rise(withField(uncertain(), field, high)), 13);
      expect(effect.marginAtHigh).toBeCloseTo(0.01 - effect.riseAtHigh, 13);
    }
  });

  it("has the local slopes of whole budgets within 1e-8", () => {
    for (const [field, median] of [
      ["pads.thickness", Math.sqrt(240e-9 * 360e-9)],
      ["loads.2.power", 2e-9],
    ] as const) {
      const whole = logarithmicDerivative(
        (x) => rise(withField(uncertain(), field, x)),
        median,
        5e-3,
      );
      const effect = found.of(field);
      expect(effect.input.median / median).toBeCloseTo(1, 12);
      expect((effect.logarithmicSlope * found.rise) / whole).toBeCloseTo(1, 8);
      expect((effect.slope * median) / whole).toBeCloseTo(1, 8);
    }
  });

  it("comes longest first, in words", () => {
    expect(found.effects.map(({ input }) => input.name)).toEqual([
      "infrared leak: power",
      "pads: thickness",
      "bonds: residual resistivity ratio",
    ]);
    expect(found.costliest.input.name).toBe("infrared leak: power");
    expect(found.of("pads: thickness")).toBe(found.effects[1]);
    expect(() => found.of("pads")).toThrow(
      'sensitivity: expected the name of an input: "infrared leak: power", "pads: thickness"',
    );
  });

  it("is said in two sentences and a table", () => {
    expect(found.summary).toMatch(
      /^With every unknown at its median the chip is \d\.\d\d mK above the stage, with \d\.\d\d mK of margin\. The unknown that reduces the margin the most is infrared leak: power: between 500 pW and 8 nW the rise goes from \d\.\d\d mK to \d+\.\d mK\. 1 warning\.$/,
    );
    expect(found.toText()).toMatch(/pads: thickness +240 nm +294 nm +360 nm .*−0\.\d\d %/);
    expect(found.toMarkdown()).toContain("| unknown | 5 % | median | 95 % |");
    expect(found.toHtml()).toContain('<section class="result">');
  });
});

describe("the sensitivity to the catalogue too", () => {
  const found = sensitivity(uncertain());

  it("counts the rows that are used, with the unit of each", () => {
    const coupling = found.effects.find(({ input: { name } }) =>
      /^gold: electron-phonon coupling/.test(name),
    )!;
    // ΣV(Tₑ⁵ − Tₚ⁵): more coupling and thicker pads are the same, up to what the pads conduct.
    expect(coupling.logarithmicSlope).toBeLessThan(0);
    expect(coupling.input.unit).toBe("W/(m^3 K^5)");
    expect(found.effects.length).toBeGreaterThan(found.noticeable.length);
    expect(found.toText()).toMatch(
      /other unknowns move the rise by less than a thousandth each\.$/,
    );
  });
});

describe("what has no sensitivity", () => {
  it("a mount in which nothing is uncertain", () => {
    expect(() => sensitivity(quickMount(), { rows: "none" })).toThrow(
      /expected a mount with a spread, such as/,
    );
  });

  it("a mount without limit has its costliest input by the rise", () => {
    const { limit, ...open } = uncertain();
    const found = sensitivity(open, { rows: "none" });
    expect(found.margin).toBeNaN();
    expect(found.summary).toMatch(
      /The unknown that raises the chip the most is infrared leak: power/,
    );
  });
});
