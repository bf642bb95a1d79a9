/**
 * The uncertainty that a source states, as written in the catalogue.
 * @module
 */

/** A stated uncertainty of one number: an interval of about 90 %. */
export type Uncertainty =
  /** `5 %`: plus or minus this share of the value. */
  | { readonly kind: "relative"; readonly share: number }
  /** `x2`: up to this factor larger or smaller. */
  | { readonly kind: "factor"; readonly factor: number }
  /** `0.3`: plus or minus this much, in the unit of the value. */
  | { readonly kind: "absolute"; readonly amount: number };

/** What the column accepts, in words. */
export const uncertaintyWords = '"5 %", "x2" (a factor either way), "0.3" (same unit) or nothing';

const number = String.raw`(\d+\.?\d*(?:e[+-]?\d+)?|\.\d+(?:e[+-]?\d+)?)`;
const percent = new RegExp(`^${number}\\s*%$`, "i");
const factor = new RegExp(`^[x×]\\s*${number}$`, "i");
const plain = new RegExp(`^${number}$`, "i");

/**
 * Reads `5 %`, `x2` or `0.3`; undefined for an empty text.
 * @throws RangeError when the text is none of these
 * @example parseUncertainty("x2") // { kind: "factor", factor: 2 }
 */
export function parseUncertainty(text: string): Uncertainty | undefined {
  const written = text.trim();
  if (written === "") return undefined;
  const share = percent.exec(written);
  if (share) return { kind: "relative", share: Number(share[1]) / 100 };
  const times = factor.exec(written);
  if (times && Number(times[1]) >= 1) return { kind: "factor", factor: Number(times[1]) };
  const amount = plain.exec(written);
  if (amount) return { kind: "absolute", amount: Number(amount[1]) };
  throw new RangeError(`uncertainty: expected ${uncertaintyWords}, got ${JSON.stringify(text)}`);
}

/** Half-width of an uncertainty as a factor on its value: 1.05 for `5 %`, 2 for `x2`. */
export function asFactor(uncertainty: Uncertainty | undefined, value: number): number {
  if (!uncertainty) return 1;
  if (uncertainty.kind === "factor") return uncertainty.factor;
  if (uncertainty.kind === "relative") return 1 + uncertainty.share;
  return value === 0 ? 1 : 1 + Math.abs(uncertainty.amount / value);
}
