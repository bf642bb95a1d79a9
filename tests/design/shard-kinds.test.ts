import { describe, expect, it } from "vitest";
import { sampleWork, sweepWork } from "../../src/design/shard-kinds.js";
import { sweep } from "../../src/design/sweeping/sweep.js";
import type { Mount } from "../../src/mount/mount.js";
import { spread } from "../../src/units/spread.js";
import { catalogue, padded, smallest } from "../mount/things/smallest.js";

const base = smallest({ ...padded, limit: { rise: "5 mK" } });
const mount: Mount = { ...base, die: { ...base.die, model: "one node" } };
const counts = { field: "bonds.count", values: [4, 8, 12] } as const;
const stages = { field: "stage", values: ["0.1 K", "0.2 K"] } as const;

describe("a sweep as work of rows", () => {
  const work = sweepWork(mount, counts, stages, { catalogue });
  const all = sweep(mount, counts, stages, { catalogue });

  it("has a row a point, the last axis fastest, and a column a place", () => {
    expect(work.rows).toBe(6);
    const { columns, values } = work.compute(3, 5);
    expect(columns[0]).toBe("die [K]");
    expect(values).toHaveLength(2 * columns.length);
    // Point 3 is 8 bonds at 0.2 K, point 4 is 12 bonds at 0.1 K.
    expect(values[0]).toBe(all.temperature(1, 1));
    expect(values[columns.length]).toBe(all.temperature(2, 0));
  });

  it("is written with its axes first", () => {
    const lines = work.csv(all).trim().split("\n");
    expect(lines).toHaveLength(7);
    expect(lines[0]).toMatch(/^"?bonds\.count"?,"?stage"?,"?die \[K\]/);
    const [count, stage, chip] = lines[6]!.split(",").map(Number);
    expect([count, stage, chip]).toEqual([12, 0.2, all.temperature(2, 1)]);
  });

  it("depends on mount, axes and data, and on no order in which they are computed", () => {
    const other = (pathLength: number) => {
      const box = { ...mount.box, pathLength } as const;
      return sweepWork({ ...mount, box }, counts, stages, { catalogue }).dependsOn;
    };
    expect(other(1e-2)).toEqual(work.dependsOn);
    expect(other(1.1e-2)).not.toEqual(work.dependsOn);
    const parts = [work.compute(0, 2), work.compute(2, 6)];
    const { columns } = parts[0]!;
    const merged = work.finish({
      what: "sweep",
      run: "",
      columns,
      values: Float64Array.from(parts.flatMap(({ values }) => [...values])),
      more: parts.map(({ more }) => more),
    });
    expect(merged).toEqual(all);
  });
});

describe("samples as work of rows", () => {
  it("have a row a sample, and are pinned by their seed and number", async () => {
    const bonds = { ...padded.bonds, length: spread("1 mm", "3 mm") };
    const uncertain: Mount = { ...mount, bonds };
    const options = { catalogue, rows: "none", samples: 64, seed: 3 } as const;
    const work = sampleWork(uncertain, options);
    expect(work.rows).toBe(64);
    const { columns, values } = await work.compute(10, 12);
    expect(columns).toEqual(["chip [K]", "stage [K]", "limit [K]", "ranges left"]);
    expect(values).toHaveLength(8);
    expect([values[1], values[2], values[6]]).toEqual([
      0.1,
      expect.closeTo(0.105, 12),
      expect.closeTo(0.105, 12),
    ]);
    expect(values[0]).toBeGreaterThan(0.1);
    expect(sampleWork(uncertain, { ...options, seed: 4 }).dependsOn).not.toEqual(work.dependsOn);
    expect(sampleWork(uncertain, { ...options, samples: 128 }).rows).toBe(128);
  });
});
