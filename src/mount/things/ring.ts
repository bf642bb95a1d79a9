/**
 * A closed band of metal along the die's edges, on which the bonds stand in place of pads.
 * @module
 */
import { ringFilm } from "../../chip/film.js";
import { areaOf, overlapOf, type Rectangle } from "../../chip/grid.js";
import { FieldError } from "../../units/errors.js";
import { object, optional, type Plain, quantity, quantityFromZero } from "../../units/fields.js";
import { formatGiven } from "../../units/format.js";
import type { Length } from "../../units/quantity.js";
import type { Uncertain } from "../../units/spread.js";
import { type Contacts, rectanglesOf, type Thing } from "../thing.js";
import { alongSide, type OnEdges, standsOf } from "./edges.js";
import {
  type Film,
  type FilmIn,
  filmContacts,
  filmFields,
  filmParts,
  filmSquare,
  filmWords,
  metres,
  patchesThatFit,
} from "./film.js";

/** A closed band of metal along the die's edges, on which the bonds stand in place of pads. */
export interface Ring extends Film {
  /** Width of the band [m]. */
  readonly width: Uncertain<Length>;
  /** From the die's edge to the band [m]; 0 when absent. */
  readonly inset?: Uncertain<Length>;
}

/** What a ring reads of a mount. */
interface WithRing extends OnEdges {
  readonly die: OnEdges["die"] & {
    readonly material: string;
    readonly cells?: number;
    readonly model?: string;
  };
  readonly ring?: Plain<Ring>;
}

/** Patches along the longer side; half as many again move the rise by under 0.5 %. */
const patchesAlong = 32;

const contacts: Contacts<WithRing> = {
  name: "ring",
  layer: "face",
  field: () => "ring",
  film: {
    name: "along the ring",
    place: "ring electrons",
    square: ({ ring }, catalogue) => filmSquare(ring!, "ring", catalogue),
  },
  lay(mount) {
    const { die } = mount;
    const { width: band, inset = 0 } = mount.ring!;
    const longest = Math.max(die.width, die.length);
    const most = patchesThatFit(die, patchesAlong);
    const perEdge = (side: number) => Math.max(4, Math.round((most * side) / longest));
    const film = ringFilm({
      name: "ring",
      width: die.width,
      length: die.length,
      band,
      inset,
      across: perEdge(die.width),
      along: perEdge(die.length),
    });
    // A foot gathers from the film around it, which the pad-film step counts; so it is shared among the
    // patches of that catchment, and the ways along the ring carry only what comes from beyond it.
    const feet = new Array<number>(film.patches.length).fill(0);
    for (const catchment of catchments(mount)) {
      const shares = film.patches.map(({ area }) =>
        area.reduce((sum, piece) => {
          const shared = overlapOf(piece, catchment);
          return sum + (shared ? areaOf(shared) : 0);
        }, 0),
      );
      const total = shares.reduce((sum, share) => sum + share, 0);
      shares.forEach((share, i) => {
        feet[i] = feet[i]! + share / total;
      });
    }
    return filmContacts(film, feet);
  },
};

/**
 * Length of the piece of a ring that a foot gathers from [m]: as far as the next foot, and no longer than a
 * disc of that area is wide; what comes from beyond runs along the ring.
 */
export function catchmentLength(apart: number, band: number): number {
  return Math.min(apart, 2 * Math.sqrt((apart * band) / Math.PI));
}

/** The piece of a ring that each bond's foot gathers from. */
function catchments(mount: WithRing): readonly Rectangle[] {
  const { width: band, inset = 0 } = mount.ring!;
  return standsOf(mount).map(({ side, middle, along, onSide }) => {
    const reach = catchmentLength(along / onSide, band) / 2;
    const piece = [Math.max(0, middle - reach), Math.min(along, middle + reach)] as const;
    return alongSide(mount, side, piece, [inset, inset + band]);
  });
}

/** The ring as a film; it is one, however many bonds stand on it. */
export const ringAsFilm: FilmIn<WithRing> = {
  name: "ring",
  key: "ring",
  coupling: "electron-phonon coupling",
  contacts,
  of: ({ ring }) => ring!,
  area({ die, ring }) {
    const { width: band, inset = 0 } = ring!;
    const [w, l] = [die.width - 2 * inset, die.length - 2 * inset];
    return w * l - (w - 2 * band) * (l - 2 * band);
  },
  volume: (mount) => ringAsFilm.area(mount) * mount.ring!.thickness,
  count: () => 1,
};

export const ring: Thing<Ring, WithRing> = {
  field: optional(
    object<Ring>({
      ...filmFields,
      width: quantity("length"),
      inset: optional(quantityFromZero("length")),
    }),
  ),
  rules({ die, ring: own, pads, bonds }) {
    if (!own) return;
    if (pads) throw new FieldError("ring", "pads or a ring, not both", "both");
    if (!bonds) throw new FieldError("bonds", "bonds on the ring", undefined);
    const half = Math.min(die.width, die.length) / 2;
    if (own.width + (own.inset ?? 0) >= half) {
      const words = `less than half the die, ${formatGiven(half, "m")}`;
      throw new FieldError("ring.width", words, formatGiven(own.width, "m"));
    }
  },
  parts: ({ ring: own, bonds }) => (own && bonds ? filmParts(ringAsFilm, own) : {}),
  drawn(mount) {
    if (!mount.ring) return [];
    const { width, thickness } = mount.ring;
    return [
      {
        kind: "ring",
        look: "film",
        name: "ring",
        details: filmWords(mount.ring, `${metres(width)} wide, `),
        places: rectanglesOf(contacts, mount),
        thickness,
      },
    ];
  },
};
