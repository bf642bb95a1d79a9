/**
 * Where on the die a load falls, as a user writes it.
 * @module
 */
import { FieldError } from "../units/errors.js";
import * as read from "../units/fields.js";
import type { Length } from "../units/quantity.js";
import type { Uncertain } from "../units/spread.js";

/** A place on the die, from its lower left corner. */
export interface Place {
  /** From the lower left corner of the die to the right [m]. */
  readonly x: Uncertain<Length>;
  /** From the lower left corner of the die upward [m]. */
  readonly y: Uncertain<Length>;
}

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

/** A round Gaussian spot about a place. */
export interface SpotMap extends Place {
  readonly kind: "spot";
  /** Standard deviation of the spot [m]. */
  readonly radius: Length;
}

/** In proportion to one number for each pixel: rows from the lower edge up, pixels left to right. */
export interface PixelMap {
  readonly kind: "pixels";
  /** Pure numbers: only their ratios count, since the power is the load's. */
  readonly rows: readonly (readonly number[])[];
}

/** Along lines on the die, such as feed lines. */
export interface LinesMap {
  readonly kind: "lines";
  /** The lines, each with its share of the heat. */
  readonly lines: readonly MapLine[];
}

/** A line on the die along which heat falls. */
export interface MapLine {
  /** Its corners, from where the signal enters it. */
  readonly route: readonly Place[];
  /** Breadth of the strip on which the heat falls [m]; a thin line when absent. */
  readonly width?: Uncertain<Length>;
  /** Loss from its start to its end, in dB, so that more heat falls near the start; 0 when absent. */
  readonly loss?: Uncertain<number>;
  /** Of the heat, in proportion to the other lines; 1 when absent. */
  readonly share?: Uncertain<number>;
}

/** Where on the die a load falls; the 2-D model alone resolves it. */
export type LoadMap = UniformMap | RectangleMap | SpotMap | PixelMap | LinesMap;

export const place = read.object<Place>({
  x: read.quantityFromZero("length"),
  y: read.quantityFromZero("length"),
});
export const places = read.list(place, "a list of one place or more", 1);

const weight = read.exactNumber("a number, not negative", (x) => x >= 0);
const rows = read.checked(
  read.list(read.list(weight, "a row of numbers, one for each pixel"), "a list of rows of pixels"),
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
const fromZero = read.quantityFromZero("length");
export const decibels = read.number("a loss in dB, 0 or more", (loss) => loss >= 0);
export const route = read.list(place, "two places or more along the line", 2);

export const loadMap = read.byKind<LoadMap>({
  uniform: read.object<UniformMap>({ kind: read.oneOf("uniform") }),
  rectangle: read.object<RectangleMap>({
    kind: read.oneOf("rectangle"),
    left: fromZero,
    right: fromZero,
    bottom: fromZero,
    top: fromZero,
  }),
  spot: read.object<SpotMap>({
    kind: read.oneOf("spot"),
    x: fromZero,
    y: fromZero,
    radius: read.exactQuantity("length"),
  }),
  pixels: read.object<PixelMap>({ kind: read.oneOf("pixels"), rows }),
  lines: read.object<LinesMap>({
    kind: read.oneOf("lines"),
    lines: read.list(
      read.object<MapLine>({
        route,
        width: read.optional(read.quantity("length")),
        loss: read.optional(decibels),
        share: read.optional(read.aboveZero),
      }),
      "a list of one line or more",
      1,
    ),
  }),
});
