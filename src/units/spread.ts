/**
 * Quantities that are not known to a percent: a spread says between what and what.
 * @module
 */
import { normalQuantile } from "../numerics/distributions.js";
import { FieldError } from "./errors.js";

/** How the values of a spread are distributed between and beyond its ends. */
export type SpreadKind = "log-normal" | "normal" | "log-uniform" | "uniform" | "triangular";

/** An interval: for log-normal and normal the middle 90 %, for the others all there is. */
export interface IntervalSpread<Q extends number | string = number | string> {
  /** Which distribution lies between the ends. */
  readonly distribution: SpreadKind;
  /** Lower end. */
  readonly low: Q;
  /** Upper end. */
  readonly high: Q;
}

/** A measured value, normally distributed, with one standard deviation as its uncertainty. */
export interface MeasuredSpread<Q extends number | string = number | string> {
  /** A measured value. */
  readonly distribution: "measured";
  /** The value. */
  readonly value: Q;
  /** Its standard uncertainty, in the value's unit. */
  readonly uncertainty: Q;
}

/** What `spread` and `measured` return: plain data, which may be stored as JSON. */
export type Spread<Q extends number | string = number | string> =
  | IntervalSpread<Q>
  | MeasuredSpread<Q>;

/** A quantity, or its spread. */
export type Uncertain<Q extends number | string> = Q | Spread<Q>;

/** A distribution in SI. */
export interface Distribution {
  /** Which distribution. */
  readonly kind: SpreadKind;
  /** Lower end of the middle 90 %: 5 % of the values lie below. */
  readonly low: number;
  /** Upper end of the middle 90 %: 95 % of the values lie below. */
  readonly high: number;
  /** As many values lie below as above. */
  readonly median: number;
  /** The value that a share u of all values, 0 < u < 1, lies below. */
  quantile(u: number): number;
}

const kinds: readonly string[] = ["log-normal", "normal", "log-uniform", "uniform", "triangular"];

/** Standard deviations from the median to either end of the middle 90 %. */
export const z95 = normalQuantile(0.95);

/**
 * A quantity known between two values: with 90 % confidence for the log-normal (when nothing is said)
 * and the normal distribution, surely for `"log-uniform"`, `"uniform"` and `"triangular"`. Where a
 * field has bounds, such as a share at 1, the distribution is cut off there.
 * @param low - as a quantity of the field: `"20 nm"`, or a number in SI; below `high`, and above 0 for
 * the distributions of the logarithm
 * @throws FieldError for an unknown distribution; what the field takes is checked with the mount
 * @example spread(30, 80) // a residual resistivity ratio
 */
export function spread<L extends number | string, H extends number | string>(
  low: L,
  high: H,
  options: { readonly distribution?: SpreadKind } = {},
): IntervalSpread<L | H> {
  const { distribution = "log-normal" } = options;
  if (!kinds.includes(distribution)) {
    throw new FieldError("spread.distribution", kinds.join(", "), distribution);
  }
  return { distribution, low, high };
}

/**
 * A measured value with its standard uncertainty: normally distributed.
 * @param uncertainty - one standard deviation, above 0
 * @example measured("1.52 mm", "0.03 mm")
 */
export function measured<V extends number | string, U extends number | string>(
  value: V,
  uncertainty: U,
): MeasuredSpread<V | U> {
  return { distribution: "measured", value, uncertainty };
}

/** Whether a value is a spread. */
export function isSpread(value: unknown): value is Spread {
  if (typeof value !== "object" || value === null) return false;
  const { distribution } = value as { readonly distribution?: unknown };
  if (distribution === "measured") return "value" in value && "uncertainty" in value;
  return kinds.includes(distribution as string) && "low" in value && "high" in value;
}

/**
 * The distribution of a spread in SI.
 * @param read - turns an end of it into SI, or throws a FieldError as the field does; `key` names the end
 * @param field - path of the field, for errors
 * @throws FieldError when the ends are the wrong way round, or not above 0 where a logarithm is taken
 */
export function distributionOf(
  spread: Spread,
  read: (end: number | string, key: string) => number,
  field: string,
): Distribution {
  if (spread.distribution === "measured") {
    const { uncertainty } = spread;
    const [value, sigma] = [read(spread.value, "value"), read(uncertainty, "uncertainty")];
    if (!(sigma > 0)) {
      throw new FieldError(`${field}.uncertainty`, "an uncertainty greater than 0", uncertainty);
    }
    const low = value - z95 * sigma;
    try {
      read(low, "value");
    } catch (error) {
      if (!(error instanceof FieldError)) throw error;
      const wanted = `${error.wanted}, also 1.64 uncertainties below the value`;
      throw new FieldError(field, wanted, spread);
    }
    return normal(low, value + z95 * sigma);
  }
  const { distribution, low, high } = spread;
  const [a, b] = [read(low, "low"), read(high, "high")];
  if (!(a < b)) {
    throw new FieldError(field, "a spread whose low end lies below its high end", spread);
  }
  if (distribution === "normal") return normal(a, b);
  if (distribution === "log-normal" || distribution === "log-uniform") {
    if (!(a > 0)) {
      const wanted = `a low end above 0 for a ${distribution} spread (or distribution "normal" or "uniform")`;
      throw new FieldError(`${field}.low`, wanted, low);
    }
    if (!(a * b > 0 && Number.isFinite(a * b) && Number.isFinite(b / a))) {
      throw new FieldError(field, "ends of a size that can be reckoned with", spread);
    }
    if (distribution === "log-normal") return logNormal(a, b);
    const ratio = Math.log(b / a);
    return withEnds(distribution, (u) => a * Math.exp(u * ratio));
  }
  const width = b - a;
  if (distribution === "uniform") return withEnds(distribution, (u) => a + u * width);
  // Most likely in the middle, straight down to both ends.
  return withEnds(distribution, (u) =>
    u < 0.5 ? a + width * Math.sqrt(u / 2) : b - width * Math.sqrt((1 - u) / 2),
  );
}

function normal(low: number, high: number): Distribution {
  const [median, sigma] = [(low + high) / 2, (high - low) / (2 * z95)];
  return { kind: "normal", low, high, median, quantile: (u) => median + sigma * normalQuantile(u) };
}

/** @param low, high - ends of the middle 90 %, above 0 */
export function logNormal(low: number, high: number): Distribution {
  const [median, sigma] = [Math.sqrt(low * high), Math.log(high / low) / (2 * z95)];
  const quantile = (u: number) => median * Math.exp(sigma * normalQuantile(u));
  return { kind: "log-normal", low, high, median, quantile };
}

function withEnds(kind: SpreadKind, quantile: (u: number) => number): Distribution {
  return { kind, low: quantile(0.05), high: quantile(0.95), median: quantile(0.5), quantile };
}
