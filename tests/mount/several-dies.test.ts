/** Mounts of several dies: held against one die, closed forms, and published numbers. */
import { describe, expect, it } from "vitest";
import { type Mount, readMount, sweep, thermalBudget } from "../../src/index.js";
import { MountModel } from "../../src/mount/model.js";
import type { DieJoint } from "../../src/mount/things/between.js";
import type { FurtherDie } from "../../src/mount/things/dies.js";
import { catalogue } from "./things/smallest.js";

const silicon = { material: "silicon", meanFreePath: "1 mm", cells: 32 } as const;
const around = {
  box: {
    material: "copper",
    residualResistivityRatio: 50,
    crossSection: "50 mm^2",
    pathLength: "20 mm",
  },
  joint: { faces: "gold-plated copper on gold-plated copper", force: "1 kN", count: 2 },
  stage: "100 mK",
} as const;
const clamps = [{ conductance: "50 nW/K", at: "100 mK", exponent: 3, count: 4 }] as const;
/** A joint of which the resistance is nothing to that of a die. */
const perfect = { conductance: "1 W/K", at: "100 mK", exponent: 3 } as const;

/** A chip that bumps hold on a carrier, which is bonded and clamped. */
export const flipChip: Mount = {
  name: "flip chip",
  die: { ...silicon, width: "8 mm", length: "8 mm", thickness: "0.5 mm" },
  between: [
    {
      name: "bumps",
      from: "die",
      to: "carrier",
      bumps: {
        material: "indium",
        residualResistivityRatio: 100,
        diameter: "60 um",
        height: "10 um",
        count: 36,
        pitch: "1.2 mm",
      },
    },
  ],
  dies: {
    carrier: {
      die: { ...silicon, width: "14 mm", length: "14 mm", thickness: "0.5 mm" },
      pads: {
        material: "gold",
        width: "300 um",
        length: "300 um",
        thickness: "500 nm",
        residualResistivityRatio: 5,
      },
      bonds: {
        material: "gold",
        count: 24,
        diameter: "25 um",
        length: "1.5 mm",
        residualResistivityRatio: 30,
      },
      clamps: [{ conductance: "1 nW/K", at: "100 mK", exponent: 3, count: 4 }],
      loads: [{ kind: "given", name: "amplifier", power: "0.2 nW" }],
    },
  },
  ...around,
  loads: [{ kind: "given", name: "readout", power: "1 nW" }],
  limit: { rise: "20 mK" },
};

const models = ["sheet", "centre and edge", "one node"] as const;
const withModel = (mount: Mount, model: (typeof models)[number] | "flights"): Mount => ({
  ...mount,
  die: { ...mount.die, model },
});
const rise = (mount: Mount) => thermalBudget(mount).chip.rise;

describe("a die cut in two, joined by a perfect joint", () => {
  const load = {
    kind: "given",
    name: "heater",
    power: "5 nW",
    map: { kind: "spot", x: "3 mm", y: "3 mm", radius: "1 mm" },
  } as const;
  const whole: Mount = {
    name: "whole",
    die: { ...silicon, width: "10 mm", length: "10 mm", thickness: "0.5 mm" },
    clamps,
    ...around,
    loads: [load],
  };

  it("in its thickness is the whole within the error of its tiles", () => {
    const half = { ...whole.die, thickness: "0.25 mm" } as const;
    const { clamps: _, ...held } = whole;
    const cut = (fromTo: Pick<DieJoint, "from" | "to">, own: Partial<Mount>, other: FurtherDie) =>
      rise({
        ...held,
        die: half,
        dies: { half: other },
        between: [{ ...fromTo, joint: perfect }],
        ...own,
      });
    const expected = rise(whole);
    const clampedBelow = cut({ from: "die", to: "half" }, {}, { die: half, clamps });
    const clampedAbove = cut({ from: "half", to: "die" }, { clamps }, { die: half });
    // Tiles of a twelfth of the die: what is left of the difference is spreading within one.
    expect(Math.abs(clampedBelow / expected - 1)).toBeLessThan(0.02);
    expect(Math.abs(clampedAbove / expected - 1)).toBeLessThan(0.02);
  });

  it("across is the whole within the error of the cells", () => {
    const lap = 10 / 64;
    const width = `${5 + lap / 2} mm` as const;
    const { clamps: _, ...held } = whole;
    const left = { ...whole.die, width } as const;
    // Four corners, two of them on either half.
    const half = { conductance: "50 nW/K", at: "100 mK", exponent: 3 } as const;
    const at = (x: string) =>
      [{ ...half, places: [0.5, 9.5].map((y) => ({ x, y: `${y} mm` })) }] as never;
    const cut: Mount = {
      ...held,
      die: left,
      clamps: at("0.5 mm"),
      dies: {
        right: {
          die: left,
          offset: { x: `${5 - lap / 2} mm`, y: 0 },
          clamps: at(`${4.5 + lap / 2} mm`),
        },
      },
      between: [{ from: "die", to: "right", joint: perfect }],
    };
    expect(Math.abs(rise(cut) / rise(whole) - 1)).toBeLessThan(0.02);
  });
});

describe("a further die", () => {
  /** The same with the carrier as the mount's own die. */
  const turned = (mount: Mount): Mount => {
    const { carrier } = mount.dies!;
    const { die, loads, ...rest } = mount;
    const { model, ...plate } = die;
    return {
      ...rest,
      ...carrier!,
      die: { ...carrier!.die, ...(model && { model }) },
      loads: carrier!.loads!,
      dies: { chip: { die: plate, loads } },
      between: mount.between!.map((each) => ({ ...each, from: "chip", to: "die" })),
    };
  };

  it.each(models)("is as the mount's own die, with the roles exchanged: %s", (model) => {
    const mount = withModel(flipChip, model);
    const [one, other] = [thermalBudget(mount), thermalBudget(turned(mount))];
    const of = ({ places }: typeof one, name: string) =>
      places.find((place) => place.name === name)!.temperature;
    const ends = model === "sheet" ? ", hottest place" : model === "one node" ? "" : " centre";
    expect(of(one, `die${ends}`) / of(other, `chip${ends}`)).toBeCloseTo(1, 12);
    expect(of(one, `carrier${ends}`) / of(other, `die${ends}`)).toBeCloseTo(1, 12);
    expect(of(one, "carrier: pad electrons") / of(other, "pad electrons")).toBeCloseTo(1, 12);
    expect(one.total).toBeCloseTo(1.2e-9, 20);
  });

  it("beside another is held by its own clamps, and both meet in the box", () => {
    const one: Mount = {
      name: "one of two",
      die: { ...silicon, width: "10 mm", length: "10 mm", thickness: "0.5 mm" },
      clamps,
      ...around,
      loads: [{ kind: "given", power: "1 nW" }],
    };
    const { die, loads } = one;
    const both = thermalBudget({
      ...one,
      dies: {
        second: { die: die as FurtherDie["die"], offset: { x: "12 mm", y: 0 }, clamps, loads },
      },
    });
    const [first, second] = ["die, hottest place", "second, hottest place"].map(
      (name) => both.places.find((place) => place.name === name)!.temperature,
    );
    expect(second! / first!).toBeCloseTo(1, 12);
    // The box carries the heat of both, so that its rise is that of one with twice the heat.
    const single = thermalBudget({
      ...one,
      loads: [...loads, { kind: "given", name: "box", power: "1 nW", on: "box" }],
    });
    expect(first! / single.chip.temperature).toBeCloseTo(1, 12);
  });

  it("shows drops along the main path that add up to the rise", () => {
    for (const model of models) {
      const { mainPath, chip } = thermalBudget(withModel(flipChip, model));
      expect(mainPath.reduce((sum, { drop }) => sum + drop, 0) / chip.rise).toBeCloseTo(1, 9);
      const names = mainPath.map(({ name }) => name);
      expect(names.indexOf("bumps")).toBeLessThan(names.indexOf("carrier: bonds"));
      if (model !== "one node") {
        expect(names.indexOf("bumps")).toBeLessThan(names.indexOf("spreading in carrier"));
      }
    }
  });

  it("follows flights, too", () => {
    const budget = thermalBudget(
      withModel(
        {
          ...flipChip,
          die: { ...flipChip.die, meanFreePath: undefined as never, rays: 4096 },
          dies: {
            carrier: {
              ...flipChip.dies!.carrier!,
              die: { ...flipChip.dies!.carrier!.die, meanFreePath: undefined as never, rays: 4096 },
            },
          },
        },
        "flights",
      ),
    );
    expect(budget.solution.imbalance.relative).toBeLessThan(1e-9);
    expect(budget.chip.rise).toBeGreaterThan(0.5 * rise(flipChip));
  });

  it("has fields that a sweep and a model can set", () => {
    const field = "dies.carrier.bonds.count";
    const swept = sweep(flipChip, { field, values: [12, 24, 48] });
    const rises = [0, 1, 2].map((i) => swept.rise(i));
    expect(rises[0]).toBeGreaterThan(rises[1]!);
    expect(rises[1]).toBeGreaterThan(rises[2]!);
    const model = new MountModel(readMount(flipChip), catalogue);
    model.vary("dies.carrier.die.thickness");
    model.solve();
    const before = model.temperature({ die: "carrier", x: 7e-3, y: 7e-3 });
    model.set("dies.carrier.die.thickness", 1e-3);
    model.solve();
    const after = model.temperature({ die: "carrier", x: 7e-3, y: 7e-3 });
    const fresh = thermalBudget({
      ...flipChip,
      dies: {
        carrier: {
          ...flipChip.dies!.carrier!,
          die: { ...flipChip.dies!.carrier!.die, thickness: "1 mm" },
        },
      },
    });
    expect(after).toBeLessThan(before);
    expect(model.temperature(model.chip) / fresh.chip.temperature).toBeCloseTo(1, 12);
  });
});
