/**
 * Where laws are backed, and what is told or refused where they were used outside. Every result asks here,
 * so that all of them tell it alike.
 * @module
 */
import type { Backing, TemperatureRange } from "./conductor.js";
import { formatNumber, formatQuantity } from "./units/format.js";

/** Lowest and highest temperature of something [K]. */
export type Extent = readonly [low: number, high: number];

/** A law, what used it, and between what temperatures. */
export interface UsedLaw {
  /** The path, store or load, as the budget shows it. */
  readonly name: string;
  readonly law: Backing;
  /** Lowest and highest temperature [K]. */
  readonly used: Extent;
}

/** A law of a mount, and the nodes between whose temperatures it is used. */
export interface PlacedLaw {
  /** The path or store, as the budget shows it. */
  readonly name: string;
  readonly law: Backing;
  readonly nodes: readonly string[];
}

/** A range that was left. */
export interface LeftRange {
  readonly name: string;
  readonly range: TemperatureRange;
  /** What lies furthest outside, in the range's unit. */
  readonly value: number;
}

/** Rounding of a temperature that stands at an end of a range. */
const slack = 1e-9;

/** The ends of a range, as far outside as rounding may lead. */
export function roundedEnds({ from, to }: TemperatureRange) {
  return { from: from * (1 - slack), to: to * (1 + slack) };
}

/** Whether a value lies below a range. */
function isBelow(range: TemperatureRange, value: number): boolean {
  return value < roundedEnds(range).from;
}

/** Whether a value lies above a range. */
function isAbove(range: TemperatureRange, value: number): boolean {
  return value > roundedEnds(range).to;
}

/** By what factor a value lies outside of a range; 1 inside. */
export function factorOutside(range: TemperatureRange, value: number): number {
  if (isBelow(range, value)) return range.from / value;
  return isAbove(range, value) ? value / range.to : 1;
}

/** The end of what was used that lies further outside of a range; undefined when none does. */
export function outermost(range: TemperatureRange, [low, high]: Extent): number | undefined {
  const [cold, hot] = range.given ? [range.given.value, range.given.value] : [low, high];
  const below = isBelow(range, cold) ? factorOutside(range, cold) : 1;
  const above = isAbove(range, hot) ? factorOutside(range, hot) : 1;
  if (!(below > 1 || above > 1)) return undefined;
  return below >= above ? cold : hot;
}

/** Which range of what it is: the same for the same one, however far it was left. */
export function rangeKey(name: string, { from, to, of, outside, given }: TemperatureRange): string {
  return JSON.stringify([name, from, to, of, outside, given?.quantity]);
}

/** Every range that some laws were used outside of, once for each name, by what lies furthest outside. */
export function leftRanges(uses: Iterable<UsedLaw>): readonly LeftRange[] {
  const left: LeftRange[] = [];
  for (const { name, law, used } of uses) {
    for (const range of law.ranges ?? []) {
      const value = outermost(range, used);
      if (value !== undefined) left.push({ name, range, value });
    }
  }
  return furthest(left);
}

/** Each range once for each name, by what lies furthest outside. */
export function furthest(left: readonly LeftRange[]): readonly LeftRange[] {
  const found = new Map<string, LeftRange>();
  for (const each of left) {
    const { name, range, value } = each;
    const key = rangeKey(name, range);
    const known = found.get(key);
    if (known && factorOutside(range, known.value) >= factorOutside(range, value)) continue;
    found.set(key, each);
  }
  return [...found.values()];
}

/** What is told of ranges that were left. @throws RangeError where a law is refused there */
export function toldOutside(left: readonly LeftRange[]): string[] {
  const refused = left.find(({ range }) => range.outside === "refuse");
  if (refused) {
    const { range } = refused;
    throw new RangeError(
      `${outsideInWords(refused)}. No valid extrapolation: ` +
        `use another ${range.given?.quantity ?? "material, sample or curve"}.`,
    );
  }
  return toldAnyway(left);
}

/** What there is beyond a range, as the end of a sentence. */
export const beyond = {
  warn: "; extrapolated beyond its range.",
  doubt: "; another model may hold there.",
  refuse: ", beyond which no valid extrapolation exists.",
} as const;

/** Whether a law was carried on to where nothing backs it. */
export function isExtrapolated({ range }: LeftRange): boolean {
  return range.outside !== "doubt";
}

/** The same, of what an answer does not print but rests on: a law that is refused there is told too. */
export function toldAnyway(left: readonly LeftRange[]): string[] {
  const texts = left.map((each) => outsideInWords(each) + beyond[each.range.outside]);
  return [...new Set(texts)];
}

/**
 * Warnings for every law that was used outside a range.
 * @throws RangeError where a law is refused there
 */
export function rangeWarnings(uses: Iterable<UsedLaw>): string[] {
  return toldOutside(leftRanges(uses));
}

/** `clamps: 100 mK is outside 200 mK to 600 mK (a ball), by a factor 2.0` */
function outsideInWords({ name, range, value }: LeftRange): string {
  const { quantity, unit } = range.given ?? { quantity: "", unit: "K" };
  const factor = factorOutside(range, value);
  const by =
    Number.isFinite(factor) && factor > 1.05 ? `, by a factor ${formatNumber(factor, 2)}` : "";
  const said = `${quantity && `a ${quantity} of `}${formatQuantity(value, unit)}`;
  return `${name}: ${said} is outside ${rangeInWords(range)}${by}`;
}

/** `200 mK to 600 mK (a ball)` */
export function rangeInWords({ from, to, of, given }: TemperatureRange): string {
  const [low, high] = [from, to].map((end) => formatQuantity(end, given?.unit ?? "K"));
  const ends =
    to === Number.POSITIVE_INFINITY
      ? `${low} and up`
      : from <= 0
        ? `what holds up to ${high}`
        : `${low} to ${high}`;
  return `${ends} (${of})`;
}
