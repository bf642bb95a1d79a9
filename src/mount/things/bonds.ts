/**
 * Wire bonds from the pads or the ring on the die to the ledge of the box.
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
import type { Catalogue } from "../../materials/types.js";
import { FieldError } from "../../units/errors.js";
import {
  checked,
  count,
  either,
  list,
  object,
  oneOf,
  optional,
  type Plain,
  quantity,
  text,
} from "../../units/fields.js";
import type { Length } from "../../units/quantity.js";
import type { Uncertain } from "../../units/spread.js";
import { boxByDie, type HeatPath, type PlacedStore, pick, type Thing } from "../thing.js";
import type { Box } from "./box.js";
import { bondFeet, bondRoom, type OnEdges, type Side } from "./edges.js";
import { electronsOf, type FilmIn, metres, purityWords, times } from "./film.js";
import type { Ledge } from "./ledge.js";
import { type Pads, padFilm } from "./pads.js";
import { type Ring, ringAsFilm } from "./ring.js";

/** Wire bonds from the pads or the ring on the die to the ledge of the box. */
export interface Bonds extends Omit<WireBond, "metal" | "count"> {
  /** Metal, for example `"gold"`; a superconductor carries practically nothing far below T_c. */
  readonly material: string;
  /** How many, all alike, spread over the edges. */
  readonly count: number;
  /** Radius of the foot where heat enters a film [m]; the wire's diameter when absent. */
  readonly footRadius?: Uncertain<Length>;
  /** Bonds on each pad; 1 when absent. */
  readonly perPad?: number;
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
interface WithBonds extends OnEdges {
  readonly die: OnEdges["die"] & { readonly material: string; readonly cells?: number };
  readonly pads?: Plain<Pads>;
  readonly ring?: Plain<Ring>;
  readonly bonds?: Plain<Bonds>;
  readonly ledge?: Plain<Ledge>;
  readonly box: Plain<Box>;
}

const sides = checked(
  list(oneOf("lower", "right", "upper", "left"), "a list of edges"),
  (named, at) => {
    if (named.length > 0 && new Set(named).size === named.length) return;
    throw new FieldError(at, "one edge or more, each once", named);
  },
);

const wireNames = Object.keys(wireFields) as (keyof typeof wireFields)[];

const bondCount = ({ bonds }: WithBonds) => bonds!.count;

/** From the film that bonds stand on, through them, to the box. */
function bondPaths(film: FilmIn<WithBonds>): readonly HeatPath<WithBonds>[] {
  const foot = footOn(film);
  const far = farFoot(film);
  const shared = { by: "bonds", count: bondCount } as const;
  return [
    {
      name: `${film.name} film`,
      from: electronsOf(film),
      to: foot,
      ...shared,
      conductor(mount, catalogue) {
        const { bonds, ring } = mount;
        const { material: metal, thickness, ...more } = film.of(mount);
        const radius = footRadius(mount);
        // Feet that crowd a ring leave no film to cross: each still drains a little more than itself.
        const area = ring
          ? Math.max(film.area(mount) / bonds!.count, 1.02 * Math.PI * radius ** 2)
          : film.area(mount) / (bonds!.perPad ?? 1);
        const pure = pick(more, "residualResistivityRatio");
        return filmAroundFoot(
          { metal, area, thickness, footRadius: radius, ...pure },
          catalogue,
          film.key,
        );
      },
    },
    {
      name: "bonds",
      from: foot,
      to: far,
      ...shared,
      conductor: ({ bonds }, catalogue) =>
        wireBond({ metal: bonds!.material, ...pick(bonds!, ...wireNames) }, catalogue, "bonds"),
    },
    { name: "ledge", from: far, to: boxByDie, ...shared, conductor: intoBox },
  ];
}

const footOn = ({ name, contacts: behind }: FilmIn<WithBonds>) => ({
  behind,
  place: `${name} foot`,
});
const farFoot = ({ contacts: behind }: FilmIn<WithBonds>) => ({ behind, place: "ledge foot" });

/** A bond's heat, half of it at either foot. */
function bondStores(film: FilmIn<WithBonds>): readonly PlacedStore<WithBonds>[] {
  const half = {
    by: "bonds",
    field: "bonds.material",
    store({ bonds }: WithBonds, catalogue: Catalogue) {
      const section = crossSection("bonds", pick(bonds!, "diameter", "width", "thickness"));
      const volume = (bonds!.count * section.area * bonds!.length) / 2;
      return heatStore({ material: bonds!.material, volume }, catalogue, "bonds");
    },
  } as const;
  return [
    { name: "bonds, near foot", at: footOn(film), ...half },
    { name: "bonds, far foot", at: farFoot(film), ...half },
  ];
}

/** A foot is flattened to about twice the wire: common practice, no source. */
function footRadius({ bonds }: WithBonds): number {
  const { diameter, width, footRadius: given } = bonds!;
  if (given !== undefined) return given;
  if (diameter !== undefined) return diameter;
  if (width !== undefined) return width / 2;
  const words = 'a length such as "25 um", or a ribbon\'s width';
  throw new FieldError("bonds.diameter", words, undefined);
}

/**
 * From a foot into the box: through the plating into the metal below, and beside that along the
 * plating, which is all there is when the metal below is a superconductor.
 */
function intoBox(mount: WithBonds, catalogue: Catalogue): Conductor {
  const radius = footRadius(mount);
  const { box, ledge, bonds, pads } = mount;
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
  const reach = Math.max(bonds!.pitch ?? 1.5 * (pads?.width ?? 4 * radius), 3 * radius);
  const along = radialSpreading(
    { material, thickness, ...pure, innerRadius: radius, outerRadius: reach },
    catalogue,
    "ledge.plating",
  );
  return parallel(series(through, below), along);
}

export const bonds: Thing<Bonds, WithBonds> = {
  holds: "bonds",
  field: optional(
    object<Bonds>({
      material: text,
      count,
      ...wireFields,
      footRadius: optional(quantity("length")),
      perPad: optional(count),
      pitch: optional(quantity("length")),
      arrangement: optional(oneOf("spread", "row")),
      edges: optional(either((written) => Array.isArray(written), sides, oneOf(1, 2, 3, 4))),
    }),
  ),
  rules({ bonds: own, pads, ring }) {
    if (own && !pads && !ring) {
      throw new FieldError("pads", "pads or a ring for the bonds to stand on", undefined);
    }
  },
  parts({ bonds: own, ring }) {
    if (!own) return {};
    const film: FilmIn<WithBonds> = ring ? ringAsFilm : padFilm;
    return { paths: bondPaths(film), stores: bondStores(film) };
  },
  warnings(mount) {
    const { bonds: own } = mount;
    const room = bondRoom(mount);
    if (!own || own.count <= room) return [];
    return [`bonds: ${own.count} do not fit; the edges have room for ${room}.`];
  },
  drawn(mount) {
    const { bonds: own } = mount;
    if (!own) return [];
    const wire =
      own.diameter !== undefined
        ? `${metres(own.diameter)} wire`
        : `ribbon ${metres(own.width!)} × ${metres(own.thickness!)}`;
    return [
      {
        kind: "bonds",
        look: "wire",
        name: times(own.count, "bond"),
        details: [
          own.material,
          `${wire}, ${metres(own.length)} long`,
          ...purityWords(own.residualResistivityRatio),
        ],
        places: bondFeet(mount).map(({ x, y }) => ({ left: x, right: x, bottom: y, top: y })),
      },
    ];
  },
};
