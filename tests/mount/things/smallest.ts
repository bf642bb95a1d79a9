/** The smallest mount around a thing, and what is tested of every thing alike. */
import { describe, expect, it } from "vitest";
import { areaOf, overlapOf, type Rectangle } from "../../../src/chip/grid.js";
import { withField } from "../../../src/design/field.js";
import { standardCatalogue } from "../../../src/materials/standard.js";
import { contactGroups } from "../../../src/mount/assemble.js";
import { loadedNetwork } from "../../../src/mount/follow.js";
import { inTime } from "../../../src/mount/in-time.js";
import { MountModel } from "../../../src/mount/model.js";
import type { Mount, PlainMount } from "../../../src/mount/mount.js";
import { readMount } from "../../../src/mount/read.js";
import type { DieModel } from "../../../src/mount/things/die.js";
import { runInTime } from "../../../src/network/transient.js";

export const catalogue = standardCatalogue();

// Numbers for calculations by hand: constants of the SI, and rows of data/materials.
const [boltzmann, charge, hbar] = [1.380649e-23, 1.602176634e-19, 1.054571817e-34];
/** Lorenz number of Sommerfeld, (π²/3)(k_B/e)² [W Ω/K²]. */
export const lorenz = (Math.PI ** 2 / 3) * (boltzmann / charge) ** 2;
/** Purity measured from 300 K, where the tables give ρ = 2.271 µΩ cm for gold and 1.725 for copper. */
export const purityFrom300 = (value: number) => ({ value, warm: 300 }) as const;
/** κ/T of gold and copper by Wiedemann-Franz, of a purity measured from 300 K, residual part included [W/(m K²)]. */
export const goldSlope = (ratio: number) => lorenz / (2.271e-8 / (ratio - 1));
export const copperSlope = (ratio: number) => lorenz / (1.725e-8 / (ratio - 1));
/** 1/v_L² + 2/v_T² [s²/m²]. */
const slowness = (longitudinal: number, transverse: number) =>
  longitudinal ** -2 + 2 * transverse ** -2;
const silicon = slowness(8970, 5330);
const gold = slowness(3390, 1290);
/** κ/(Λ T³) of silicon whose phonons its faces alone stop, by Casimir [W/(m² K⁴)]. */
export const siliconPhonons =
  (((2 * Math.PI ** 2 * boltzmann ** 4) / (15 * hbar ** 3)) * silicon) / 3;
/** Heat from silicon to gold by diffuse mismatch, over area and T⁴ [W/(m² K⁴)]. */
export const siliconOnGold =
  ((Math.PI ** 2 * boltzmann ** 4) / (120 * hbar ** 3)) * ((silicon * gold) / (silicon + gold));
/** Debye's heat capacity over volume and T³ [J/(m³ K⁴)]. */
export const debye = (density: number, molarMass: number, temperature: number) =>
  ((12 * Math.PI ** 4) / 5) * 8.314462618 * (density / molarMass) * temperature ** -3;
export const dieModels: readonly DieModel[] = ["one node", "two nodes", "sheet", "flights"];

const ground: Omit<Mount, "clamps"> = {
  name: "smallest",
  die: { material: "silicon", width: 4e-3, length: 4e-3, thickness: 3e-4, cells: 16 },
  box: { material: "copper", residualResistivityRatio: 50, crossSection: 1e-6, pathLength: 1e-2 },
  joint: { resistance: 1e-6 },
  stage: 0.1,
  loads: [{ kind: "given", power: 1e-9 }],
};

/** Pads and a bond on each of four edges. */
export const padded = {
  pads: {
    material: "gold",
    width: 2e-4,
    length: 3e-4,
    thickness: 5e-7,
    residualResistivityRatio: 5,
  },
  bonds: {
    material: "gold",
    count: 4,
    diameter: 2.5e-5,
    length: 2e-3,
    residualResistivityRatio: 30,
  },
} as const;

/** Die, box, joint, stage and one load, with these things; a clamp holds the die where they do not. */
export function smallest(things: Partial<Mount> = {}): Mount {
  const { bonds, bondGroups, clamps, glue, back } = things;
  const isHeld = [bonds, bondGroups, clamps, glue, back].some((holder) => holder !== undefined);
  const clamp = { faces: "sapphire on silicon", force: 2.7 };
  return { ...ground, ...(!isHeld && { clamps: [clamp] }), ...things };
}

/** A mount as read, modelled. */
export function modelOf(mount: Mount, die: DieModel): MountModel {
  // Few phonons: what is tested here must hold for any number of them.
  const few = die === "flights" ? { ...mount, die: { ...mount.die, rays: 256 } } : mount;
  return new MountModel(readMount(few), catalogue, { die });
}

/** The conductor of a path of a mount. */
export function conductorOf(mount: Mount, path: string, die: DieModel = "one node") {
  const { structure, numbers } = modelOf(mount, die);
  const found = [...structure.paths, ...structure.warm].find(({ name }) => name === path)!;
  return Object.assign(numbers.conductor(found), { count: numbers.count(found) });
}

/** The heat store of a mount by its name. */
export function storeOf(mount: Mount, name: string, die: DieModel = "one node") {
  const plain = readMount(mount);
  const { structure } = modelOf(mount, die);
  return structure.stores.find((store) => store.name === name)!.store(plain, catalogue);
}

/** What a field takes: its words in errors, a value, and values that it refuses. */
export interface Takes {
  readonly words: string;
  readonly value: unknown;
  readonly refused: readonly unknown[];
  readonly isOptional?: true;
  /** The only one of its name among several forms of an object: without it the form is not known. */
  readonly tells?: true;
}

const si = (words: string, value: string, other: string) => ({
  words,
  value,
  refused: [other, Number.NaN, true, {}],
});
const lengthWords = 'a length such as "25 um" or a number in metres';
const above = (takes: Takes): Takes => ({ ...takes, refused: [...takes.refused, 0, -1] });
const fromZero = (takes: Takes): Takes => ({ ...takes, refused: [...takes.refused, -1] });

export const length = above(si(lengthWords, "0.2 mm", "1 mK"));
export const lengthFromZero = fromZero(si(lengthWords, "0 m", "1 mK"));
export const area = above(
  si('an area such as "4 mm^2" or a number in square metres', "1 mm^2", "1 mm"),
);
export const temperature = above(
  si('a temperature such as "100 mK" or a number in kelvin', "1 K", "1 mm"),
);
export const force = above(si('a force such as "50 N" or a number in newtons', "2 N", "2 W"));
export const power = fromZero(si('a power such as "8 pW" or a number in watts', "1 nW", "1 N"));
export const resistance = above(
  si('an electrical resistance such as "2 mohm" or a number in ohms', "1 uohm", "1 K"),
);
export const resistanceFromZero: Takes = {
  ...resistance,
  refused: resistance.refused.filter((value) => value !== 0),
};
export const conductance = above(
  si('a thermal conductance such as "20 nW/K" or a number in watts a kelvin', "1 uW/K", "1 W"),
);
export const name: Takes = { words: "a name", value: "gold", refused: ["", 7, null] };
export const count: Takes = {
  words: "a whole number of at least 1",
  value: 1,
  refused: [0, 1.5, -1, "1"],
};
export const purity: Takes = {
  words: "a residual resistivity ratio greater than 1",
  value: 20,
  refused: [1, 0.5, "30"],
};
/** A number between bounds, its end values refused. */
export const number = (words: string, value: number, ...refused: readonly unknown[]): Takes => ({
  words,
  value,
  refused: [...refused, Number.NaN, "1"],
});
/** One of a few words. */
export const oneOf = (...choices: readonly unknown[]): Takes => ({
  words: choices.map((choice) => JSON.stringify(choice)).join(" or "),
  value: choices[0],
  refused: ["another", -1, true],
});
/** Marks a field by which a form is told from others. */
export const telling = (takes: Takes): Takes => ({ ...takes, tells: true });
/** Marks a field that may be left out. */
export const maybe = (takes: Takes): Takes => ({ ...takes, isOptional: true });

/**
 * Tests each field of the object at a path of a mount: left out, of a wrong dimension, out of range, and
 * one too many.
 * @param fields - all its fields in the order of its reader
 * @param skipped - fields with a test of their own
 */
export function itReads(
  mount: Mount,
  path: string,
  fields: Readonly<Record<string, Takes | undefined>>,
): void {
  const dotted = path.replace(/\[(\d+)\]/g, ".$1");
  const changed = (key: string, value: unknown) => () =>
    readMount(withField(mount, `${dotted}.${key}`, value));
  describe(`the fields of ${path}`, () => {
    for (const [key, takes] of Object.entries(fields)) {
      if (!takes) continue;
      const wanted = `${path}.${key}: expected ${takes.words}`;
      it(`${key} is ${takes.isOptional ? "optional" : "needed"}, and ${takes.words}`, () => {
        const gone = changed(key, undefined);
        if (takes.isOptional) expect(gone).not.toThrow(wanted);
        else if (takes.tells) expect(gone).toThrow(`${path}: expected an object with one of `);
        else expect(gone).toThrow(`${wanted}, got undefined`);
        expect(changed(key, takes.value)).not.toThrow(wanted);
        for (const value of takes.refused) expect(changed(key, value)).toThrow(wanted);
      });
    }
    it("are all there are", () => {
      expect(changed("colour", "blue")).toThrow(
        `${path}.colour: field "colour" is not known. Known: ${Object.keys(fields).join(", ")}`,
      );
    });
  });
}

/** Tests that heat is neither made nor lost: in the steady state on every die, and in time. */
export function itBalances(mount: Mount): void {
  it.each(dieModels)("no heat is made or lost at any place, on a die with model %s", (die) => {
    const point = modelOf(mount, die).point();
    const { structure, reading, loads } = point;
    const left = new Map(structure.places.map(({ name }) => [name, 0]));
    const add = (place: string, power: number) => left.set(place, (left.get(place) ?? 0) + power);
    for (const { source, load } of loads)
      add(source.on === "box" ? structure.box.name : structure.chip.name, load.power);
    for (const { name, from, to } of [...structure.paths, ...structure.warm]) {
      const flow = reading.flows.get(name)!;
      add(from.name, -flow);
      // Every place on a resolved die is the die.
      add(to.onDie ? structure.chip.name : to.name, flow);
      if (from.onDie) {
        add(from.name, flow);
        add(structure.chip.name, -flow);
      }
    }
    const into = left.get(structure.stage.name)!;
    expect(into).toBeGreaterThan(0);
    for (const [place, power] of left) {
      if (place === structure.stage.name || place.startsWith("warm end")) continue;
      expect(Math.abs(power), place).toBeLessThan(1e-9 * into);
    }
  });

  it.each(dieModels)("heat given is heat gone and heat stored in time, with model %s", (die) => {
    const run = inTime(modelOf(mount, die), 16);
    const storing = run.network.nodes.filter(({ store }) => store);
    const solution = runInTime(loadedNetwork(run, run.loads), {
      duration: 1e-3,
      start: new Map(storing.map((node) => [node.name, 0.1])),
      relativeTolerance: 1e-3,
    });
    const { given, stored, imbalance } = solution.energy;
    expect(given).toBeGreaterThan(0);
    expect(stored).toBeGreaterThan(0);
    expect(Math.abs(imbalance)).toBeLessThan(1e-7);
  });
}

const pieces = (area: Rectangle | readonly Rectangle[]) =>
  "left" in area ? [area] : (area as readonly Rectangle[]);

/** Tests where a thing touches the die. @param bonds - that stand on its contacts */
export function itTouches(mount: Mount, names: readonly string[], bonds = 0): void {
  const plain = readMount(mount);
  it("touches the die inside its edges, apart within a layer, its shares 1 in all", () => {
    const groups = contactGroups(plain);
    expect(groups.map(({ name }) => name)).toEqual(names);
    for (const { contacts } of groups) {
      const sum = (key: "share" | "bonds") => contacts.reduce((all, each) => all + each[key], 0);
      expect(sum("share")).toBeCloseTo(1, 12);
      expect(sum("bonds")).toBeCloseTo(bonds, 10);
    }
    for (const layer of ["face", "back", "clamps"]) {
      const own = groups
        .filter((group) => group.layer === layer)
        .flatMap(({ contacts }) => contacts.map(({ area }) => pieces(area)));
      for (const [i, one] of own.entries()) {
        for (const piece of one) expect(isInside(piece, plain)).toBe(true);
        for (const other of own.slice(i + 1)) expect(shared(one, other)).toBeLessThan(1e-18);
      }
    }
  });
}

function isInside({ left, right, bottom, top }: Rectangle, { die }: PlainMount): boolean {
  const rounding = 1e-12;
  return (
    left < right &&
    bottom < top &&
    left >= -rounding &&
    bottom >= -rounding &&
    right <= die.width + rounding &&
    top <= die.length + rounding
  );
}

/** Area that two contacts share [m²]. */
function shared(one: readonly Rectangle[], other: readonly Rectangle[]): number {
  return one
    .flatMap((a) => other.map((b) => overlapOf(a, b)))
    .reduce((sum, both) => sum + (both ? areaOf(both) : 0), 0);
}
