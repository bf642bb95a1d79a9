import { describe, expect, it } from "vitest";
import { wireLength } from "../../src/joints/wire-length.js";

/** Length of y(x) by many straight pieces, which needs no closed form. */
function byPieces(y: (x: number) => number, to: number, pieces = 200_000): number {
  let length = 0;
  for (let k = 0; k < pieces; k++) {
    const [a, b] = [(k / pieces) * to, ((k + 1) / pieces) * to];
    length += Math.hypot(b - a, y(b) - y(a));
  }
  return length;
}

describe("the length of a bond wire", () => {
  it("is that of a parabola over gap and inset, its top at the loop's height", () => {
    const [across, loop] = [7e-4, 2e-4];
    const level = byPieces((x) => 4 * loop * (x / across) * (1 - x / across), across);
    expect(wireLength({ gap: 3e-4, loop, onLedge: 2e-4 }, 2e-4)).toBeCloseTo(level, 12);
  });

  it("climbs a step, with the loop above the higher foot", () => {
    const [across, loop, step] = [8e-4, 1.5e-4, 3e-4];
    const top = (across * Math.sqrt(loop + step)) / (Math.sqrt(loop) + Math.sqrt(loop + step));
    const y = (x: number) => (loop + step) * (1 - ((x - top) / top) ** 2);
    expect(y(across)).toBeCloseTo(step, 12);
    expect(wireLength({ gap: across, loop, step })).toBeCloseTo(byPieces(y, across), 12);
  });

  it("is the straight way without loop and step, and at least that with them", () => {
    expect(wireLength({ gap: 5e-4, loop: 0 }, 1e-4)).toBeCloseTo(6e-4, 15);
    expect(wireLength({ gap: 0, loop: 2e-4 })).toBeCloseTo(4e-4, 15);
    for (const step of [0, 1e-4, 1e-3]) {
      for (const loop of [1e-6, 1e-4, 1e-3]) {
        const straight = Math.hypot(4e-4, step);
        expect(wireLength({ gap: 4e-4, loop, step })).toBeGreaterThanOrEqual(straight);
      }
    }
  });
});
