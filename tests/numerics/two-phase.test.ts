import { describe, expect, it } from "vitest";
import { random } from "../../src/numerics/random.js";
import {
  drawAlong,
  drawChances,
  fitLinear,
  fitted,
  twoPhaseMean,
} from "../../src/numerics/two-phase.js";

/** Variance of the estimates of a mean from n points of f in company of c·g, of known mean. */
function varianceOf(
  f: (u: number) => number,
  quick: (u: number) => number,
  mean: number,
  points: number,
) {
  const next = random(5);
  const runs = 4000;
  const found = Array.from({ length: runs }, () => {
    let sum = mean;
    for (let k = 0; k < points; k++) {
      const u = next.uniform();
      sum += (f(u) - quick(u)) / points;
    }
    return sum;
  });
  const middle = found.reduce((sum, x) => sum + x / runs, 0);
  const square = found.reduce((sum, x) => sum + (x - middle) ** 2 / (runs - 1), 0);
  return { middle, variance: square * points };
}

describe("a mean from a cheap number everywhere and an expensive one at few points", () => {
  // Worked by hand from the integrals: ∫eᵘ with control U has slope 1.6903090, leaves 3.940223e-3 of the
  // variance 0.2420356 (61.4 times less; 98.4 % in the textbooks of S. Ross and M. Rizzo, from memory);
  // ∫1/(1+u) with control 1 + U has slope −0.4766493 and leaves 6.141105e-4 of 0.01954699.
  const cases = [
    [Math.exp, 1.690309, 3.940223e-3, Math.E - 1],
    [(u: number) => 1 / (1 + u), -0.4766493, 6.141105e-4, Math.log(2)],
  ] as const;

  it("finds the best slope, and leaves the variance that is known", () => {
    for (const [f, slope, left, exact] of cases) {
      const next = random(3);
      const points = Array.from({ length: 20_000 }, () => Float64Array.of(next.uniform()));
      const fit = fitLinear(
        points.map(([u]) => [Math.sqrt(12) * (u! - 0.5)]),
        points.map(([u]) => f(u!)),
      );
      const own = Math.sqrt(12) * fit.slopes[0]!;
      // Slopes are drawn to 0 by a hundredth.
      expect(own / slope).toBeGreaterThan(0.98);
      expect(own / slope).toBeLessThan(1.002);
      expect(fit.scatter ** 2 / left).toBeGreaterThan(0.97);
      const quick = (u: number) => slope * (u - 0.5) + exact;
      const { middle, variance } = varianceOf(f, quick, exact, 8);
      // A variance from 4000 runs scatters by √(2/4000) = 2.2 %.
      expect(Math.abs(variance / left - 1)).toBeLessThan(0.09);
      expect(Math.abs(middle - exact)).toBeLessThan(4 * Math.sqrt(left / 8 / 4000));
    }
  });

  it("has no bias however far the quick number is off, with unequal chances", () => {
    const n = 400;
    const quick = Float64Array.from({ length: n }, (_, k) => Math.sin(k));
    const expensive = quick.map((g, k) => g * 3 + (k % 7 === 0 ? 5 : 0.1));
    const chances = drawChances(
      quick.map((_, k) => 0.2 + (k % 7 === 0 ? 2 : 0)),
      40,
    );
    const order = Array.from({ length: n }, (_, k) => k).sort((a, b) => quick[a]! - quick[b]!);
    const exact = expensive.reduce((sum, x) => sum + x / n, 0);
    const next = random(11);
    const runs = 3000;
    let [mean, square] = [0, 0];
    for (let run = 0; run < runs; run++) {
      const drawn = drawAlong(order, chances, next).map((k) => ({
        weight: 1 / chances[k]!,
        difference: expensive[k]! - quick[k]!,
      }));
      const estimate = twoPhaseMean(quick, drawn);
      mean += estimate / runs;
      square += (estimate - exact) ** 2 / runs;
    }
    expect(Math.abs(mean - exact)).toBeLessThan(4 * Math.sqrt(square / runs));
    expect(Math.abs(mean - exact)).toBeLessThan(0.01);
  });

  it("draws as many as are asked for, and those of a chance of 1 always", () => {
    const chances = drawChances(Float64Array.of(100, 1, 1, 1, 1), 3);
    expect([...chances]).toEqual([1, 0.5, 0.5, 0.5, 0.5]);
    for (let seed = 0; seed < 50; seed++) {
      const some = drawAlong([1, 2, 0, 3, 4], chances, random(seed));
      expect(some).toContain(0);
      expect(some).toHaveLength(3);
    }
  });

  it("fits a plane, with what it leaves", () => {
    const next = random(7);
    const points = Array.from({ length: 4000 }, () => [next.normal(), next.normal()]);
    const fit = fitLinear(
      points,
      points.map(([a, b]) => 2 + a! - 0.5 * b! + 0.1 * next.normal()),
    );
    expect(fit.constant).toBeCloseTo(2, 2);
    expect(fitted(fit, [1, 1])).toBeCloseTo(2.5, 1);
    expect(fit.scatter).toBeCloseTo(0.1, 2);
    expect(fit.error).toBeCloseTo(0.1 * Math.sqrt(3 / 4000), 3);
  });
});

/**
 * Geometric Brownian motion dS = rS dt + σS dW from S = 1 for a year, the example of M. B. Giles, Multilevel
 * Monte Carlo path simulation, Oper. Res. 56, 607 (2008), with r = 0.05, σ = 0.2: the cheap number has one
 * step of Euler's scheme, the expensive one more, or none (the solution in closed form), by the same path.
 */
describe("two levels of a stochastic differential equation", () => {
  const [r, sigma] = [0.05, 0.2];
  const euler = (increments: readonly number[]) =>
    increments.reduce((S, dW) => S * (1 + r / increments.length + sigma * dW), 1);
  const points = 400;
  const order = Array.from({ length: points }, (_, k) => k);

  it("leave the variance that is known: V(f)/n + V(f − g)(1/m − 1/n)", () => {
    // Of the discounted end in four steps, in closed form by the moments of Euler's scheme; the difference
    // from one step has variance 6.264631e-4 and mean 8.992323e-4, worked out with those.
    const [steps, drawnOf] = [4, 20];
    const a = 1 + r / steps;
    const own = Math.exp(-2 * r) * ((a ** 2 + sigma ** 2 / steps) ** steps - a ** (2 * steps));
    const mean = Math.exp(-r) * a ** steps;
    expect(mean - Math.exp(-r) * (1 + r)).toBeCloseTo(8.992323e-4, 9);
    const left = own / points + 6.264631e-4 * (1 / drawnOf - 1 / points);
    const next = random(2008);
    const runs = 3000;
    let [middle, square] = [0, 0];
    for (let run = 0; run < runs; run++) {
      const paths = order.map(() => {
        const dW = Array.from({ length: steps }, () => next.normal() * Math.sqrt(1 / steps));
        const whole = dW.reduce((sum, each) => sum + each, 0);
        return [euler([whole]), euler(dW)].map((end) => Math.exp(-r) * end) as [number, number];
      });
      const chances = drawChances(new Float64Array(points).fill(1), drawnOf);
      const drawn = drawAlong(order, chances, next).map((k) => ({
        weight: 1 / chances[k]!,
        difference: paths[k]![1] - paths[k]![0],
      }));
      const found = twoPhaseMean(
        paths.map(([cheap]) => cheap),
        drawn,
      );
      middle += found / runs;
      square += (found - mean) ** 2 / runs;
    }
    // A variance from 3000 runs scatters by √(2/3000) = 2.6 %.
    expect(Math.abs(square / left - 1)).toBeLessThan(0.1);
    expect(Math.abs(middle - mean)).toBeLessThan(4 * Math.sqrt(left / runs));
    // Twenty expensive paths alone would leave 15 times as much.
    expect(own / drawnOf / square).toBeGreaterThan(14);
  });

  it("price a call as Black and Scholes do, drawn the more the farther the path goes", () => {
    // S N(d₁) − K e^(−rT) N(d₂) for S = K = 1 (J. Polit. Econ. 81, 637 (1973)).
    const exact = 0.1045058357;
    const call = (end: number) => Math.exp(-r) * Math.max(0, end - 1);
    const next = random(1973);
    const runs = 2000;
    let [middle, square, plain] = [0, 0, 0];
    for (let run = 0; run < runs; run++) {
      const all = order.map(() => next.normal());
      const cheap = all.map((W) => call(euler([W])));
      const weights = Float64Array.from(all, (W) => 0.3 + W ** 2);
      const chances = drawChances(weights, 20);
      const drawn = drawAlong(order, chances, next).map((k) => ({
        weight: 1 / chances[k]!,
        difference: call(Math.exp(r - sigma ** 2 / 2 + sigma * all[k]!)) - cheap[k]!,
      }));
      const found = twoPhaseMean(cheap, drawn);
      middle += found / runs;
      square += (found - exact) ** 2 / runs;
      const few = all.slice(0, 20).map((W) => call(Math.exp(r - sigma ** 2 / 2 + sigma * W)));
      plain += (few.reduce((sum, value) => sum + value / 20, 0) - exact) ** 2 / runs;
    }
    expect(Math.abs(middle - exact)).toBeLessThan(4 * Math.sqrt(square / runs));
    expect(plain / square).toBeGreaterThan(8);
  });
});
