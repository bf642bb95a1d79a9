import { describe, expect, it } from "vitest";
import { FastSheet } from "../../../src/design/confidence/fast-sheet.js";
import { lumpedMount } from "../../../src/design/confidence/lumped-mount.js";
import { placedLaws } from "../../../src/mount/ranges.js";
import { SteadyNetwork } from "../../../src/network/steady.js";
import { modelOf, padded, smallest } from "../../mount/things/smallest.js";

type Things = Parameters<typeof smallest>[0];
function lumped(things: Things, die: "sheet" | "two nodes" = "sheet") {
  const model = modelOf(smallest(things), die);
  const point = model.point();
  return { model, point, made: lumpedMount(model, point, []) };
}
const bonds = { ...padded.bonds, count: 8 };
const spot = { kind: "spot", x: 1e-3, y: 1.5e-3, radius: 3e-4 } as const;
const uneven: Things = { ...padded, bonds, loads: [{ kind: "given", power: 1e-9, map: spot }] };

describe("a mount with a 2-D die, its contacts alone", () => {
  const [symmetric, other] = [lumped({ ...padded, bonds }), lumped(uneven)];

  it("takes pads that are alike by symmetry together: two on each edge of an even square are one", () => {
    const [die] = symmetric.made!.dies;
    expect([...die!.sizes]).toEqual([8]);
    // An uneven load leaves each by itself.
    expect([...other.made!.dies[0]!.sizes]).toEqual(Array(8).fill(1));
  });

  it("keeps heat: rows of its admittance sum to 0, and a watt leaves for each watt of a load", () => {
    const [die] = other.made!.dies;
    const n = die!.terminals.length;
    const largest = Math.max(...die!.admittance.map(Math.abs));
    for (let a = 0; a < n; a++) {
      const row = die!.admittance.subarray(a * n, (a + 1) * n);
      expect(Math.abs(row.reduce((sum, y) => sum + y, 0)) / largest).toBeLessThan(1e-12);
    }
    for (const outflow of die!.outflows)
      expect(outflow.reduce((sum, part) => sum + part, 0)).toBeCloseTo(1, 10);
  });

  it.each([
    ["even", symmetric],
    ["uneven", other],
  ] as const)("is as warm as the whole model under an %s load", (_, { point, made }) => {
    const network = new SteadyNetwork(made!.network);
    const sheet = new FastSheet(made!, network, placedLaws(point.structure, point.conductors));
    expect(sheet.trySolve()).toBe(true);
    expect(sheet.read()).toBe(true);
    expect((sheet.chip - point.stage) / (point.chip - point.stage)).toBeCloseTo(1, 8);
    const coldest = point.reading.fields.get("die")!.coldest.temperature;
    expect(sheet.dies[0]!.coldest / coldest).toBeCloseTo(1, 8);
    const feet = sheet.places.indexOf("pad foot");
    const [low, high] = point.reading.extents.get("pad foot")!;
    expect([sheet.low[feet]! / low, sheet.high[feet]! / high]).toEqual([
      expect.closeTo(1, 8),
      expect.closeTo(1, 8),
    ]);
  });

  it("is none where an input moves contacts or heat, and of a die without places", () => {
    const { model, point } = other;
    const movedBy = (field: string) => lumpedMount(model, point, [{ field }]);
    expect(movedBy("bonds.length")).toBeDefined();
    for (const field of ["pads.width", "die.width", "loads.0.map.x"])
      expect(movedBy(field), field).toBeUndefined();
    expect(lumped(uneven, "two nodes").made).toBeUndefined();
  });
});
