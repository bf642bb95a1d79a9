/** The loop that flies phonons: what one does is its own, wherever it flies. */
import { describe, expect, it } from "vitest";
import { DieBox } from "../../../src/chip/flights/box.js";
import { lookupOf, tilesOf } from "../../../src/chip/flights/face-contacts.js";
import { flightSpace } from "../../../src/chip/flights/flight-space.js";
import { legsOf, marksOf, raysOf, readyRays } from "../../../src/chip/flights/rays.js";
import { startDimensions, startFromSource } from "../../../src/chip/flights/starts.js";
import { trace } from "../../../src/chip/flights/trace.js";
import { Grid } from "../../../src/chip/grid.js";
import { random } from "../../../src/numerics/random.js";
import { Sobol } from "../../../src/numerics/sobol.js";

const [side, thickness, count] = [20e-3, 0.4e-3, 64];
const pad = { left: 1e-3, right: 2e-3, bottom: 1e-3, top: 2e-3 };

/** Phonons ready to fly in a die with one pad. */
function prepared(options: { specularity: number; bulkLength?: number }) {
  const box = new DieBox({ width: side, length: side, thickness, ...options });
  const grid = new Grid(side, side, 16, 16, "die");
  const lookup = lookupOf(box, tilesOf(box, [{ name: "pad", area: pad }]));
  const space = flightSpace(box, lookup, grid, thickness);
  const rays = raysOf(count);
  const even = { rectangles: [grid.whole], upTo: Float64Array.of(1), depth: "front" as const };
  startFromSource(box, even, new Sobol(startDimensions, random(3)), rays.states, count);
  readyRays(space, rays, random(4));
  return { space, rays, grid };
}

describe.each([
  ["diffuse faces", { specularity: 0 }],
  ["faces that are mirrors in part", { specularity: 0.7 }],
  ["a bulk that scatters", { specularity: 0.4, bulkLength: 1e-3 }],
])("phonons between %s", (_, options) => {
  it("fly the same way to the last bit, all together or one by one", () => {
    // One by one, each begins with an empty array of marks, which is thus full at other flights.
    const all = prepared(options);
    const legs = legsOf(count);
    const marks = marksOf(all.grid);
    const which = Int32Array.from({ length: count }, (_, ray) => ray);
    const flights = trace(all.space, all.rays, which, count, legs, marks, 1e8);
    expect(marks.count).toBeGreaterThan(2 ** 15);
    const single = prepared(options);
    let sum = 0;
    for (let ray = count - 1; ray >= 0; ray--) {
      const own = legsOf(1);
      const ownMarks = marksOf(single.grid);
      sum += trace(single.space, single.rays, Int32Array.of(ray), 1, own, ownMarks, 1e8);
      for (const part of ["zones", "across", "along", "lengths", "flights"] as const) {
        expect(own[part][0]).toBe(legs[part][ray]);
      }
      const from = ray === 0 ? 0 : legs.marks[ray - 1]!;
      expect(ownMarks.count).toBe(legs.marks[ray]! - from);
      expect(ownMarks.cells.slice(0, ownMarks.count)).toEqual(
        marks.cells.slice(from, legs.marks[ray]),
      );
    }
    expect(sum).toBe(flights);
    expect(single.rays).toEqual(all.rays);
  });

  it("leave a mark after every length of the spacing, and end on the pad", () => {
    const { space, rays, grid } = prepared(options);
    const firstMark = rays.toMark.slice();
    const legs = legsOf(count);
    const which = Int32Array.from({ length: count }, (_, ray) => ray);
    trace(space, rays, which, count, legs, marksOf(grid), 1e8);
    for (let k = 0; k < count; k++) {
      const left = k === 0 ? 0 : legs.marks[k - 1]!;
      const marked = Math.ceil((legs.lengths[k]! - firstMark[k]!) / thickness);
      expect(legs.marks[k]! - left).toBe(Math.max(0, marked));
      expect(legs.zones[k]).toBeGreaterThanOrEqual(0);
      expect(legs.across[k]).toBeGreaterThanOrEqual(pad.left);
      expect(legs.across[k]).toBeLessThanOrEqual(pad.right);
      expect(legs.along[k]).toBeGreaterThanOrEqual(pad.bottom);
      expect(legs.along[k]).toBeLessThanOrEqual(pad.top);
    }
  });
});
