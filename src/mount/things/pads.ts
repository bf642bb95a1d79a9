/**
 * Metal pads along the edges of the die, one or more bonds on each.
 * @module
 */
import type { Rectangle } from "../../chip/grid.js";
import { exceeds } from "../../units/checks.js";
import { FieldError } from "../../units/errors.js";
import { object, optional, type Plain, quantity, quantityFromZero } from "../../units/fields.js";
import { formatGiven } from "../../units/format.js";
import type { Length } from "../../units/quantity.js";
import type { Uncertain } from "../../units/spread.js";
import { type Contacts, type DrawnPart, rectanglesOf, type Thing } from "../thing.js";
import { alongSide, type OnEdges, padBands, padCount, standsOf } from "./edges.js";
import {
  type Film,
  type FilmIn,
  filmFields,
  filmPaths,
  filmStores,
  metres,
  purityWords,
  times,
} from "./film.js";

/** Metal pads along the edges of the die, one or more bonds on each. */
export interface Pads extends Film {
  /** Side along the die's edge [m]. */
  readonly width: Uncertain<Length>;
  /** Side across the die's edge [m]. */
  readonly length: Uncertain<Length>;
  /** From the die's edge to the pad [m]; 0 when absent. */
  readonly inset?: Uncertain<Length>;
}

/** What pads read of a mount: bonds say how many there are, and on which edges. */
interface WithPads extends OnEdges {
  readonly die: OnEdges["die"] & { readonly material: string; readonly model?: string };
  readonly pads?: Plain<Pads>;
}

const contacts: Contacts<WithPads> = {
  name: "pads",
  bands: padBands,
  layer: "face",
  field: () => "pads",
  lay(mount) {
    const { width, length, inset = 0 } = mount.pads!;
    const stands = standsOf(mount);
    const each = mount.bonds!.count / stands.length;
    return {
      patches: stands.map(({ side, middle }) => ({
        area: alongSide(
          mount,
          side,
          [middle - width / 2, middle + width / 2],
          [inset, inset + length],
        ),
        share: 1 / stands.length,
        bonds: each,
      })),
    };
  },
};

/** The pads as a film. */
export const padFilm: FilmIn<WithPads> = {
  name: "pad",
  key: "pads",
  coupling: "electron-phonon coupling",
  contacts,
  of: ({ pads }) => pads!,
  area: ({ pads }) => pads!.width * pads!.length,
  volume: (mount) => padCount(mount) * (padFilm.area(mount) * mount.pads!.thickness),
  count: padCount,
};

/** Where the pads are on the die; none where there are none. */
export function padAreas(mount: OnEdges): readonly Rectangle[] {
  return mount.pads && mount.bonds ? rectanglesOf(contacts, mount as WithPads) : [];
}

/** The metal on the front that bonds of the short form stand on: pads, or the four bands of the ring. */
export function bondedMetal(
  mount: OnEdges,
): readonly { readonly at: string; readonly area: Rectangle }[] {
  const pads = padAreas(mount).map((area) => ({ at: "pads", area }));
  if (!mount.ring) return pads;
  const { width, length } = mount.die;
  const { width: band, inset = 0 } = mount.ring;
  const [right, top] = [width - inset, length - inset];
  const ring = [
    { left: inset, right, bottom: inset, top: inset + band },
    { left: inset, right, bottom: top - band, top },
    { left: inset, right: inset + band, bottom: inset, top },
    { left: right - band, right, bottom: inset, top },
  ];
  return [...pads, ...ring.map((area) => ({ at: "ring", area }))];
}

/** Pads as a drawing shows them. */
export function drawnPads(
  own: Plain<Film> & { readonly width: number; readonly length: number },
  places: readonly Rectangle[],
  kind: string,
  name = times(places.length, "pad"),
): DrawnPart {
  const { material, width, length, thickness, residualResistivityRatio } = own;
  return {
    kind,
    look: "film",
    name,
    details: [
      material,
      `${metres(width)} along the edge × ${metres(length)}, ${metres(thickness)} thick`,
      ...purityWords(residualResistivityRatio),
    ],
    places,
    thickness,
  };
}

export const pads: Thing<Pads, WithPads> = {
  field: optional(
    object<Pads>({
      ...filmFields,
      width: quantity("length"),
      length: quantity("length"),
      inset: optional(quantityFromZero("length")),
    }),
  ),
  rules({ die, pads: own, bonds }) {
    if (!own) return;
    if (!bonds) throw new FieldError("bonds", "bonds on the pads", undefined);
    const { pitch } = bonds;
    if (pitch !== undefined && exceeds(own.width, pitch)) {
      const words = `at least the pads' width, ${formatGiven(own.width, "m")}`;
      throw new FieldError("bonds.pitch", words, formatGiven(pitch, "m"));
    }
    const shorter = Math.min(die.width, die.length);
    const corner = own.length + (own.inset ?? 0);
    const free = shorter - 2 * corner;
    if (corner < shorter / 2 && exceeds(own.width, free)) {
      const words = `at most what the edge leaves between the corners, ${formatGiven(free, "m")}`;
      throw new FieldError("pads.width", words, formatGiven(own.width, "m"));
    }
    if (corner >= shorter / 2) {
      const words = `less than half the die, ${formatGiven(shorter / 2, "m")}`;
      throw new FieldError("pads.length", words, formatGiven(own.length, "m"));
    }
  },
  parts: ({ pads: own, bonds }) =>
    own && bonds
      ? { contacts: [contacts], paths: filmPaths(padFilm, own), stores: filmStores(padFilm, own) }
      : {},
  drawn: (mount) =>
    mount.pads && mount.bonds ? [drawnPads(mount.pads, padAreas(mount), "pads")] : [],
};
