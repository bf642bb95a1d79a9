/**
 * A band of light, written alike in every load that has one.
 * @module
 */
import type { Catalogue } from "../materials/types.js";
import { speedOfLight } from "../units/constants.js";
import { FieldError } from "../units/errors.js";
import * as read from "../units/fields.js";
import { formatGiven, formatQuantity } from "../units/format.js";
import type { Frequency } from "../units/quantity.js";
import type { Uncertain } from "../units/spread.js";
import { type BandEdges, type BandLimits, bandEdges, edgeLimits } from "./band-edges.js";
import { photometricBand } from "./photometry.js";

/** A band by its edges, or a photometric one by its name, such as `"V"`. */
export type Band = string | BandEdges;

export const bandField: read.Field<Band> = read.either<string, BandEdges>(
  (written) => typeof written === "string",
  read.textOf("a band by its name or its edges"),
  read.object<BandEdges>(bandEdges),
);

/**
 * The limits of a band.
 * @param field - path of the band in the user's description, for errors
 * @throws FieldError for an edge that is not above the other, or of the other kind; UnknownNameError
 */
export function bandLimits(
  band: read.Plain<Band>,
  catalogue: Catalogue | undefined,
  field: string,
): BandLimits {
  if (typeof band === "string") {
    const { from, to } = photometricBand(band, catalogue, field);
    return { frequencies: [speedOfLight / to, speedOfLight / from], wavelengths: [from, to] };
  }
  return edgeLimits(band, field);
}

/** A band beside other fields of a load: as `band`, or by its lower and upper frequency themselves. */
export type WithBand =
  | {
      /** The band. */
      readonly band: Band;
    }
  | {
      /** Lower edge of the band [Hz]. */
      readonly from: Uncertain<Frequency>;
      /** Upper edge of the band [Hz]. */
      readonly to: Uncertain<Frequency>;
    };

/** Reads a band beside other fields. @param from - reads the lower edge, which may be 0 in some loads */
export const withBand = (from: read.Field<Uncertain<Frequency>>) =>
  read.oneForm<WithBand>()({
    band: { band: bandField },
    from: { from, to: read.quantity("frequency") },
  });

/** Lowest and highest frequency of a load with a band [Hz]. @throws FieldError */
export function frequenciesOf(
  load: read.Plain<WithBand>,
  catalogue: Catalogue | undefined,
  field: string,
): readonly [low: number, high: number] {
  if ("band" in load) return bandLimits(load.band, catalogue, `${field}.band`).frequencies;
  const { from, to } = load;
  if (to > from) return [from, to];
  const wanted = `a frequency above the lower edge (${formatQuantity(from, "Hz")})`;
  throw new FieldError(`${field}.to`, wanted, formatGiven(to, "Hz"));
}
