import { describe, expect, it } from "vitest";
import type { Load } from "../../src/conductor.js";
import { eigenTimes } from "../../src/network/eigen-times.js";
import { runInTime } from "../../src/network/transient.js";
import type { Row } from "./networks.js";
import { hitDie, linearLoad, storing } from "./stores.js";

/** A chain of n equal nodes on a stage, R = C = 1. */
function chain(n: number) {
  const names = Array.from({ length: n }, (_, i) => `n${i}`);
  return storing(
    { stage: 1 },
    {},
    Object.fromEntries(names.map((name) => [name, [1, 1] as const])),
    names.map((name, i): Row => [name, names[i + 1] ?? "stage", 1, 1]),
  );
}

/** Rate k of such a chain: 4 sin²((2k + 1)π/(2(2n + 1))), eigenvalues of the second difference. */
const chainTime = (n: number, k: number) =>
  1 / (4 * Math.sin(((2 * k + 1) * Math.PI) / (2 * (2 * n + 1))) ** 2);

describe("eigenTimes", () => {
  it("of one node is C/G at its temperature, steady or given.", () => {
    // C = 2aT, G = 4cT³
    const one = storing({ stage: 0.1 }, {}, { chip: [1e-9, 2] }, [["chip", "stage", 1e-6, 4]]);
    const time = (T: number) => (2e-9 * T) / (4e-6 * T ** 3);
    expect(eigenTimes(one)).toHaveLength(1);
    expect(eigenTimes(one)[0]!.time / time(0.1)).toBeCloseTo(1, 12);
    const warm = eigenTimes(one, { temperatures: new Map([["chip", 0.3]]) });
    expect(warm[0]!.time / time(0.3)).toBeCloseTo(1, 12);
    expect([...warm[0]!.weights]).toEqual([["chip", 1]]);
  });

  it("of a chain are those of the second difference, all of them or the slowest of many nodes.", () => {
    eigenTimes(chain(40)).forEach(({ time }, k) => {
      expect(time / chainTime(40, k)).toBeCloseTo(1, 11);
    });
    const slowest = eigenTimes(chain(800), { count: 8 });
    expect(slowest).toHaveLength(8);
    slowest.forEach(({ time, weights }, k) => {
      expect(time / chainTime(800, k)).toBeCloseTo(1, 9);
      // Shape cos((2k + 1)π(i + ½)/(2n + 1)), so that the free end has 4/(2n + 1) cos² of that at 0.
      const end = (4 / 1601) * Math.cos(((2 * k + 1) * Math.PI * 0.5) / 1601) ** 2;
      expect(weights.get("n0")! / end).toBeCloseTo(1, 6);
    });
  });

  it("keep their digits when they are 1 ns and 1e5 s.", () => {
    const film = storing({ stage: 0.1 }, {}, { film: [1e-15, 1], block: [1e-1, 1] }, [
      ["film", "block", 1e-6, 1],
      ["block", "stage", 1e-6, 1],
    ]);
    const [slow, fast] = eigenTimes(film);
    expect(slow!.time / 1e5).toBeCloseTo(1, 10);
    expect(fast!.time / 1e-9).toBeCloseTo(1, 10);
    expect(slow!.weights.get("block")).toBeCloseTo(1, 12);
    expect(fast!.weights.get("film")).toBeCloseTo(1, 12);
  });

  it("see through nodes that store nothing, and count a load that changes with temperature.", () => {
    // 1/(1/2 + 1/3) = 1.2, less a load that rises by 0.2 µW/K
    const description = storing({ stage: 0.1 }, {}, { chip: [1e-9, 1] }, [
      ["chip", "joint", 2e-6, 1],
      ["joint", "stage", 3e-6, 1],
    ]);
    expect(eigenTimes(description)[0]!.time / (1e-9 / 1.2e-6)).toBeCloseTo(1, 12);
    const loaded = (load: Load) => ({
      ...description,
      nodes: description.nodes.map((n) => (n.name === "chip" ? { ...n, load } : n)),
    });
    const rising = eigenTimes(loaded(linearLoad(1e-9, 0.2e-6, 0.1)));
    expect(rising[0]!.time / 1e-3).toBeCloseTo(1, 12);
    expect(() =>
      eigenTimes(loaded(linearLoad(1e-9, 2e-6, 0.1)), { temperatures: new Map([["chip", 0.1]]) }),
    ).toThrow(/eigenTimes: at these temperatures a change grows at node "(chip|joint)"/);
  });

  it("are those with which a run decays.", () => {
    const times = eigenTimes(hitDie);
    expect(times).toHaveLength(8);
    for (const { weights } of times) {
      expect([...weights.values()].reduce((sum, w) => sum + w, 0)).toBeCloseTo(1, 12);
    }
    // A little heat in the plate, seen when all but the slowest has died away.
    const solution = runInTime(hitDie, {
      duration: 4e3,
      pulses: [{ time: 0, node: "plate", energy: 2e-6 }],
      relativeTolerance: 1e-11,
    });
    const rest = solution.at(0);
    const rise = (time: number) => {
      const steady = runInTime(hitDie, { duration: 1 }).temperature("plate", 1);
      return solution.temperature("plate", time) - steady;
    };
    expect(rest.get("plate")).toBeLessThan(0.1003);
    const fitted = 2e3 / Math.log(rise(2e3) / rise(4e3));
    expect(Math.abs(fitted / times[0]!.time - 1)).toBeLessThan(1e-3);
    expect(times[0]!.weights.get("plate")).toBeGreaterThan(0.9);
    // And the fastest, of the node that is hit.
    const fast = runInTime(hitDie, {
      duration: 1e-9,
      pulses: [{ time: 0, node: "hit", energy: 1e-19 }],
      relativeTolerance: 1e-12,
    });
    const above = (time: number) => fast.temperature("hit", time) - fast.temperature("hit", 1e-9);
    const last = times[times.length - 1]!;
    expect(last.weights.get("hit")).toBeGreaterThan(0.99);
    const found = 1e-10 / Math.log(above(1e-11) / above(1.1e-10));
    expect(Math.abs(found / last.time - 1)).toBeLessThan(2e-3);
  });

  it("refuses a count that is none.", () => {
    expect(() => eigenTimes(chain(3), { count: 0 })).toThrow(
      "count: expected a whole number from 1",
    );
    expect(() => eigenTimes(chain(400), { count: 101 })).toThrow(
      "count: expected a whole number from 1 to 100, got 101",
    );
    expect(eigenTimes(chain(3), { count: 2 })).toHaveLength(2);
    expect(eigenTimes(chain(400))).toHaveLength(6);
  });
});
