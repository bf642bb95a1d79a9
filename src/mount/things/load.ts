/**
 * Loads of a mount: their kinds, where they fall, and the names they have in the budget.
 * @module
 */
import type { HeatLoad } from "../../loads/heat-load.js";
import type { Falls, LoadContext, LoadKind } from "../../loads/load-kind.js";
import type { HitPlace, ParticleSource } from "../../loads/particle-source.js";
import type { ReadoutLaw } from "../../loads/readout.js";
import type { Catalogue } from "../../materials/types.js";
import type { Random } from "../../numerics/random.js";
import { FieldError } from "../../units/errors.js";
import {
  byKind,
  checked,
  exactNumber,
  exactQuantity,
  type Field,
  list,
  object,
  oneOf,
  optional,
  type Plain,
  quantityFromZero,
  together,
} from "../../units/fields.js";
import type { Length } from "../../units/quantity.js";
import type { Uncertain } from "../../units/spread.js";
import { type ConductionLoad, conductionField } from "./conduction.js";
import * as kinds from "./load-kinds.js";

/** A load that falls evenly over the die. */
export interface UniformMap {
  readonly kind: "uniform";
}

/** A load that falls evenly over a rectangle. */
export interface RectangleMap {
  readonly kind: "rectangle";
  /** Left side, from the die's left edge [m]. */
  readonly left: Uncertain<Length>;
  /** Right side, from the die's left edge [m]. */
  readonly right: Uncertain<Length>;
  /** Lower side, from the die's lower edge [m]. */
  readonly bottom: Uncertain<Length>;
  /** Upper side, from the die's lower edge [m]. */
  readonly top: Uncertain<Length>;
}

/** A round Gaussian spot. */
export interface SpotMap {
  readonly kind: "spot";
  /** Middle, from the die's left edge [m]. */
  readonly x: Uncertain<Length>;
  /** Middle, from the die's lower edge [m]. */
  readonly y: Uncertain<Length>;
  /** Standard deviation of the spot [m]. */
  readonly radius: Length;
}

/** In proportion to one number for each pixel: rows from the lower edge up, pixels left to right. */
export interface PixelMap {
  readonly kind: "pixels";
  /** Pure numbers: only their ratios count, since the power is the load's. */
  readonly rows: readonly (readonly number[])[];
}

/** Where on the die a load falls; the 2-D model alone resolves it. */
export type LoadMap = UniformMap | RectangleMap | SpotMap | PixelMap;

/** What a load falls on. */
export interface OnDieOrBox {
  /** What it falls on; the die when absent. */
  readonly on?: "die" | "box";
}

/** What every load that falls by a map has. */
export interface LoadBase extends OnDieOrBox {
  /** Where on the die; evenly when absent. */
  readonly map?: LoadMap;
}

type Kinds = typeof kinds;
type PlacedBy<K> = K extends { readonly falls: "by map" }
  ? LoadBase
  : K extends { readonly falls: "on die or box" }
    ? OnDieOrBox
    : unknown;

/** A load of a kind, as a user writes it. */
export type LoadOf<K extends keyof Kinds> = K extends unknown
  ? Kinds[K] extends { readonly fields: Field<infer Options> }
    ? { readonly kind: K } & PlacedBy<Kinds[K]> & Options
    : never
  : never;

/** Anything that brings heat, told apart by `kind`. */
export type MountLoad = LoadOf<keyof Kinds> | ConductionLoad;
/** A load in SI. */
export type PlainLoad = Plain<MountLoad>;

/** A kind without its types, for code that treats all alike. */
type AnyKind = LoadKind<object, Falls>;
const kindsByName = kinds as unknown as Readonly<Record<string, AnyKind>>;

const weight = exactNumber("a number, not negative", (x) => x >= 0);
const rows = checked(
  list(list(weight, "a row of numbers, one for each pixel"), "a list of rows of pixels"),
  (all, at) => {
    const across = all[0]?.length ?? 0;
    if (across === 0) throw new FieldError(at, "at least one row of one pixel", all);
    all.forEach((row, i) => {
      if (row.length === across) return;
      const wanted = `${across} pixels, as many as in row 0`;
      throw new FieldError(`${at}[${i}]`, wanted, `${row.length} pixels`);
    });
    if (all.flat().some((share) => share > 0)) return;
    throw new FieldError(at, "some pixel with more than 0", all);
  },
);
const fromZero = quantityFromZero("length");
const map = byKind<LoadMap>({
  uniform: object<UniformMap>({ kind: oneOf("uniform") }),
  rectangle: object<RectangleMap>({
    kind: oneOf("rectangle"),
    left: fromZero,
    right: fromZero,
    bottom: fromZero,
    top: fromZero,
  }),
  spot: object<SpotMap>({
    kind: oneOf("spot"),
    x: fromZero,
    y: fromZero,
    radius: exactQuantity("length"),
  }),
  pixels: object<PixelMap>({ kind: oneOf("pixels"), rows }),
});

const on = optional(oneOf("die", "box"));
type Kind = { readonly kind: string };

/** Reads a load: where it falls by the mount, all else by its kind. */
function loadField(kind: string, { fields, falls }: AnyKind): unknown {
  const named = oneOf(kind);
  switch (falls) {
    case "by map": {
      const placed = object<Kind & LoadBase>({ kind: named, on, map: optional(map) });
      return together(placed, fields);
    }
    case "on die or box":
      return together(object<Kind & OnDieOrBox>({ kind: named, on }), fields);
    case "on the die":
      return together(object<Kind>({ kind: named }), fields);
  }
}

/** The field `loads` of a mount. */
export const loads: Field<readonly MountLoad[]> = list(
  byKind<MountLoad>({
    ...Object.fromEntries(
      Object.entries(kindsByName).map(([kind, each]) => [kind, loadField(kind, each)]),
    ),
    conduction: conductionField,
  } as never),
  "a list of loads",
);

/** Each load's own name, or its kind; numbered where two would read alike. No two are the same. */
export function sourceNames(all: readonly PlainLoad[]): readonly string[] {
  const plain = all.map((load) => load.name ?? load.kind);
  const taken = new Set(plain);
  return plain.map((name) => {
    if (plain.indexOf(name) === plain.lastIndexOf(name)) return name;
    let number = 1;
    while (taken.has(`${name} ${number}`)) number++;
    taken.add(`${name} ${number}`);
    return `${name} ${number}`;
  });
}

/** What of a mount its loads read. */
export interface WithLoads {
  readonly die: LoadContext["die"];
  readonly loads: readonly PlainLoad[];
}

/** A load of known power on die or box. */
export interface PowerSource {
  /** Its name, as results and messages show it. */
  readonly name: string;
  /** Its path in the mount, for errors. */
  readonly field: string;
  /** What it falls on. */
  readonly on: "die" | "box";
  /** Its kind has hits that come one by one. */
  readonly particles: boolean;
  /** Where it falls on the die, in a mount of this structure; evenly when absent. */
  map(mount: WithLoads): Plain<LoadMap> | undefined;
  /** What it brings when the chip has a temperature, on which most loads do not depend [K]. */
  heat(mount: WithLoads, catalogue: Catalogue, chip: number): HeatLoad;
  /** Its law of the chip's temperature, when it has one. */
  law(mount: WithLoads, catalogue: Catalogue): ReadoutLaw | undefined;
  /** Temperature given for its cold end, where it has one [K]. */
  coldEnd(mount: WithLoads): number | undefined;
  /** Its particles one by one. @param place - draws where one falls; as the kind has it when absent */
  hits(
    mount: WithLoads,
    catalogue: Catalogue,
    place?: (random: Random) => HitPlace,
  ): ParticleSource | undefined;
}

/** Every load of a mount that is a power, in its order. */
export function powerSources({ loads: all }: WithLoads): readonly PowerSource[] {
  const names = sourceNames(all);
  return all.flatMap((load, i): readonly PowerSource[] => {
    if (load.kind === "conduction") return [];
    const kind = kindsByName[load.kind]!;
    const [name, field] = [names[i]!, `loads[${i}]`];
    const where = "on" in load && load.on === "box" ? "box" : "die";
    const context = ({ die }: WithLoads, catalogue: Catalogue): LoadContext => ({
      name,
      field,
      catalogue,
      die,
      on: where,
    });
    const options = (mount: WithLoads) => {
      const { kind: _, on: __, map: ___, ...own } = mount.loads[i] as Plain<LoadBase> & PlainLoad;
      return own;
    };
    const law: PowerSource["law"] = (mount, catalogue) =>
      kind.law?.(options(mount), context(mount, catalogue));
    return [
      {
        name,
        field,
        on: where,
        particles: kind.hits !== undefined,
        map: (mount) => (mount.loads[i] as Plain<LoadBase>).map,
        heat: (mount, catalogue, chip) =>
          law(mount, catalogue)?.at(chip) ?? kind.heat(options(mount), context(mount, catalogue)),
        law,
        coldEnd: (mount) => kind.coldEnd?.(options(mount)),
        hits: (mount, catalogue, place) =>
          kind.hits?.(options(mount), context(mount, catalogue), place),
      },
    ];
  });
}
