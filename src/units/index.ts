/**
 * Spreads by kind, and constants of nature.
 * @module coldpath/units
 */

// Spreads by kind
export {
  type Distribution,
  type IntervalSpread,
  isSpread,
  type MeasuredSpread,
  type SpreadKind,
} from "./spread.js";

// Constants
export {
  avogadro,
  bcsGapRatio,
  boltzmann,
  elementaryCharge,
  lorenz,
  planck,
  reducedPlanck,
  speedOfLight,
  stefanBoltzmann,
} from "./constants.js";

// Readers of fields, and what results share
export type { Field, Having, Maybe, Plain, ReadNumber, Visitor } from "./fields.js";
export type { Result } from "./result.js";
