/** Places of a die that are equally hot: the same one is named each time, and how many there are. */
import { describe, expect, it } from "vitest";
import { Sheet } from "../../src/chip/index.js";
import { powerConductor } from "../../src/conductor.js";

const side = 8e-3;
const spot = (x: number, y: number) => ({
  left: x - 2.5e-4,
  right: x + 2.5e-4,
  bottom: y - 2.5e-4,
  top: y + 2.5e-4,
});
/** The field of an evenly heated square held at contacts of one temperature. */
function fieldOf(places: readonly (readonly [x: number, y: number])[], power: number) {
  const sheet = new Sheet({ width: side, length: side, cells: 32 });
  const contacts = places.map(([x, y], k) => ({ name: `contact ${k}`, area: spot(x, y) }));
  const condensed = sheet.condense(contacts);
  const body = condensed.body(powerConductor(1e-4, 4), { kind: "uniform", power });
  return condensed.field(
    body,
    places.map(() => 0.1),
  );
}

describe("the hottest point", () => {
  it("of a square cooled in its middle is one of four corners, the same for any power", () => {
    const middle = [[side / 2, side / 2]] as const;
    const first = fieldOf(middle, 1e-9).hottest;
    expect(first.places).toBe(4);
    for (let k = 1; k < 40; k++) {
      const { x, y, places } = fieldOf(middle, 1e-9 * (1 + 0.01 * k)).hottest;
      expect([x, y, places]).toEqual([expect.closeTo(first.x, 6), expect.closeTo(first.y, 6), 4]);
    }
  });

  it("is the only one where nothing is alike", () => {
    expect(fieldOf([[2.3e-3, 3.1e-3]], 1e-9).hottest.places).toBeUndefined();
  });

  it("is the middle of a square cooled at its four corners", () => {
    const corners = [2.5e-4, side - 2.5e-4].flatMap((x) =>
      [2.5e-4, side - 2.5e-4].map((y) => [x, y] as const),
    );
    const { x, y, places } = fieldOf(corners, 1e-9).hottest;
    expect([x / side, y / side]).toEqual([expect.closeTo(0.5, 6), expect.closeTo(0.5, 6)]);
    expect(places).toBeUndefined();
    expect(fieldOf(corners, 1e-9).coldest.places).toBe(4);
  });
});
