/** A mount whose die is one of flights. */
import { describe, expect, it } from "vitest";
import { behindRadiation, boundary, phononRadiation } from "../../src/joints/boundary.js";
import { standardCatalogue } from "../../src/materials/standard.js";
import { thermalBudget } from "../../src/mount/budget.js";
import { timeCourse } from "../../src/mount/follow.js";
import { MountModel } from "../../src/mount/model.js";
import type { Mount } from "../../src/mount/mount.js";
import { readMount } from "../../src/mount/read.js";
import { slowly } from "../slowly.js";
import { exampleMount } from "./example.js";

function flying(die: Partial<Mount["die"]> = {}): Mount {
  const mount = exampleMount();
  return { ...mount, die: { ...mount.die, model: "flights", rays: 4096, ...die } };
}

const silicon = { longitudinal: 8970, transverse: 5330 };

describe("a boundary behind flights", () => {
  it("is what is left when what a black wall sends out is counted elsewhere", () => {
    // σ of silicon with 8970 and 5330 m/s, π²k⁴/(120ħ³) Σ c⁻²: 211 W/(m² K⁴).
    const radiation = phononRadiation(silicon);
    expect(radiation).toBeCloseTo(211, 0);
    // Two of one kind by diffuse mismatch: half of what meets it passes, and so 1/A_B − 1/σ = 1/σ.
    const half = boundary({ area: 1e-6, between: ["silicon", "silicon"] });
    const left = behindRadiation(half, 1e-6 * radiation);
    expect(left.powers![0]!.coefficient / (1e-6 * radiation)).toBeCloseTo(1, 9);
    expect(left.provenance).toEqual(half.provenance);
    // One that passes all that meets it, or seems to pass more, costs nothing to speak of.
    const full = boundary({ area: 1e-6, resistance: 1 / (4 * 2 * radiation) });
    expect(behindRadiation(full, 1e-6 * radiation).powers![0]!.coefficient).toBeGreaterThan(
      900e-6 * radiation,
    );
  });
});

describe("a mount with a die of flights", () => {
  const budget = thermalBudget(flying());

  it("has a budget in which heat balances and the boundary is not counted twice", () => {
    const drop = (of: typeof budget, name: string) =>
      of.elements.find((element) => element.name === name)!.drop;
    const sheet = thermalBudget(exampleMount());
    expect(budget.solution.imbalance.relative).toBeLessThan(1e-12);
    // Silicon on gold passes 0.87 of what meets it by diffuse mismatch: the rest of the boundary is the
    // emission of the die, which is in the flights.
    const passed = phononRadiation({ longitudinal: 3390, transverse: 1290 });
    const share = passed / (passed + phononRadiation(silicon));
    const ratio = drop(budget, "pad boundary") / drop(sheet, "pad boundary");
    expect(Math.abs(ratio / (1 - share) - 1)).toBeLessThan(0.05);
    expect(budget.chip.rise / sheet.chip.rise).toBeGreaterThan(0.9);
    expect(budget.chip.rise / sheet.chip.rise).toBeLessThan(1.2);
    expect(budget.warnings.filter((text) => text.includes("flights"))).toEqual([]);
    expect(budget.toText()).toContain("phonons");
  });

  it("rises by the heat over the emission of its pads at least, P/(4 σ A T³)", () => {
    const pads = 80 * 150e-6 * 300e-6 * phononRadiation(silicon);
    const { places, total } = budget;
    const at = (name: string) => places.find((place) => place.name === name)!.temperature;
    const mean = (at("die at the pads") ** 4 + total / pads) ** 0.25;
    expect(budget.field!.mean).toBeGreaterThan(mean * 0.9995);
    expect(budget.field!.mean).toBeLessThan(mean * 1.02);
  });

  slowly("is cooler in the middle the more its faces are mirrors, until they trap phonons", () => {
    const spread = [0, 0.9].map((specularity) => {
      const { field } = thermalBudget(flying({ specularity, rays: 16384 }));
      return field!.hottest.temperature - field!.coldest.temperature;
    });
    expect(spread[1]).toBeLessThan(0.7 * spread[0]!);
  });

  it("takes the finish of its faces from the catalogue", () => {
    const finish = { front: "polished", back: "lapped", sides: "diced" };
    const own = thermalBudget(flying({ finish }));
    expect(own.provenance.map(({ quantity }) => quantity)).toEqual(
      expect.arrayContaining([expect.stringMatching(/polished/)]),
    );
    expect(own.chip.rise).toBeLessThan(budget.chip.rise);
    expect(() => thermalBudget(flying({ finish: { front: "shiny" } }))).toThrow(
      'die.finish.front: finish of a face "shiny" is not known',
    );
    // A sheet takes the mean of its large faces.
    const sheet = (die: Partial<Mount["die"]>) =>
      thermalBudget(flying({ model: "sheet", ...die })).chip.rise;
    expect(sheet({ finish }) / sheet({ specularity: 0.45 })).toBeCloseTo(1, 9);
  });

  slowly(
    "warns of warm dies, of dies thinner than the wavelength, and of fields without effect",
    () => {
      const warm = { ...flying(), stage: "4 K", limit: { rise: "1 K" } } as Mount;
      expect(thermalBudget(warm).warnings.join()).toMatch(
        /spreading in the die: 4.00 K is outside .* to 3.00 K/,
      );
      const cold = {
        ...flying({ thickness: "20 um", specularity: 0.9 }),
        stage: "3 mK",
        loads: [],
      } as Mount;
      expect(
        thermalBudget({ ...cold, loads: [{ kind: "given", power: "1 fW" }] }).warnings.join(),
      ).toMatch(/shorter than the die is thick/);
      expect(thermalBudget(flying({ model: "sheet" })).warnings).toContain(
        'die.rays: without effect, since the model of the die is not "flights".',
      );
      expect(() => thermalBudget(flying({ thickness: "1 um" }))).toThrow(
        /die: expected one whose phonons come to a contact within some 300000 flights, or a sheet/,
      );
      expect(() => readMount(flying({ meanFreePath: "1 mm" }))).toThrow(
        "die.meanFreePath: expected none for flights, which find it",
      );
    },
  );

  it("says that films which share its phonons are taken as if all phonons entered them", () => {
    const mount = flying({ rays: 1024 });
    const shared: Mount = { ...mount, pads: { ...mount.pads!, phonons: "shared" } };
    expect(thermalBudget(shared).warnings.join()).toMatch(
      /pads: shares the die's phonons, but flights take it as a film that all phonons .* too warm/,
    );
    expect(budget.warnings.join()).not.toContain("shares the die's phonons");
    const sheet: Mount = { ...shared, die: { ...exampleMount().die } };
    expect(thermalBudget(sheet).warnings.join()).not.toContain("but flights");
  });

  slowly("with another number of pads is to the last digit what it is by itself", () => {
    const model = new MountModel(readMount(flying({ rays: 16384 })), standardCatalogue());
    model.vary("bonds.count");
    const flown = (count: number) => {
      model.set("bonds.count", count);
      return model.point().chip - model.point().stage;
    };
    const first = flown(80);
    const others = [79, 78, 77].map(flown);
    // Fewer pads, a warmer chip, smoothly: a pad of 80 is 1.2 %.
    for (const [k, rise] of others.entries()) {
      expect(rise / first).toBeGreaterThan(1);
      expect(rise / first).toBeLessThan(1.03 + 0.015 * k);
    }
    const alone = new MountModel(
      readMount({ ...flying({ rays: 16384 }), bonds: { ...exampleMount().bonds!, count: 78 } }),
      standardCatalogue(),
    ).point();
    expect(others[1]).toBe(alone.chip - alone.stage);
  });

  it("is taken where its finish is given, and says why and what a sheet gives", () => {
    const { model: _, ...die } = flying({ finish: { front: "polished" } }).die;
    const own = thermalBudget({ ...flying(), die });
    expect(own.dieModels).toMatchObject({ since: "die.finish is given", trusted: "flights" });
    const given = thermalBudget({ ...flying(), die: { ...die, model: "flights" } });
    expect(own.chip.rise).toBe(given.chip.rise);
    expect(given.dieModels).not.toHaveProperty("since");
    const sheet = thermalBudget({ ...flying(), die: { ...die, model: "sheet" } });
    expect(own.dieModels!.otherRise).toBe(sheet.chip.rise);
    expect(own.toText()).toMatch(/Flights were taken, since die.finish is given. 4096 phonons/);
  });

  it("is followed in time as one node whose steady state is the mean of its flights", () => {
    const course = timeCourse(flying(), { duration: "1 s" });
    const start = course.solution.temperature("die, hottest point", 0);
    expect(start - budget.stage).toBeGreaterThan(0.97 * (budget.field!.mean - budget.stage));
    expect(start - budget.stage).toBeLessThan(1.03 * (budget.field!.mean - budget.stage));
  });
});
