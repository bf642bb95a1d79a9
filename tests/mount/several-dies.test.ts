/** Mounts of several dies: held against one die, closed forms, and published numbers. */
import { describe, expect, it } from "vitest";
import { uncertainMount } from "../../src/design/confidence/uncertain-mount.js";
import { sizeByMedians } from "../../src/design/sizing/size.js";
import {
  type Mount,
  readMount,
  spread,
  sweep,
  thermalBudget,
  timeCourse,
} from "../../src/index.js";
import type { Budget } from "../../src/mount/budget-result.js";
import { MountModel } from "../../src/mount/model.js";
import { allSources } from "../../src/mount/sources.js";
import type { DieJoint } from "../../src/mount/things/die-joints.js";
import type { FurtherDie } from "../../src/mount/things/dies.js";
import { slowly } from "../slowly.js";
import { around, flipChip, silicon } from "./flip-chip.js";
import { catalogue } from "./things/smallest.js";

const clamps = [{ conductance: "50 nW/K", at: "100 mK", exponent: 3, count: 4 }] as const;
/** A joint of which the resistance is nothing to that of a die. */
const perfect = { conductance: "1 W/K", at: "100 mK", exponent: 3 } as const;

const models = ["sheet", "two nodes", "one node"] as const;
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

  slowly("in its thickness is the whole within the error of its tiles", () => {
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
      dies: { detector: { die: plate, loads } },
      between: mount.between!.map((each) => ({ ...each, from: "detector", to: "die" })),
    };
  };

  it.each(models)("is as the mount's own die, with the roles exchanged: %s", (model) => {
    const mount = withModel(flipChip, model);
    const [one, other] = [thermalBudget(mount), thermalBudget(turned(mount))];
    const of = ({ places }: typeof one, name: string) =>
      places.find((place) => place.name === name)!.temperature;
    const ends = model === "sheet" ? ", hottest point" : model === "one node" ? "" : " centre";
    expect(of(one, `die${ends}`) / of(other, `detector${ends}`)).toBeCloseTo(1, 12);
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
    const [first, second] = ["die, hottest point", "second, hottest point"].map(
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

  it("adds its heat where the bonds of the own die are counted", () => {
    const alone = turned(withModel({ ...flipChip, limit: { rise: "1 mK" } }, "two nodes"));
    const { dies: _, between: __, ...bare } = alone;
    const [both, one] = [sizeByMedians(alone), sizeByMedians({ ...bare, limit: { rise: "1 mK" } })];
    expect(both.count).toBeGreaterThan(one.count!);
    expect(both.budget.chip.rise).toBeLessThanOrEqual(1e-3);
    expect(() => sizeByMedians(flipChip)).toThrow("bonds: expected bonds to count");
  });

  it.each(models)("reads out resonators that lose quality as it warms: %s", (model) => {
    const readout = {
      kind: "readout",
      name: "tones",
      tones: 400,
      powerPerTone: "-95 dBm",
      couplingQuality: 4e4,
      resonator: {
        superconductor: "aluminium",
        frequency: "5 GHz",
        kineticInductanceFraction: 0.3,
        otherQuality: 1e6,
      },
    } as const;
    const { carrier } = flipChip.dies!;
    const other: Mount = {
      ...flipChip,
      dies: { carrier: { ...carrier!, loads: [readout] } },
      loads: [...flipChip.loads, readout],
    };
    const [one, turnedOne] = [withModel(other, model), turned(withModel(other, model))];
    const [budget, exchanged] = [thermalBudget(one), thermalBudget(turnedOne)];
    const rises = ({ places }: Budget, names: readonly string[]) =>
      names.map((name) => places.find((place) => place.name.startsWith(name))!.temperature);
    const [die, carrierAt] = rises(budget, ["die", "carrier"]);
    const [carrierToo, detector] = rises(exchanged, ["die", "detector"]);
    expect(die! / detector!).toBeCloseTo(1, 9);
    expect(carrierAt! / carrierToo!).toBeCloseTo(1, 9);
    // Each takes what its law says at its own hottest point.
    const sources = allSources(readMount(one)).filter((source) => source.name.endsWith("tones"));
    expect(sources.map(({ on }) => on)).toEqual(["die", "carrier"]);
    for (const source of sources) {
      const law = source.law(readMount(one), catalogue)!;
      const T = source.on === "die" ? die! : carrierAt!;
      const found = budget.sources.find(({ name }) => name === source.name)!;
      expect(found.power / law.power(T)).toBeCloseTo(1, 9);
    }
    expect(budget.detectors.map(({ name }) => name)).toEqual(["tones", "carrier: tones"]);
    expect(budget.detectors[0]!.internalQuality).not.toBe(budget.detectors[1]!.internalQuality);
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

  slowly("follows flights, too", () => {
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

  it("stores its heat: two bodies and a joint come back as two coupled relaxations do", () => {
    // Closed form: C₁ dT₁/dt = −(g₁T₁ − g₂T₂), C₂ dT₂/dt = g₁T₁ − (g₂ + k)T₂ of small rises, g of the bumps
    // and k of the clamps at the temperatures of their ends; the times are −1/λ of this matrix.
    const { carrier } = flipChip.dies!;
    const { loads: _, pads, bonds, ...held } = carrier!;
    const mount = withModel({ ...flipChip, dies: { carrier: held } }, "one node");
    const plain = readMount(mount);
    const { structure } = new MountModel(plain, catalogue);
    const course = timeCourse(mount, { duration: "1 us" });
    const [T1, T2] = ["die", "carrier"].map((name) => course.meanAt(name, 0)) as [number, number];
    const C = (place: string, T: number) =>
      structure.stores
        .filter(({ at }) => at.name === place)
        .reduce((sum, { store }) => sum + store(plain, catalogue).heatCapacity(T), 0);
    const g = (name: string, T: number) => {
      const { conductor, count } = structure.paths.find((path) => path.name === name)!;
      return count!(plain) * conductor(plain, catalogue).conductance(T);
    };
    const [C1, C2] = [C("die", T1), C("carrier", T2)];
    const [g1, g2, k] = [g("bumps", T1), g("bumps", T2), g("carrier: clamps", T2)];
    const trace = g1 / C1 + (g2 + k) / C2;
    const root = Math.sqrt(trace ** 2 - (4 * g1 * k) / (C1 * C2));
    const expected = [2 / (trace - root), 2 / (trace + root)];
    const found = course.eigenTimes.filter(({ places }) =>
      ["die", "carrier"].includes(places[0]!.name),
    );
    expect(found).toHaveLength(2);
    for (const [i, time] of expected.entries()) expect(found[i]!.time / time).toBeCloseTo(1, 2);
    // Heat of silicon at 0.1 K by Debye's law, 12π⁴/5 N k (T/θ)³ with θ = 645 K (from memory).
    const debye = (kelvin: number) =>
      ((12 * Math.PI ** 4) / 5) * 1.380649e-23 * 4.996e28 * (kelvin / 645) ** 3;
    expect(C2 / (debye(T2) * 14e-3 ** 2 * 5e-4)).toBeCloseTo(1, 1);
  });

  it("in cells keeps the heat that a hit brings", () => {
    const course = timeCourse(flipChip, {
      duration: "2 us",
      cells: 8,
      hits: [{ at: "1 us", energy: "1 MeV" }],
    });
    // What stores have taken up in so short a time is what came, but for what has left by then.
    expect(course.places).toContain("carrier, hottest point");
    expect(course.peak.temperature).toBeGreaterThan(course.before);
    expect(course.meanAt("carrier, hottest point", 0)).toBeLessThan(course.before);
  });

  slowly("takes its numbers into samples and into a number of bonds", () => {
    const carrier = flipChip.dies!.carrier!;
    const uncertain: Mount = {
      ...flipChip,
      dies: {
        carrier: {
          ...carrier,
          bonds: { ...carrier.bonds!, length: spread("1 mm", "2 mm") },
          die: { ...carrier.die, thickness: spread("0.45 mm", "0.55 mm") },
        },
      },
    };
    for (const model of ["one node", "sheet"] as const) {
      const found = uncertainMount(withModel(uncertain, model), { catalogue, rows: "none" });
      expect(found.inputs.map(({ field }) => field)).toEqual([
        "dies.carrier.die.thickness",
        "dies.carrier.bonds.length",
      ]);
      const nominal = found.evaluate(found.medians);
      expect(
        nominal.chip / thermalBudget(withModel(uncertain, model)).chip.temperature,
      ).toBeCloseTo(1, 7);
      const longer = found.medians.slice();
      longer[1] = 2e-3;
      expect(found.evaluate(longer).chip).toBeGreaterThan(nominal.chip);
    }
  });
});
