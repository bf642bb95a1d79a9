import { describe, expect, it } from "vitest";
import { type Mount, sizeBonds, thermalBudget } from "../../../src/index.js";
import { flipChip } from "../../mount/flip-chip.js";
import { padded, smallest } from "../../mount/things/smallest.js";

const { count: _, ...wire } = padded.bonds;
const limited = (mount: Mount, model: "two nodes" | "sheet", rise = "2 mK" as const): Mount => ({
  ...mount,
  die: { ...mount.die, model },
  limit: { rise },
});
const onEdge = smallest({
  padGroups: [{ ...padded.pads, name: "south", edge: "lower", count: 2 }],
  bondGroups: [{ ...wire, pads: "south", name: "wires" }],
});

describe("bonds of a group", () => {
  it.each(["two nodes", "sheet"] as const)(
    "on an edge are counted as those of the short form, %s",
    (model) => {
      const short = smallest({ ...padded, bonds: { ...padded.bonds, count: 2, edges: ["lower"] } });
      const of = (mount: Mount) => limited(mount, model, "30 mK" as never);
      const [group, alike] = [sizeBonds(of(onEdge), { group: "wires" }), sizeBonds(of(short))];
      expect(group.count).toBe(alike.count);
      expect(group.count).toBeGreaterThan(1);
      expect(group.budget.chip.rise / alike.budget.chip.rise).toBeCloseTo(1, 9);
      expect(group.alternatives.map(({ change }) => change)).toContain("bonds half as long");
    },
  );

  it("on pads at places are counted by those on each pad, in the space that other groups leave", () => {
    const places = [1, 2, 3].map((x) => ({ x: `${x} mm`, y: "0.5 mm" }) as const);
    const mount = limited(
      smallest({
        padGroups: [{ ...padded.pads, width: "300 um", length: "300 um", name: "own", places }],
        bondGroups: [
          { ...wire, pads: "own", name: "more", diameter: "25 um" },
          { ...wire, pads: "own", name: "fixed", diameter: "25 um", perPad: 2 },
        ],
      }),
      "two nodes",
      "40 mK" as never,
    );
    const sizing = sizeBonds(mount, { group: "more" });
    // Feet of 50 µm: six fit on a pad, and two are taken.
    expect(sizing.room).toBe(12);
    const at = (perPad: number) =>
      thermalBudget({
        ...mount,
        bondGroups: mount.bondGroups!.map((own) =>
          own.name === "more" ? { ...own, perPad } : own,
        ),
      });
    const count = sizing.count!;
    expect(count % 3).toBe(0);
    if (count > 3) expect(at(count / 3 - 1).margin!).toBeLessThan(0);
    expect(sizing.budget.chip.rise / at(Math.min(count, 12) / 3).chip.rise).toBeCloseTo(1, 12);
  });

  it("of a further die are asked for by its name", () => {
    const { carrier } = flipChip.dies!;
    const { pads, bonds, ...rest } = carrier!;
    const { count: _, ...each } = bonds!;
    const mount: Mount = {
      ...flipChip,
      die: { ...flipChip.die, model: "two nodes" },
      dies: {
        carrier: {
          ...rest,
          padGroups: [{ ...pads!, name: "south", edge: "lower", count: 4 }],
          bondGroups: [{ ...each, pads: "south" }],
        },
      },
    };
    const at = (count: number) =>
      thermalBudget({
        ...mount,
        dies: {
          carrier: {
            ...mount.dies!.carrier!,
            padGroups: [{ ...mount.dies!.carrier!.padGroups![0]!, count }],
          },
        },
      }).chip.rise;
    // A limit that six hold, and five do not.
    const limit = { rise: (at(6) + at(5)) / 2 };
    const sizing = sizeBonds({ ...mount, limit }, { group: "carrier: south" });
    expect(sizing.count).toBe(6);
    expect(sizing.room).toBe(44);
    expect(sizing.budget.chip.rise / at(6)).toBeCloseTo(1, 12);
  });

  it("are refused where there is no such group, or where samples are asked for", () => {
    const mount = limited(onEdge, "two nodes");
    expect(() => sizeBonds(mount, { group: "wire" })).toThrow(
      'group: group of bonds "wire" is not known, did you mean "wires"? Known: wires',
    );
    expect(() => sizeBonds(mount, { group: "wires", for: "probable" } as never)).toThrow(
      "group: expected none",
    );
    expect(() => sizeBonds(mount)).toThrow("bonds: expected bonds to count");
  });
});
