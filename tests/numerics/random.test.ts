import { xoroshiro128plusFromState } from "pure-rand/generator/xoroshiro128plus";
import { describe, expect, it } from "vitest";
import { random } from "../../src/numerics/random.js";
import { kolmogorovSmirnov, moments, normalShare } from "./statistics.js";

const count = 100_000;
const drawn = (draw: () => number, n = count) => Array.from({ length: n }, draw);

describe("random numbers", () => {
  it("are the same for the same seed and stream, and different for others", () => {
    const first = drawn(random(5).uniform, 10);
    expect(drawn(random(5, 0).uniform, 10)).toEqual(first);
    const others = [random(6), random(5, 1), random(0, 5), random(5 + 2 ** 32)];
    for (const other of others) {
      const found = drawn(other.uniform, 10);
      expect(found.filter((x) => first.includes(x))).toEqual([]);
    }
  });

  it("come from xoroshiro128+ as it was published", () => {
    // By whole numbers of 64 bits, with the rotations 24, 16, 37 of the authors' code of 2018.
    const wide = (high: number, low: number) => (BigInt(high >>> 0) << 32n) | BigInt(low >>> 0);
    const mask = (1n << 64n) - 1n;
    const turned = (x: bigint, k: bigint) => ((x << k) | (x >> (64n - k))) & mask;
    const words = [123456789, -987654321, 42, 77];
    let [s0, s1] = [wide(words[0]!, words[1]!), wide(words[2]!, words[3]!)];
    const generator = xoroshiro128plusFromState(words);
    for (let i = 0; i < 1000; i++) {
      const sum = (s0 + s1) & mask;
      expect(generator.next() >>> 0).toBe(Number(sum & 0xffffffffn));
      s1 ^= s0;
      s0 = turned(s0, 24n) ^ s1 ^ ((s1 << 16n) & mask);
      s1 = turned(s1, 37n);
    }
  });

  it("are even between 0 and 1", () => {
    const sample = drawn(random(1).uniform);
    const { mean, variance } = moments(sample);
    // Standard errors: √(1/12/n) of the mean, √(1/180/n) of the variance.
    expect(Math.abs(mean - 1 / 2)).toBeLessThan(3 * Math.sqrt(1 / 12 / count));
    expect(Math.abs(variance - 1 / 12)).toBeLessThan(3 * Math.sqrt(1 / 180 / count));
    expect(kolmogorovSmirnov(sample, (x) => x)).toBeLessThan(1.63);
    expect(Math.min(...sample.slice(0, 1e4))).toBeGreaterThan(0);
    expect(Math.max(...sample.slice(0, 1e4))).toBeLessThan(1);
  });

  it("are normal, with a variance of 1", () => {
    const sample = drawn(random(2).normal);
    const { mean, variance } = moments(sample);
    expect(Math.abs(mean)).toBeLessThan(3 / Math.sqrt(count));
    expect(Math.abs(variance - 1)).toBeLessThan(3 * Math.sqrt(2 / count));
    expect(kolmogorovSmirnov(sample, normalShare)).toBeLessThan(1.63);
    // Pairs drawn together do not depend on each other.
    const product = sample.reduce((sum, x, i) => (i % 2 ? sum + x * sample[i - 1]! : sum), 0);
    expect(Math.abs(product)).toBeLessThan(3 * Math.sqrt(count / 2));
  });

  it("wait exponentially, with a mean of 1", () => {
    const sample = drawn(random(3).exponential);
    const { mean, variance } = moments(sample);
    expect(Math.abs(mean - 1)).toBeLessThan(3 / Math.sqrt(count));
    // Fourth central moment 9, so the variance's own is 8/n.
    expect(Math.abs(variance - 1)).toBeLessThan(3 * Math.sqrt(8 / count));
    expect(kolmogorovSmirnov(sample, (x) => 1 - Math.exp(-x))).toBeLessThan(1.63);
  });

  it("pick whole numbers alike", () => {
    const { below } = random(4);
    const counts = new Array<number>(7).fill(0);
    for (let i = 0; i < count; i++) counts[below(7)]!++;
    const chiSquare = counts.reduce((sum, n) => sum + (n - count / 7) ** 2 / (count / 7), 0);
    // 6 degrees of freedom: above 16.8 in 1 % of cases.
    expect(chiSquare).toBeLessThan(16.8);
  });

  it("of neighbouring seeds and streams do not depend on each other", () => {
    // The first number of each of many seeds, and of many streams, is an even sample too.
    for (const [k, first] of [
      drawn(() => 0, 20_000).map((_, seed) => random(seed).uniform()),
      drawn(() => 0, 20_000).map((_, stream) => random(9, stream).uniform()),
    ].entries()) {
      expect(
        kolmogorovSmirnov(first, (x) => x),
        `${k}`,
      ).toBeLessThan(1.63);
      const lag = first.slice(1).reduce((sum, x, i) => sum + (x - 0.5) * (first[i]! - 0.5), 0);
      expect(Math.abs(lag)).toBeLessThan((3 * Math.sqrt(20_000)) / 12);
    }
    const [a, b] = [random(11, 0), random(11, 1)];
    let together = 0;
    for (let i = 0; i < count; i++) together += (a.uniform() - 0.5) * (b.uniform() - 0.5);
    expect(Math.abs(together)).toBeLessThan((3 * Math.sqrt(count)) / 12);
  });

  it("ask for a whole seed", () => {
    expect(() => random(1.5)).toThrow(
      "seed: expected a whole number from 0 to 9007199254740991, got 1.5",
    );
    expect(() => random(-1)).toThrow("seed: expected a whole number");
    expect(() => random(1, Number.NaN)).toThrow("stream: expected a whole number");
  });
});
