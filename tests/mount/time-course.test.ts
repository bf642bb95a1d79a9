import { describe, expect, it } from "vitest";
import { type Mount, thermalBudget, timeCourse } from "../../src/index.js";
import { heatStore, sheetToEdges, temperatureAfter } from "../../src/joints/index.js";
import { standardCatalogue } from "../../src/materials/standard.js";
import { inTime, storesOf } from "../../src/mount/in-time.js";
import { MountModel } from "../../src/mount/model.js";
import { readMount } from "../../src/mount/read.js";
import { quickMount, exampleMount as sheetMount } from "./example.js";

const oneNode: Mount = { ...quickMount(), die: { ...quickMount().die, model: "one node" } };
const modelOf = (mount: Mount) => new MountModel(readMount(mount), standardCatalogue());
const electronvolt = 1.602176634e-19;

describe("what a mount stores", () => {
  it("is the die's volume times the heat capacity of its material, however the die is divided", () => {
    const { width, length, thickness, material } = readMount(oneNode).die;
    const whole = heatStore({ material, volume: width * length * thickness }).heatCapacity(0.1);
    for (const mount of [oneNode, quickMount(), sheetMount()]) {
      const { stores } = storesOf(modelOf(mount));
      const die = stores.filter(({ name }) => name.startsWith("die"));
      const sum = die.reduce((total, { store }) => total + store.heatCapacity(0.1), 0);
      expect(sum / whole).toBeCloseTo(1, 12);
    }
  });

  it("is the same in cells as in one node a place, place by place", () => {
    const total = (mount: Mount) => {
      const { network } = inTime(modelOf(mount));
      return network.nodes.reduce((sum, { store }) => sum + (store?.heatCapacity(0.1) ?? 0), 0);
    };
    expect(total(sheetMount()) / total(oneNode)).toBeCloseTo(1, 10);
  });

  it("puts so much of the die at its centre that an even load stores its true heat", () => {
    // The mean of the evenly heated square over its hottest point, 0.03514 / 0.07367: Carslaw and
    // Jaeger, Conduction of Heat in Solids (1959), computed from their series.
    const square = {
      ...quickMount(),
      die: { ...quickMount().die, width: "20 mm", length: "20 mm" },
    } as const;
    const { stores } = storesOf(modelOf(square));
    const at = (name: string) => stores.find((s) => s.name === name)!.store.heatCapacity(0.1);
    const share = at("die, middle") / (at("die, middle") + at("die, edges"));
    expect(share).toBeCloseTo(0.03514 / 0.07367, 3);
    const factor = (place: "mean" | "hottest") =>
      sheetToEdges({
        material: "silicon",
        width: "20 mm",
        length: "20 mm",
        thickness: "0.38 mm",
        meanFreePath: "1 mm",
        place,
      }).conductance(0.1);
    expect(share).toBeCloseTo(factor("hottest") / factor("mean"), 10);
  });

  it("leaves out what has no heat capacity on file, and says so; not the die", () => {
    const peek = { ...oneNode, box: { ...oneNode.box, material: "al-3003" } };
    const { warnings } = storesOf(modelOf(peek));
    expect(warnings).toHaveLength(1);
    expect(warnings[0]).toMatch(/box\.material.*al-3003.*left out/s);
    const macor = { ...oneNode, die: { ...oneNode.die, material: "macor" } };
    expect(() => timeCourse(macor, { duration: "1 ms" })).toThrow(/macor/);
  });
});

describe("a mount in time", () => {
  it("stays where the budget has it when nothing happens", () => {
    for (const mount of [oneNode, quickMount()]) {
      const course = timeCourse(mount, { duration: "1 s" });
      const { temperature } = thermalBudget(mount).chip;
      expect(course.chip[0]! / temperature).toBeCloseTo(1, 10);
      expect(course.chip.at(-1)! / temperature).toBeCloseTo(1, 9);
    }
  });

  it("has the rise of the sheet in cells within 2 %", () => {
    const { chip, stage } = thermalBudget(sheetMount());
    const course = timeCourse(sheetMount(), { duration: "1 ms", cells: 32 });
    expect((course.chip[0]! - stage) / chip.rise).toBeGreaterThan(0.98);
    expect((course.chip[0]! - stage) / chip.rise).toBeLessThan(1.02);
  });

  it("jumps by a hit to the temperature that solves ∫C dT = E", () => {
    const { width, length, thickness, material } = readMount(oneNode).die;
    const die = heatStore({ material, volume: width * length * thickness });
    const course = timeCourse(oneNode, {
      duration: "10 ms",
      hits: [{ at: "1 ms", energy: "2 MeV" }],
    });
    const after = temperatureAfter(die, course.before, 2e6 * electronvolt);
    expect(course.peak.time).toBeCloseTo(1e-3, 12);
    expect(course.peak.temperature / after).toBeCloseTo(1, 9);
  });

  it("keeps its energy: what was given went out or is stored, within 1e-7", () => {
    const course = timeCourse(quickMount(), {
      duration: "20 ms",
      hits: [
        { at: "1 ms", energy: "150 keV" },
        { at: "2 ms", energy: "3 MeV" },
      ],
      changes: [{ at: "5 ms", load: quickMount().loads[0]!.name!, to: 3, over: "2 ms" }],
    });
    const { given, out, stored, imbalance } = course.solution.energy;
    expect(Math.abs(imbalance)).toBeLessThan(1e-7);
    expect(Math.abs(given - out - stored) / given).toBeLessThan(1e-7);
  });

  it("ends a change of load at the budget of the mount with that load", () => {
    const mount = quickMount();
    const name = mount.loads.find((load) => load.kind === "optical")!.name!;
    const course = timeCourse(mount, {
      duration: "1 s",
      initially: { [name]: 0 },
      changes: [{ at: "1 ms", load: name, to: 2, over: "3 ms" }],
    });
    const without = { ...mount, loads: mount.loads.filter((load) => load.name !== name) };
    const light = mount.loads.filter((load) => load.name === name);
    const twice = {
      ...mount,
      loads: [...mount.loads, ...light.map((load) => ({ ...load, name: `more ${name}` }))],
    };
    expect(course.chip[0]! / thermalBudget(without).chip.temperature).toBeCloseTo(1, 9);
    expect(course.chip.at(-1)! / thermalBudget(twice).chip.temperature).toBeCloseTo(1, 8);
  });

  it("follows a stage that is moved, and cools from one temperature down to rest", () => {
    const moved = timeCourse(quickMount(), {
      duration: "1 s",
      stage: [{ at: "10 ms", to: "150 mK", over: "10 ms" }],
    });
    const warm = thermalBudget({ ...quickMount(), stage: "150 mK" });
    expect(moved.chip.at(-1)! / warm.chip.temperature).toBeCloseTo(1, 8);
    const cooling = timeCourse(quickMount(), { duration: "1 s", start: "300 mK" });
    expect(cooling.chip[0]).toBeCloseTo(0.3, 12);
    // Its own load warms it a little before the cold reaches it.
    expect(Math.max(...cooling.chip)).toBeLessThan(0.301);
    expect(cooling.chip.at(-1)! / thermalBudget(quickMount()).chip.temperature).toBeCloseTo(1, 8);
  });

  it("says how long the chip is above a temperature: of an exponential, τ ln(h/x)", () => {
    // A hit so small that the decay is linear; the tail is that of the slowest time the die has part in.
    const course = timeCourse(oneNode, {
      duration: "20 ms",
      hits: [{ at: 0, energy: "200 eV" }],
      relativeTolerance: 1e-11,
    });
    const die = course.eigenTimes.find(({ places }) => places[0]!.name === "die")!;
    const height = course.peak.temperature - course.before;
    const between =
      course.timeAbove(course.before + 0.2 * height) -
      course.timeAbove(course.before + 0.4 * height);
    expect(between / (die.time * Math.log(2))).toBeCloseTo(1, 2);
  });

  it("finds when a hot spot has spread, later for a stricter share", () => {
    const mount = sheetMount();
    const course = timeCourse(mount, {
      duration: "200 us",
      hits: [{ at: 0, energy: "150 keV", place: { x: "3 mm", y: "4 mm" } }],
      cells: 16,
      relativeTolerance: 1e-8,
    });
    const [loose, strict] = [course.uniformAfter(0, 1)!, course.uniformAfter(0, 0.4)!];
    expect(loose).toBeGreaterThan(0);
    expect(strict).toBeGreaterThan(loose);
    const rises = course.dieRise(strict);
    const mean = rises.reduce((sum, rise) => sum + rise / rises.length, 0);
    expect(Math.max(...rises) / mean).toBeCloseTo(1.4, 1);
  });
});

describe("wrong wishes in time", () => {
  const refused: [string, Parameters<typeof timeCourse>[1], RegExp][] = [
    ["no duration", { duration: 0 }, /duration.*greater than 0/],
    [
      "a hit of negative energy",
      { duration: 1, hits: [{ at: 0, energy: "-1 keV" }] },
      /hits\[0\]\.energy/,
    ],
    [
      "a hit beside the die",
      { duration: 1, hits: [{ at: 0, energy: 1e-15, place: { x: "90 mm", y: 0 } }] },
      /hits\[0\]\.place\.x.*place on the die/,
    ],
    [
      "hits out of order",
      {
        duration: 1,
        hits: [
          { at: 0.5, energy: 1e-15 },
          { at: 0.1, energy: 1e-15 },
        ],
      },
      /hits\[1\]\.at.*500 ms/,
    ],
    [
      "a hit after the end",
      { duration: 1, hits: [{ at: 2, energy: 1e-15 }] },
      /hits\[0\]\.at.*before the end/,
    ],
    [
      "an unknown load",
      { duration: 1, changes: [{ at: 0, load: "lihgt", to: 1 }] },
      /changes\[0\]\.load.*lihgt/,
    ],
    [
      "a negative factor",
      { duration: 1, initially: { [quickMount().loads[0]!.name!]: -1 } },
      /initially/,
    ],
    [
      "changes that overlap",
      {
        duration: 1,
        changes: [
          { at: 0, load: quickMount().loads[0]!.name!, to: 2, over: 0.5 },
          { at: 0.2, load: quickMount().loads[0]!.name!, to: 1 },
        ],
      },
      /when the change before it has ended/,
    ],
    ["a start of nothing", { duration: 1, start: 0 }, /start.*greater than 0/],
    ["cells without end", { duration: 1, cells: 1000 }, /cells/],
  ];
  it.each(refused)("refuses %s", (name, options, message) => {
    const mount = name.startsWith("cells") ? sheetMount() : quickMount();
    expect(() => timeCourse(mount, options)).toThrow(message);
  });

  it("refuses to move a stage that finds its own temperature", () => {
    const mount = {
      ...quickMount(),
      stage: {
        coolingCurve: {
          points: [
            ["50 mK", 0],
            ["100 mK", "100 uW"],
            ["200 mK", "1 mW"],
          ],
        },
      },
    } as const;
    expect(() => timeCourse(mount, { duration: 1, stage: [{ at: 0, to: 0.2 }] })).toThrow(/stage/);
  });
});

describe("a run with a law beyond its range", () => {
  it("prints no more digits of a rise than the law has", () => {
    const { bonds: _, pads: __, ...rest } = quickMount();
    const pressed = (force: number) =>
      timeCourse(
        {
          ...rest,
          clamps: [{ name: "clamps", faces: "sapphire on silicon", force, count: 4 }],
          stage: "250 mK",
          loads: [{ kind: "given", power: "1 nW" }],
        },
        { duration: "1 ms", hits: [{ at: "0.1 ms", energy: "1 MeV" }] },
      );
    const [within, beyond] = [pressed(2.7), pressed(0.02)];
    expect([within.extrapolated, beyond.extrapolated]).toEqual([false, true]);
    expect(within.summary).not.toContain("≈");
    expect(beyond.summary).toMatch(/warmest, ≈ \d+ mK \(extrapolated\), at .* 1 warning/);
  });
});
