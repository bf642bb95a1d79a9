import { describe, expect, it } from "vitest";
import { stillFlying, takenByCover } from "../../../src/chip/flights/burst.js";
import { heatAfter } from "../../../src/design/events/burst-heat.js";

const packet = 1e-15;
/** Packets that two pads, a clamp and pixels took, in a run whose pads store heat and whose clamp does not. */
function heat(ends: readonly number[], times: readonly number[]) {
  const followed = {
    burst: { energy: packet * ends.length, packet, until: 1e-5 },
    ends: {
      ends: Int32Array.from(ends),
      times: Float64Array.from(times),
      x: Float64Array.from(ends, (_, k) => k),
      y: Float64Array.from(ends, () => 0),
    },
    tiles: [
      { group: "pads", contact: 0 },
      { group: "pads", contact: 1 },
      { group: "clamps", contact: 0 },
    ],
    places: new Map([
      ["pads", "pad phonons"],
      ["clamps", "clamp"],
    ]),
  };
  const store = {};
  const run = {
    structure: { box: { name: "box by the die" } },
    network: { nodes: ["electrons 1", "electrons 2"].map((name) => ({ name, store })) },
    nodes: new Map([
      ["pad electrons", ["electrons 1", "electrons 2"]],
      ["clamp", ["clamp"]],
    ]),
    hit: ({ x }: { x: number }) => [
      { node: "die", share: 0.75 },
      { node: `cell ${x}`, share: 0.25 },
    ],
  };
  return heatAfter(followed as never, run as never);
}

describe("the heat of the first phonons", () => {
  it("keeps all energy: gradually what contacts took, at the end what was left in the die", () => {
    const ends = Array.from({ length: 60 }, (_, k) => [0, 1, 2, takenByCover, stillFlying][k % 5]!);
    const { gradual, atEnd } = heat(
      ends,
      ends.map((_, k) => (k + 1) * 1e-8),
    );
    const sum = gradual.reduce((total, { energy }) => total + energy, 0);
    expect(sum / (36 * packet)).toBeCloseTo(1, 12);
    expect(atEnd!.energy / (24 * packet)).toBeCloseTo(1, 12);
    expect(atEnd!.at).toBe(1e-5);
    for (const { nodes } of [...gradual, atEnd!])
      expect(nodes.reduce((total, { share }) => total + share, 0)).toBeCloseTo(1, 12);
    expect(atEnd!.nodes.find(({ node }) => node === "die")!.share).toBeCloseTo(0.75, 12);
    expect(gradual).toHaveLength(12);
    gradual.forEach(({ from, to }, k) => {
      expect(to).toBeGreaterThan(from);
      if (k > 0) expect(from).toBe(gradual[k - 1]!.to);
    });
    // Nothing comes at time 0, where it would be a load of the steady state.
    expect(gradual[0]!.from).toBeGreaterThan(0);
  });

  it("goes to a film's electrons by contact, and to the box behind what stores none", () => {
    const { gradual, atEnd } = heat([0, 1, 2], [1e-8, 2e-8, 3e-8]);
    expect(gradual.map(({ nodes }) => nodes)).toEqual(
      ["electrons 1", "electrons 2", "box by the die"].map((node) => [{ node, share: 1 }]),
    );
    expect(atEnd).toBeUndefined();
  });

  it("is all at the end where no contact took any", () => {
    const { gradual, atEnd } = heat([stillFlying, takenByCover], [1e-8, 2e-8]);
    expect(gradual).toEqual([]);
    expect(atEnd!.energy).toBeCloseTo(2 * packet, 25);
  });
});
