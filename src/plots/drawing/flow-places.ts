/**
 * Where the stops of a heat flow stand, what is written beside them, and how the bands between them run.
 * @module
 */
import { formatQuantity } from "../../units/format.js";
import type { ElementKind } from "../elements.js";
import { short } from "../picture/svg.js";
import { lineHeight, textWidth, wrapped } from "../picture/text-size.js";

/** What heat passes: a load, a place, or elements that carry the same heat one after the other. */
export interface Stop {
  readonly name: string;
  readonly kind: ElementKind | "load" | "place";
  readonly power: number;
}

/** Heat from one stop to another, by their places in the list. */
export interface Band {
  readonly from: number;
  readonly to: number;
  readonly power: number;
}

/** Stops and the heat between them. */
export interface Flow {
  readonly stops: readonly Stop[];
  readonly bands: readonly Band[];
}

/** A rectangle [px]. */
interface Box {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** A stop's mark and its words. */
export interface StopPlace {
  readonly mark: Box;
  readonly label: Box;
  readonly lines: readonly string[];
}

/** A band as it is drawn. */
export interface BandPath {
  readonly d: string;
  readonly thick: number;
  /** Whether it is thicker than its heat. */
  readonly isThin: boolean;
}

/** Size of the type [px]. */
export const labelSize = 11;
const line = labelSize * lineHeight;
/** Height of the widest column [px], and the least of a band that is still drawn to scale. */
const tallest = 240;
const thinnest = 2;
/** Bands up to this thickness keep clear of words; through wider ones words can be read [px]. */
const narrowBand = 8;
/** Width of a mark, space before its words, space below words, and least width in which bands turn [px]. */
const [markWidth, beside, between, leastTurn] = [8, 4, 10, 16];
/** Space below a mark, through which thin bands can pass [px]. */
const passage = 16;
/** Words wider than this are broken [px]. */
const widestWord = 74;

/** All places for a width. In a narrow drawing stops have numbers, and so where columns are too many for words. */
export function flowPlaces({ stops, bands }: Flow, width: number, isNarrow: boolean) {
  const columns = columnsOf({ stops, bands });
  const last = Math.max(...columns);
  const all = Array.from({ length: last + 1 }, (_, c) => c);
  const perWatt = tallest / Math.max(...stops.map(({ power }) => power), Number.MIN_VALUE);
  const thick = (power: number) => Math.max(thinnest, power * perWatt);
  const powers = stops.map(({ power }) => formatQuantity(power, "W"));
  const least = all.map((c) =>
    Math.max(
      ...stops.flatMap(({ name }, i) =>
        columns[i] === c ? [powers[i]!, ...name.split(/ |(?<=-)/)].map(wideOf) : [0],
      ),
    ),
  );
  /** Width in which bands turn, before the next column. */
  const turnOf = (widths: readonly number[]) =>
    (width - 4 - widths.reduce((sum, wide) => sum + markWidth + beside + wide, 0)) / (last || 1);
  const isNumbered = isNarrow || turnOf(least) < leastTurn;
  const linesOf = (i: number, wide: number) =>
    isNumbered ? [String(i + 1)] : [...wrapped(stops[i]!.name, wide, labelSize), powers[i]!];
  /** Of marks: as high as their heat, or as the bands that begin or end there. */
  const tall = stops.map(({ power }, i) => {
    const sum = (end: "from" | "to") =>
      bands.reduce((high, band) => high + (band[end] === i ? thick(band.power) : 0), 0);
    return Math.max(thick(power), sum("from"), sum("to"));
  });
  // Thin bands leave a stop level, above its words.
  const under = stops.map((_, i) =>
    bands.some((band) => band.from === i && thick(band.power) < narrowBand) ? tall[i]! : 0,
  );
  const highOf = (i: number, wide: number) =>
    Math.max(tall[i]! + passage, under[i]! + linesOf(i, wide).length * line + between);
  const widths = isNumbered ? all.map(() => wideOf("00")) : [...least];
  /** By how much words make a column higher than its marks; nothing where each name is one line. */
  const excess = (c: number) =>
    stops.reduce((sum, _, i) => {
      const isBroken = columns[i] === c && linesOf(i, widths[c]!).length > 2;
      return isBroken ? sum + Math.max(0, highOf(i, widths[c]!) - tall[i]! - passage) : sum;
    }, 0);
  while (!isNumbered && turnOf(widths) > leastTurn + 4) {
    const highest = all.reduce((a, b) => (excess(b) > excess(a) ? b : a));
    if (excess(highest) === 0) break;
    widths[highest]! += 4;
  }
  const turn = turnOf(widths);
  const lefts = all.map((c) =>
    widths.slice(0, c).reduce((x, wide) => x + markWidth + beside + wide + turn, 4),
  );
  const ends = all.map(() => 8);
  const places = stops.map((_, i): StopPlace => {
    const [c, top] = [columns[i]!, ends[columns[i]!]!];
    const [left, wide] = [lefts[c]!, widths[c]!];
    const lines = linesOf(i, wide);
    ends[c] = top + highOf(i, wide);
    const words = { left: left + markWidth + beside, top: top + under[i]! };
    return {
      mark: { left, top, right: left + markWidth, bottom: top + tall[i]! },
      label: { ...words, right: words.left + wide, bottom: words.top + lines.length * line },
      lines,
    };
  });
  const startOf = slots(bands, "from");
  /** From above: wide bands of the column before, thin ones from further, thin ones of it, the rest. */
  const order = ({ from, to, power }: Band) => {
    const isNext = columns[from] === columns[to]! - 1;
    return thick(power) < narrowBand ? (isNext ? 2 : 1) : isNext ? 0 : 3;
  };
  const endOf = slots(
    [...bands].sort((a, b) => order(a) - order(b)),
    "to",
  );
  function slots(list: readonly Band[], end: "from" | "to") {
    const used = new Float64Array(stops.length);
    return new Map(
      list.map((band) => {
        const [i, high] = [band[end], thick(band.power)];
        const at = places[i]!.mark.top + used[i]! + high / 2;
        used[i]! += high;
        return [band, at];
      }),
    );
  }
  const laneBelow = (first: number, end: number, high: number) => {
    const top = Math.max(...ends.slice(first, end));
    for (let c = first; c < end; c++) ends[c] = top + high + 3;
    return top + high / 2;
  };
  const paths = bands.map((band): BandPath => {
    const { from, to, power } = band;
    const high = thick(power);
    const [x1, y1, x2, y2] = [
      places[from]!.mark.right,
      startOf.get(band)!,
      places[to]!.mark.left,
      endOf.get(band)!,
    ];
    const isThin = power * perWatt < thinnest;
    if (high >= narrowBand) return { d: curve(x1, y1, x2, y2), thick: high, isThin };
    // A thin band turns before the column where the least number of words and marks is on its way.
    const turns = all.slice(columns[from]!, columns[to]!).map((c) => {
      const [start, end] = [lefts[c + 1]! - turn, lefts[c + 1]!];
      const met = places.filter(
        (place, i) =>
          i !== from && i !== to && [place.label, place.mark].some((box) => isMet(box, high)),
      );
      function isMet({ left, right, top, bottom }: Box, thick: number): boolean {
        const y = right <= start ? y1 : y2;
        return right > x1 && left < x2 && y + thick / 2 > top && y - thick / 2 < bottom;
      }
      return { start, end, met: met.length };
    });
    const best = turns.reduce((a, b) => (b.met < a.met ? b : a));
    const [first, final] = [turns[0]!, turns.at(-1)!];
    const steps: readonly Step[] =
      best.met === 0
        ? [{ ...best, y: y2 }]
        : [
            // Below all that is on its way.
            { ...first, y: laneBelow(columns[from]! + 1, columns[to]!, high) },
            { ...final, y: y2 },
          ];
    return { d: stepped([x1, y1], steps, x2), thick: high, isThin };
  });
  return { places, paths, isNumbered, bottom: Math.max(...ends) };
}

/** Where a band turns to another height [px]. */
interface Step {
  readonly start: number;
  readonly end: number;
  readonly y: number;
}

/** Level but for some steps. */
function stepped([x, y]: readonly [number, number], steps: readonly Step[], end: number): string {
  let at = y;
  const turns = steps.map(({ start, end, y }) => {
    const turn = `L${curve(start, at, end, y).slice(1)}`;
    at = y;
    return turn;
  });
  return `M${short(x)} ${short(y)}${turns.join("")}L${short(end)} ${short(at)}`;
}

/** From one point to another, level at both. */
function curve(x1: number, y1: number, x2: number, y2: number): string {
  const middle = (x1 + x2) / 2;
  const [from, to] = [`${short(x1)} ${short(y1)}`, `${short(x2)} ${short(y2)}`];
  return `M${from}C${short(middle)} ${short(y1)} ${short(middle)} ${short(y2)} ${to}`;
}

/** Width of a word in bold, which is wider by a twelfth at most; a longer one is broken. */
function wideOf(word: string): number {
  return Math.min(widestWord, Math.ceil(textWidth(word, labelSize)));
}

/** The column of each stop: at least one after those it gets heat from; loads just before their place. */
function columnsOf({ stops, bands }: Flow): readonly number[] {
  const columns = stops.map(() => 0);
  // As many rounds as there are stops put every order without a circle right.
  for (const _ of stops) {
    for (const { from, to } of bands)
      columns[to] = Math.min(stops.length, Math.max(columns[to]!, columns[from]! + 1));
  }
  for (const { from, to } of bands)
    if (stops[from]!.kind === "load") columns[from] = columns[to]! - 1;
  return columns;
}
