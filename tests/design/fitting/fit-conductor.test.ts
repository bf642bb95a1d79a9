import { describe, expect, it } from "vitest";
import { fitConductor } from "../../../src/design/fitting/fit-conductor.js";
import { readThermometry } from "../../../src/design/fitting/thermometry.js";
import { standardCatalogue, thermalBudget } from "../../../src/index.js";
import { readMount } from "../../../src/mount/read.js";
import { random } from "../../../src/numerics/random.js";
import { isSpread } from "../../../src/units/spread.js";
import { quickMount } from "../../mount/example.js";
import { slowly } from "../../slowly.js";
import { within95 } from "../coverage.js";

const noisy = `heater power [nW],heater power uncertainty [nW],die [mK],stage [mK]
0.9225,0.12,62,60
9.7954,0.297,75,60
35.0707,0.776,95,60
122.866,2.524,130,60
5.5787,0.219,122,120
35.9522,0.819,131,120
117.8538,2.488,150,120
243.2382,4.95,170,120
495.684,10.346,200,120
`;
const ends = { from: "die", to: "stage" };

/** Lines of P = a(T₁ⁿ − T₂ⁿ) for stages and powers, the readings changed by `change`. */
function lines(
  [a, n]: readonly [number, number],
  change: (power: number, hot: number, cold: number) => readonly number[],
  header = "heater power [W],die [K],stage [K]",
): string {
  const rows = [0.05, 0.1].flatMap((cold) =>
    [1e-9, 3e-9, 1e-8, 3e-8, 1e-7, 3e-7].map((power) =>
      change(power, (power / a + cold ** n) ** (1 / n), cold).join(","),
    ),
  );
  return [header, ...rows].join("\n");
}

describe("fitConductor(data, { from, to })", () => {
  it("recovers the law from data without noise", () => {
    const csv = lines([2e-4, 3.6], (...row) => row);
    const fit = fitConductor(readThermometry(csv), ends);
    expect(fit.coefficient / 2e-4).toBeCloseTo(1, 8);
    expect(fit.exponent).toBeCloseTo(3.6, 8);
    expect(fit.heat(0.1, 0.05)).toBeCloseTo(2e-4 * (0.1 ** 3.6 - 0.05 ** 3.6), 15);
    expect(fit.conductor.powers).toEqual([
      { coefficient: fit.coefficient, exponent: fit.exponent },
    ]);
  });

  // SciPy 1.17.1, scipy.optimize.curve_fit of ln a and n with absolute_sigma, and stats.chi2.sf
  it("agrees with SciPy on values, uncertainties, correlation and probability", () => {
    const fit = fitConductor(readThermometry(noisy), ends);
    expect(fit.coefficient / 0.000182318787438695).toBeCloseTo(1, 6);
    expect(fit.exponent / 3.551836262644425).toBeCloseTo(1, 7);
    expect(fit.parameters[0]!.uncertainty / 0.05479289516193113).toBeCloseTo(1, 5);
    expect(fit.parameters[1]!.uncertainty / 0.02926336215323697).toBeCloseTo(1, 5);
    const [[vA, c], [, vN]] = fit.covariance as [Float64Array, Float64Array];
    expect(c! / Math.sqrt(vA! * vN!)).toBeCloseTo(0.9888962497197257, 6);
    expect(fit.correlation("coefficient", "exponent")).toBeCloseTo(0.9888962497197257, 6);
    expect(fit.of("exponent")).toBe(fit.parameters[1]);
    expect(fit.chiSquared).toBeCloseTo(6.44755181208206, 5);
    expect(fit.degreesOfFreedom).toBe(7);
    expect(fit.probability).toBeCloseTo(0.4885667674170312, 6);
  });

  it("takes the uncertainties from the scatter where the data state none, as SciPy does", () => {
    const csv = noisy.replace("heater power uncertainty [nW]", "ignored [m]");
    const fit = fitConductor(readThermometry(csv), ends);
    expect(fit.coefficient / 0.00016305377049956012).toBeCloseTo(1, 6);
    expect(fit.exponent / 3.484452900247669).toBeCloseTo(1, 7);
    expect(fit.parameters[0]!.uncertainty / 0.04485203284572926).toBeCloseTo(1, 5);
    expect(fit.parameters[1]!.uncertainty / 0.02865788414422849).toBeCloseTo(1, 5);
    expect(fit.probability).toBeUndefined();
    expect(fit.summary).toContain("The data state no uncertainties");
  });

  slowly("covers the truth as often as it says, with noise on power and both thermometers", () => {
    const random1 = random(11);
    const truth = [2e-4, 3.6] as const;
    const header =
      "heater power [W],heater power uncertainty [W],die [K],die uncertainty [K],stage [K],stage uncertainty [K]";
    let [ofA, ofN, ofPivot, improbable] = [0, 0, 0, 0];
    for (let i = 0; i < 200; i++) {
      const csv = lines(
        truth,
        (power, hot, cold) => [
          power * (1 + 0.01 * random1.normal()),
          power * 0.01,
          hot + 3e-4 * random1.normal(),
          3e-4,
          cold + 2e-4 * random1.normal(),
          2e-4,
        ],
        header,
      );
      const fit = fitConductor(readThermometry(csv), ends);
      const off = [Math.log(fit.coefficient / truth[0]), fit.exponent - truth[1]];
      if (Math.abs(off[0]!) < 1.96 * fit.parameters[0]!.uncertainty) ofA++;
      if (Math.abs(off[1]!) < 1.96 * fit.parameters[1]!.uncertainty) ofN++;
      const { at, conductance, uncertainty } = fit.pivot;
      const there = truth[0] * truth[1] * at ** (truth[1] - 1);
      if (Math.abs(Math.log(conductance / there)) < 1.96 * uncertainty) ofPivot++;
      if (fit.probability! < 0.05) improbable++;
    }
    for (const covered of [ofA, ofN, ofPivot, 200 - improbable]) within95(covered, 200);
  });

  it("finds heat that flows with the heater off", () => {
    const csv = lines([2e-4, 3.6], (power, hot, cold) => [power - 4e-10, hot, cold]);
    const fit = fitConductor(readThermometry(csv), { ...ends, background: true });
    expect(fit.parameters[2]!.value / 4e-10).toBeCloseTo(1, 5);
    expect(fit.exponent).toBeCloseTo(3.6, 6);
  });

  it("knows the conductance best at the pivot, and hands it to a mount as a joint with spreads", () => {
    const fit = fitConductor(readThermometry(noisy), ends);
    const { at, uncertainty } = fit.pivot;
    expect(at).toBeGreaterThan(0.06);
    expect(at).toBeLessThan(0.2);
    expect(uncertainty).toBeLessThan(fit.parameters[0]!.uncertainty / 3);
    const mount = { ...quickMount(), joint: fit.joint };
    expect(isSpread(mount.joint.conductance) && isSpread(mount.joint.exponent)).toBe(true);
    const { box, joint } = readMount(mount);
    expect(joint).toMatchObject({ at, exponent: expect.closeTo(fit.exponent - 1, 9) });
    expect(box).toBeDefined();
    const element = thermalBudget(mount).elements.find(({ name }) => name.startsWith("joint"))!;
    expect(element.drop).toBeGreaterThan(0);
  });

  it("is saved as a pressed joint that the catalogue takes, and that carries the same heat", () => {
    const fit = fitConductor(readThermometry(noisy, "rig.csv"), { ...ends, date: "2026-03-14" });
    const { csv, sources } = fit.toJointCsv({ faces: "our box on our stage", force: "800 N" });
    const catalogue = standardCatalogue().withLaws("joints", "pressed", csv, sources);
    const joint = { faces: "our box on our stage", force: "800 N" } as const;
    const budget = thermalBudget({ ...quickMount(), joint }, { catalogue });
    const { power, drop } = budget.elements.find(({ name }) => name.startsWith("joint"))!;
    const cold = budget.stage;
    expect(fit.heat(cold + drop, cold) / power).toBeCloseTo(1, 8);
    const used = budget.provenance.filter(({ source }) => source === "measured, 2026-03-14");
    expect(used.length).toBeGreaterThan(0);
    expect(used.every(({ where }) => where === "rig.csv")).toBe(true);
  });

  it("is saved as a material that the catalogue takes, and that carries the same heat", () => {
    const fit = fitConductor(readThermometry(noisy), { ...ends, date: "2026-03-14" });
    const rod = { length: "20 mm", area: "3 mm^2", sample: "rod 1" } as const;
    const { csv, sources } = fit.toMaterialCsv(rod);
    const catalogue = standardCatalogue().withMaterial("our-alloy", csv, sources);
    const kappa = catalogue.material("our-alloy").thermalConductivity();
    expect((kappa.between(0.07, 0.15) * 3e-6) / 0.02 / fit.heat(0.15, 0.07)).toBeCloseTo(1, 8);
    expect(() => kappa.at(0.3)).toThrow(RangeError);
  });

  it.each([
    [
      { from: "dye", to: "stage" },
      'from: expected a thermometer of rig.csv: die, stage, got "dye"',
    ],
    [{ from: "die", to: "die" }, "to: expected another thermometer than from"],
    [{ ...ends, date: "14 March" }, 'date: expected a date such as "2026-03-14", got "14 March"'],
  ])("refuses %j", (options, message) => {
    expect(() => fitConductor(readThermometry(noisy, "rig.csv"), options)).toThrow(message);
  });

  it("needs as many readings as parameters", () => {
    const one = noisy.split("\n").slice(0, 2).join("\n");
    expect(() => fitConductor(readThermometry(one, "rig.csv"), ends)).toThrow(
      "rig.csv: expected at least 2 readings for 2 parameters, got 1",
    );
  });

  it("says so when the temperatures are too near to each other to tell the exponent", () => {
    const csv = `heater power [nW],die [mK],die uncertainty [mK],stage [mK]
1,101,0.1,100
2,102,0.1,100
3,103.1,0.1,100
`;
    expect(() => fitConductor(readThermometry(csv), ends)).toThrow(
      "fit: readings of die and stage from 100 mK to 103 mK leave open the conductance and the exponent. " +
        "Heat until the warm end is at twice the cold one, measure at another stage temperature, or measure more finely.",
    );
  });

  it("can't be saved without a date", () => {
    const fit = fitConductor(readThermometry(noisy), ends);
    expect(() => fit.toJointCsv({ faces: "a", force: "1 N" })).toThrow("date: expected a date");
  });
});
