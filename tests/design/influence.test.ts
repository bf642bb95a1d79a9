import { describe, expect, it } from "vitest";
import { influence } from "../../src/design/influence.js";
import { MountModel } from "../../src/mount/model.js";
import type { Mount } from "../../src/mount/mount.js";
import { readMount } from "../../src/mount/read.js";
import { exampleMount } from "../mount/example.js";
import { catalogue, smallest } from "../mount/things/smallest.js";

/** A bar of silicon, pressed along one end: heat runs one way. */
const bar: Mount = smallest({
  die: {
    material: "silicon",
    width: 20e-3,
    length: 2e-3,
    thickness: 3e-4,
    meanFreePath: 1e-4,
    cells: 256,
  },
  glue: {
    glue: "epoxy",
    thickness: 1e-5,
    area: 2e-3 * 2e-3,
    places: [{ x: 1e-3, y: 1e-3 }],
  },
  loads: [{ kind: "given", power: 1e-15 }],
});
const along = [4e-3, 9e-3, 16e-3];
const square = (x: number, y = 1e-3, size = 2e-3) => ({ x, y, size, name: `${1e3 * x} mm` });

describe("influence", () => {
  it("of places along a bar is the way that their heat has in common (Ohm's law in a row)", () => {
    const found = influence(
      bar,
      along.map((x) => square(x)),
    );
    const model = new MountModel(readMount(bar), catalogue);
    const point = model.point();
    const { conductance } = model.numbers.dieSquare();
    const perMetre = 1 / (conductance(point.stage) * 2e-3);
    const [a, b, c] = [0, 1, 2];
    const more = (i: number, j: number) => (found.rises[i]![j]! - found.rises[a]![j]!) / perMetre;
    // Differences are those of the bar alone, since all heat passes the glue. Within a square of side s whose
    // own heat is spread over it, the mean of min(x, y) over both is less than the middle by s/6.
    // The ends of the squares fall into cells of 78 µm, which costs 1e-4.
    expect(more(b, b) / (5e-3 - 2e-3 / 6)).toBeCloseTo(1, 3);
    expect(more(c, b) / 5e-3).toBeCloseTo(1, 3);
    expect(more(c, c) / (12e-3 - 2e-3 / 6)).toBeCloseTo(1, 3);
    // What one does to another, that does to the one (reciprocity of a linear network).
    expect(found.rises[a]![b]! / found.rises[b]![a]!).toBeCloseTo(1, 5);
    expect(found.rises[a]![c]! / found.rises[a]![b]!).toBeCloseTo(1, 5);
  });

  it("is what a little more heat there does to the solved mount", () => {
    const mount = exampleMount();
    const { width, length } = readMount(mount).die;
    const spots = [
      { name: "middle", x: width / 2, y: length / 2, size: 5e-4 },
      { name: "corner", x: width / 6, y: length / 5, size: 5e-4 },
      "box by the die",
    ];
    const found = influence(mount, spots);
    const more = (power: number, on: "die" | "box") => {
      const { x, y, size } = spots[1] as { x: number; y: number; size: number };
      const map = {
        kind: "rectangle",
        left: x - size / 2,
        right: x + size / 2,
        bottom: y - size / 2,
        top: y + size / 2,
      } as const;
      const load = {
        kind: "given",
        name: "more",
        power,
        on,
        ...(on === "die" && { map }),
      } as const;
      const model = new MountModel(
        readMount({ ...mount, loads: [...mount.loads, load] }),
        catalogue,
      );
      model.solve();
      return [
        model.temperature({ x: width / 2, y: length / 2 }),
        model.temperature("box by the die"),
      ];
    };
    for (const [j, on] of [
      [1, "die"],
      [2, "box"],
    ] as const) {
      const step = 1e-12;
      const [above, below] = [more(2 * step, on), more(step, on)];
      const slopes = above.map((T, i) => (T - below[i]!) / step);
      expect(found.rises[0]![j]! / slopes[0]!).toBeCloseTo(1, 2);
      expect(found.rises[2]![j]! / slopes[1]!).toBeCloseTo(1, 3);
    }
  });

  it("tells a die that is badly heat-sunk from one that resists by itself", () => {
    const weak = smallest({ joint: { conductance: 1e-9, at: 0.1 } });
    const places = [
      { x: 1e-3, y: 1e-3, size: 5e-4 },
      { x: 3e-3, y: 3e-3, size: 5e-4 },
    ];
    const common = influence(weak, places);
    expect(common.smallestShare).toBeGreaterThan(0.9);
    expect(common.summary).toContain("a better heat sink helps all");
    expect(
      influence(
        bar,
        along.map((x) => square(x)),
      ).summary,
    ).toContain("stays near its heat");
  });

  it("refuses places that are none, by their field", () => {
    const here = { x: 1e-3, y: 1e-3, size: 5e-4 };
    expect(() => influence(bar, [here, { ...here, x: "30 mm" }])).toThrow(
      "places[1]: expected a place on the die",
    );
    expect(() => influence(bar, [here, "lid"])).toThrow(
      'places[1]: place "lid" is not known. Known: ',
    );
    expect(() => influence(bar, [here, "stage"])).toThrow("places[1]");
    expect(() => influence(bar, [here])).toThrow("places: expected two places or more");
    expect(() => influence(bar, [here, { ...here, name: "place 1" }])).toThrow("a name of its own");
  });
});
