import { describe, expect, it } from "vitest";
import {
  allOthers,
  type UncertainModel,
  type VarianceIndices,
  varianceIndices,
} from "../../../src/design/confidence/variance-indices.js";
import { type Mount, uncertainMount } from "../../../src/index.js";
import { spread } from "../../../src/units/spread.js";
import { quickMount } from "../../mount/example.js";

const uniform = (name: string, low: number, high: number) => ({
  name,
  quantile: (u: number) => low + u * (high - low),
});

/**
 * T. Ishigami and T. Homma, An importance quantification technique in uncertainty analysis for computer
 * models, Proc. First Int. Symp. Uncertainty Modeling and Analysis (IEEE, 1990) 398:
 * f = sin x₁ + a sin² x₂ + b x₃⁴ sin x₁, all evenly between −π and π.
 */
const [a, b] = [7, 0.1];
const ishigami: UncertainModel = {
  inputs: ["x1", "x2", "x3"].map((name) => uniform(name, -Math.PI, Math.PI)),
  evaluate: ([x1, x2, x3]) => Math.sin(x1!) * (1 + b * x3! ** 4) + a * Math.sin(x2!) ** 2,
};
/** Its closed form: variances of the parts that depend on x₁, on x₂, and on x₁ and x₃ together. */
const part = {
  1: (1 + (b * Math.PI ** 4) / 5) ** 2 / 2,
  2: a ** 2 / 8,
  13: (8 * b ** 2 * Math.PI ** 8) / 225,
};
const variance = part[1] + part[2] + part[13];
const ishigamiExact = {
  x1: { first: part[1] / variance, total: (part[1] + part[13]) / variance },
  x2: { first: part[2] / variance, total: part[2] / variance },
  x3: { first: 0, total: part[13] / variance },
};

/**
 * The g-function: Π (|4xᵢ − 2| + aᵢ)/(1 + aᵢ), evenly between 0 and 1. With Vᵢ = 1/(3(1 + aᵢ)²):
 * V = Π(1 + Vᵢ) − 1, Sᵢ = Vᵢ/V, Tᵢ = Vᵢ Π_{j≠i}(1 + Vⱼ)/V
 * (A. Saltelli and I. M. Sobol', Reliab. Eng. Syst. Saf. 50, 225 (1995)).
 */
const weights = [0, 1, 4.5, 9, 99, 99];
const gFunction: UncertainModel = {
  inputs: weights.map((_, i) => uniform(`x${i + 1}`, 0, 1)),
  evaluate: (x) =>
    weights.reduce((product, w, i) => (product * (Math.abs(4 * x[i]! - 2) + w)) / (1 + w), 1),
};
const own = weights.map((w) => 1 / (3 * (1 + w) ** 2));
const all = own.reduce((product, v) => product * (1 + v), 1);
const gExact = Object.fromEntries(
  own.map((v, i) => [
    `x${i + 1}`,
    { first: v / (all - 1), total: (v * (all / (1 + v))) / (all - 1) },
  ]),
);

type Exact = Record<string, { readonly first: number; readonly total: number }>;

/** Within four standard errors: eight scramblings leave a chance of some 1 % for an index, by Student. */
function agrees(found: VarianceIndices, exact: Exact, within: number) {
  for (const [name, { first, total }] of Object.entries(exact)) {
    const index = found.of(name);
    expect(Math.abs(index.first - first), `${name} alone`).toBeLessThan(
      4 * index.firstError + 1e-12,
    );
    expect(Math.abs(index.total - total), `${name} in all`).toBeLessThan(
      4 * index.totalError + 1e-12,
    );
    expect(Math.abs(index.first - first), `${name} alone`).toBeLessThan(within);
    expect(Math.abs(index.total - total), `${name} in all`).toBeLessThan(within);
  }
}

describe("the indices of the Ishigami function", () => {
  it("have the values that are quoted for a = 7, b = 0.1", () => {
    const digits = Object.values(ishigamiExact).flatMap(({ first, total }) => [first, total]);
    expect(digits.map((x) => x.toFixed(4))).toEqual([
      "0.3139",
      "0.5576",
      "0.4424",
      "0.4424",
      "0.0000",
      "0.2437",
    ]);
  });

  it.each([
    [256, 0.02],
    [4096, 3e-3],
  ])("are found from %i points and 8 scramblings within %s", (samples, within) => {
    const found = varianceIndices(ishigami, { samples });
    agrees(found, ishigamiExact, within);
    expect(found.variance / variance).toBeCloseTo(1, samples > 1000 ? 2 : 1);
    expect(found.mean).toBeCloseTo(a / 2, samples > 1000 ? 2 : 1);
    expect(found.evaluations).toBe(8 * samples * 5);
    expect(found.interactions).toBeCloseTo(ishigamiExact.x3.total, 1);
  });

  it("errors fall with more points faster than their root", () => {
    const error = (samples: number) => varianceIndices(ishigami, { samples }).of("x1").totalError;
    expect(error(4096)).toBeLessThan(error(256) / 4);
  });

  it("may be asked of some inputs, the others exchanged together", () => {
    const found = varianceIndices(ishigami, { samples: 2048, apart: ["x2"] });
    const others = part[1] + part[13];
    agrees(
      found,
      { x2: ishigamiExact.x2, [allOthers]: { first: others / variance, total: others / variance } },
      5e-3,
    );
    expect(found.evaluations).toBe(8 * 2048 * 4);
  });
});

describe("the indices of the g-function", () => {
  it("agree with the closed form", () => {
    agrees(varianceIndices(gFunction, { samples: 2048 }), gExact, 5e-3);
  });

  it("come largest first, the same for the same seed", () => {
    const found = varianceIndices(gFunction);
    expect(found.indices.slice(0, 4).map(({ name }) => name)).toEqual(["x1", "x2", "x3", "x4"]);
    expect(varianceIndices(gFunction)).toEqual(found);
    expect(varianceIndices(gFunction, { seed: 2 }).of("x1").first).not.toBe(found.of("x1").first);
  });
});

describe("the indices of a mount", () => {
  // One load on a stage that is what it is: the chip's rise follows the load alone.
  const mount: Mount = {
    ...quickMount(),
    loads: [{ kind: "given", name: "readout", power: spread("1 nW", "9 nW") }],
    stage: spread("0.1 K", "0.12 K"),
  };
  const options = { rows: "none", samples: 64 } as const;

  it("are of its chip's temperature, its inputs in words", () => {
    const found = varianceIndices(mount, options);
    expect(found.indices.map(({ name }) => name).sort()).toEqual(["readout: power", "stage"]);
    expect(found.interactions).toBeLessThan(0.05);
    const { mean } = found;
    const { inputs, evaluate } = uncertainMount(mount, { rows: "none" });
    const chip = varianceIndices({ inputs, evaluate: (x) => evaluate(x).chip }, { samples: 64 });
    // A model of its own has no name, and nobody tells its ranges.
    expect({ ...chip }).toEqual({ ...found, name: "", warnings: [] });
    expect(mean).toBeGreaterThan(0.1);
  });

  it("may be of its margin, and told apart by field or row too", () => {
    const found = varianceIndices(mount, {
      ...options,
      quantity: ({ chip, stage }) => chip - stage,
      apart: ["loads.0.power"],
    });
    expect(found.indices.map(({ name }) => name)).toEqual(["readout: power", allOthers]);
    expect(found.of("readout: power").total).toBeGreaterThan(0.7);
    const rows = varianceIndices(mount, { ...options, rows: "all", samples: 8, replicates: 2 });
    expect(rows.of("gold: electron-phonon coupling, coefficient").total).toBeGreaterThan(0);
  });
});

describe("indices in print", () => {
  const found = varianceIndices(
    { ...ishigami, evaluate: (x) => ({ height: ishigami.evaluate(x) }) },
    { quantity: ({ height }) => height, samples: 1024 },
  );
  it("say share and error in as many digits as are known", () => {
    const [summary, , title, head] = found.toText().split("\n");
    expect(summary).toMatch(/^The input with the largest total-effect index is /);
    expect(title).toBe("Shares of the variance, with their standard errors");
    expect(head).toMatch(/^ {2}input +alone +alone and with others$/);
    expect(found.toText()).toMatch(/x2 +\(44\.\d+ ± 0\.\d+\) % +\(44\.\d+ ± 0\.\d+\) %/);
    expect(found.toMarkdown()).toContain("| input | alone | alone and with others |");
    expect(found.toHtml()).toContain('<td class="number">(');
  });
});

describe("what has no indices", () => {
  it("a result that does not vary: all are 0", () => {
    const still = varianceIndices({ ...ishigami, evaluate: () => 0.1 });
    expect(still.indices.map(({ first, total }) => [first, total])).toEqual([
      [0, 0],
      [0, 0],
      [0, 0],
    ]);
  });

  it.each([
    [{ samples: 100 }, "samples: expected a power of two, got 100"],
    [{ replicates: 1 }, "replicates: expected at least 2, to tell errors, got 1"],
    [{ apart: ["x4"] }, 'apart: expected the name of an input: "x1", "x2", "x3", got "x4"'],
  ])("options %j are refused", (options, message) => {
    expect(() => varianceIndices(ishigami, options)).toThrow(message);
  });

  it("a result that is not finite, with the inputs where it was met", () => {
    const model = { ...ishigami, evaluate: () => Number.POSITIVE_INFINITY };
    expect(() => varianceIndices(model)).toThrow(
      /^result at x1 .*, x2 .*, x3 .*: expected a finite/,
    );
    expect(() => varianceIndices({ inputs: [], evaluate: () => 0 })).toThrow(
      /^inputs: expected 1 to/,
    );
  });
});
