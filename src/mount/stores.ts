/**
 * What stores heat in a mount: the die, the films on it, the bonds, and the box.
 *
 * To add what stores heat, add a store here.
 * @module
 */
import type { HeatStore } from "../conductor.js";
import { crossSection } from "../joints/cross-section.js";
import { heatStore, storesTogether } from "../joints/heat-store.js";
import { sheetFactor } from "../joints/spreading.js";
import type { Catalogue } from "../materials/types.js";
import { FieldError } from "../units/errors.js";
import type { Side } from "./description.js";
import { cooledSides, isSheet, pick, place } from "./part.js";
import type { PlainMount } from "./read.js";

/** Heat stored at one place of a mount; where a group of contacts stands there, by all of them. */
export interface PlacedStore {
  readonly name: string;
  readonly on: string;
  /** As for a `Part`: shared among the contacts of its group. */
  readonly group?: string;
  readonly byBonds?: boolean;
  readonly store: HeatStore;
}

/** Where heat is stored, and what of the mount was left out for want of numbers. */
export interface MountStores {
  readonly stores: readonly PlacedStore[];
  readonly warnings: readonly string[];
}

/**
 * Every heat store of a mount. A film's electrons and phonons stand apart, as in its heat path. Bonds
 * store half of their heat at either foot, and the box half at either end of its path, which counts
 * the metal of that path and no other.
 * @throws FieldError when the die's heat capacity is not known; the rest warns
 */
export function storesOf(mount: PlainMount, catalogue: Catalogue): MountStores {
  const { die, bonds, pads, ring, back, box } = mount;
  const warnings: string[] = [];
  /** None, with a warning, where the catalogue has no heat capacity of the material. */
  const known = (field: string, make: () => HeatStore): HeatStore | undefined => {
    try {
      return make();
    } catch (error) {
      if (!(error instanceof FieldError)) throw error;
      warnings.push(`${field}: ${error.message} Its heat is left out.`);
      return undefined;
    }
  };
  const stores: PlacedStore[] = [...dieStores(mount, catalogue)];
  const add = (store: Omit<PlacedStore, "store">, made: HeatStore | undefined) => {
    if (made) stores.push({ ...store, store: made });
  };
  const film = (name: string, group: string, material: string, volume: number) => {
    for (const part of ["phonons", "electrons"] as const) {
      add(
        { name: `${name} ${part}`, on: `${name} ${part}`, group },
        known(`${group}.material`, () => heatStore({ material, volume, part }, catalogue, group)),
      );
    }
  };
  if (bonds && pads) {
    const each = pads.width * pads.length * pads.thickness;
    film("pad", "pads", pads.material, Math.ceil(bonds.count / (bonds.perPad ?? 1)) * each);
  }
  if (ring) film("ring", "ring", ring.material, bandArea(die, ring) * ring.thickness);
  if (back) film("back", "back", back.film.material, die.width * die.length * back.film.thickness);
  if (bonds) {
    const section = crossSection("bonds", pick(bonds, "diameter", "width", "thickness"));
    const volume = (bonds.count * section.area * bonds.length) / 2;
    const half = known("bonds.material", () =>
      heatStore({ material: bonds.material, volume }, catalogue, "bonds"),
    );
    const behind = { group: ring ? "ring" : "pads", byBonds: true };
    add({ name: "bonds, near foot", on: `${ring ? "ring" : "pad"} foot`, ...behind }, half);
    add({ name: "bonds, far foot", on: place.ledgeFoot, ...behind }, half);
  }
  const volume = (box.crossSection * box.pathLength) / 2;
  const half = known("box.material", () =>
    heatStore({ material: box.material, volume }, catalogue, "box"),
  );
  add({ name: "box, near half", on: place.boxByDie }, half);
  add({ name: "box, far half", on: place.boxByBolts }, half);
  return { stores, warnings };
}

/** All stores at one place as one; undefined when there is none. */
export function storeOn(stores: readonly HeatStore[]): HeatStore | undefined {
  return stores.length > 1 ? storesTogether(stores) : stores[0];
}

/**
 * The die. With a centre and an edge, the centre stores the share that makes the heat stored by an
 * evenly loaded die right: its mean rise above the edges over that of the hottest place.
 */
function dieStores(mount: PlainMount, catalogue: Catalogue): readonly PlacedStore[] {
  const { material, width, length, thickness, model } = mount.die;
  const store = (share: number) =>
    heatStore({ material, volume: share * width * length * thickness }, catalogue, "die");
  if (isSheet(mount)) return [{ name: "die", on: place.hottest, store: store(1) }];
  if (model === "one node") return [{ name: "die", on: place.die, store: store(1) }];
  const centre = meanOverHottest(mount);
  return [
    { name: "die, middle", on: place.dieCentre, store: store(centre) },
    { name: "die, edges", on: place.dieEdge, store: store(1 - centre) },
  ];
}

/** Two thirds where heat runs one way, a parabola; less where it runs to all sides. */
function meanOverHottest(mount: PlainMount): number {
  const sides = cooledSides(mount);
  const across = sides.includes("left") || sides.includes("right");
  const along = sides.includes("lower") || sides.includes("upper");
  if (!across || !along) return 2 / 3;
  const count = (...names: Side[]) => names.filter((name) => sides.includes(name)).length;
  const wide = mount.die.width * (count("left", "right") === 1 ? 2 : 1);
  const long = mount.die.length * (count("lower", "upper") === 1 ? 2 : 1);
  return sheetFactor(long / wide, "mean") / sheetFactor(long / wide, "hottest");
}

function bandArea(die: PlainMount["die"], { width, inset = 0 }: NonNullable<PlainMount["ring"]>) {
  const [w, l] = [die.width - 2 * inset, die.length - 2 * inset];
  return w * l - (w - 2 * width) * (l - 2 * width);
}
