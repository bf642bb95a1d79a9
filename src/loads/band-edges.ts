/**
 * The edges of a band of light, as frequencies or as wavelengths.
 * @module
 */
import { speedOfLight } from "../units/constants.js";
import { FieldError } from "../units/errors.js";
import * as read from "../units/fields.js";
import { formatGiven, formatQuantity } from "../units/format.js";
import type { Frequency, Length } from "../units/quantity.js";
import { isSpread, type Uncertain } from "../units/spread.js";

/** An edge of a band: a frequency or a wavelength; of plain numbers those from 1 on are hertz. */
export type BandEdge = Frequency | Length;

/** A band by its edges, both as frequencies or both as wavelengths. */
export interface BandEdges {
  /** Its lower edge, a frequency [Hz] or a wavelength [m]. */
  readonly from: Uncertain<BandEdge>;
  /** Its upper edge, a frequency [Hz] or a wavelength [m]. */
  readonly to: Uncertain<BandEdge>;
}

const words = 'a frequency such as "150 GHz" or a wavelength such as "2 mm"';

/** Whether an edge is a frequency: no light has less than 1 Hz, none waves of more than 1 m. */
function isFrequency(edge: unknown): boolean {
  if (isSpread(edge)) {
    return isFrequency(edge.distribution === "measured" ? edge.value : edge.high);
  }
  return typeof edge === "number" ? edge === 0 || edge >= 1 : /Hz\s*$/.test(String(edge));
}

const frequency = read.quantityFromZero("frequency");
const wavelength = read.quantity("length");
const edge: read.Field<Uncertain<BandEdge>> = {
  read(written, at, visit) {
    const field = isFrequency(written) ? frequency : wavelength;
    try {
      return field.read(written, at, visit) as read.Plain<Uncertain<BandEdge>>;
    } catch (error) {
      if (!(error instanceof FieldError) || error.field !== at) throw error;
      throw new FieldError(at, words, written);
    }
  },
};

export const bandEdges: read.FieldsOf<BandEdges> = { from: edge, to: edge };

/** A band in SI. */
export interface BandLimits {
  /** Lowest and highest frequency [Hz]. */
  readonly frequencies: readonly [low: number, high: number];
  /** Shortest and longest wavelength [m]; the longest infinite for a band from 0 Hz. */
  readonly wavelengths: readonly [short: number, long: number];
}

/**
 * A band by its edges.
 * @param field - path of the band in the user's description, for errors
 * @throws FieldError for an edge that is not above the other, or of the other kind
 */
export function edgeLimits(band: read.Plain<BandEdges>, field: string): BandLimits {
  const { from, to } = band as { readonly from: number; readonly to: number };
  const [unit, name] = isFrequency(from) ? ["Hz", "frequency"] : ["m", "wavelength"];
  if (isFrequency(from) !== isFrequency(to)) {
    const given = formatGiven(to, unit === "Hz" ? "m" : "Hz");
    throw new FieldError(`${field}.to`, `a ${name}, as the lower edge is`, given);
  }
  if (!(to > from)) {
    const wanted = `a ${name} above from (${formatQuantity(from, unit)})`;
    throw new FieldError(`${field}.to`, wanted, formatGiven(to, unit));
  }
  const others = [speedOfLight / to, speedOfLight / from] as const;
  return unit === "Hz"
    ? { frequencies: [from, to], wavelengths: others }
    : { frequencies: others, wavelengths: [from, to] };
}
