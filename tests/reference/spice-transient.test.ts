import { expect, test } from "vitest";
import type { NetworkDescription } from "../../src/network/description.js";
import { runInTime } from "../../src/network/transient.js";
import { hitDie, storing } from "../network/stores.js";
import { simulateInTime } from "./spice.js";

/** Networks, their temperatures at the start, and what is to be compared. */
const cases: Record<
  string,
  {
    network: NetworkDescription;
    start: Record<string, number>;
    run: { duration: number; second: number; steps: number };
  }
> = {
  "a warmed die in its first 20 µs, with a node that stores nothing": {
    network: hitDie,
    start: { hit: 0.16, chip: 0.16, "far chip": 0.12, pad: 0.11 },
    run: { duration: 20e-6, second: 1e-6, steps: 4000 },
  },
  "a chain that cools from 0.4 K, powers 4, 5, 2 and heat capacities ∝ T³, T, T": {
    network: storing(
      { stage: 0.05 },
      { chip: 1e-9 },
      { chip: [3e-9, 4], electrons: [2e-10, 2], box: [1e-8, 2] },
      [
        ["chip", "electrons", 1e-3, 4.5],
        ["electrons", "box", 1e-6, 2],
        ["box", "stage", 4e-6, 2],
      ],
    ),
    start: { chip: 0.4, electrons: 0.4, box: 0.4 },
    run: { duration: 0.02, second: 1e-3, steps: 4000 },
  },
  "two stages, a load and a bridge": {
    network: storing(
      { cold: 0.05, still: 0.9 },
      { chip: 4e-9 },
      { chip: [1e-9, 4], left: [4e-9, 2], shield: [1e-8, 2] },
      [
        ["chip", "left", 1e-6, 2],
        ["left", "cold", 4e-5, 4],
        ["chip", "right", 6e-5, 3],
        ["right", "cold", 1e-6, 2],
        ["left", "right", 3e-4, 5],
        ["shield", "still", 4e-9, 2],
        ["shield", "chip", 1e-9, 3],
      ],
    ),
    start: { chip: 0.1, left: 0.1, right: 0.1, shield: 0.2 },
    run: { duration: 0.2, second: 1e-2, steps: 4000 },
  },
};

test.each(Object.keys(cases))(
  "%s, as the circuit simulator finds it.",
  async (name) => {
    const { network, start, run } = cases[name]!;
    const coldest = Math.min(...network.nodes.flatMap((n) => n.temperature ?? []));
    const given = new Map(
      network.nodes
        .filter((n) => n.temperature === undefined)
        .map((n) => [n.name, start[n.name] ?? coldest]),
    );
    const ours = runInTime(network, { duration: run.duration, start: given });
    const { times, temperatures } = await simulateInTime(network, given, run);
    expect(times[times.length - 1]).toBeCloseTo(run.duration, 9);
    let compared = 0;
    for (const node of given.keys()) {
      const series = temperatures.get(node)!;
      // Past its first steps, which the simulator takes with a method of order 1.
      for (let i = 100; i < times.length; i += 200) {
        const time = Math.min(times[i]!, run.duration);
        expect(
          Math.abs(ours.temperature(node, time) / series[i]! - 1),
          `${node} at ${time} s`,
        ).toBeLessThan(5e-5);
        compared++;
      }
    }
    expect(compared).toBeGreaterThan(40);
  },
  60_000,
);
