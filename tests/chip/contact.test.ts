import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { checkContacts, tiles, withoutHole } from "../../src/chip/contact.js";
import { areaOf, Grid, overlapOf, type Rectangle } from "../../src/chip/grid.js";

const grid = new Grid(10e-3, 10e-3, 32, 32);
const square = (left: number, bottom: number, side = 1e-3): Rectangle => ({
  left,
  right: left + side,
  bottom,
  top: bottom + side,
});
const total = (pieces: readonly Rectangle[]) => pieces.reduce((sum, p) => sum + areaOf(p), 0);

describe("contacts of a die", () => {
  it("know their area", () => {
    const [pad] = checkContacts(grid, [{ name: "pad", area: [square(0, 0), square(1e-3, 0)] }]);
    expect(pad!.size).toBeCloseTo(2e-6, 15);
  });

  it("must be at least one", () => {
    expect(() => checkContacts(grid, [])).toThrow(
      "contacts: expected at least one contact, or the heat has no way out",
    );
  });

  it("must be on the die", () => {
    expect(() => checkContacts(grid, [{ name: "pad 3", area: square(9.5e-3, 0) }])).toThrow(
      'pad 3: expected a place on the die (10 mm by 10 mm), got "x 9.5 to 10.5 mm, y 0 to 1 mm"',
    );
  });

  it("must not overlap another of their layer", () => {
    const pads = [
      { name: "pad 1", area: square(0, 0) },
      { name: "pad 2", area: square(0.9e-3, 0.5e-3) },
    ];
    expect(() => checkContacts(grid, pads)).toThrow(
      'pad 2: expected a place apart from pad 1, got "an overlap at x 0.9 to 1 mm, y 0.5 to 1 mm"',
    );
    const clamp = { ...pads[1]!, layer: "back" };
    expect(checkContacts(grid, [pads[0]!, clamp])).toHaveLength(2);
  });

  it("must not overlap themselves", () => {
    const area = [square(0, 0), square(0.5e-3, 0)];
    expect(() => checkContacts(grid, [{ name: "glue", area }])).toThrow(
      "glue: expected pieces apart from each other",
    );
  });

  it("must have names of their own", () => {
    const pad = { name: "pad", area: square(0, 0) };
    expect(() => checkContacts(grid, [pad, pad])).toThrow("contacts[1].name: expected a name used");
  });
});

describe("an area around a hole", () => {
  it("is the area less the hole, in pieces apart from each other", () => {
    const place = fc.double({ min: -2, max: 12, noNaN: true });
    const size = fc.double({ min: 0.1, max: 6, noNaN: true });
    const area = { left: 0, right: 10, bottom: 0, top: 10 };
    fc.assert(
      fc.property(place, place, size, size, (left, bottom, width, height) => {
        const hole = { left, right: left + width, bottom, top: bottom + height };
        const pieces = withoutHole(area, hole);
        const gap = overlapOf(area, hole);
        expect(total(pieces)).toBeCloseTo(100 - (gap ? areaOf(gap) : 0), 9);
        pieces.forEach((piece, i) => {
          expect(overlapOf(piece, hole)).toBeUndefined();
          for (const other of pieces.slice(i + 1)) expect(overlapOf(piece, other)).toBeUndefined();
        });
      }),
    );
  });

  it("is nothing when the hole is all of it", () => {
    expect(withoutHole(square(0, 0), square(-1, -1, 3))).toEqual([]);
  });
});

describe("tiles", () => {
  it("cover an area once", () => {
    const frame = withoutHole(square(0, 0, 9e-3), square(3e-3, 3e-3, 3e-3));
    const found = tiles(frame, 3, 3);
    expect(found).toHaveLength(8);
    expect(total(found.flat())).toBeCloseTo(72e-6, 15);
    expect(
      checkContacts(
        grid,
        found.map((area, i) => ({ name: `${i}`, area })),
      ),
    ).toHaveLength(8);
  });

  it("are counted in whole numbers", () => {
    expect(() => tiles(square(0, 0), 0, 1)).toThrow("tiles.across: expected a whole number");
  });
});
