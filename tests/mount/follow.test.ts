import { describe, expect, it } from "vitest";
import { followed, loadedNetwork } from "../../src/mount/follow.js";
import { inTime } from "../../src/mount/in-time.js";
import type { InTime, LoadInTime } from "../../src/mount/timed.js";
import { modelOf, smallest } from "./things/smallest.js";

const whole = (node: string) => [{ node, share: 1 }];
const load = (name: string, power: number, more: object = {}) =>
  ({ name, load: { power }, nodes: whole("die"), ...more }) as unknown as LoadInTime;
const network = {
  nodes: [{ name: "die" }, { name: "box" }, { name: "stage", temperature: 0.1 }],
  links: [],
};
const loaded = (loads: readonly LoadInTime[], changing: readonly string[] = []) =>
  loadedNetwork(
    { network } as unknown as InTime,
    loads,
    new Map(changing.map((name) => [name, { breaks: [], at: () => 1 }])),
  ).nodes.map((node) => node.load);

describe("the loads of a run in time", () => {
  it("are watts on their nodes by their shares; those that change are left out", () => {
    const halves = ["die", "box"].map((node) => ({ node, share: 0.5 }));
    const loads = [load("light", 2), load("lamp", 4, { nodes: halves }), load("tones", 8)];
    expect(loaded(loads)).toEqual([12, 2, undefined]);
    expect(loaded(loads, ["tones"])).toEqual([4, 2, undefined]);
  });

  it("are one law where some depend on the temperature", () => {
    const law = { power: (T: number) => 10 * T, slope: () => 10 };
    const [onDie] = loaded([
      load("light", 2),
      load("tones", 0, { law }),
      load("others", 0, { law, nodes: [{ node: "die", share: 0.5 }] }),
    ]) as unknown as readonly (typeof law)[];
    expect([onDie!.power(0.2), onDie!.slope()]).toEqual([5, 15]);
  });
});

describe("a run in time", () => {
  const ready = inTime(modelOf(smallest(), "one node"));

  it("is given its loads, its hits, and energy that comes evenly between two times", () => {
    const [duration, burst, hit] = [1e-3, 5e-13, 2e-13];
    const run = (...times: [from: number, to: number][]) =>
      followed(
        ready,
        { duration, hits: [{ at: 2e-4, energy: hit }] },
        times.map(([from, to]) => ({ from, to, energy: burst, nodes: whole("die") })),
      ).solution.energy;
    for (const { given, imbalance } of [run([0, 1e-4], [3e-4, 6e-4])]) {
      expect(given / (1e-9 * duration + hit + 2 * burst)).toBeCloseTo(1, 6);
      expect(Math.abs(imbalance)).toBeLessThan(1e-7);
    }
    // Half of it comes after the end.
    expect(run([5e-4, 1.5e-3]).given / (1e-12 + hit + burst / 2)).toBeCloseTo(1, 6);
  });

  it("starts in its steady state, or at a temperature of everything that stores heat", () => {
    const start = (more: object) => {
      const { solution } = followed(ready, { duration: 1e-6, ...more });
      return ["die", "box by the die"].map((name) => solution.temperature(name, 0));
    };
    const { reading } = modelOf(smallest(), "one node").point();
    const [die] = start({});
    expect(die! / reading.temperatures.get("die")!).toBeCloseTo(1, 6);
    for (const T of start({ start: "250 mK" })) expect(T).toBeCloseTo(0.25, 9);
    expect(() => start({ start: "0 K" })).toThrow("start: expected a temperature");
  });

  it("refuses hits after its end or before each other, and a stage by itself that is moved", () => {
    const hits = (...times: number[]) => ({
      duration: 1e-3,
      hits: times.map((at) => ({ at, energy: 1e-15 })),
    });
    expect(() => followed(ready, hits(1e-3))).toThrow(
      'hits[0].at: expected a time before the end, 1 ms, got "1 ms"',
    );
    expect(() => followed(ready, hits(5e-4, 4e-4))).toThrow(
      'hits[1].at: expected no time before that of the hit before, 500 µs, got "400 µs"',
    );
    const cooled = smallest({ stage: { dilution: { circulation: 3e-4, base: 0.02 } } });
    const moved = { duration: 1, stage: [{ at: 0, to: 0.2 }] };
    expect(() => followed(inTime(modelOf(cooled, "one node")), moved)).toThrow(
      "stage: expected a mount whose stage has a given temperature",
    );
  });
});
