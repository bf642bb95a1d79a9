import { beforeAll, describe, expect, it } from "vitest";
import { Inputs } from "../../../src/design/confidence/uncertain-inputs.js";
import {
  type UncertainMount,
  uncertainMount,
} from "../../../src/design/confidence/uncertain-mount.js";
import { standardCatalogue } from "../../../src/materials/standard.js";
import { thermalBudget } from "../../../src/mount/budget.js";
import type { Mount } from "../../../src/mount/mount.js";
import { readMount } from "../../../src/mount/read.js";
import { random } from "../../../src/numerics/random.js";
import { measured, spread } from "../../../src/units/spread.js";
import "../../../src/index.js";
import { exampleMount } from "../../mount/example.js";

const example = exampleMount();
const mount: Mount = {
  ...example,
  die: { ...example.die, model: "two nodes", meanFreePath: spread("0.2 mm", "2 mm") },
  pads: { ...example.pads!, residualResistivityRatio: spread(3, 12) },
  bonds: {
    ...example.bonds!,
    residualResistivityRatio: spread(20, 60),
    footResistance: spread("0.1 mohm", "1 mohm"),
    length: measured("1.5 mm", "0.05 mm"),
  },
  box: { ...example.box, residualResistivityRatio: spread(30, 100) },
  stage: spread("105 mK", "115 mK", { distribution: "uniform" }),
  loads: [
    ...example.loads.slice(0, 2),
    { kind: "infrared", power: spread("1 nW", "6 nW") },
    {
      kind: "conduction",
      on: "box",
      material: "kapton",
      length: "60 mm",
      area: "0.1 mm^2",
      from: spread("3 K", "4.2 K"),
      count: 2,
    },
  ],
};

/** The budget of the mount with every input at a value. */
function budgetAt({ inputs }: UncertainMount, values: Float64Array, of: Mount) {
  const all = new Inputs(inputs, readMount(of), standardCatalogue());
  const sample = all.at(values);
  const { chip, stage, limit } = thermalBudget(sample.mount as Mount, sample);
  return { chip: chip.temperature, stage, limit };
}

describe("an uncertain mount", () => {
  let compiled: UncertainMount;
  beforeAll(() => {
    compiled = uncertainMount(mount);
  });

  function somewhere(seed: number): Float64Array {
    const stream = random(seed);
    return Float64Array.from(compiled.inputs, ({ quantile }) => quantile(stream.uniform()));
  }

  it("gives what the budget of the changed mount gives, to 1e-9", () => {
    for (let seed = 0; seed < 25; seed++) {
      const values = somewhere(seed);
      const [fast, whole] = [compiled.evaluate(values), budgetAt(compiled, values, mount)];
      expect(Math.abs(fast.chip / whole.chip - 1)).toBeLessThan(1e-9);
      expect(Math.abs(fast.stage / whole.stage - 1)).toBeLessThan(1e-9);
      expect(Math.abs(fast.limit / whole.limit! - 1)).toBeLessThan(1e-9);
      expect(fast.margin).toBe(fast.limit - fast.chip);
    }
  });

  it("does so where an input lies far out, and after that again at the medians", () => {
    const before = compiled.evaluate(compiled.medians);
    const far = compiled.medians.slice();
    const i = compiled.inputs.findIndex(({ field }) => field === "loads.2.power");
    far[i] = 5e-7;
    const whole = budgetAt(compiled, far, mount);
    expect(compiled.evaluate(far).chip / whole.chip).toBeCloseTo(1, 9);
    expect(compiled.evaluate(compiled.medians)).toEqual(before);
  });

  it("counts its spreads and the rows that move it, and no others", () => {
    const fields = compiled.inputs.flatMap(({ field }) => field ?? []);
    expect(fields).toEqual(
      [
        "die.meanFreePath",
        "pads.residualResistivityRatio",
        "bonds.residualResistivityRatio",
        "bonds.footResistance",
        "bonds.length",
        "box.residualResistivityRatio",
        "stage",
        "loads.2.power",
        "loads.3.from",
      ].sort((a, b) => fields.indexOf(a) - fields.indexOf(b)),
    );
    const names = compiled.inputs.flatMap(({ row, name }) => (row ? [name] : []));
    expect(names).toContain("gold: electron-phonon coupling, coefficient");
    expect(names.some((name) => name.startsWith("kapton"))).toBe(true);
    // The spread of the mean free path says the same of this die.
    const same = "silicon: thermal conductivity, measured over computed";
    expect(names).not.toContain(same);
    const withoutSpread: Mount = { ...mount, die: { ...mount.die, meanFreePath: "0.6 mm" } };
    expect(uncertainMount(withoutSpread).inputs.map(({ name }) => name)).toContain(same);
    expect(names.some((name) => /niobium|glue|gold: density/.test(name))).toBe(false);
    // With a warm end above 4 K, where another row of the supports begins.
    const base = compiled.medians.slice();
    base[compiled.inputs.findIndex(({ field }) => field === "loads.3.from")] = 4.5;
    const at = compiled.evaluate(base);
    for (const [i, { name, quantile }] of compiled.inputs.entries()) {
      const values = base.slice();
      values[i] = quantile(0.9);
      const { chip, limit } = compiled.evaluate(values);
      expect(Math.abs(chip - at.chip) + Math.abs(limit - at.limit), name).toBeGreaterThan(0);
    }
  });

  it("takes another number of bonds, without touching the one it came from", () => {
    const more = compiled.withBonds(160);
    const values = somewhere(3);
    const before = compiled.evaluate(values);
    const twice: Mount = { ...mount, bonds: { ...mount.bonds!, count: 160 } };
    expect(more.evaluate(values).chip / budgetAt(compiled, values, twice).chip).toBeCloseTo(1, 9);
    expect(compiled.evaluate(values)).toEqual(before);
    expect(() => compiled.withBonds(1.5)).toThrow("bonds.count: expected a whole number");
  });

  it("is the same when compiled again by its recipe, which is plain data", () => {
    const recipe = JSON.parse(
      JSON.stringify(compiled.recipe, (_, v) => (v === undefined ? null : v)),
    );
    const again = uncertainMount(mount, { recipe });
    const values = somewhere(5);
    expect(again.evaluate(values)).toEqual(compiled.evaluate(values));
  });

  it("solves a die that is a sheet in full", () => {
    const sheet: Mount = {
      ...example,
      die: { ...example.die, cells: 32, meanFreePath: spread("0.2 mm", "2 mm") },
      loads: [{ kind: "given", power: spread("2 nW", "9 nW") }],
    };
    const made = uncertainMount(sheet, { rows: "none" });
    const values = Float64Array.of(1e-3, 4e-9);
    expect(made.evaluate(values).chip).toBeCloseTo(budgetAt(made, values, sheet).chip, 14);
  });

  it("without a limit has no margin, and cuts a spread off where the field ends", () => {
    const { limit: _, ...unlimited } = example;
    const shared: Mount = {
      ...unlimited,
      die: { ...example.die, model: "one node" },
      loads: [
        {
          kind: "readout",
          tones: 10,
          powerPerTone: "-95 dBm",
          dissipatedFraction: spread(0.5, 0.95),
        },
      ],
    };
    const made = uncertainMount(shared, { rows: "none" });
    expect(made.evaluate(made.medians).margin).toBeNaN();
    const most = made.inputs[0]!.quantile(1 - 2 ** -33);
    expect(most).toBeLessThanOrEqual(1);
    expect(most).toBeGreaterThan(0.999999);
  });

  it("says which values it refuses", () => {
    expect(() => compiled.evaluate(Float64Array.of(1))).toThrow("values: expected");
    expect(() => uncertainMount(mount, { rows: ["materials/gold.csv:1"] })).toThrow(
      'rows: expected keys of catalogue.rows(), got "materials/gold.csv:1"',
    );
    expect(() => uncertainMount(mount, { rows: false as unknown as "none" })).toThrow(
      'rows: expected "all", "none" or a list of keys of catalogue.rows(), got false',
    );
  });
});

describe("rows of the catalogue", () => {
  const catalogue = standardCatalogue();
  const keyOf = (quantity: string) =>
    catalogue.rows().find((row) => row.quantity === quantity)!.key;

  it("move every result that uses them, by their factor", () => {
    const coupling = keyOf("gold: electron-phonon coupling, coefficient");
    const resistivity = keyOf("gold: resistivity, 10 to 300 K: factor");
    const lorenz = keyOf("gold: thermal conductivity, lorenz ratio");
    const varied = catalogue.withFactors(
      new Map([
        [coupling, 2],
        [resistivity, 0.5],
        [lorenz, 1.1],
      ]),
    );
    const of = (c: typeof catalogue) => {
      const gold = c.material("gold");
      const kappa = gold.thermalConductivity({ residualResistivityRatio: 30 }).at(0.1);
      return [
        gold.electronPhononCoupling().coefficient,
        gold.warmResistivity("295 K").value,
        kappa,
      ];
    };
    const [before, after] = [of(catalogue), of(varied)];
    // κ = L₀T/ρ₀, so a resistivity half as large and 1.1 of L₀ make 2.2 of κ.
    expect(after.map((x, i) => x / before[i]!)).toEqual(
      [2, 0.5, 2.2].map((x) => expect.closeTo(x, 12)),
    );
    expect(of(catalogue)).toEqual(before);
  });

  it("of a fit or a table move it as a whole; of a joint, each number by itself", () => {
    const fit = keyOf("gold: thermal conductivity, 1 to 300 K: factor");
    const warm = (c: typeof catalogue) =>
      c.material("gold").thermalConductivity({ residualResistivityRatio: 30 }).at(100);
    expect(warm(catalogue.withFactors(new Map([[fit, 1.2]]))) / warm(catalogue)).toBeCloseTo(
      1.2,
      12,
    );
    const bulk = catalogue.rows().find(({ quantity }) => /bulk conductivity \(GE/.test(quantity))!;
    const glue = (c: typeof catalogue) =>
      c.laws("joints", "glue").find(({ sample }) => sample === "GE 7031")!.parameters;
    const scaled = glue(catalogue.withFactors(new Map([[bulk.key, 3]])));
    expect(scaled.get("bulk_conductivity")!.value).toBeCloseTo(0.102, 12);
    expect(scaled.get("bulk_conductivity")!.provenance.value).toBeCloseTo(0.102, 12);
    expect(scaled.get("bulk_exponent")!.value).toBe(1.9);
  });

  it("refuse an unknown key and a factor of nothing", () => {
    expect(() => catalogue.withFactors(new Map([["materials/gold.csv:2", 2]]))).toThrow(
      "factors: expected rows such as materials/gold.csv:5 (see rows())",
    );
    const key = keyOf("gold: thermal conductivity, lorenz ratio");
    expect(() => catalogue.withFactors(new Map([[key, 0]]))).toThrow(
      "a factor greater than 0, got 0",
    );
  });
});
