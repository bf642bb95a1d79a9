/**
 * Metal pads in groups: along an edge between keep-outs, or at places of their own.
 * @module
 */
import { overlapOf, span } from "../../chip/grid.js";
import { FieldError } from "../../units/errors.js";
import {
  checked,
  count,
  list,
  object,
  optional,
  type Plain,
  quantity,
  quantityFromZero,
  text,
} from "../../units/fields.js";
import { formatGiven } from "../../units/format.js";
import type { Length } from "../../units/quantity.js";
import type { Uncertain } from "../../units/spread.js";
import { type DrawnPart, rectanglesOf, type Thing } from "../thing.js";
import {
  alongSide,
  bondsOnEach,
  groupBands,
  type OnEdges,
  type PadsOnDie,
  padsIn,
  padsOfGroup,
  type Side,
  side,
} from "./edges.js";
import {
  type Film,
  type FilmIn,
  filmFields,
  filmPaths,
  filmStores,
  metres,
  times,
} from "./film.js";
import { bondedMetal, drawnPads } from "./pads.js";
import { type Place, places } from "./spots.js";

/** A piece of an edge that stays free, where a microwave launch sits. */
export interface KeepOut {
  /** Its beginning, from the left or the lower end of the edge [m]. */
  readonly from: Uncertain<Length>;
  /** Its end, from the same end of the edge [m]. */
  readonly to: Uncertain<Length>;
}

/**
 * Pads alike that have a name: `count` of them along one `edge`, or one at each of some `places`. A mount
 * may have several such groups, with groups of bonds on them.
 */
export interface PadGroup extends Film {
  /** By which groups of bonds name it. */
  readonly name: string;
  /** Side along the edge; at `places`, along the die's width [m]. */
  readonly width: Uncertain<Length>;
  /** Side across the edge; at `places`, along the die's length [m]. */
  readonly length: Uncertain<Length>;
  /** The edge they stand on. */
  readonly edge?: Side;
  /** How many stand on the edge. */
  readonly count?: number;
  /** From middle to middle [m]; spread evenly over what is free of the edge when absent. */
  readonly pitch?: Uncertain<Length>;
  /** From the die's edge to the pads [m]; 0 when absent. */
  readonly inset?: Uncertain<Length>;
  /** Pieces of the edge without pads. */
  readonly keepOut?: readonly KeepOut[];
  /** Their middles, in place of an edge. */
  readonly places?: readonly Place[];
}

/** What groups of pads read of a mount. */
interface WithPadGroups extends OnEdges {
  readonly die: OnEdges["die"] & { readonly material: string };
  readonly padGroups?: readonly Plain<PadGroup>[];
}

const known = new WeakMap<readonly PadsOnDie[], readonly FilmIn<WithPadGroups>[]>();

/** Groups of pads as films, each the same for the pads and for the bonds that stand on them. */
export function groupFilms(own: readonly PadsOnDie[] = []): readonly FilmIn<WithPadGroups>[] {
  // A weak map with a key for each mount would take a quarter of the time of a budget.
  if (own.length === 0) return [];
  const films = known.get(own) ?? own.map(groupFilm);
  known.set(own, films);
  return films;
}

/** A group of pads as a film. */
function groupFilm({ name, places: placed }: PadsOnDie, g: number): FilmIn<WithPadGroups> {
  const key = `padGroups[${g}]`;
  const of = ({ padGroups: all }: WithPadGroups) => all![g]!;
  const film: FilmIn<WithPadGroups> = {
    name: `pads ${name}`,
    key,
    coupling: `electron-phonon coupling, pads ${name}`,
    contacts: {
      name: `pads ${name}`,
      ...(!placed && { bands: (mount: WithPadGroups) => groupBands(mount, of(mount)) }),
      layer: "face",
      field: (k) => (placed ? `${key}.places[${k}]` : key),
      lay(mount) {
        const own = padsOfGroup(mount, of(mount), key);
        const bonds = bondsOnEach(mount, name);
        return { patches: own.map(({ area }) => ({ area, share: 1 / own.length, bonds })) };
      },
    },
    of,
    area: (mount) => of(mount).width * of(mount).length,
    volume: (mount) => padsIn(of(mount)) * (film.area(mount) * of(mount).thickness),
    count: (mount) => padsIn(of(mount)),
  };
  return film;
}

const keepOut = list(
  checked(
    object<KeepOut>({ from: quantityFromZero("length"), to: quantity("length") }),
    ({ from, to }, at) => {
      if (from < to) return;
      throw new FieldError(`${at}.to`, `more than ${formatGiven(from, "m")}`, formatGiven(to, "m"));
    },
  ),
  "a list of pieces of the edge",
);

const groups = list(
  object<PadGroup>({
    ...filmFields,
    name: text,
    width: quantity("length"),
    length: quantity("length"),
    edge: optional(side),
    count: optional(count),
    pitch: optional(quantity("length")),
    inset: optional(quantityFromZero("length")),
    keepOut: optional(keepOut),
    places: optional(places),
  }),
  "a list of groups of pads",
  1,
);

/** @throws FieldError, UnknownNameError */
function checkGroups(mount: WithPadGroups, own: readonly Plain<PadGroup>[]): void {
  const { die } = mount;
  const taken = [...bondedMetal(mount)];
  own.forEach((group, g) => {
    const at = `padGroups[${g}]`;
    if (own.findIndex(({ name }) => name === group.name) !== g) {
      throw new FieldError(`${at}.name`, "a name that no other group has", group.name);
    }
    if (group.places) {
      const along = ["edge", "count", "pitch", "inset", "keepOut"] as const;
      const both = along.find((key) => group[key] !== undefined);
      if (both) throw new FieldError(`${at}.${both}`, "nothing beside places", group[both]);
    } else {
      if (!group.edge) throw new FieldError(at, "an edge, or places", undefined);
      if (!group.count)
        throw new FieldError(`${at}.count`, "how many stand on the edge", undefined);
      const along = group.edge === "lower" || group.edge === "upper" ? die.width : die.length;
      group.keepOut?.forEach(({ to }, k) => {
        if (to <= along) return;
        const words = `at most the length of the edge, ${formatGiven(along, "m")}`;
        throw new FieldError(`${at}.keepOut[${k}].to`, words, formatGiven(to, "m"));
      });
      if (group.pitch !== undefined && group.pitch < group.width * (1 - 1e-9)) {
        const words = `at least the pads' width, ${formatGiven(group.width, "m")}`;
        throw new FieldError(`${at}.pitch`, words, formatGiven(group.pitch, "m"));
      }
    }
    padsOfGroup(mount, group, at).forEach(({ area }, k) => {
      const where = group.places ? `${at}.places[${k}]` : at;
      const over = 1e-9 * Math.max(die.width, die.length);
      if (
        area.left < -over ||
        area.bottom < -over ||
        area.right > die.width + over ||
        area.top > die.length + over
      ) {
        throw new FieldError(where, "a pad on the die", `one over its edge, at ${span(area)}`);
      }
      for (const other of taken) {
        const shared = overlapOf(area, other.area);
        if (!shared) continue;
        throw new FieldError(
          where,
          `a place apart from ${other.at}`,
          `an overlap at ${span(shared)}`,
        );
      }
      taken.push({ at: where, area });
    });
  });
}

/** The pieces of its edge that a group leaves free, as deep as its pads reach. */
function drawnKeepOuts(
  mount: WithPadGroups,
  { name, edge, inset = 0, length, keepOut = [] }: Plain<PadGroup>,
  g: number,
): readonly DrawnPart[] {
  if (keepOut.length === 0) return [];
  return [
    {
      kind: `keep-outs ${g}`,
      look: "free",
      name: `${times(keepOut.length, "keep-out")}, ${name}`,
      details: [
        `${edge} edge from ${keepOut.map(({ from, to }) => `${metres(from)} to ${metres(to)}`).join(", ")}`,
        "for launches",
      ],
      places: keepOut.map(({ from, to }) =>
        alongSide(mount, edge!, [from, to], [0, inset + length]),
      ),
    },
  ];
}

export const padGroups: Thing<readonly PadGroup[], WithPadGroups> = {
  field: optional(groups),
  rules: (mount) => mount.padGroups && checkGroups(mount, mount.padGroups),
  warnings: (mount) =>
    (mount.padGroups ?? [])
      .filter(({ name }) => bondsOnEach(mount, name) === 0)
      .map(({ name }) => `pads ${name}: no bonds stand on them, so that no heat leaves by them.`),
  parts({ padGroups: own }) {
    const films = groupFilms(own);
    return {
      contacts: films.map(({ contacts }) => contacts),
      paths: films.flatMap((film, g) => filmPaths(film, own![g]!)),
      stores: films.flatMap((film, g) => filmStores(film, own![g]!)),
    };
  },
  drawn(mount) {
    const films = groupFilms(mount.padGroups);
    return (mount.padGroups ?? []).flatMap((group, g) => {
      const areas = rectanglesOf(films[g]!.contacts, mount);
      const name = `${times(areas.length, "pad")}, ${group.name}`;
      return [drawnPads(group, areas, `pads ${g}`, name), ...drawnKeepOuts(mount, group, g)];
    });
  },
};
