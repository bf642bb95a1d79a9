/**
 * The box that phonons fly in: a rectangular die with a share of mirror reflection on each face.
 *
 * x runs along the width, y along the length, z from the back to the front, all from 0. On the front and
 * back a place is given by x and y as seen from the front, on `left` and `right` by y and z, on `lower`
 * and `upper` by x and z.
 * @module
 */
import { FieldError } from "../../units/errors.js";
import { formatGiven } from "../../units/format.js";
import type { Rectangle } from "../grid.js";

/** Faces by number: 2·axis, and 1 more at the far end. */
export const faceNames = ["left", "right", "lower", "upper", "back", "front"] as const;
/** A face of the die; the sides are named as its edges are. */
export type FaceName = (typeof faceNames)[number];

/** One number for all faces, or one for each; 0 for those not named. */
export type ByFace = number | Partial<Readonly<Record<FaceName, number>>>;

/** Size of a die and how it scatters phonons. */
export interface DieBoxOptions {
  /** Along x [m]. */
  readonly width: number;
  /** Along y [m]. */
  readonly length: number;
  /** Along z [m]. */
  readonly thickness: number;
  /**
   * Share of phonons that a face reflects like a mirror, 0 to 1; the rest leave it by Lambert's law,
   * whatever way they came. 0 when absent.
   */
  readonly specularity?: ByFace;
  /** Mean length between scatterings in the bulk, after which all directions are alike [m]; none when absent. */
  readonly bulkLength?: number;
}

/** A die, and how many phonons tell of it. */
export interface FlightOptions extends DieBoxOptions {
  /** Cells of the temperature map along the longer side, 32 by default; along the other as many as fit square. */
  readonly cells?: number;
  /** Cells along x, in place of that. */
  readonly cellsX?: number;
  /** Along y, likewise. */
  readonly cellsY?: number;
  /**
   * Phonons that start from each heat source, and a quarter as many from the contacts; 65536 when
   * absent, which tells the mean temperature above the contacts to half a percent, or fewer where each
   * would take very many flights.
   */
  readonly rays?: number;
  /** Flies one of so many of these, 8192 at least; all when absent. */
  readonly oneRayOf?: number;
  /** Seed of the random numbers, 1 when absent. */
  readonly seed?: number;
}

/** A checked box. */
export class DieBox {
  /** Sides along x, y and z [m]. */
  readonly sides: Float64Array;
  /** Share of mirror reflection, by face. */
  readonly specularity: Float64Array;
  /** [m] */
  readonly bulkLength: number;

  /** @throws FieldError for a side, a share or a length that makes no sense */
  constructor(options: DieBoxOptions, field = "die") {
    const { width, length, thickness, specularity = 0, bulkLength } = options;
    for (const [name, side] of Object.entries({ width, length, thickness })) {
      if (!(side > 0 && side < Number.POSITIVE_INFINITY)) {
        throw new FieldError(`${field}.${name}`, "a length in metres, greater than 0", side);
      }
    }
    if (bulkLength !== undefined && !(bulkLength > 0)) {
      throw new FieldError(`${field}.bulkLength`, "a length in metres, greater than 0", bulkLength);
    }
    this.sides = Float64Array.of(width, length, thickness);
    this.bulkLength = bulkLength ?? Number.POSITIVE_INFINITY;
    this.specularity = Float64Array.from(faceNames, (face) => {
      const share = typeof specularity === "number" ? specularity : (specularity[face] ?? 0);
      if (share >= 0 && share <= 1) return share;
      const at = typeof specularity === "number" ? "" : `.${face}`;
      throw new FieldError(`${field}.specularity${at}`, "a share from 0 to 1", share);
    });
    for (const face of typeof specularity === "number" ? [] : Object.keys(specularity)) {
      if ((faceNames as readonly string[]).includes(face)) continue;
      throw new FieldError(`${field}.specularity`, `faces out of ${faceNames.join(", ")}`, face);
    }
  }

  /** [m³] */
  get volume(): number {
    return this.sides[0]! * this.sides[1]! * this.sides[2]!;
  }

  /** Of all six faces [m²]. */
  get surface(): number {
    const [width, length, thickness] = this.sides as unknown as [number, number, number];
    return 2 * (width * length + (width + length) * thickness);
  }

  /** Sides of a face, as its rectangles count them [m]. */
  faceSides(face: number): readonly [across: number, along: number] {
    const axis = face >> 1;
    return [this.sides[axis === 0 ? 1 : 0]!, this.sides[axis === 2 ? 1 : 2]!];
  }

  /**
   * A rectangle that lies on a face, ends that miss its rim by rounding set onto it.
   * @throws FieldError when it reaches off the face, or has no area
   */
  onFace({ left, right, bottom, top }: Rectangle, face: number, field: string): Rectangle {
    const [across, along] = this.faceSides(face);
    const [dx, dy] = [1e-9 * across, 1e-9 * along];
    if (!(left >= -dx && bottom >= -dy && right <= across + dx && top <= along + dy)) {
      const size = `${formatGiven(across, "m")} by ${formatGiven(along, "m")}`;
      const wanted = `a place on the ${faceNames[face]} face (${size})`;
      throw new FieldError(field, wanted, spanOf({ left, right, bottom, top }));
    }
    if (!(right > left && top > bottom)) {
      const wanted = "a rectangle whose right is above its left and top above its bottom";
      throw new FieldError(field, wanted, spanOf({ left, right, bottom, top }));
    }
    return {
      left: Math.max(0, left),
      right: Math.min(across, right),
      bottom: Math.max(0, bottom),
      top: Math.min(along, top),
    };
  }
}

/** A rectangle of a face as an error shows it. */
export function spanOf({ left, right, bottom, top }: Rectangle): string {
  const ends = (from: number, to: number) => `${formatGiven(from, "m")} to ${formatGiven(to, "m")}`;
  return `${ends(left, right)} across, ${ends(bottom, top)} along`;
}
