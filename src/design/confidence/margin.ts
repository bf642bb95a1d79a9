/**
 * How much margin: three cases that are the same everywhere.
 *   nominal      every unknown at its median: what a review reads first, and about as likely to fail as to hold
 *   probable     the limit is met with 95 % confidence over all unknowns together
 *   pessimistic  every unknown at its pessimistic limit, the worse end of its 90 % interval, all at once, which is far less likely
 *                than one in twenty
 * @module
 */
import { standardCatalogue } from "../../materials/standard.js";
import type { Catalogue } from "../../materials/types.js";
import type { Mount, PlainMount } from "../../mount/mount.js";
import { readMount } from "../../mount/read.js";
import { FieldError } from "../../units/errors.js";
import { sizeByMedians } from "../sizing/size.js";
import type { Sizing } from "../sizing/sizing.js";
import type { Confidence } from "./confidence.js";
import type { ConfidentSizing } from "./confident-sizing.js";
import type { Evaluated } from "./evaluated.js";
import { Recommendation } from "./recommendation.js";
import { Inputs, type UncertainInput } from "./uncertain-inputs.js";
import { type UncertainMountOptions, uncertainMount } from "./uncertain-mount.js";
import { type ConfidenceOptions, confidence, sizeWithConfidence } from "./uncertainty.js";

/** Which of the unknowns' values margin is taken for: see the head of the reference. */
export type MarginCase = "nominal" | "probable" | "pessimistic";

/** How to size for a case that needs no samples. */
export interface SizeOptions extends Pick<UncertainMountOptions, "catalogue" | "rows"> {
  /** `nominal` when absent: every unknown at its median; or every unknown at its pessimistic limit. */
  readonly for?: "nominal" | "pessimistic";
  /**
   * Name of the group of bonds to count, `carrier: ` before it for one of a further die; the bonds of `bonds` when
   * absent. Groups on an edge are counted by their pads, those on pads at places by the bonds on each pad.
   */
  readonly group?: string;
}

/** A mount with every unknown at its pessimistic limit, the worse end of its 90 % interval. */
export interface PessimisticCase {
  /** The mount in SI, without spreads. */
  readonly mount: PlainMount;
  /** The catalogue, its uncertain rows at their pessimistic limits. */
  readonly catalogue: Catalogue;
  /** Each unknown and where it was put; at its median where neither end warms the chip. */
  readonly ends: readonly { readonly input: UncertainInput; readonly value: number }[];
}

/**
 * The mount and the catalogue of the pessimistic case. Each unknown alone says which of its ends is the bad
 * one: that with less margin, or the warmer chip where there is no limit; the mount's own model of the die
 * answers, at the mount's own number of bonds.
 * @throws FieldError or UnknownNameError as `thermalBudget`
 * @example pessimisticCase(mount).ends
 */
export function pessimisticCase(
  mount: Mount,
  options: Pick<UncertainMountOptions, "catalogue" | "rows"> = {},
): PessimisticCase {
  const { catalogue = standardCatalogue(), rows = "all" } = options;
  const compiled = uncertainMount(mount, { catalogue, rows });
  const limited = mount.limit !== undefined;
  const warmth = ({ chip, stage, margin }: Evaluated) => (limited ? -margin : chip - stage);
  const ends = compiled.inputs.map((input, i) => {
    const at = (value: number) => {
      const values = compiled.medians.slice();
      values[i] = value;
      return warmth(compiled.evaluate(values));
    };
    const [low, high] = [at(input.low), at(input.high)];
    return { input, value: low > high ? input.low : high > low ? input.high : input.median };
  });
  const inputs = new Inputs(compiled.inputs, readMount(mount), catalogue);
  return { ...inputs.at(Float64Array.from(ends, ({ value }) => value)), ends };
}

/**
 * The smallest number of bonds that keep the chip at or below its limit, all else in the mount as it is: for the
 * nominal case when none is named. The mount's own `bonds.count` plays no part in what is solved. Halving
 * takes it that more bonds never warm the chip; a load on a spot of a die that conducts badly can break
 * that, since bonds move as their number grows. With several on a pad, only full pads are counted.
 * @throws FieldError when the mount has no bonds or no limit
 * @example sizeBonds(mount).reason
 */
export function sizeBonds(mount: Mount, options?: SizeOptions): Sizing;
/**
 * The smallest number of bonds for the probable case: `sizeWithConfidence` at 95 %.
 * @throws as `sizeWithConfidence`
 */
export function sizeBonds(
  mount: Mount,
  options: ConfidenceOptions & { readonly for: "probable" },
): Promise<ConfidentSizing>;
export function sizeBonds(
  mount: Mount,
  options: SizeOptions | (ConfidenceOptions & { readonly for: "probable" }) = {},
): Sizing | Promise<ConfidentSizing> {
  switch (options.for) {
    case undefined:
    case "nominal":
      return sizeByMedians(mount, options);
    case "pessimistic": {
      const { mount: bad, catalogue } = pessimisticCase(mount, options);
      return sizeByMedians(bad as Mount, { ...options, catalogue });
    }
    case "probable":
      if ("group" in options) {
        const wanted = "none, since samples count the bonds of `bonds`";
        throw new FieldError("group", wanted, options.group);
      }
      return sizeWithConfidence(mount, options);
    default:
      throw new FieldError(
        "for",
        '"nominal", "probable" or "pessimistic"',
        (options as { for: unknown }).for,
      );
  }
}

/**
 * How many bonds to build, with the three cases beside it: as many as the probable case needs, in whole
 * pads. Fewer are not shown to hold, and those that only the pessimistic case asks for guard against all
 * unknowns being bad at once.
 * @throws as `sizeBonds` in each case
 * @example (await recommend(mount)).summary
 */
export async function recommend(
  mount: Mount,
  options: ConfidenceOptions = {},
): Promise<Recommendation> {
  const { catalogue = standardCatalogue(), rows = "all" } = options;
  const nominal = sizeByMedians(mount, { catalogue });
  const probable = await sizeWithConfidence(mount, options);
  const pessimistic = sizeBonds(mount, { for: "pessimistic", catalogue, rows });
  const with_ = async ({ count, enough }: Sizing): Promise<Confidence | undefined> => {
    if (count === undefined || !enough) return undefined;
    if (count === probable.count) return probable.confidence;
    const counted = { ...mount, bonds: { ...mount.bonds!, count } };
    const { progress: _, ...still } = options;
    return confidence(counted, { ...still, acceptOutside: true });
  };
  return new Recommendation({
    nominal,
    probable,
    pessimistic,
    perPad: mount.bonds!.perPad ?? 1,
    withNominal: await with_(nominal),
    withPessimistic: await with_(pessimistic),
  });
}
