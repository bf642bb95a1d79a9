import { describe, expect, it } from "vitest";
import { Confidence } from "../../../src/design/confidence/confidence.js";
import { spreadFigure } from "../../../src/plots/figures/spread.js";

interface Trace {
  readonly type: string;
  readonly name: string;
  readonly x: readonly number[];
  readonly y: readonly number[];
}

/** Even temperatures from 110 to 130 mK, with a limit. */
function even(limit: number | undefined, lost = 0): Confidence {
  const n = 400;
  const replicates = [0, 1, 2, 3].map((r) =>
    Float64Array.from({ length: n }, (_, k) => {
      const T = 0.11 + 0.02 * ((k + (r + 0.5) / 4) / n);
      return k < lost ? Number.POSITIVE_INFINITY : T;
    }),
  );
  const samples = replicates.map((each) =>
    Float64Array.from([...each].flatMap((T) => [T, 0.1, limit ?? Number.NaN, 0])),
  );
  return new Confidence("even", [], samples, { seed: 1, limited: limit !== undefined, pairs: [] });
}

const traces = (confidence: Confidence) =>
  spreadFigure(confidence, { bars: 20 }).data as unknown as readonly Trace[];

describe("the figure of a spread", () => {
  it("fills the middle 90 % of the samples and shows the rest apart", () => {
    const [inside, rest] = traces(even(0.125)) as [Trace, Trace];
    const sum = (values: readonly number[]) => values.reduce((total, y) => total + y, 0);
    expect(inside.name).toBe("middle 90 %");
    expect(Math.min(...inside.x)).toBeGreaterThan(111);
    expect(Math.max(...inside.x)).toBeLessThan(129);
    // A bar belongs to the band by its middle, so a bar at either end may be counted the other way.
    expect(Math.abs(sum(inside.y) - 90)).toBeLessThan(10);
    expect(sum(inside.y) + sum(rest.y)).toBeCloseTo(99.5, 0);
  });

  it("rises from nothing to all, by half at the median", () => {
    const [, , curve] = traces(even(0.125)) as [Trace, Trace, Trace];
    expect(curve.y[0]).toBeLessThan(1);
    expect(curve.y.at(-1)).toBeGreaterThan(99);
    const half = curve.x[curve.y.findIndex((y) => y >= 50)]!;
    expect(Math.abs(half - 120)).toBeLessThan(0.2);
    expect([...curve.y]).toEqual([...curve.y].sort((a, b) => a - b));
  });

  it("says the units, the limit and the chance, and where a limit lies outside", () => {
    const figure = spreadFigure(even(0.125));
    const text = JSON.stringify(figure.layout);
    expect(text).toContain("hottest point on the chip (mK)");
    expect(text).toContain("at or below (%)");
    expect(text).toContain('"limit"');
    expect(figure.alt).toContain("median 120.0 mK, 90 % between 111.0 mK and 129.0 mK");
    expect(figure.alt).toContain("the limit is met with 75.0 % confidence");
    expect(JSON.stringify(spreadFigure(even(0.2)).layout)).toContain("limit at 200 mK, outside");
    expect(spreadFigure(even(undefined)).alt).not.toContain("limit");
  });

  it("draws only numbers when some samples have no steady state", () => {
    const all = traces(even(0.125, 40)).flatMap(({ x, y }) => [...x, ...y]);
    expect(all.every(Number.isFinite)).toBe(true);
    const [, , curve] = traces(even(0.125, 40)) as [Trace, Trace, Trace];
    expect(curve.y.at(-1)).toBeLessThan(90.1);
  });
});
