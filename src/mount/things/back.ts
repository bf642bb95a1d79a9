/**
 * A metal film on the back of the die, pressed on the box.
 * @module
 */
import { withoutHole } from "../../chip/contact.js";
import { faceFilm } from "../../chip/film.js";
import { within } from "../../chip/grid.js";
import { FieldError } from "../../units/errors.js";
import { object, optional, type Plain, quantity } from "../../units/fields.js";
import { formatGiven } from "../../units/format.js";
import type { Length } from "../../units/quantity.js";
import type { Uncertain } from "../../units/spread.js";
import { boxByDie, type Contacts, rectanglesOf, type Thing } from "../thing.js";
import {
  electronsOf,
  type Film,
  type FilmIn,
  filmContacts,
  filmFields,
  filmParts,
  filmPaths,
  filmSquare,
  filmWords,
  metres,
  patchesThatFit,
} from "./film.js";
import { jointField, jointWords, type StageJoint, screwWarnings, throughJoint } from "./joint.js";

/** A metal film on the back of the die, pressed on the box. */
export interface Back {
  /** Metal on the back of the die. */
  readonly film: Film;
  /** How the film's face meets the box: pressed faces and their whole force, or a measured joint. */
  readonly joint: StageJoint;
  /** Width of the band along the edges that touches, the middle open [m]; the whole back when absent. */
  readonly frame?: Uncertain<Length>;
}

interface WithBack {
  readonly die: {
    readonly model?: string;
    readonly material: string;
    readonly width: number;
    readonly length: number;
    readonly cells?: number;
  };
  readonly back?: Plain<Back>;
}

/** Patches along the longer side. */
const patchesAlong = 12;

const contacts: Contacts<WithBack> = {
  name: "back",
  layer: "back",
  field: () => "back",
  film: {
    name: "along the back",
    place: "back electrons",
    square: ({ back: own }, catalogue) => filmSquare(own!.film, "back", catalogue),
  },
  lay({ die, back: own }) {
    const { frame } = own!;
    const whole = { left: 0, right: die.width, bottom: 0, top: die.length };
    const area = frame === undefined ? whole : withoutHole(whole, within(whole, frame));
    const most = patchesThatFit(die, patchesAlong);
    const along = (side: number) =>
      Math.max(2, Math.round((most * side) / Math.max(die.width, die.length)));
    return filmContacts(faceFilm("back", area, along(die.width), along(die.length)));
  },
};

const film: FilmIn<WithBack> = {
  name: "back",
  key: "back",
  coupling: "electron-phonon coupling at the back",
  contacts,
  of: ({ back: own }) => own!.film,
  area({ die, back: own }) {
    const { frame } = own!;
    const whole = die.width * die.length;
    return frame === undefined ? whole : whole - (die.width - 2 * frame) * (die.length - 2 * frame);
  },
  volume: ({ die, back: own }) => die.width * die.length * own!.film.thickness,
  count: () => 1,
};

export const back: Thing<Back, WithBack> = {
  holds: "a pressed back",
  field: optional(
    object<Back>({
      film: object<Film>(filmFields),
      joint: jointField,
      frame: optional(quantity("length")),
    }),
  ),
  rules({ die, back: own }) {
    const half = Math.min(die.width, die.length) / 2;
    if (own?.frame !== undefined && own.frame >= half) {
      const words = `less than half the die, ${formatGiven(half, "m")}`;
      throw new FieldError("back.frame", words, formatGiven(own.frame, "m"));
    }
  },
  parts: ({ back: own }) =>
    own
      ? {
          ...filmParts(film, own.film),
          paths: [
            ...filmPaths(film, own.film),
            {
              name: "pressed back",
              from: electronsOf(film),
              to: boxByDie,
              ...throughJoint(({ back }: WithBack) => back!.joint, "back.joint"),
            },
          ],
        }
      : {},
  warnings: ({ back: own }, catalogue) =>
    own ? screwWarnings(own.joint, "back.joint", catalogue) : [],
  drawn(mount) {
    const { back: own } = mount;
    if (!own) return [];
    return [
      {
        kind: "back",
        look: "back",
        name: "film on the back, pressed on the box",
        details: [
          ...filmWords(own.film),
          ...(own.frame === undefined ? [] : [`touches in a band of ${metres(own.frame)}`]),
          ...jointWords(own.joint).map((words) => words.replace(/^1 bolt, /, "pressed with ")),
        ],
        places: rectanglesOf(contacts, mount),
        thickness: own.film.thickness,
      },
    ];
  },
};
