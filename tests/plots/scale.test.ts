import { describe, expect, it } from "vitest";
import { number, roundNumbers, scaleOf } from "../../src/plots/scale.js";

describe("scales", () => {
  it("have round ticks inside their range", () => {
    const ticks = scaleOf("x", { range: [0.31, 1.94] }).ticks.map(({ text }) => text);
    expect(ticks).toEqual(["0.5", "1.0", "1.5"]);
  });

  it("have ticks at 1, 2 and 5 over a few decades, and at powers of ten over many", () => {
    const texts = (range: [number, number]) =>
      scaleOf("x", { type: "log", range }).ticks.map(({ text }) => text);
    expect(texts([0, 1])).toEqual(["1", "2", "5", "10"]);
    expect(texts([-9, -5])).toEqual(["10⁻⁹", "10⁻⁸", "10⁻⁷", "10⁻⁶", "10⁻⁵"]);
  });

  it("write numbers as people do", () => {
    expect([0, 0.02, 1234, 2e5, -5e-7].map((v) => number(v))).toEqual([
      "0",
      "0.02",
      "1234",
      "2·10⁵",
      "−5·10⁻⁷",
    ]);
  });

  it("share their length from the first to the last, reversed where asked", () => {
    const share = (more: object) => scaleOf("x", { range: [0, 4], ...more }).share(1);
    expect(share({})).toBe(0.25);
    expect(share({ autorange: "reversed" })).toBe(0.75);
    expect(scaleOf("x", { type: "log", range: [0, 2] }).share(10)).toBe(0.5);
  });
});

describe("round numbers", () => {
  it("are 1, 2 and 5 times powers of ten, ends included", () => {
    expect(roundNumbers(0.02, 1)).toEqual([0.02, 0.05, 0.1, 0.2, 0.5, 1]);
    expect(roundNumbers(1e-7, 1e-5, [1])).toEqual([1e-7, 1e-6, 1e-5]);
    expect(roundNumbers(2.1, 4.9)).toEqual([]);
  });
});
