/**
 * Wire bonds from the pads or the ring on the die to the ledge of the box. It is longer than other files,
 * since groups of bonds take their paths, stores, checks and drawing from it, too.
 * @module
 */
import type { Conductor } from "../../conductor.js";
import { parallel, series } from "../../joints/combine.js";
import { heatStore } from "../../joints/heat-store.js";
import {
  constriction,
  padFilm as filmAroundFoot,
  radialSpreading,
} from "../../joints/spreading.js";
import { crossSection, strip } from "../../joints/strip.js";
import { type WireBond, wireBond, wireFields } from "../../joints/wire-bond.js";
import { reachField, reachWords, type WireReach, wireLength } from "../../joints/wire-length.js";
import type { Catalogue } from "../../materials/types.js";
import { exceeds } from "../../units/checks.js";
import { FieldError } from "../../units/errors.js";
import * as read from "../../units/fields.js";
import { formatGiven } from "../../units/format.js";
import type { Length } from "../../units/quantity.js";
import type { Uncertain } from "../../units/spread.js";
import {
  boxByDie,
  type DrawnPart,
  type HeatPath,
  type PlacedStore,
  pick,
  type Thing,
} from "../thing.js";
import type { Box } from "./box.js";
import {
  type BondFoot,
  bondFeet,
  bondRoom,
  footInset,
  type OnEdges,
  padCount,
  type Side,
  side,
} from "./edges.js";
import { electronsOf, type FilmIn, metres, purityWords, times } from "./film.js";
import type { Ledge } from "./ledge.js";
import { type Pads, padFilm } from "./pads.js";
import { catchmentLength, type Ring, ringAsFilm } from "./ring.js";

/** A wire or ribbon bond. */
export interface Bond extends Omit<WireBond, "metal" | "count" | "length"> {
  /** Metal, for example `"gold"`; a superconductor carries practically nothing far below T_c. */
  readonly material: string;
  /** Along the wire from foot to foot [m], or the gap, step and loop that it has to make. */
  readonly length: Uncertain<Length> | WireReach;
  /** Radius of the foot where heat enters a film [m]; the wire's diameter when absent. */
  readonly footRadius?: Uncertain<Length>;
  /** Bonds on each pad; 1 when absent. */
  readonly perPad?: number;
}

/** Bonds all alike, from the pads or the ring on the die to the ledge of the box. */
export interface Bonds extends Bond {
  /** How many, all alike, spread over the edges. */
  readonly count: number;
  /** Least distance from one pad to the next along an edge [m]; a pad's width and a half when absent. */
  readonly pitch?: Uncertain<Length>;
  /** `"spread"` evenly along their edges (default), or in a `"row"` at the pitch, in the middle. */
  readonly arrangement?: "spread" | "row";
  /**
   * Edges of the die that carry bonds: a list of them by name, or 1 (the lower), 2 (lower and upper),
   * 3 (and the left) or 4 (default). Lower and upper are sides of the die's width.
   */
  readonly edges?: 1 | 2 | 3 | 4 | readonly Side[];
}

/** What bonds read of a mount: the film they stand on, and the metal under their far feet. */
export interface WithBonds extends WithBox {
  readonly die: OnEdges["die"] & { readonly material: string; readonly cells?: number };
  readonly pads?: read.Plain<Pads>;
  readonly ring?: read.Plain<Ring>;
  readonly bonds?: read.Plain<Bonds>;
}

/** The metal under the far feet. */
interface WithBox extends OnEdges {
  readonly ledge?: read.Plain<Ledge>;
  readonly box: read.Plain<Box>;
}

const sides = read.checked(read.list(side, "a list of edges"), (named, at) => {
  if (named.length > 0 && new Set(named).size === named.length) return;
  throw new FieldError(at, "one edge or more, each once", named);
});

const { length: _, ...besideLength } = wireFields;
const wireNames = Object.keys(besideLength) as (keyof typeof besideLength)[];

/** Bonds of one kind, as they lie in a mount. */
export interface BondsIn<M extends WithBox> {
  /** Field of the mount that describes them. */
  readonly key: string;
  /** Their heat paths, as the budget shows them, and the places between these. */
  readonly names: Readonly<Record<"film" | "bonds" | "ledge" | "foot" | "farFoot", string>>;
  /** What they stand on. */
  readonly film: FilmIn<M>;
  /** Their description. */
  of(mount: M): read.Plain<Bond>;
  /** How many. */
  count(mount: M): number;
  /** Rectangle of the film that one of them drains, along and across the edge [m]. */
  drained(mount: M): { readonly width: number; readonly length: number };
  /** From the die's edge to the foot on the chip [m]. */
  inwards(mount: M): number;
  /** From one to the next along the ledge [m]. */
  apart(mount: M): number;
}

const shortForm = {
  key: "bonds",
  of: ({ bonds }: WithBonds) => bonds!,
  count: ({ bonds }: WithBonds) => bonds!.count,
};
const shortNames = { bonds: "bonds", ledge: "ledge", farFoot: "ledge foot" };

const onPads: BondsIn<WithBonds> = {
  ...shortForm,
  names: { ...shortNames, film: "pad film", foot: "pad foot" },
  film: padFilm,
  drained({ bonds, pads }) {
    return { width: pads!.width / (bonds!.perPad ?? 1), length: pads!.length };
  },
  inwards: footInset,
  apart: ({ bonds, pads }) => bonds!.pitch ?? 1.5 * pads!.width,
};

const onRing: BondsIn<WithBonds> = {
  ...shortForm,
  names: { ...shortNames, film: "ring film", foot: "ring foot" },
  film: ringAsFilm,
  drained(mount) {
    const { width } = mount.ring!;
    const apart = ringAsFilm.area(mount) / (mount.bonds!.count * width);
    const foot = 2 * footRadius(mount.bonds!, "bonds");
    // Feet that crowd a ring leave no film to cross: each still drains what is beside it.
    return { width: Math.max(catchmentLength(apart, width), foot), length: width };
  },
  inwards: footInset,
  apart: ({ bonds }) => bonds!.pitch ?? 6 * footRadius(bonds!, "bonds"),
};

/** The bonds that are all alike. */
export const alike = ({ ring }: WithBonds) => (ring ? onRing : onPads);

/** Along a wire, foot to foot [m]. */
export function bondLength<M extends WithBox>(kind: BondsIn<M>, mount: M): number {
  const { length } = kind.of(mount);
  return typeof length === "number" ? length : wireLength(length, kind.inwards(mount));
}

/** From the film that bonds stand on, through them, to the box. */
export function bondPaths<M extends WithBox>(kind: BondsIn<M>): readonly HeatPath<M>[] {
  const { key, names, film, of, count } = kind;
  const { near, far } = feetOf(kind);
  const shared = { by: "bonds", count } as const;
  return [
    {
      name: names.film,
      from: electronsOf(film),
      to: near,
      ...shared,
      conductor(mount, catalogue) {
        const { material: metal, thickness, ...more } = film.of(mount);
        const radius = footRadius(of(mount), key);
        const shape = { metal, ...kind.drained(mount), thickness, footRadius: radius };
        return filmAroundFoot(
          { ...shape, ...pick(more, "residualResistivityRatio") },
          catalogue,
          film.key,
        );
      },
    },
    {
      name: names.bonds,
      from: near,
      to: far,
      ...shared,
      conductor(mount, catalogue) {
        const own = of(mount);
        return wireBond(
          {
            metal: own.material,
            length: bondLength(kind, mount),
            ...pick(own, ...wireNames),
          },
          catalogue,
          key,
        );
      },
    },
    {
      name: names.ledge,
      from: far,
      to: boxByDie,
      ...shared,
      conductor: (mount, catalogue) => intoBox(kind, mount, catalogue),
    },
  ];
}

const feetOf = <M extends WithBox>({ film: { contacts: behind }, names }: BondsIn<M>) => ({
  near: { behind, place: names.foot },
  far: { behind, place: names.farFoot },
});

/** A bond's heat, half of it at either foot. */
export function bondStores<M extends WithBox>(kind: BondsIn<M>): readonly PlacedStore<M>[] {
  const { key, names } = kind;
  const { near, far } = feetOf(kind);
  const half = {
    by: "bonds",
    field: `${key}.material`,
    store(mount: M, catalogue: Catalogue) {
      const own = kind.of(mount);
      const section = crossSection(key, pick(own, "diameter", "width", "thickness"));
      const volume = (kind.count(mount) * section.area * bondLength(kind, mount)) / 2;
      return heatStore({ material: own.material, volume }, catalogue, key);
    },
  } as const;
  return [
    { name: `${names.bonds}, near foot`, at: near, ...half },
    { name: `${names.bonds}, far foot`, at: far, ...half },
  ];
}

/** A foot is flattened to about twice the wire: common practice, no source. */
function footRadius({ diameter, width, footRadius: given }: read.Plain<Bond>, key: string): number {
  if (given !== undefined) return given;
  if (diameter !== undefined) return diameter;
  if (width !== undefined) return width / 2;
  const words = 'a length such as "25 um", or a ribbon\'s width';
  throw new FieldError(`${key}.diameter`, words, undefined);
}

/**
 * From a foot into the box: through the plating into the metal below, and beside that along the
 * plating, which is all there is when the metal below is a superconductor.
 */
function intoBox<M extends WithBox>(kind: BondsIn<M>, mount: M, catalogue: Catalogue): Conductor {
  const radius = footRadius(kind.of(mount), kind.key);
  const { box, ledge } = mount;
  const below = constriction(
    { material: box.material, radius, ...pick(box, "residualResistivityRatio") },
    catalogue,
    "box",
  );
  const plating = ledge?.plating;
  if (!plating) return below;
  const { material, thickness } = plating;
  const pure = pick(plating, "residualResistivityRatio");
  const through = strip(
    { material, length: thickness, area: Math.PI * radius ** 2, ...pure },
    catalogue,
    "ledge.plating",
  );
  const reach = Math.max(kind.apart(mount), 3 * radius);
  const along = radialSpreading(
    { material, thickness, ...pure, innerRadius: radius, outerRadius: reach },
    catalogue,
    "ledge.plating",
  );
  return parallel(series(through, below), along);
}

export const bondFields: read.FieldsOf<Bond> = {
  material: read.text,
  ...wireFields,
  length: read.either(
    read.has("gap", "step", "loop", "onLedge"),
    reachField,
    read.quantity("length"),
  ),
  footRadius: read.optional(read.quantity("length")),
  perPad: read.optional(read.count),
};

/** Bonds as a drawing shows them. */
export function drawnBonds<M extends WithBox>(
  kind: BondsIn<M>,
  mount: M,
  feet: readonly BondFoot[],
  named?: { readonly group: number; readonly name: string },
): DrawnPart {
  const own = kind.of(mount);
  const length = bondLength(kind, mount);
  const wire =
    own.diameter !== undefined
      ? `${metres(own.diameter)} wire`
      : `ribbon ${metres(own.width!)} × ${metres(own.thickness!)}`;
  const total = times(kind.count(mount), "bond");
  return {
    kind: kind.key,
    look: "wire",
    name: named ? `${total}, ${named.name}` : total,
    details: [
      own.material,
      `${wire}, ${metres(length)} long`,
      ...(typeof own.length === "number" ? [] : [`over ${reachWords(own.length)}`]),
      ...purityWords(own.residualResistivityRatio),
    ],
    places: feet.map(({ x, y }) => ({ left: x, right: x, bottom: y, top: y })),
    wire: { length, width: own.diameter ?? own.width!, ...(named && { group: named.group }) },
  };
}

/** What bonds stand on. */
type Footing =
  | { readonly pad: { readonly width: number; readonly length: number; readonly inset?: number } }
  | { readonly ring: { readonly width: number; readonly inset?: number } };

/** @param long - along the wire [m] @throws FieldError for feet that do not fit, or a wire too short */
export function checkFeet(own: read.Plain<Bond>, key: string, on: Footing, long: number): void {
  const film = "pad" in on ? on.pad : on.ring;
  const shorter = "pad" in on ? Math.min(on.pad.width, on.pad.length) : film.width;
  const diameter = own.footRadius === undefined ? shorter / 2 : shorter;
  const limits = [
    ["diameter", diameter],
    ["width", shorter],
    ["footRadius", shorter / 2],
  ] as const;
  for (const [field, most] of limits) {
    const size = own[field];
    if (size === undefined || !exceeds(size, most)) continue;
    const what = "pad" in on ? "pad" : "ring";
    const words = `a foot that fits on its ${what}, at most ${formatGiven(most, "m")}`;
    throw new FieldError(`${key}.${field}`, words, formatGiven(size, "m"));
  }
  const radius = footRadius(own, key);
  const { perPad = 1 } = own;
  if ("pad" in on && exceeds(2 * radius * perPad, film.width)) {
    const words =
      `at most ${Math.floor((film.width / (2 * radius)) * (1 + 1e-9))} feet of ` +
      `${formatGiven(2 * radius, "m")} on a pad ${formatGiven(film.width, "m")} wide`;
    throw new FieldError(`${key}.perPad`, words, perPad);
  }
  const least = (film.inset ?? 0) + radius;
  if (exceeds(least, long)) {
    const words = `enough to reach over the die's edge, ${formatGiven(least, "m")} from the foot`;
    throw new FieldError(`${key}.length`, words, formatGiven(long, "m"));
  }
}

export const bonds: Thing<Bonds, WithBonds> = {
  holds: "bonds",
  field: read.optional(
    read.object<Bonds>({
      ...bondFields,
      count: read.count,
      pitch: read.optional(read.quantity("length")),
      arrangement: read.optional(read.oneOf("spread", "row")),
      edges: read.optional(
        read.either((written) => Array.isArray(written), sides, read.oneOf(1, 2, 3, 4)),
      ),
    }),
  ),
  rules(mount) {
    const { bonds: own, pads, ring } = mount;
    if (!own) return;
    const film = pads ?? ring;
    if (!film) throw new FieldError("pads", "pads or a ring for the bonds to stand on", undefined);
    checkFeet(
      own,
      "bonds",
      pads ? { pad: pads } : { ring: ring! },
      bondLength(alike(mount), mount),
    );
  },
  parts(mount) {
    if (!mount.bonds) return {};
    const kind = alike(mount);
    return { paths: bondPaths(kind), stores: bondStores(kind) };
  },
  warnings(mount) {
    const { bonds: own } = mount;
    if (!own) return [];
    const room = bondRoom(mount);
    const { count, perPad = 1 } = own;
    const length = bondLength(alike(mount), mount);
    const reach = footInset(mount);
    return [
      ...(count > room ? [`bonds: ${count} do not fit; the edges have space for ${room}.`] : []),
      ...(exceeds(reach, length)
        ? [
            `bonds: ${metres(length)} do not reach from the middle of the ` +
              `${mount.pads ? "pads" : "ring"} over the edge of the die, ${metres(reach)}.`,
          ]
        : []),
      ...(mount.pads && count % perPad > 0
        ? [
            `bonds: ${count} leave a pad without its ${perPad}; all ${padCount(mount)} pads are ` +
              "taken to have the same share of them.",
          ]
        : []),
    ];
  },
  drawn(mount) {
    if (!mount.bonds) return [];
    const feet = bondFeet(mount).filter(({ group }) => group === undefined);
    return [drawnBonds(alike(mount), mount, feet)];
  },
};
