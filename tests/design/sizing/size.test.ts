import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Mount, sizeBonds, thermalBudget, withField } from "../../../src/index.js";
import { quickMount } from "../../mount/example.js";
import { randomMount } from "../../mount/random-mount.js";

const rise = (mount: Mount, count: number) =>
  thermalBudget(withField(mount, "bonds.count", count)).chip.rise;

describe("sizing the bonds", () => {
  it("finds the fewest: one less is too warm", () => {
    const { count, enough, budget } = sizeBonds(quickMount());
    expect(enough).toBe(true);
    expect(rise(quickMount(), count!)).toBeLessThanOrEqual(10e-3);
    expect(rise(quickMount(), count! - 1)).toBeGreaterThan(10e-3);
    expect(budget.chip.rise).toBeCloseTo(rise(quickMount(), count!), 14);
  });

  it("does so for any mount and any limit that bonds can hold", () => {
    fc.assert(
      fc.property(randomMount, fc.double({ min: 1.05, max: 50, noNaN: true }), (mount, above) => {
        const { floor } = sizeBonds(mount);
        fc.pre(floor > 1e-9);
        const limited = { ...mount, limit: { rise: floor * above } };
        const { count } = sizeBonds(limited);
        expect(rise(mount, count!)).toBeLessThanOrEqual(floor * above * (1 + 1e-9));
        if (count! > 1) expect(rise(mount, count! - 1)).toBeGreaterThan(floor * above * (1 - 1e-9));
      }),
      { numRuns: 60, seed: 3 },
    );
  });

  it("pays no heed to the number the mount happens to have", () => {
    const other = withField(quickMount(), "bonds.count", 7);
    expect(sizeBonds(other).count).toBe(sizeBonds(quickMount()).count);
  });

  it("says that no number is enough, by how much, and what costs the most", () => {
    const sizing = sizeBonds({ ...quickMount(), limit: { rise: "0.3 mK" } });
    expect(sizing.count).toBeUndefined();
    expect(sizing.enough).toBe(false);
    expect(sizing.reason).toMatch(
      /^No number of bonds meets the limit: with infinitely many bonds the chip is still \d+ µK above the stage\. With the \d+ that fit, most falls over electron-phonon coupling/,
    );
    // The die's spreading is what is left, so a thicker die must be among the ways that help.
    expect(rise(quickMount(), 1e6)).toBeCloseTo(sizing.floor, 6);
  });

  it("tells what infinitely many bonds leave where the answer does not", () => {
    // Of 300 nm of gold the phonons have the wavelength of the film at 192 mK: with the smallest number of bonds they are
    // warmer, and with infinitely many colder.
    const coldWithMany: Mount = { ...quickMount(), stage: "190 mK", limit: { rise: "5 mK" } };
    const { warnings, budget, floor } = sizeBonds(coldWithMany);
    expect(budget.places.find(({ name }) => name === "pad phonons")!.temperature).toBeGreaterThan(
      0.1923,
    );
    expect(budget.stage + floor).toBeLessThan(0.1922);
    expect(budget.warnings).toEqual([]);
    expect(warnings).toHaveLength(1);
    expect(warnings[0]).toMatch(/^with infinitely many bonds: pad boundary: 190 mK is outside/);
    // Far above, no run leaves it, and none is made to tell.
    expect(sizeBonds({ ...coldWithMany, stage: "250 mK" }).warnings).toEqual([]);
  });

  it("lists floor and knee though they are computed when they are read", () => {
    const sizing = sizeBonds(quickMount());
    expect(JSON.parse(JSON.stringify(sizing))).toMatchObject({
      count: sizing.count,
      floor: sizing.floor,
      knee: sizing.knee,
    });
  });

  it("says when enough bonds would not fit on the edges", () => {
    const mount = withField(quickMount(), "bonds.pitch", "4 mm") as Mount;
    const sizing = sizeBonds(mount);
    expect(sizing.enough).toBe(false);
    expect(sizing.budget.elements.find((e) => e.name === "bonds")!.count).toBe(sizing.room);
    expect(sizing.reason).toMatch(
      /^\d+ bonds would meet the limit, but the edges have space for \d+\./,
    );
  });

  it("computes what single changes would do", () => {
    const { alternatives } = sizeBonds(quickMount());
    const thicker = alternatives.find(({ change }) => change === "pads twice as thick")!;
    const mount = withField(quickMount(), "pads.thickness", "600 nm") as Mount;
    expect(thicker.count).toBe(sizeBonds(mount).count);
  });

  it("puts the knee where half of the rise is what bonds can't help", () => {
    const { knee, floor } = sizeBonds(quickMount());
    expect(rise(quickMount(), knee!)).toBeLessThanOrEqual(2 * floor);
    expect(rise(quickMount(), knee! - 1)).toBeGreaterThan(2 * floor);
  });

  it("takes floor, knee and number from one model: no number of bonds is below the floor", () => {
    const narrow = fc.tuple(randomMount, fc.double({ min: 4e-4, max: 1e-2, noNaN: true }));
    fc.assert(
      fc.property(narrow, fc.boolean(), ([random, rise], onRing) => {
        const { pads, die, ...rest } = random;
        const { length: _, ...band } = pads!;
        const film = onRing ? { ring: band } : { pads: pads! };
        const plate = {
          ...die,
          width: "10 mm",
          length: "8 mm",
          thickness: "0.3 mm",
          model: "sheet",
        };
        const bonds = { ...rest.bonds!, pitch: "0.8 mm" };
        const mount = { ...rest, ...film, bonds, die: plate, limit: { rise } } as Mount;
        const { floor, knee, enough, budget, room, reason } = sizeBonds(mount);
        expect(floor).toBeGreaterThan(0);
        expect(budget.chip.rise).toBeGreaterThanOrEqual(floor * (1 - 1e-9));
        expect(enough).toBe(budget.margin! >= 0);
        if (reason.includes("infinitely many")) expect(floor).toBeGreaterThan(rise);
        const at = (count: number) =>
          thermalBudget(withField(mount, "bonds.count", count)).chip.rise;
        if (knee === undefined) expect(at(room)).toBeGreaterThan(2 * floor);
        else expect(at(knee)).toBeLessThanOrEqual(2 * floor * (1 + 1e-9));
      }),
      { numRuns: 8, seed: 5, endOnFailure: true },
    );
  });

  it("counts full pads only", () => {
    const { bonds, pads, ...rest } = quickMount();
    const mount = {
      ...rest,
      pads: { ...pads!, width: "200 um" },
      bonds: { ...bonds!, perPad: 3 },
    } as Mount;
    const { count, room } = sizeBonds(mount);
    expect([count! % 3, room % 3]).toEqual([0, 0]);
    expect(rise(mount, count!)).toBeLessThanOrEqual(10e-3);
    expect(rise(mount, count! - 3)).toBeGreaterThan(10e-3);
  });

  it("room on the edges by hand: 4 sides of 25 mm, less the corners, at 0.3 mm", () => {
    // Each side: 25 − 2·0.3 mm free, pads of 0.15 mm: floor((24.4 − 0.15)/0.3) + 1 = 81
    expect(sizeBonds(quickMount()).room).toBe(4 * 81);
  });

  it("refuses a mount without a limit or without bonds", () => {
    const { limit, ...open } = quickMount();
    expect(() => sizeBonds(open)).toThrow("limit: expected a limit to hold, got undefined");
    const { bonds, pads, ...bare } = quickMount();
    const clamped = { ...bare, clamps: [{ faces: "sapphire on copper", force: 3 }] };
    expect(() => sizeBonds(clamped)).toThrow("bonds: expected bonds to count, got undefined");
  });
});
