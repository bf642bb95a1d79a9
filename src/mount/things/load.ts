/**
 * Loads of a mount: their kinds, where they fall, and the names they have in the budget.
 * @module
 */
import type { HeatLoad } from "../../loads/heat-load.js";
import type { Falls, LoadContext, LoadKind } from "../../loads/load-kind.js";
import { type LoadMap, loadMap as map } from "../../loads/load-map.js";
import type { HitPlace, ParticleSource } from "../../loads/particle-source.js";
import type { ReadoutLaw } from "../../loads/readout.js";
import type { Catalogue } from "../../materials/types.js";
import type { Random } from "../../numerics/random.js";
import { FieldError, UnknownNameError } from "../../units/errors.js";
import * as read from "../../units/fields.js";
import { type ConductionLoad, conductionField } from "./conduction.js";
import * as kinds from "./load-kinds.js";

/** What every load has. */
export interface Mapped {
  /** Where on the die; evenly, or as the kind has it, when absent. */
  readonly map?: LoadMap;
}

/** What every load has that may fall on something else than the die. */
export interface LoadBase extends Mapped {
  /**
   * What it falls on: `"die"` (default), `"box"`, or a piece of `path` by its name, of which it heats the end
   * by the box.
   */
  readonly on?: string;
}

type Kinds = typeof kinds;
type PlacedBy<F> = F extends "on the die" ? Mapped : LoadBase;

/** A load of a kind, as a user writes it. */
export type LoadOf<K extends keyof Kinds> = K extends unknown
  ? { readonly kind: K } & PlacedBy<NonNullable<Kinds[K]["falls"]>> &
      NonNullable<Kinds[K]["written"]>
  : never;

/** Anything that brings heat, told apart by `kind`. */
export type MountLoad = LoadOf<keyof Kinds> | ConductionLoad;
/** A load in SI. */
export type PlainLoad = read.Plain<MountLoad>;

/** A kind without its types, for code that treats all alike. */
type AnyKind = LoadKind<object, Falls>;
const kindsByName = kinds as unknown as Readonly<Record<string, AnyKind>>;

const on = read.optional(read.text);
type Kind = { readonly kind: string };

/** Reads a load: where it falls by the mount, all else by its kind. */
function loadField(kind: string, { fields, falls }: AnyKind): unknown {
  const named = read.oneOf(kind);
  const mapped = { map: read.optional(map) };
  const placed =
    falls === "on the die"
      ? read.object<Kind & Mapped>({ kind: named, ...mapped })
      : read.object<Kind & LoadBase>({ kind: named, on, ...mapped });
  return read.together(placed, fields);
}

/** The field `loads` of a mount. */
export const loads: read.Field<readonly MountLoad[]> = read.list(
  read.byKind<MountLoad>({
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
  /** What it falls on: `die`, a further die, `box` or a piece of the path to the stage by its name. */
  readonly on: string;
  /** Its kind has hits that come one by one. */
  readonly particles: boolean;
  /** Where it falls on the die, in a mount of this structure; evenly when absent. */
  map(mount: WithLoads): read.Plain<LoadMap> | undefined;
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

/** @throws UnknownNameError for what there is not; FieldError for a map of what does not fall on the die */
export function checkLoads(
  mount: WithLoads & { readonly path?: readonly { readonly name: string }[] },
): void {
  const known = ["die", "box", ...(mount.path ?? []).map(({ name }) => name)];
  mount.loads.forEach((load, i) => {
    const on = ("on" in load && load.on) || "die";
    const field = `loads[${i}]`;
    if (!known.includes(on)) {
      throw new UnknownNameError(`${field}.on`, "place for a load", on, known);
    }
    for (const landing of landingsOf(mount, i)) {
      if (landing.on === undefined || known.includes(landing.on)) continue;
      throw new UnknownNameError(field, "place for a load", landing.on, known);
    }
    if (!("map" in load) || on === "die") return;
    throw new FieldError(`${field}.map`, `none, since the load falls on the ${on}`, load.map);
  });
}

/** A load without what the mount says of it. */
function optionsOf(mount: WithLoads, i: number) {
  const { kind: _, on: __, map: ___, ...own } = mount.loads[i] as read.Plain<LoadBase> & PlainLoad;
  return own;
}

/** The places where a load lands, where these are several. */
function landingsOf(mount: WithLoads, i: number) {
  return kindsByName[mount.loads[i]!.kind]?.landings?.(optionsOf(mount, i)) ?? [];
}

/** Every load of a mount that is a power, in its order; a load that lands in several places is several. */
export function powerSources({ loads: all }: WithLoads): readonly PowerSource[] {
  const names = sourceNames(all);
  return all.flatMap((load, i): readonly PowerSource[] => {
    if (load.kind === "conduction") return [];
    const kind = kindsByName[load.kind]!;
    const field = `loads[${i}]`;
    const whole = (mount: WithLoads) => optionsOf(mount, i);
    const landings = landingsOf({ loads: all } as WithLoads, i);
    return (landings.length > 0 ? landings : [undefined]).map((landing, k): PowerSource => {
      const own = (mount: WithLoads) => (landing ? landingsOf(mount, i)[k] : undefined);
      const options = (mount: WithLoads) => own(mount)?.options ?? whole(mount);
      const name = landings.length > 1 ? `${names[i]}, ${landing!.name}` : names[i]!;
      const where = landing?.on ?? (("on" in load && load.on) || "die");
      const given = (mount: WithLoads) => (mount.loads[i] as read.Plain<LoadBase>).map;
      const context = (mount: WithLoads, catalogue: Catalogue): LoadContext => ({
        name,
        field,
        catalogue,
        die: mount.die,
        on: where,
        isMapped: given(mount) !== undefined,
      });
      const law: PowerSource["law"] = (mount, catalogue) =>
        kind.law?.(options(mount), context(mount, catalogue));
      return {
        name,
        field,
        on: where,
        particles: kind.hits !== undefined,
        map: (mount) =>
          where === "die"
            ? (own(mount)?.map ?? given(mount) ?? kind.map?.(options(mount)))
            : undefined,
        heat: (mount, catalogue, chip) =>
          law(mount, catalogue)?.at(chip) ?? kind.heat(options(mount), context(mount, catalogue)),
        law,
        coldEnd: (mount) => kind.coldEnd?.(options(mount)),
        hits: (mount, catalogue, place) =>
          kind.hits?.(options(mount), context(mount, catalogue), place),
      };
    });
  });
}
