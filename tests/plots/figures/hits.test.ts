import { describe, expect, it } from "vitest";
import { type HitSimulation, hitsFigure } from "../../../src/index.js";
import { read } from "../read.js";

/** Ten seconds above 1 mK and a hundred above 0.1 mK, of a thousand. */
const record = (threshold?: number, hits: readonly number[] = [1]) =>
  ({
    hits,
    distribution: {
      rises: Float64Array.of(1e-9, 1e-4, 1e-3, 1e-2),
      times: Float64Array.of(900, 100, 10, 0),
    },
    duration: 1000,
    baseline: 0.1,
    threshold,
    shareAbove: () => 0.01,
  }) as unknown as HitSimulation;

describe("the figure of hits", () => {
  it("has the share of the time against the rise, without what no axis can show", () => {
    const { traces, x, y } = read(hitsFigure([{ name: "a", record: record() }]));
    expect([traces[0]!.x, traces[0]!.y]).toEqual([
      [0.1, 1],
      [0.1, 0.01],
    ]);
    expect([x, y]).toEqual(["chip above the baseline (mK)", "share of the time above"]);
  });

  it("marks a limit that all records share and that lies above the steady state", () => {
    const limits = (...thresholds: number[]) =>
      read(hitsFigure(thresholds.map((T) => ({ name: `${T}`, record: record(T) })))).shapes;
    expect(limits(0.105, 0.105)[0]!.x0).toBeCloseTo(5, 9);
    expect(limits(0.105, 0.11)).toEqual([]);
    expect(limits(0.09)).toEqual([]);
  });

  it("is refused without any hit", () => {
    expect(() => hitsFigure([{ name: "a", record: record(undefined, []) }])).toThrow(
      "records: expected a record with a hit in it, got 1",
    );
  });
});
