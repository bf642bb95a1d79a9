/** Groups of pads on a die of flights: phonons that were flown for one number of them serve for others. */
import { afterAll, describe, expect, it, vi } from "vitest";
import type { Flights } from "../../../src/chip/flights/flights.js";
import { sizeByMedians } from "../../../src/design/sizing/size.js";
import { sweep } from "../../../src/design/sweeping/sweep.js";
import { MountModel } from "../../../src/mount/model.js";
import type { Mount } from "../../../src/mount/mount.js";
import { readMount } from "../../../src/mount/read.js";
import { padsOfGroup } from "../../../src/mount/things/edges.js";
import { Sobol } from "../../../src/numerics/sobol.js";
import { catalogue, padded, smallest } from "../../mount/things/smallest.js";

/** Each phonon that starts takes one point of the sequence. */
const started = vi.spyOn(Sobol.prototype, "next");
afterAll(() => started.mockRestore());
const startedBy = <T>(run: () => T): readonly [T, number] => {
  started.mockClear();
  return [run(), started.mock.calls.length];
};

const { count: _, ...wire } = padded.bonds;
/** Pads on the lower edge left and right of a launch, and on the upper; glue takes the rest of the heat. */
const grouped = (south: number, more: Partial<Mount> = {}): Mount => {
  const mount = smallest({
    padGroups: [
      {
        ...padded.pads,
        name: "south",
        edge: "lower",
        count: south,
        keepOut: [{ from: "1.5 mm", to: "2.2 mm" }],
      },
      { ...padded.pads, name: "north", edge: "upper", count: 3 },
    ],
    bondGroups: [
      { ...wire, pads: "south" },
      { ...wire, pads: "north" },
    ],
    ...more,
  });
  return { ...mount, die: { ...mount.die, model: "flights", rays: 8192 } };
};
const pointOf = (mount: Mount) => new MountModel(readMount(mount), catalogue).point();
const riseOf = ({ chip, stage }: ReturnType<typeof pointOf>) => chip - stage;
/** What contacts exchange, and how far each may be off. */
const exchanged = ({ die }: ReturnType<typeof pointOf>) => {
  const flights = die!.condensed as Flights;
  return [flights.exchange().admittance, flights.exchangeErrors()] as const;
};

describe("groups of pads on a die of flights", () => {
  it("are swept and sized with the phonons of the first number, as pads that are all alike", () => {
    const [rise, once] = startedBy(() => riseOf(pointOf(grouped(5))));
    expect(once).toBeGreaterThan(8192);
    const [swept, bySweep] = startedBy(() =>
      sweep(grouped(2), { field: "padGroups.0.count", values: [2, 3, 5, 8, 9] }),
    );
    expect(bySweep).toBe(once);
    expect(swept.rise(2)).toBe(rise);
    expect(swept.rise(4)).toBeLessThan(0.9 * swept.rise(0));
    const limited: Mount = { ...grouped(2), limit: { rise: 1.001 * rise } };
    const [{ count }, bySizing] = startedBy(() => sizeByMedians(limited, { group: "south" }));
    expect(count).toBe(5);
    // Longer pads, one of the alternatives, are flown anew, whatever the pads are called.
    const alike: Mount = {
      ...smallest({ ...padded, bonds: { ...padded.bonds, count: 2 } }),
      die: limited.die,
    };
    const [, onceAlike] = startedBy(() => pointOf(alike));
    const [, byAlike] = startedBy(() => sizeByMedians({ ...alike, limit: { rise: 0.02 } }));
    expect(bySizing / once).toBe(byAlike / onceAlike);
  });

  it.each([
    ["beside each other", 4, () => ({})],
    [
      "within the band of another group, a clamp in it",
      2,
      (count: number): Partial<Mount> => ({
        padGroups: [
          { ...padded.pads, name: "south", edge: "lower", count, pitch: "210 um" },
          {
            ...padded.pads,
            name: "north",
            edge: "lower",
            count: 2,
            keepOut: [{ from: "0.9 mm", to: "3.1 mm" }],
          },
        ],
        clamps: [
          {
            faces: "sapphire on silicon",
            force: 2.7,
            places: [{ x: "2.75 mm", y: "0.55 mm" }],
          },
        ],
      }),
    ],
  ])(
    "%s give what is flown for them by themselves, within the errors",
    (_, first, more: (count: number) => Partial<Mount>) => {
      const model = new MountModel(readMount(grouped(first, more(first))), catalogue);
      const [, once] = startedBy(() => model.point());
      expect(once).toBeGreaterThan(8192);
      for (let count = first - 1; count > 0; count--) {
        model.set("padGroups.0.count", count);
        const [reused, again] = startedBy(() => model.point());
        expect(again).toBe(0);
        const { padGroups, ...own } = readMount(grouped(count, more(count)));
        // At places of their own they do not move, and each has phonons of its own.
        const placed = padGroups!.map((group) => {
          const { edge: _, count: __, pitch: ___, inset: ____, keepOut: _____, ...pad } = group;
          const places = padsOfGroup(own, group, "").map(({ area }) => ({
            x: (area.left + area.right) / 2,
            y: (area.bottom + area.top) / 2,
          }));
          return { ...pad, places };
        });
        const fresh = { ...own, padGroups: placed, die: { ...own.die, rays: 65536 } } as Mount;
        const [[a, da], [b, db]] = [exchanged(reused), exchanged(pointOf(fresh))];
        expect(a).toHaveLength(b.length);
        a.forEach((y, i) => {
          // Standard errors from 16 shards follow Student's law: 5 of them are beyond one in 5000.
          expect(Math.abs(y - b[i]!)).toBeLessThanOrEqual(5 * Math.hypot(da[i]!, db[i]!));
        });
        expect(riseOf(reused)).toBe(riseOf(pointOf(grouped(count, more(count)))));
      }
    },
  );
});
