/**
 * What a thing of a mount is: how it is read, what it touches, how heat passes it, what it stores and how
 * it is drawn. A thing is one file in things/ with such a constant, and a line in things.ts.
 *
 * `M` is what a thing reads of the mount: its own key and those of others that it depends on. All
 * functions take the mount and the catalogue as arguments, so that one structure serves every sample.
 * @module
 */
import type { Rectangle } from "../chip/grid.js";
import type { Conductor, HeatStore } from "../conductor.js";
import type { Catalogue } from "../materials/types.js";
import { FieldError } from "../units/errors.js";
import type { Field, Maybe, Plain } from "../units/fields.js";

/** One contact of a group. */
export interface Patch {
  /** Rectangles it covers [m]. */
  readonly area: Rectangle | readonly Rectangle[];
  /** Of the group's whole area. */
  readonly share: number;
  /** How many of the mount's bonds stand on it. */
  readonly bonds: number;
  /** Number of the contact that it is a piece of; absent where it is whole. */
  readonly of?: number;
}

/** A way along a film from one contact of a group to another, by index. */
export interface PatchLink {
  /** Number of the patch at one end. */
  readonly from: number;
  /** Number of the patch at the other. */
  readonly to: number;
  /** Length over width of the way. */
  readonly squares: number;
}

/** Where a thing touches the die: a group of contacts, with which everything behind it is shared. */
export interface Contacts<M> {
  /** `pads`, `ring`, `clamps 2`: no two groups of a die have the same. */
  readonly name: string;
  /** Name of the further die it is on; absent on the mount's own. */
  readonly die?: string;
  /** Of a group that another die's joins contact by contact: the same for both, which are then cut alike. */
  readonly pair?: string;
  /** Contacts of one layer may not overlap. */
  readonly layer: "face" | "back" | "clamps";
  /** Field of the mount that says where contact k is, for errors. */
  field(k: number): string;
  /**
   * Rectangles of the front that hold all of them, however many there are: phonons flown for one number serve
   * for others. None where they do not move.
   */
  bands?(mount: M): readonly Rectangle[];
  /** The contacts, and the ways along their film. @throws FieldError for what does not fit */
  lay(mount: M): { readonly patches: readonly Patch[]; readonly links?: readonly PatchLink[] };
  /** The film that joins its contacts along the die. */
  readonly film?: {
    /** Name of the links. */
    readonly name: string;
    /** The place behind each contact that they join. */
    readonly place: string;
    /** One square of it. */
    square(mount: M, catalogue: Catalogue): Conductor;
  };
}

/** Face of the die that contacts of a layer lie on. */
export const faceOf = (layer: Contacts<never>["layer"]) => (layer === "back" ? "back" : "front");

/** An end of a heat path. The first form is the only way to a die, and needs contacts on it. */
export type End<M> =
  /** A die, at each contact of a group; where heat comes `in`, a die with two nodes takes it at its centre. */
  | { readonly on: Contacts<M>; readonly in?: true }
  /** A place of its own behind each contact of a group. */
  | {
      readonly behind: Contacts<M>;
      readonly place: string;
      /** Where a contact is cut, each piece has one of its own. */
      readonly inPieces?: true;
    }
  /** A place of its own beside the way from the die to the stage. */
  | { readonly alone: string }
  /** A place that all paths share. */
  | { readonly shared: SharedPlace }
  /** A warm end, held at a temperature [K]. */
  | {
      readonly held: string;
      /** Its temperature [K]. */
      temperature(mount: M): number;
    };

/** A place that all paths share: of the box, behind a piece of the path to the stage, or the stage. */
export type SharedPlace = "box by the die" | "box by the bolts" | `end of ${string}` | "stage";

export const boxByDie = { shared: "box by the die" } as const;
export const boxByBolts = { shared: "box by the bolts" } as const;
export const stageEnd = { shared: "stage" } as const;

/** Name of the link by which a stage that finds its own temperature is cooled. */
export const coolingLink = "cooling of the stage";

/** One heat path. */
export interface HeatPath<M> {
  /** As the budget shows it. */
  readonly name: string;
  /** Its warm end. */
  readonly from: End<M>;
  /** Its cold end. */
  readonly to: End<M>;
  /** What it is shared by among the contacts of its group: their area when absent. */
  readonly by?: "bonds";
  /** The conductor of one of them. */
  conductor(mount: M, catalogue: Catalogue): Conductor;
  /** How many stand side by side; 1 when absent. */
  count?(mount: M): number;
}

/** Heat stored at a place; behind a group of contacts, by all of them together. */
export interface PlacedStore<M> {
  readonly name: string;
  readonly at: Exclude<End<M>, { readonly held: string }>;
  /** As for a path. */
  readonly by?: "bonds";
  /** Field of the mount whose material stores the heat, for the warning where its heat is not known. */
  readonly field: string;
  /** Its heat. @throws FieldError where the catalogue has no heat capacity of the material */
  store(mount: M, catalogue: Catalogue): HeatStore;
}

/** What a thing adds to a mount. */
export interface Parts<M> {
  readonly contacts?: readonly Contacts<M>[];
  readonly paths?: readonly HeatPath<M>[];
  readonly stores?: readonly PlacedStore<M>[];
}

/** How a part is drawn; each look is a fill of its own, in colour, in grey and by its hatching. */
export type Look =
  | "die"
  | "film"
  | "wire"
  | "clamp"
  | "glue"
  | "bump"
  | "back"
  | "warm"
  | "box"
  | "plating"
  | "path"
  | "free"
  | "joint"
  | "stage";

/** One entry of a drawing's list. */
export interface DrawnPart {
  readonly kind: string;
  readonly look: Look;
  /** First words, heavy. */
  readonly name: string;
  /** Material, dimensions and the like. */
  readonly details: readonly string[];
  /** Where it lies on the die [m]; empty for what is beside or under it. */
  readonly places: readonly Rectangle[];
  /** Name of the further die it belongs to; absent for the mount's own. */
  readonly die?: string;
  /** Of what joins two dies: the name of the upper one, by which `places` are. */
  readonly below?: string;
  /** Thickness [m], where one is given; for the section. */
  readonly thickness?: number;
  /** Of wires: foot to foot, as wide as seen from above [m], and the number of their group if they have one. */
  readonly wire?: { readonly length: number; readonly width: number; readonly group?: number };
}

/** A thing that a user may describe. */
export interface Thing<T, M> {
  /** In words, of a thing that leads heat off the die: a mount needs one of these. */
  readonly holds?: string;
  /** How the mount's key is read; `optional` where the mount may do without. */
  readonly field: Field<T> | Maybe<T>;
  /** It as read, with what follows from the rest of the mount where it is not given. */
  withDefaults?(mount: M): Plain<T>;
  /** What no single field can tell. @throws FieldError */
  rules?(mount: M): void;
  /** What it adds to the mount's structure; its numbers are read later, and for any values. */
  parts?(mount: M): Parts<M>;
  /** What is odd about it, in words for the budget. */
  warnings?(mount: M, catalogue: Catalogue): readonly string[];
  /** How it is drawn. */
  drawn?(mount: M): readonly DrawnPart[];
}

/** Every rectangle of a group of contacts [m]. */
export function rectanglesOf<M>(contacts: Contacts<M>, mount: M): readonly Rectangle[] {
  return contacts.lay(mount).patches.flatMap(({ area }) => area);
}

/** The named fields that are there, and no others: a path must read only what it depends on. */
export function pick<T extends object, K extends keyof T>(from: T, ...names: K[]): Pick<T, K> {
  const picked: Partial<Pick<T, K>> = {};
  for (const name of names) if (from[name] !== undefined) picked[name] = from[name];
  return picked as Pick<T, K>;
}

/** What stands at a path of plain data; undefined where it leads nowhere. */
export function valueAt(root: unknown, field: string): unknown {
  return field.split(".").reduce<unknown>((at, key) => {
    if (typeof at !== "object" || at === null || !Object.hasOwn(at, key)) return undefined;
    return (at as Readonly<Record<string, unknown>>)[key];
  }, root);
}

/** Runs what asks a material for a property; what it lacks is told by the mount's field. */
export function inMaterial<T>(material: string, field: string, ask: () => T): T {
  try {
    return ask();
  } catch (error) {
    if (!(error instanceof FieldError) || !error.field.startsWith(`${material}.`)) throw error;
    const property = error.field.slice(material.length + 1).replace(/_/g, " ");
    throw new FieldError(field, `a material with ${property}: ${error.wanted}`, material);
  }
}
