import { describe, expect, it } from "vitest";
import { type Mount, thermalBudget, withField } from "../../src/index.js";
import { lorenz, stefanBoltzmann } from "../../src/units/constants.js";
import { exampleMount, quickMount } from "./example.js";

describe("the budget of the example mount", () => {
  const budget = thermalBudget(quickMount());
  const element = (name: string) => budget.elements.find((e) => e.name === name)!;

  it("takes in what the loads bring: 600 × 8 pW, 2 nW, and the tones' dissipated part", () => {
    // 2Qr²/(QiQc), Qr = QiQc/(Qi+Qc): 5/18 for Qi = 2e5, Qc = 4e4; −95 dBm = 0.316228 pW
    const tones = 600 * 0.316228e-12 * (5 / 18);
    expect(budget.total).toBeCloseTo(4.8e-9 + 2e-9 + tones, 14);
  });

  // The sum by hand, each step from its own formula at the temperature below it; conductances
  // rise with temperature, so the drops are a little smaller than heat over conductance there.
  it("agrees with a sum by hand for the electron-phonon step", () => {
    // P = N Σ V (Te⁵ − Tp⁵) from the electrons' temperature up; Σ = 2.4e9 W/(m³ K⁵)
    const volume = 80 * 150e-6 * 300e-6 * 300e-9;
    const electrons = budget.places.find((p) => p.name === "pad electrons")!.temperature;
    const phonons = (electrons ** 5 + budget.total / (2.4e9 * volume)) ** 0.2;
    expect(element("electron-phonon coupling").drop).toBeCloseTo(phonons - electrons, 12);
    expect(element("electron-phonon coupling").drop).toBeGreaterThan(3e-3);
  });

  it("agrees with a sum by hand for the bonds: a small part of a millikelvin", () => {
    // Wiedemann-Franz over 1.5 mm of 25 µm gold, ρ(295 K) = 2.23e-8 Ω m, ratio 30,
    // which has the residual resistivity in it
    const resistance = ((2.23e-8 / 29) * 1.5e-3) / (Math.PI * 12.5e-6 ** 2);
    const cold = budget.places.find((p) => p.name === "ledge foot")!.temperature;
    const hot = Math.sqrt(cold ** 2 + (2 * (budget.total / 80) * resistance) / lorenz);
    expect(element("bonds").drop).toBeCloseTo(hot - cold, 7);
    expect(element("bonds").drop).toBeLessThan(0.1e-3);
  });

  it("names what governs, and its drops add up to the rise", () => {
    expect(budget.largestDrop.name).toBe("electron-phonon coupling");
    const sum = budget.mainPath.reduce((total, { drop }) => total + drop, 0);
    expect(sum).toBeCloseTo(budget.chip.rise, 12);
    expect(budget.margin).toBeCloseTo(10e-3 - budget.chip.rise, 12);
  });

  it("lists every number it used with a source, those of the user as given", () => {
    for (const row of budget.provenance) {
      expect(row.quantity, JSON.stringify(row)).not.toBe("");
      expect(row.source, row.quantity).not.toBe("");
      expect(Number.isFinite(row.value), row.quantity).toBe(true);
      if (row.source !== "given") expect(row.where, row.quantity).not.toBe("");
    }
    const used = budget.provenance.map(({ quantity }) => quantity).join("\n");
    for (const wanted of [
      "sound speed",
      "resistivity",
      "electron",
      "force",
      "residual resistivity",
    ]) {
      expect(used).toContain(wanted);
    }
  });

  it("prints as text, Markdown, HTML and CSV, all with the same answer", () => {
    const answer = /115\.\d mK/.exec(budget.toText())![0];
    for (const print of [budget.toMarkdown(), budget.toHtml()]) {
      expect(print).toContain(answer);
      expect(print).not.toMatch(/NaN|undefined|Infinity|0\.\d{6,}/);
    }
    const rows = budget.toCsv().trim().split("\r\n");
    const chip = rows.find((row) => row.startsWith('"place","die centre",'))!.split(",");
    expect(Number(chip[5])).toBe(budget.chip.temperature);
  });
});

describe("what comes from the user", () => {
  const nasty = { ...exampleMount(), name: '<img src=x onerror="alert(1)"> | =1+1, "x"' };

  it("is escaped in HTML and Markdown", () => {
    const budget = thermalBudget(nasty);
    expect(budget.toHtml()).not.toContain("<img");
    expect(budget.toMarkdown()).not.toContain("<img");
  });

  it("is no formula and breaks no row in CSV", () => {
    const loads: Mount["loads"] = [{ kind: "given", name: '=cmd|"x",\n', power: "1 nW" }];
    const csv = thermalBudget({ ...exampleMount(), loads }).toCsv();
    expect(csv).toContain('"\'=cmd|""x"",\n"');
  });
});

describe("other mounts", () => {
  it("one node: the die has one temperature and nothing is lost in spreading", () => {
    const budget = thermalBudget(withField(exampleMount(), "die.model", "one node"));
    expect(budget.chip.name).toBe("die");
    expect(budget.elements.some((e) => e.name === "spreading in the die")).toBe(false);
    expect(budget.chip.rise).toBeLessThan(thermalBudget(quickMount()).chip.rise);
  });

  it("clamps carry their share beside the bonds", () => {
    const clamps = [{ faces: "sapphire on copper", force: "3 N", count: 4 }] as const;
    const budget = thermalBudget({ ...exampleMount(), stage: "0.25 K", clamps });
    const clamp = budget.elements.find((e) => e.name === "clamps")!;
    const bonds = budget.elements.find((e) => e.name === "bonds")!;
    expect(clamp.main).toBe(false);
    expect(clamp.power + bonds.power).toBeCloseTo(budget.total, 20);
  });

  it("warns when a law is used outside the range its source backs", () => {
    const clamps = [{ faces: "sapphire on copper", force: "3 N", count: 4 }] as const;
    const { warnings } = thermalBudget({ ...exampleMount(), clamps });
    expect(warnings.join()).toMatch(/clamps: 110 mK is outside 200 mK to 600 mK/);
  });

  it("warns when more bonds are asked for than have room, and refuses those that can't be placed", () => {
    const { warnings } = thermalBudget(withField(quickMount(), "bonds.count", 2000));
    expect(warnings.join()).toMatch(/bonds: 2000 do not fit; the edges have space for 324/);
    const closer = thermalBudget(withField(exampleMount(), "bonds.count", 400));
    expect(closer.warnings.join()).toMatch(/bonds: 400 do not fit/);
    expect(() => thermalBudget(withField(exampleMount(), "bonds.count", 2000))).toThrow(
      "bonds.count: expected at most 162 pads on an edge of 25 mm, got 2000",
    );
  });

  it("a wire from 4 K brings the heat of its conductivity integral", () => {
    // NbTi has no published integral here, so a straight sum: PTFE-free stainless steel of the
    // catalogue, integral 0.11 to 4 K by the law itself; the check is that heat in = heat out.
    const loads: Mount["loads"] = [
      {
        kind: "conduction",
        name: "heater wires",
        on: "box",
        material: "stainless-steel",
        count: 10,
        diameter: "0.1 mm",
        length: "0.3 m",
        from: "4 K",
      },
    ];
    const budget = thermalBudget({ ...exampleMount(), loads });
    const out = budget.elements.find((e) => e.name === "joint to the stage")!;
    expect(budget.sources[0]!.power).toBeGreaterThan(0);
    expect(out.power).toBeCloseTo(budget.total, 18);
    // Order of magnitude by hand: ∫κ to 4 K ≈ 0.5 W/m, 10 wires: 10·(7.85e-9/0.3)·0.5 = 0.13 µW
    expect(budget.total).toBeGreaterThan(0.05e-6);
    expect(budget.total).toBeLessThan(0.5e-6);
  });

  it("aluminium bonds leave the chip far warmer than gold: the superconductor carries nothing", () => {
    const gold = thermalBudget(exampleMount());
    const aluminium = thermalBudget(withField(exampleMount(), "bonds.material", "aluminium"));
    expect(aluminium.chip.rise).toBeGreaterThan(10 * gold.chip.rise);
    expect(aluminium.largestDrop.name).toBe("bonds");
  });

  it("a name that two parts would share is refused", () => {
    const clamps = [{ name: "bonds", faces: "sapphire on copper", force: "3 N" }] as const;
    expect(() => thermalBudget({ ...exampleMount(), clamps })).toThrow(
      'name: expected a name that no other part has, got "bonds"',
    );
  });

  it("infrared through a gap is Stefan and Boltzmann's", () => {
    const loads: Mount["loads"] = [
      { kind: "infrared", hot: "4 K", area: "1 mm^2", emissivity: 0.5 },
    ];
    const { total } = thermalBudget({ ...exampleMount(), loads });
    expect(total).toBeCloseTo(0.5 * 1e-6 * stefanBoltzmann * 256, 15);
  });
});
