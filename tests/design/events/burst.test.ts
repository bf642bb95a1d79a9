/** A burst of eight packets, counted by hand. */
import { describe, expect, it } from "vitest";
import { PhononBurst } from "../../../src/design/events/burst.js";
import { elementaryCharge } from "../../../src/units/constants.js";

const energy = 1e5 * elementaryCharge;
const packet = energy / 8;
const gap = 2e-4 * elementaryCharge;
/** Two columns and three rows of 1 mm × 2 mm; two packets in the first pixel, one in the last. */
const pixels = {
  superconductor: {} as never,
  gap,
  columns: 2,
  rows: 3,
  width: 1e-3,
  length: 2e-3,
  volume: 1e-12,
  efficiency: 0.5,
  broken: { times: Float64Array.of(1e-6, 2e-6, 3e-6), pixels: Int32Array.of(0, 5, 0) },
};
const share = (name: string, part: number, half?: number) => ({
  name,
  share: part,
  error: 0.1,
  ...(half !== undefined && { half }),
  course: Float64Array.of(0, part),
});
const burst = (more: object = {}) =>
  new PhononBurst({
    name: "by hand",
    energy,
    place: { x: 0.5e-3, y: 1e-3 },
    packet,
    until: 1e-5,
    times: Float64Array.of(1e-6, 1e-5),
    shares: [share("pads", 0.5, 4e-6), share("pixels", 0.375, 2e-6), share("clamps", 0)],
    flying: 0.125,
    frequency: 2e11,
    pixels,
    ...more,
  } as never);

describe("the first phonons of a hit", () => {
  it("make η E/Δ quasiparticles of each packet, in its pixel, up to a time", () => {
    const each = (0.5 * packet) / gap;
    expect([...burst().quasiparticles()]).toEqual(
      [2, 0, 0, 0, 0, 1].map((n) => expect.closeTo(n * each, 3)),
    );
    expect([...burst().quasiparticles(2e-6)]).toEqual(
      [1, 0, 0, 0, 0, 1].map((n) => expect.closeTo(n * each, 3)),
    );
    expect(
      burst()
        .quasiparticles(0.5e-6)
        .every((n) => n === 0),
    ).toBe(true);
  });

  it("reach pixels above a density, and tell how far the furthest lies from the hit", () => {
    // From the middle of pixel (0, 0) to that of (1, 2).
    const far = Math.hypot(1e-3, 4e-3);
    expect(burst().pixelsAbove(0)).toEqual({ count: 2, reach: expect.closeTo(far, 12) });
    const density = (1.5 * (0.5 * packet)) / gap / 1e-12;
    expect(burst().pixelsAbove(density)).toEqual({ count: 1, reach: 0 });
    expect(burst().pixelsAbove(density, 2e-6)).toEqual({ count: 0, reach: 0 });
  });

  it("are told by who takes most of them, and by what still flies", () => {
    const { summary } = burst();
    expect(summary).toBe(
      "Of 100 keV of phonons go 50 % into the pads (half of it within 4.00 µs), 38 % into the pixels (half " +
        "of it within 2.00 µs). After 10.0 µs 13 % of it still flies in the die, at 200 GHz. Phonons make " +
        "9.4e7 quasiparticles in 2 of 6 pixels.",
    );
    const none = burst({ shares: [share("pads", 0)], flying: 1, pixels: undefined });
    expect(none.summary).toMatch(/^Of 100 keV of phonons nothing is taken\. After/);
    const gone = burst({ flying: 0, frequency: undefined });
    expect(gone.summary).not.toContain("still flies");
    expect(burst().toCsv()).toContain('"share by 0.00001 s",0.5');
  });

  it("have no quasiparticles without a film", () => {
    expect(() => burst({ pixels: undefined }).quasiparticles()).toThrow(
      "film: expected a film with pixels in the burst's options, got undefined",
    );
  });
});
