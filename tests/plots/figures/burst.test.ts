/** The figure of a burst. */
import { describe, expect, it } from "vitest";
import { phononBurst } from "../../../src/design/events/phonon-burst.js";
import { burstFigure } from "../../../src/plots/figures/burst.js";
import { exampleMount } from "../../mount/example.js";

const burst = phononBurst(exampleMount(), {
  energy: "10 keV",
  packets: 64,
  film: { superconductor: "aluminium", thickness: "1 um", coverage: 0.5, columns: 2, rows: 2 },
});

describe("burstFigure(bursts)", () => {
  it("shows how the share of the energy grows to what was taken", () => {
    const { data, alt } = burstFigure([{ name: "bare", burst }]);
    const { x, y } = data[0] as unknown as { x: number[]; y: number[] };
    const pixels = burst.shares.find(({ name }) => name === "pixels")!;
    expect(y.at(-1)).toBeCloseTo(100 * pixels.share, 3);
    expect(y.every((own, k) => k === 0 || own >= y[k - 1]!)).toBe(true);
    expect(x.length).toBe(y.length);
    expect(alt).toMatch(
      /Share of a hit's energy in the pixels up to 1.00 ms: bare \d+ % in the end/,
    );
  });

  it("names what is wrong", () => {
    expect(() => burstFigure([])).toThrow("bursts: expected one burst or more");
    expect(() => burstFigure([{ name: "a", burst }], { into: "ring" })).toThrow(/"ring".*pads/);
  });
});
