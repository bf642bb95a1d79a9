/**
 * An axis of a picture: from a value to a pixel, and its ticks.
 * @module
 */
import { type AxisLayout, type Datum, plainWords, type Trace } from "./traces.js";

/** A tick and its words. */
export interface Tick {
  readonly value: Datum;
  readonly text: string;
}

/** An axis without its place. */
export interface Scale {
  readonly kind: "linear" | "log" | "category";
  /** In decades for a logarithmic axis, in places for categories; the first is at the axis' start. */
  readonly range: readonly [number, number];
  readonly ticks: readonly Tick[];
  /** Share of the axis' length, 0 at its start; outside 0 to 1 beyond its ends. */
  share(value: Datum): number;
}

/** The scale of an axis for these traces. */
export function scaleOf(
  name: "x" | "y",
  axis: AxisLayout,
  traces: readonly Trace[],
  stacked: boolean,
): Scale {
  const values = traces.flatMap((trace) => trace[name] ?? []);
  const names = values.filter((value): value is string => typeof value === "string");
  if (names.length > 0 || axis.type === "category") {
    return categories([...new Set([...(axis.categoryarray ?? []), ...names])], axis);
  }
  const isLog = axis.type === "log";
  const [low, high] = axis.range ?? spanOf(name, traces, stacked, isLog);
  const reversed = axis.autorange === "reversed";
  const range: readonly [number, number] = reversed ? [high, low] : [low, high];
  const within = (v: number) => v >= Math.min(low, high) - 1e-9 && v <= Math.max(low, high) + 1e-9;
  const placed = (v: number) => (isLog ? Math.log10(v) : v);
  const share = (value: Datum) => (placed(Number(value)) - range[0]) / (range[1] - range[0] || 1);
  const given = axis.tickvals?.map((value, i) => ({
    value,
    text: plainWords(axis.ticktext?.[i] ?? number(value)),
  }));
  const ticks = given ?? (isLog ? logTicks(low, high) : evenTicks(low, high));
  return {
    kind: isLog ? "log" : "linear",
    range,
    ticks: ticks.filter(({ value }) => within(placed(Number(value)))),
    share,
  };
}

function categories(names: readonly string[], axis: AxisLayout): Scale {
  const reversed = axis.autorange === "reversed";
  const places = new Map(names.map((text, i) => [text, i]));
  const ends: readonly [number, number] = [-0.5, names.length - 0.5];
  const range: readonly [number, number] = reversed ? [ends[1], ends[0]] : ends;
  const [from, to] = range;
  return {
    kind: "category",
    range,
    ticks: names.map((value) => ({ value, text: plainWords(value) })),
    share: (value) => {
      const place = typeof value === "string" ? (places.get(value) ?? 0) : Number(value);
      return (place - from) / (to - from);
    },
  };
}

/** Lowest and highest value, with a margin, in decades when logarithmic. */
function spanOf(
  name: "x" | "y",
  traces: readonly Trace[],
  stacked: boolean,
  isLog: boolean,
): readonly [number, number] {
  const ends: number[] = [];
  const sums = new Map<string, number>();
  let hasBars = false;
  for (const trace of traces) {
    const along = trace.orientation === "h" ? "x" : "y";
    const { array, arrayminus = array } = trace.error_y ?? {};
    const isLength = (trace.type === "bar" || trace.stackgroup !== undefined) && name === along;
    hasBars ||= isLength;
    (trace[name] ?? []).forEach((value, i) => {
      if (typeof value !== "number") return;
      const base = Array.isArray(trace.base) ? (trace.base[i] ?? 0) : Number(trace.base ?? 0);
      if (isLength && stacked) {
        const key = `${trace[along === "x" ? "y" : "x"]?.[i]} ${value < 0}`;
        sums.set(key, (sums.get(key) ?? 0) + value);
        ends.push(sums.get(key)!);
      } else ends.push(value + (isLength ? base : 0));
      if (isLength) ends.push(base);
      if (name === "y" && array) ends.push(value + (array[i] ?? 0), value - (arrayminus![i] ?? 0));
    });
  }
  const usable = (isLog ? ends.filter((v) => v > 0).map(Math.log10) : ends).filter(Number.isFinite);
  if (usable.length === 0) return [0, 1];
  const [low, high] = [Math.min(...usable), Math.max(...usable)];
  const isMap = traces.some(({ type }) => type === "heatmap" || type === "contour");
  const margin = isMap ? 0 : 0.05 * (high - low || Math.abs(high) || 1);
  return [hasBars && low >= 0 ? 0 : low - margin, high + margin];
}

/** Ticks at 1, 2 or 5 times a power of ten, about six of them. */
function evenTicks(a: number, b: number): Tick[] {
  const [low, high] = [Math.min(a, b), Math.max(a, b)];
  const rough = (high - low) / 6 || 1;
  const step = roundNumbers(rough * 0.999, rough * 10)[0]!;
  const digits = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  const ticks: Tick[] = [];
  for (let k = Math.ceil(low / step - 1e-9); k * step <= high * (1 + 1e-12) + 1e-9 * step; k++) {
    const value = Number((k * step).toPrecision(12));
    const isPlain = digits <= 5 && Math.abs(value) < 1e6;
    ticks.push({ value, text: isPlain ? value.toFixed(digits) : number(value) });
  }
  return ticks;
}

/** Ticks at powers of ten, and at 2 and 5 between them over less than four decades. */
function logTicks(low: number, high: number): Tick[] {
  const decades = Math.abs(high - low);
  const isWide = decades > 3.5;
  const every = isWide ? Math.max(1, Math.ceil(decades / 8)) : 1;
  const [first, last] = [0.999 * 10 ** Math.floor(low), 10 ** (Math.ceil(high) + 1)];
  return roundNumbers(first, last, isWide ? [1] : [1, 2, 5])
    .filter((value) => Math.round(Math.log10(value)) % every === 0)
    .map((value) => ({ value, text: number(value) }));
}

/** Multiples of powers of ten from a positive number up to another: 1, 2, 5, 10, 20 and so on. */
export function roundNumbers(
  low: number,
  high: number,
  of: readonly number[] = [1, 2, 5],
): number[] {
  const found: number[] = [];
  for (let e = Math.floor(Math.log10(low)); e <= Math.ceil(Math.log10(high)); e++) {
    for (const m of of) {
      const value = Number(`${m}e${e}`);
      if (value >= low && value <= high) found.push(value);
    }
  }
  return found;
}

/** A number as a tick says it: `0.02`, `200`, `5·10⁻⁷`; in powers of ten also where it is short. */
export function number(value: number, inPowers = false): string {
  if (value === 0) return "0";
  const e = Math.floor(Math.log10(Math.abs(value)) + 1e-9);
  if (!inPowers && e >= -3 && e < 5) return String(Number(value.toPrecision(6)));
  const m = Number((value / 10 ** e).toPrecision(4));
  const power = String(e).replace(/[-\d]/g, (c) => (c === "-" ? "⁻" : "⁰¹²³⁴⁵⁶⁷⁸⁹"[Number(c)]!));
  return m === 1 ? `10${power}` : `${m}·10${power}`;
}
