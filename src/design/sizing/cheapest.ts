/**
 * The cheapest choice of several fields at once with which a mount meets its limit: least bonds, gold
 * or force.
 *
 * The chance to meet the limit is 95 % where the 95th percentile of q = rise of the chip over rise allowed
 * is 1. A few hundred samples of the two-node model give that percentile, and adjoint slopes at the samples
 * about it say how it follows each field. Cost and q are then taken as separable, linear in what makes them
 * grow and in the inverse of what makes them fall, for which the best choice is a formula and one multiplier
 * (convex linearization: C. Fleury and V. Braibant, Int. J. Numer. Methods Eng. 23, 409 (1986)); that is
 * repeated from the choice it gives. The mount's own model, with all its samples, says by how much the two
 * nodes and the few samples are off; the search is repeated with that, until the chance is as wanted.
 * @module
 */
import { standardCatalogue } from "../../materials/standard.js";
import type { Mount } from "../../mount/mount.js";
import { numbersOf, readMount } from "../../mount/read.js";
import { bondRoom } from "../../mount/things/edges.js";
import { FieldError } from "../../units/errors.js";
import type { Confidence } from "../confidence/confidence.js";
import { type ConfidenceOptions, confidence } from "../confidence/uncertainty.js";
import { type MountField, numberAt, readWith, withField } from "../field.js";
import { Cheapest, type TradeOff } from "./cheapest-result.js";
import { ChoiceSearch, type SearchedField } from "./choice-search.js";
import { type Cost, costOf } from "./costs.js";

/** A field to choose, and between what. */
export interface FieldChoice {
  /** A numeric field that the mount has, as one number without a spread. */
  readonly field: MountField;
  /** Least value, as the field takes it. */
  readonly from: number | string;
  /** Largest value, as the field takes it. */
  readonly to: number | string;
}

/** What is to be least, and how sure the limit is to be met. */
export interface CheapestOptions extends Omit<ConfidenceOptions, "samples" | "replicates"> {
  /** What is to be least. */
  readonly least: Cost;
  /** Wanted chance to meet the limit, between 0.5 and 1; 0.95 when absent. */
  readonly probability?: number;
}

/** How often the mount's own model corrects the search. */
const mostTurns = 5;
/** Limits of the trade-off, in parts of the mount's own. */
const tradedLimits = [0.6, 0.75, 0.9, 1, 1.15, 1.4, 1.8];

/**
 * Chooses fields of a mount so that it meets its limit with 95 % at the least cost.
 *
 * Fields that count things end at whole numbers. Values that the mount has do not matter: the search begins
 * there, and ends at the same choice from anywhere where cost and rise are convex in the logarithms, as
 * they are for paths in series and in parallel.
 * @throws FieldError for a mount without a limit, a field that is none or has a spread, bounds the wrong way
 * round or that the mount refuses; and as `confidence`
 * @example (await cheapest(mount, [{ field: "bonds.count", from: 10, to: 200 }], { least: "gold" })).summary
 */
export async function cheapest(
  mount: Mount,
  choices: readonly FieldChoice[],
  options: CheapestOptions,
): Promise<Cheapest> {
  const { least, probability = 0.95, ...sampling } = options;
  const { catalogue = standardCatalogue(), rows = "all", seed = 1 } = options;
  if (!(probability >= 0.5 && probability < 1)) {
    throw new FieldError("probability", "a number from 0.5 to below 1", probability);
  }
  if (!mount.limit) throw new FieldError("limit", "a limit to meet", undefined);
  const cost = costOf(least);
  const fields = fieldsOf(mount, choices);
  const search = new ChoiceSearch(mount, fields, cost, { catalogue, rows, seed, probability });
  let at = search.start;
  // By how much the mount's own model is above the two nodes and few samples.
  let above = 1;
  let own: Confidence | undefined;
  let meets = false;
  for (let turn = 0; turn < mostTurns; turn++) {
    at = search.whole(search.least(at, 1 / above), 1 / above);
    own = await confidence(search.mountAt(at), { ...sampling, acceptOutside: true });
    const chance = own.chance!;
    meets = chance.value >= probability;
    const cornered = search.isBest(at);
    if (cornered || (meets && turn > 0 && chance.value < probability + 2 * chance.error)) break;
    const { stage, allowed } = search.nominal(at);
    const found = (own.percentile(probability).value - stage) / allowed;
    const next = found / search.ratio(at).value;
    // Within what sampling tells, and on the safe side.
    if (meets && Math.abs(next / above - 1) < 2e-3) break;
    above = meets ? next : Math.max(next, above * 1.002);
  }
  own!.demandBacked(options);
  const { allowed } = search.nominal(at);
  return new Cheapest({
    name: mount.name,
    probability,
    least: cost,
    cost: cost.of(readMount(search.mountAt(at))),
    meets,
    fields: fields.map((field, i) => ({ ...field, value: at[i]! })),
    mount: search.mountAt(at),
    confidence: own!,
    allowed,
    solves: search.solves,
    tradeOff: () => tradeOffOf(search, at, above, allowed),
  });
}

/** The least cost for tighter and looser limits, by the search alone. */
function tradeOffOf(
  search: ChoiceSearch,
  at: readonly number[],
  above: number,
  allowed: number,
): readonly TradeOff[] {
  let values = at;
  return tradedLimits.map((share) => {
    values = search.whole(search.least(values, share / above), share / above);
    const q = search.ratio(values).value * above;
    const meets = q <= share * (1 + 2e-3);
    return {
      limit: share * allowed,
      rise: q * allowed,
      cost: search.costAt(values),
      values,
      meets,
    };
  });
}

/** @throws FieldError */
function fieldsOf(mount: Mount, choices: readonly FieldChoice[]): readonly SearchedField[] {
  if (!Array.isArray(choices) || choices.length === 0) {
    throw new FieldError("choices", "a field to choose or more", choices);
  }
  const fields = (choices as readonly FieldChoice[]).map((choice, i) => {
    const { field, from, to } = choice ?? {};
    if (typeof field !== "string") {
      const wanted =
        '{ field, from, to }, such as { field: "die.thickness", from: "0.3 mm", to: "1 mm" }';
      throw new FieldError(`choices[${i}]`, wanted, choice);
    }
    const number = numbersOf(mount).get(field);
    if (number?.distribution) {
      throw new FieldError(`choices[${i}].field`, "a field that has no spread", field);
    }
    const [low, high] = [from, to].map((value) => numberAt(readWith(mount, field, value), field));
    if (!(low! > 0)) throw new FieldError(`choices[${i}].from`, "a value above 0", from);
    if (!(low! < high!)) throw new FieldError(`choices[${i}].to`, `more than ${from}`, to);
    const { unit = "", whole = false } = number ?? {};
    return { name: field, unit, from: low!, to: high!, whole };
  });
  const twice = fields.find(({ name }, i) => fields.findIndex((f) => f.name === name) !== i);
  if (twice) throw new FieldError("choices", "each field once", twice.name);
  // All at their largest, and at their least, so that no choice between is refused half-way.
  for (const end of ["from", "to"] as const) {
    const plain = readMount(fields.reduce((m, f) => withField(m, f.name, f[end]), mount));
    const counted = fields.findIndex(({ name }) => name === "bonds.count");
    const room = counted < 0 ? Number.POSITIVE_INFINITY : bondRoom(plain);
    if (plain.bonds && plain.bonds.count > room) {
      const wanted = `at most ${room} bonds, which fit`;
      throw new FieldError(`choices[${counted}].${end}`, wanted, plain.bonds.count);
    }
  }
  return fields;
}
