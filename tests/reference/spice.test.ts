import { expect, test } from "vitest";
import { type Conductor, powerConductor } from "../../src/conductor.js";
import type { NetworkDescription } from "../../src/network/description.js";
import { solveSteady } from "../../src/network/steady.js";
import { network, type Row } from "../network/networks.js";
import { simulate } from "./spice.js";

/** Networks the size of a mount and of every shape that one takes. */
const networks: Record<string, NetworkDescription> = {
  "a chain from chip to stage, powers 4, 5, 2, 3, 2": network(
    { stage: 0.1 },
    { chip: 7e-9, box: 1e-9 },
    [
      ["chip", "pad", 3e-4, 4],
      ["pad", "electrons", 2e-2, 5],
      ["electrons", "foot", 1e-5, 2],
      ["foot", "box", 2e-4, 3],
      ["box", "stage", 8e-5, 2],
    ],
  ),
  "a star of six chips on one box": network(
    { stage: 0.02 },
    { c0: 1e-9, c1: 2e-9, c2: 3e-9, c3: 5e-9, c4: 8e-9, c5: 0 },
    [
      ...[2, 2.5, 3, 3.1, 4, 5].map((n, i): Row => [`c${i}`, "box", 2e-6 * 10 ** (n - 2), n]),
      ["box", "stage", 3e-5, 2],
    ],
  ),
  "two parallel routes, bonds and glue": network({ stage: 0.1 }, { chip: 9e-9 }, [
    ["chip", "pad", 3e-4, 4],
    ["pad", "electrons", 5e-3, 5],
    ["electrons", "box", 4e-6, 2],
    ["chip", "glue", 4e-5, 4],
    ["glue", "box", 6e-6, 3],
    ["box", "stage", 5e-5, 2],
  ]),
  "an unbalanced bridge": network({ stage: 0.05 }, { chip: 5e-9 }, [
    ["chip", "left", 1e-6, 2],
    ["left", "stage", 4e-5, 4],
    ["chip", "right", 6e-5, 3],
    ["right", "stage", 1e-6, 2],
    ["left", "right", 3e-4, 5],
  ]),
  "a ring of eight nodes": network({ stage: 0.1 }, { r0: 2e-9, r3: 4e-9, r5: 1e-9 }, [
    ...Array.from(
      { length: 8 },
      (_, i): Row => [`r${i}`, `r${(i + 1) % 8}`, 1e-5 * (1 + i), 2 + (i % 4)],
    ),
    ["r6", "stage", 2e-5, 3],
    ["r1", "stage", 3e-6, 2],
  ]),
  "two stages at different temperatures": network(
    { cold: 0.03, still: 0.9 },
    { chip: 4e-9, shield: 2e-8 },
    [
      ["chip", "box", 2e-5, 3.1],
      ["box", "cold", 5e-5, 2],
      ["shield", "still", 4e-7, 2],
      ["shield", "box", 2e-9, 3],
      ["chip", "shield", 1e-10, 4],
    ],
  ),
  "clamps, bonds and glue to a plated box": network({ stage: 0.11 }, { die: 8e-9, plating: 1e-9 }, [
    ["die", "edge", 2e-4, 4],
    ["edge", "pads", 3e-4, 4],
    ["pads", "electrons", 2e-2, 5],
    ["electrons", "plating", 1e-6, 2],
    ["edge", "clamp", 5e-6, 2.3],
    ["clamp", "box", 1e-5, 2],
    ["edge", "box", 1e-5, 3.7],
    ["plating", "box", 4e-5, 2],
    ["box", "stage", 8e-5, 2],
  ]),
  "twelve pads one by one": network({ stage: 0.1 }, { edge: 7e-9 }, [
    ...Array.from({ length: 12 }, (_, i) => i).flatMap((i): Row[] => [
      ["edge", `p${i}`, 1e-5 * (1 + (i % 3)), 4],
      [`p${i}`, `e${i}`, 1e-3 * (1 + (i % 4)), 5],
      [`e${i}`, "box", 1e-7 * (1 + i), 2],
    ]),
    ["box", "stage", 8e-5, 2],
  ]),
  "wiring and supports from 4 K": network(
    { stage: 0.1, warm: 4, still: 0.8 },
    { chip: 3e-9, box: 5e-10 },
    [
      ["chip", "box", 2e-5, 3],
      ["warm", "connector", 1e-9, 2],
      ["connector", "still", 1e-7, 2],
      ["connector", "box", 2e-9, 1.9],
      ["still", "box", 5e-9, 2.8],
      ["box", "stage", 8e-5, 2],
    ],
  ),
  "a tree three levels deep": network(
    { stage: 0.015 },
    { a0: 1e-11, a1: 3e-11, a2: 1e-10, a3: 3e-10, b0: 1e-11, b1: 0 },
    [
      ["a0", "b0", 1e-6, 2],
      ["a1", "b0", 2e-5, 3],
      ["a2", "b1", 3e-4, 4],
      ["a3", "b1", 1e-3, 4.4],
      ["b0", "root", 5e-6, 2],
      ["b1", "root", 4e-4, 3.5],
      ["root", "stage", 2e-5, 2.2],
    ],
  ),
  "a ladder of six rungs": network({ stage: 0.1 }, { l0: 5e-9, r2: 2e-9 }, [
    ...Array.from({ length: 6 }, (_, i) => i).flatMap((i): Row[] => [
      [`l${i}`, `l${i + 1}`, 2e-5, 2],
      [`r${i}`, `r${i + 1}`, 3e-4, 3],
      [`l${i}`, `r${i}`, 1e-3, 4 + (i % 2)],
    ]),
    ["l6", "stage", 3e-5, 2],
    ["r6", "stage", 4e-5, 2.6],
  ]),
};

/** Two links that are sums of powers, one of them several times over. */
const sum = (...terms: [number, number][]): Conductor => ({
  ...powerConductor(1, 1),
  powers: terms.map(([coefficient, exponent]) => ({ coefficient, exponent })),
});
networks["conductors of several terms, and counts"] = {
  nodes: [
    { name: "chip", load: 6e-9 },
    { name: "box", load: 1e-9 },
    { name: "stage", temperature: 0.1 },
  ],
  links: [
    { name: "bonds", from: "chip", to: "box", conductor: powerConductor(2e-8, 2), count: 80 },
    { name: "strip", from: "chip", to: "box", conductor: sum([1e-7, 2], [3e-5, 4]), count: 2.5 },
    { name: "joint", from: "box", to: "stage", conductor: sum([8e-6, 2], [1e-5, 2.9]), count: 4 },
  ],
};

for (const [shape, description] of Object.entries(networks)) {
  test(`A circuit simulator finds the same temperatures in ${shape}.`, async () => {
    const { temperatures } = solveSteady(description);
    const simulated = await simulate(description);
    const stage = Math.min(...description.nodes.flatMap(({ temperature }) => temperature ?? []));
    let heated = 0;
    for (const { name } of description.nodes) {
      const [ours, theirs] = [temperatures.get(name)!, simulated.get(name)!];
      expect(Math.abs(ours / theirs - 1), name).toBeLessThan(1e-9);
      // The rise over the stage, which the simulator knows to 1e-12 of the temperature.
      expect(Math.abs(ours - theirs), name).toBeLessThan(1e-9 * (theirs - stage) + 1e-12 * theirs);
      heated = Math.max(heated, theirs / stage - 1);
    }
    // A network at one temperature would agree whatever its laws.
    expect(heated).toBeGreaterThan(0.01);
  });
}
