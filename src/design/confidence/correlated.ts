/**
 * Inputs that vary together: independent normal scores e become z = shift + F e, with F a factor of their
 * covariance, and each input takes the value of its own distribution at the share Φ(z).
 * @module
 */

import { madeTogether } from "../../mount/made-together.js";
import type { PlainMount } from "../../mount/mount.js";
import { correlationsOf } from "../../mount/things/correlations.js";
import { covarianceFactor } from "../../numerics/cholesky.js";
import { normalQuantile, normalShare } from "../../numerics/distributions.js";
import { FieldError } from "../../units/errors.js";
import { formatNumber } from "../../units/format.js";
import type { UncertainInput } from "./uncertain-inputs.js";

/** Inputs of a model that vary together with each other and with no other; plain data. */
export interface CorrelatedInputs {
  /** By index. */
  readonly inputs: readonly number[];
  /** Normal scores over independent ones, row by row. */
  readonly factor: readonly (readonly number[])[];
  /** Means of the normal scores, where they are not 0. */
  readonly shift?: readonly number[];
}

/** A pair of inputs that vary together. */
export interface CorrelatedPair {
  /** Their names. */
  readonly names: readonly [string, string];
  /** Coefficient of correlation of their normal scores. */
  readonly coefficient: number;
  /** Why, where the mount says so. */
  readonly reason?: string;
}

type Rows = readonly { readonly key: string; readonly quantity: string }[];
type NamedInput = Pick<UncertainInput, "name" | "field" | "row" | "low" | "median" | "high">;

/**
 * The inputs of a mount that vary together: as it says, and those that are one unknown written in several
 * places, unless it says how they vary.
 * @param rows - of the catalogue, by key and quantity
 * @throws FieldError for a row that the catalogue does not have
 */
export function togetherIn(mount: PlainMount, inputs: readonly NamedInput[], rows: Rows) {
  const { groups, pairs, warnings } = saidOf(mount, inputs, rows);
  const { names } = correlationsOf(mount);
  for (const { fields, reason } of madeTogether(mount)) {
    const alike = new Map<string, number[]>();
    for (const field of fields) {
      const at = inputs.findIndex((input) => input.field === field);
      if (at < 0 || names.includes(field) || names.includes(inputs[at]!.name)) continue;
      const { low, median, high } = inputs[at]!;
      const spread = [low, median, high].map((end) => end.toPrecision(9)).join(" ");
      alike.set(spread, [...(alike.get(spread) ?? []), at]);
    }
    for (const all of alike.values()) {
      if (all.length < 2) continue;
      all.sort((a, b) => a - b);
      groups.push({ inputs: all, factor: all.map(() => all.map((_, j) => Number(j === 0))) });
      all.forEach((a, k) => {
        for (const b of all.slice(k + 1)) {
          pairs.push({ names: [inputs[a]!.name, inputs[b]!.name], coefficient: 1, reason });
        }
      });
    }
  }
  return { groups, pairs, warnings };
}

/** What a mount says of its inputs that vary together. */
function saidOf(mount: PlainMount, inputs: readonly NamedInput[], rows: Rows) {
  const { names, matrix, pairs } = correlationsOf(mount);
  const at = names.map((name) => {
    const isRow = name.includes(":");
    if (isRow && !rows.some(({ key, quantity }) => key === name || quantity === name)) {
      throw new FieldError("correlations", "rows of catalogue.rows()", name);
    }
    return inputs.findIndex((input) => [input.field, input.row, input.name].includes(name));
  });
  const twice = at.find((index, k) => index >= 0 && at.indexOf(index) !== k);
  if (twice !== undefined) {
    throw new FieldError("correlations", "each input by one name", inputs[twice]!.name);
  }
  const groups: CorrelatedInputs[] = [];
  const seen = new Set<number>();
  names.forEach((_, start) => {
    if (at[start]! < 0 || seen.has(start)) return;
    const members = [start];
    for (const k of members) {
      names.forEach((_, l) => {
        if (at[l]! >= 0 && matrix[k]![l] !== 0 && !members.includes(l)) members.push(l);
      });
    }
    for (const k of members) seen.add(k);
    if (members.length < 2) return;
    members.sort((k, l) => at[k]! - at[l]!);
    const own = members.map((k) => members.map((l) => matrix[k]![l]!));
    const factor = covarianceFactor(own)!.map((row) => [...row]);
    groups.push({ inputs: members.map((k) => at[k]!), factor });
  });
  const nameOf = new Map(names.map((name, k) => [name, inputs[at[k]!]?.name]));
  const told = pairs.flatMap(({ names: [a, b], ...pair }): CorrelatedPair[] => {
    const [first, second] = [nameOf.get(a), nameOf.get(b)];
    return first !== undefined && second !== undefined ? [{ ...pair, names: [first, second] }] : [];
  });
  const exact = names.filter((name, k) => at[k]! < 0 && !name.includes(":"));
  const warnings = exact.map(
    (name) => `correlations: ${name} has no spread, so nothing varies together with it.`,
  );
  return { groups, pairs: told, warnings };
}

/** Makes shares that vary together of independent ones, in place. */
export function correlate(point: Float64Array, groups: readonly CorrelatedInputs[] = []): void {
  for (const { inputs, factor, shift } of groups) {
    const scores = inputs.map((i) => normalQuantile(point[i]!));
    inputs.forEach((i, k) => {
      let z = shift?.[k] ?? 0;
      const row = factor[k]!;
      for (let j = 0; j < row.length; j++) z += row[j]! * scores[j]!;
      point[i] = Math.min(Math.max(normalShare(z), smallest), 1 - smallest);
    });
  }
}

/** A share of a double beside 0 and 1, which no quantile takes. */
const smallest = 2 ** -53;

/**
 * Inputs that vary together once one of them is known better: the others follow it as far as they vary
 * with it (conditional normal distribution).
 * @param to - its median and how far it still spreads, in standard deviations of what was known before
 */
export function narrowedTogether(
  { inputs, factor, shift }: CorrelatedInputs,
  index: number,
  to: { readonly median: number; readonly remaining: number },
): CorrelatedInputs {
  const order = [index, ...inputs.filter((i) => i !== index)];
  const rows = order.map((i) => inputs.indexOf(i));
  const covariance = rows.map((a) =>
    rows.map((b) => factor[a]!.reduce((sum, value, j) => sum + value * factor[b]![j]!, 0)),
  );
  const first = covarianceFactor(covariance)!;
  return {
    inputs: order,
    factor: first.map((row) => [row[0]! * to.remaining, ...row.slice(1)]),
    shift: rows.map((r, k) => (shift?.[r] ?? 0) + first[k]![0]! * to.median),
  };
}

/** In words, the strongest pairs: `a and b vary together (correlation −0.9, one bath).` */
export function togetherWords(pairs: readonly CorrelatedPair[]): readonly string[] {
  if (pairs.length === 0) return [];
  const strongest = [...pairs].sort((a, b) => Math.abs(b.coefficient) - Math.abs(a.coefficient));
  const shown = strongest.slice(0, 3).map(({ names: [a, b], coefficient, reason }) => {
    const value = formatNumber(coefficient, 2).replace("-", "−");
    return `${a} and ${b} (correlation ${value}${reason === undefined ? "" : `, ${reason}`})`;
  });
  const more = pairs.length > 3 ? `; and ${pairs.length - 3} more pairs` : "";
  return [`Drawn together: ${shown.join("; ")}${more}.`];
}
