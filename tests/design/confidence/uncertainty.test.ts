import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { Confidence } from "../../../src/design/confidence/confidence.js";
import { type SamplePool, samplePool } from "../../../src/design/confidence/pool.js";
import { solveHere } from "../../../src/design/confidence/samples.js";
import { confidence, sizeWithConfidence } from "../../../src/design/confidence/uncertainty.js";
import { FieldError, type Mount, sizeBonds, thermalBudget } from "../../../src/index.js";
import { spread } from "../../../src/units/spread.js";
import { quickMount } from "../../mount/example.js";
import { slowly } from "../../slowly.js";

const example = quickMount();

/** A chip on one thin path of constant conductance G: it rises by P/G, but for a few parts in 10⁶. */
const onePath: Mount = {
  name: "one path",
  die: {
    material: "silicon",
    width: "5 mm",
    length: "5 mm",
    thickness: "0.5 mm",
    model: "one node",
  },
  glue: { glue: "varnish", area: "25 mm^2", thickness: "10 um" },
  box: {
    material: "copper",
    residualResistivityRatio: 100,
    crossSection: "1 cm^2",
    pathLength: "1 cm",
  },
  joint: { conductance: "1 pW/K", at: "0.1 K", exponent: 1e-9 },
  stage: 0.1,
  loads: [{ kind: "given", power: 2e-14 }],
};
const own = { rows: "none", runner: solveHere } as const;

describe("confidence", () => {
  // ΔT = P/G. Linear: P even between a and b has the mean (a + b)/2 and the variance (b − a)²/12.
  it("finds mean and variance of the linear case, to the error it states", async () => {
    const power = spread(1e-14, 3e-14, { distribution: "uniform" });
    const result = await confidence({ ...onePath, loads: [{ kind: "given", power }] }, own);
    const { mean, variance } = result;
    expect(Math.abs(mean.value - 0.12)).toBeLessThan(4 * mean.error + 1e-7);
    expect(mean.error).toBeLessThan(1e-6);
    expect(Math.abs(variance.value - 0.02 ** 2 / 12)).toBeLessThan(4 * variance.error + 1e-9);
    expect(variance.error).toBeLessThan(1e-3 * variance.value);
  });

  // Log-normal: ln ΔT = ln P − ln G has σ² = σ_P² + σ_G², the mean of ΔT is its median times exp(σ²/2) and
  // its variance mean²·(exp(σ²) − 1); σ of spread(a, b) is ln(b/a)/(2·1.6448536).
  it("finds mean, variance and percentiles of the log-normal case, to the error it states", async () => {
    const uncertain: Mount = {
      ...onePath,
      joint: { conductance: spread("0.5 pW/K", "2 pW/K"), at: "0.1 K", exponent: 1e-9 },
      loads: [{ kind: "given", power: spread(1e-14, 4e-14) }],
      limit: { rise: "40 mK" },
    };
    const result = await confidence(uncertain, own);
    const sigma = (Math.sqrt(2) * Math.log(4)) / (2 * 1.6448536269514729);
    const rise = 0.02 * Math.exp(sigma ** 2 / 2);
    const near = ({ value, error }: { value: number; error: number }, exact: number) => {
      expect(Math.abs(value - exact)).toBeLessThan(4 * error + 3e-6 * exact);
      expect(error).toBeGreaterThan(0);
    };
    near(result.mean, 0.1 + rise);
    near(result.variance, rise ** 2 * (Math.exp(sigma ** 2) - 1));
    near(result.median, 0.12);
    near(result.band[1], 0.1 + 0.02 * Math.exp(1.6448536269514729 * sigma));
    // Φ(ln 2/σ) from SciPy 1.17, norm.cdf(log(2)/0.59595464)
    near(result.chance!, 0.8776029);
    expect(result.chance!.error).toBeLessThan(2e-3);
  });

  it("says three in so many of what never happened", async () => {
    const cool = await confidence(
      {
        ...onePath,
        loads: [{ kind: "given", power: spread(1e-16, 2e-16) }],
        limit: { rise: "1 K" },
      },
      { ...own, samples: 1024 },
    );
    expect(cool.chance).toEqual({ value: 1, error: 3 / 1024 });
  });

  it("is one result for one seed, and another for another", async () => {
    const options = { ...own, samples: 256 };
    const [first, again, other] = await Promise.all([
      confidence(uncertainExample, options),
      confidence(uncertainExample, options),
      confidence(uncertainExample, { ...options, seed: 2 }),
    ]);
    expect(again.temperatures).toEqual(first.temperatures);
    expect(other.temperatures).not.toEqual(first.temperatures);
    const off = Math.hypot(first.median.error, other.median.error);
    expect(Math.abs(other.median.value - first.median.value)).toBeLessThan(5 * off);
  });

  it("puts the median where the budget of the medians is, nearly", async () => {
    const result = await confidence(uncertainExample, { ...own, samples: 1024 });
    const { chip } = thermalBudget(uncertainExample);
    expect(Math.abs(result.median.value - chip.temperature)).toBeLessThan(0.02 * chip.rise);
  });

  it("counts what has no steady state as too warm", () => {
    const replicate = Float64Array.of(
      0.11,
      0.1,
      0.12,
      0,
      Number.POSITIVE_INFINITY,
      Number.NaN,
      Number.NaN,
      0,
    );
    const result = new Confidence("x", [], [replicate, replicate, replicate, replicate], {
      seed: 1,
      limited: true,
      pairs: [],
    });
    expect(result.chance!.value).toBe(0.5);
    expect(result.unsettled).toBe(4);
    expect(result.band[1].value).toBe(Number.POSITIVE_INFINITY);
    expect(result.toText()).toContain("4 samples have no steady state and count as too warm");
  });

  it("presents itself as text, Markdown and HTML", async () => {
    const result = await confidence(uncertainExample, { ...own, samples: 256 });
    expect(result.toText()).toContain(result.summary);
    expect(result.toMarkdown()).toContain("| chance to stay under the limit |");
    expect(result.toHtml()).toContain("<td>chip, median</td>");
    expect(result.convergence).toMatch(/^256 samples of \d+ inputs in 16 replicates, seed 1;/);
  });

  it("tells its progress, stops when told, and never returns a part", async () => {
    const seen: number[] = [];
    await confidence(uncertainExample, {
      ...own,
      samples: 256,
      progress: (done) => seen.push(done),
    });
    expect(seen.at(-1)).toBe(256);
    expect(seen).toEqual([...seen].sort((a, b) => a - b));
    const stop = new AbortController();
    const stopped = confidence(uncertainExample, {
      ...own,
      signal: stop.signal,
      progress: () => stop.abort(new Error("enough")),
    });
    await expect(stopped).rejects.toThrow("enough");
    const lossy = confidence(uncertainExample, { rows: "none", runner: async () => [] });
    await expect(lossy).rejects.toThrow("did not return every sample");
  });

  it("refuses samples, seeds and probabilities that are none", async () => {
    await expect(confidence(example, { ...own, samples: 2 })).rejects.toThrow("samples: expected");
    await expect(confidence(example, { ...own, replicates: 2 })).rejects.toThrow(
      "replicates: expected",
    );
    await expect(confidence(example, { ...own, seed: -1 })).rejects.toThrow(FieldError);
    await expect(sizeWithConfidence(example, { probability: 95 })).rejects.toThrow(
      "probability: expected a number between 0 and 1, got 95",
    );
    const { limit: _, ...unlimited } = example;
    await expect(sizeWithConfidence(unlimited)).rejects.toThrow("limit: expected a limit to hold");
  });
});

const uncertainExample: Mount = {
  ...example,
  bonds: { ...example.bonds!, residualResistivityRatio: spread(20, 60) },
  loads: [{ kind: "given", power: spread("4 nW", "9 nW") }],
};

describe("sizing with confidence", () => {
  it("finds the smallest number of bonds that meet the limit with the wanted chance: one less does not", async () => {
    const options = { ...own, samples: 1024 };
    const sized = await sizeWithConfidence(uncertainExample, { ...options, probability: 0.9 });
    const count = sized.count!;
    const chance = async (bonds: number) => {
      const bonded = { ...uncertainExample, bonds: { ...uncertainExample.bonds!, count: bonds } };
      return (await confidence(bonded, options)).chance!.value;
    };
    expect(await chance(count)).toBeGreaterThanOrEqual(0.9);
    expect(await chance(count - 1)).toBeLessThan(0.9);
    expect(count).toBeGreaterThan(sizeBonds(uncertainExample).count!);
    expect(sized.summary).toContain(`${count} bonds meet the limit with`);
    expect(sized.toMarkdown()).toContain("| bonds | chance to meet the limit |");
  });

  it("says so when as many as fit are too few", async () => {
    const warm = {
      ...uncertainExample,
      loads: [{ kind: "given", power: spread("60 nW", "90 nW") }],
    } as Mount;
    const sized = await sizeWithConfidence(warm, { ...own, samples: 64 });
    expect(sized.count).toBeUndefined();
    expect(sized.summary).toContain(`The ${sized.room} bonds that fit meet the limit with`);
  });
});

describe("workers", () => {
  const pools: SamplePool[] = [];
  const pool = (workers: number) => {
    const made = samplePool(workers);
    pools.push(made);
    return made;
  };
  let here: Confidence;
  beforeAll(async () => {
    here = await confidence(uncertainExample, { runner: solveHere, samples: 4096 });
  });
  afterAll(async () => {
    await Promise.all(pools.map((each) => each.close()));
  });

  slowly("give the same result to the last digit, be they one, two or three", async () => {
    for (const workers of [1, 2, 3]) {
      const { runner } = pool(workers);
      const result = await confidence(uncertainExample, { runner, samples: 4096 });
      expect(result.temperatures).toEqual(here.temperatures);
      expect(result.median).toEqual(here.median);
    }
  });

  slowly("that are killed have their chunk done again", async () => {
    const killed = pool(2);
    let kills = 0;
    const result = await confidence(uncertainExample, {
      runner: killed.runner,
      samples: 4096,
      progress: () => {
        if (kills++ === 0) void killed.threads()[0]!.terminate();
      },
    });
    expect(kills).toBeGreaterThan(0);
    expect(result.temperatures).toEqual(here.temperatures);
  });

  it("that die again and again fail the run", async () => {
    const doomed = pool(1);
    const run = confidence(uncertainExample, { runner: doomed.runner, samples: 4096 });
    const killer = setInterval(() => {
      for (const thread of doomed.threads()) void thread.terminate();
    }, 20);
    await expect(run).rejects.toThrow("workers died in each of 3 attempts");
    clearInterval(killer);
  });

  slowly("stop when told, and are fit for the next run", async () => {
    const { runner } = pool(2);
    const stop = new AbortController();
    const stopped = confidence(uncertainExample, {
      runner,
      samples: 65_536,
      signal: stop.signal,
      progress: () => stop.abort(new Error("enough")),
    });
    await expect(stopped).rejects.toThrow("enough");
    const after = await confidence(uncertainExample, { runner, samples: 4096 });
    expect(after.temperatures).toEqual(here.temperatures);
  });
});
