/** Samples of inputs that vary together, against closed forms. */
import { describe, expect, it } from "vitest";
import { correlate, narrowedTogether } from "../../../src/design/confidence/correlated.js";
import { draws, solveHere } from "../../../src/design/confidence/samples.js";
import {
  confidence,
  type Mount,
  measurementValues,
  sensitivity,
  varianceIndices,
} from "../../../src/index.js";
import { normalQuantile, normalShare } from "../../../src/numerics/distributions.js";
import { random } from "../../../src/numerics/random.js";
import { spread, z95 } from "../../../src/units/spread.js";
import { smallest } from "../../mount/things/smallest.js";
import { camera } from "./uncertain-mounts.js";

const [power, conductance] = ["loads.0.power", "joint.conductance"];
/** Standard deviations of the logarithms of power and conductance. */
const [ofPower, ofConductance] = [0.2, 0.3];
const about = (median: number, sigma: number) =>
  spread(median * Math.exp(-z95 * sigma), median * Math.exp(z95 * sigma));

/**
 * All heat passes one joint that conducts in proportion to the temperature: T² − T₀² = 2·0.1 K·P/G, which
 * is log-normal.
 */
const ohmic = (coefficient: number | undefined, limit = 0.012): Mount => ({
  ...smallest({
    loads: [{ kind: "given", power: about(1e-16, ofPower) }],
    joint: { conductance: about(1e-14, ofConductance), at: 0.1, exponent: 1 },
    limit: { rise: limit },
    ...(coefficient !== undefined && {
      correlations: [{ of: [power, conductance], coefficient, reason: "one bench" }],
    }),
  }),
  die: { material: "silicon", width: 4e-3, length: 4e-3, thickness: 3e-4, model: "one node" },
});
/** 2·0.1 K·P/G at the medians [K²]. */
const middle = 0.2 * (1e-16 / 1e-14);
const sure = { rows: "none", runner: solveHere } as const;

describe("a chance with two inputs that vary together", () => {
  // ln(P/G) is normal with variance σP² + σG² − 2ρσPσG.
  it.each([undefined, -0.9, 0.5, 0.9, 1])(
    "is that of a log-normal quotient, ρ = %s",
    async (rho) => {
      const sigma = Math.sqrt(
        ofPower ** 2 + ofConductance ** 2 - 2 * (rho ?? 0) * ofPower * ofConductance,
      );
      const found = await confidence(ohmic(rho), sure);
      const exact = normalShare(Math.log((0.112 ** 2 - 0.01) / middle) / sigma);
      expect(Math.abs(found.chance!.value - exact)).toBeLessThan(4 * found.chance!.error + 1e-4);
      expect(found.chance!.error).toBeLessThan(3e-3);
      const [low, high] = found.band;
      for (const [end, sign] of [
        [low, -1],
        [high, 1],
      ] as const) {
        const exact = Math.sqrt(0.01 + middle * Math.exp(sign * z95 * sigma));
        expect(Math.abs(end.value - exact)).toBeLessThan(4 * end.error + 1e-6);
        expect(end.error).toBeLessThan(5e-5);
      }
      expect(found.toText().includes("Drawn together: ")).toBe(rho !== undefined);
    },
  );

  it("says so, with coefficient and reason", async () => {
    const found = await confidence(ohmic(-0.9), sure);
    expect(found.toText()).toContain(
      "Drawn together: given: power and joint: conductance (correlation −0.90, one bench).",
    );
    expect(sensitivity(ohmic(-0.9), { rows: "none" }).toText()).toContain(
      "(correlation −0.90, one bench). Here each moves by itself.",
    );
  });

  it("tells where a field that is named has no spread, and refuses a row that is not there", async () => {
    const mount = ohmic(0.5);
    const fixed = { ...mount, loads: [{ kind: "given", power: 1e-16 }] } as Mount;
    const found = await confidence(fixed, sure);
    expect(found.warnings).toContain(
      "correlations: loads.0.power has no spread, so nothing varies together with it.",
    );
    const strange = {
      ...mount,
      correlations: [{ of: [power, "gold: no such thing"], coefficient: 0.1 }],
    };
    await expect(confidence(strange, sure)).rejects.toThrow(
      'correlations: expected rows of catalogue.rows(), got "gold: no such thing"',
    );
  });

  it("takes rows of the catalogue by key or by quantity", async () => {
    const { joint: _, ...rest } = smallest({ loads: [{ kind: "given", power: about(1e-9, 0.2) }] });
    const mount = {
      ...rest,
      joint: { faces: "gold-plated copper on gold-plated copper", force: "1 kN", count: 2 },
    } as Mount;
    const all = (await confidence(mount, { runner: solveHere, samples: 64 })).inputs;
    const row = all.find(({ row }) => row)!;
    for (const name of [row.row!, row.name]) {
      const together = { ...mount, correlations: [{ of: [power, name], coefficient: 0.7 }] };
      const found = await confidence(together, { runner: solveHere, samples: 64 });
      expect(found.pairs).toEqual([{ names: ["given: power", row.name], coefficient: 0.7 }]);
    }
  });
});

describe("pads described in groups", () => {
  const film = {
    material: "gold",
    width: "150 um",
    length: "300 um",
    thickness: spread("250 nm", "350 nm"),
    residualResistivityRatio: spread(3, 10),
    coupling: { coefficient: spread(1.2e9, 4.8e9), exponent: 5 },
  } as const;
  const wire = {
    material: "gold",
    diameter: "25 um",
    length: "1.5 mm",
    residualResistivityRatio: spread(15, 60),
  } as const;
  const groups = (...names: readonly (readonly [string, "lower" | "upper", number])[]) => ({
    padGroups: names.map(([name, edge, count]) => ({ ...film, name, edge, count })),
    bondGroups: names.map(([pads]) => ({ ...wire, pads })),
  });
  const { pads: _pads, bonds: _bonds, ...rest } = camera;
  const inOne: Mount = {
    ...rest,
    die: { ...camera.die, model: "one node" },
    ...groups(["south", "lower", 60]),
  };
  const inTwo: Mount = { ...inOne, ...groups(["west", "lower", 30], ["east", "upper", 30]) };
  const fields = ["thickness", "residualResistivityRatio", "coupling.coefficient"].map((field) =>
    [0, 1].map((group) => `padGroups.${group}.${field}`),
  );
  const wires = [0, 1].map((group) => `bondGroups.${group}.residualResistivityRatio`);

  it("are of one film and one spool: two groups spread the chip as one of them all does", async () => {
    const [one, two] = await Promise.all([inOne, inTwo].map((mount) => confidence(mount, sure)));
    expect(two!.samples).toBe(one!.samples);
    const [low, high] = one!.band;
    const width = high.value - low.value;
    two!.band.forEach(({ value, error }, end) => {
      expect(Math.abs(value - one!.band[end]!.value)).toBeLessThan(5 * error + 0.01 * width);
    });
    expect(two!.toText()).toContain("(correlation 1.0, one film of gold)");
    expect(two!.pairs.map(({ reason }) => reason)).toContain("one spool of gold wire");
    expect(one!.pairs).toEqual([]);
  });

  it("vary apart where the mount says so, or where they were not made alike", async () => {
    const apart = {
      ...inTwo,
      correlations: [...fields, wires].map((of) => ({ of, coefficient: 0 })),
    };
    const [together, own] = await Promise.all([inTwo, apart].map((m) => confidence(m, sure)));
    expect(own!.pairs).toEqual([]);
    const width = ({ band: [low, high] }: typeof own & object) => high.value - low.value;
    // Coupling leads; of two independent ones half the variance is left.
    expect(width(own!)).toBeLessThan(0.9 * width(together!));
    const [west, east] = inTwo.padGroups!;
    const thicker: Mount = { ...inTwo, padGroups: [west!, { ...east!, thickness: 4e-7 }] };
    const left = (await confidence(thicker, sure)).pairs;
    expect(left.map(({ reason }) => reason)).toEqual(["one spool of gold wire"]);
  });
});

describe("points that vary together", () => {
  const rho = 0.6;
  const groups = [
    {
      inputs: [0, 2],
      factor: [
        [1, 0],
        [rho, 0.8],
      ],
    },
  ];
  const uniform = { quantile: (u: number) => u };

  it("are both above their medians with Sheppard's chance, and leave the others alone", () => {
    // W. F. Sheppard (1899): 1/4 + asin(ρ)/2π.
    const n = 2 ** 14;
    let [both, first, alone] = [0, 0, 0];
    const model = { inputs: [uniform, uniform, uniform], together: groups };
    for (const [a, b, c] of draws(model, n, random(3))) {
      if (a! > 0.5 && c! > 0.5) both++;
      if (a! > 0.5) first++;
      if (a! > 0.5 && b! > 0.5) alone++;
    }
    expect(both / n).toBeCloseTo(0.25 + Math.asin(rho) / (2 * Math.PI), 2);
    expect(first / n).toBeCloseTo(0.5, 3);
    expect(alone / n).toBeCloseTo(0.25, 2);
  });

  it("follow one that is known better as regression says", () => {
    // z₂ given z₁: mean ρz₁, variance 1 − ρ²; with z₁ ~ N(m, s²) mean ρm and variance 1 − ρ² + ρ²s².
    const [median, remaining] = [0.8, 0.5];
    const own = narrowedTogether(groups[0]!, 2, { median, remaining });
    expect(own.inputs).toEqual([2, 0]);
    expect(own.shift![0]).toBeCloseTo(median, 12);
    expect(own.shift![1]).toBeCloseTo(rho * median, 12);
    const variance = own.factor.map((row) => row.reduce((sum, x) => sum + x * x, 0));
    expect(variance[0]).toBeCloseTo(remaining ** 2, 12);
    expect(variance[1]).toBeCloseTo(1 - rho ** 2 + rho ** 2 * remaining ** 2, 12);
    const point = Float64Array.of(0.5, 0.3, 0.5);
    correlate(point, [own]);
    expect(normalQuantile(point[2]!)).toBeCloseTo(median, 10);
    expect(normalQuantile(point[0]!)).toBeCloseTo(rho * median, 10);
    expect(point[1]).toBe(0.3);
  });
});

describe("inputs of a model that vary together", () => {
  // f = x + 2y + w of standard normals, corr(x, y) = ρ: V(x + 2y) = 5 + 4ρ, V(w) = 1.
  const rho = -0.5;
  const normal = (name: string) => ({ name, quantile: normalQuantile });
  const model = {
    inputs: [normal("x"), normal("w"), normal("y")],
    together: [
      {
        inputs: [0, 2],
        factor: [
          [1, 0],
          [rho, Math.sqrt(1 - rho ** 2)],
        ],
      },
    ],
    evaluate: ([x, w, y]: Float64Array) => x! + 2 * y! + w!,
  };

  it("have a variance index together, that of what is independent", () => {
    const found = varianceIndices(model, { samples: 1024 });
    const pair = found.of("x with y");
    const share = (5 + 4 * rho) / (6 + 4 * rho);
    expect(Math.abs(pair.first - share)).toBeLessThan(4 * pair.firstError + 1e-3);
    expect(Math.abs(pair.total - share)).toBeLessThan(4 * pair.totalError + 1e-3);
    expect(found.variance).toBeCloseTo(6 + 4 * rho, 1);
    expect(found.indices.length).toBe(2);
    expect(
      varianceIndices(model, { apart: ["y"] })
        .indices.map(({ name }) => name)
        .sort(),
    ).toEqual(["all others together", "x with y"]);
  });

  it("are known better when one of them is measured", () => {
    // Band of a normal, 2·1.645σ; x known perfectly: σ² = 4(1 − ρ²) + 1. Its error is taken as 0.1 %.
    const positive = {
      ...model,
      inputs: model.inputs.map((each) => ({
        ...each,
        quantile: (u: number) => 50 + normalQuantile(u),
      })),
    };
    const found = measurementValues(positive, { x: "0.01 %" }, { samples: 1024 }).best;
    expect(found.before / (2 * z95 * Math.sqrt(6 + 4 * rho))).toBeCloseTo(1, 1);
    expect(found.after / (2 * z95 * Math.sqrt(4 * (1 - rho ** 2) + 1))).toBeCloseTo(1, 1);
  });
});
