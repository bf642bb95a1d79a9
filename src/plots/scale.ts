/**
 * An axis of a picture: from a value to a pixel, and its ticks.
 * @module
 */
import { raised } from "../units/format.js";
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

/** The scale of an axis for the traces of a figure. */
export function scaleOf(
  name: "x" | "y",
  axis: AxisLayout,
  traces: readonly Trace[] = [],
  barmode = "group",
): Scale {
  const values = traces.flatMap((trace) => trace[name] ?? []);
  const texts = values.filter((value): value is string => typeof value === "string");
  const isCategory = texts.length > 0 || axis.type === "category";
  const isLog = !isCategory && axis.type === "log";
  const names = [...new Set([...(axis.categoryarray ?? []), ...texts])];
  const [low, high] = isCategory
    ? [-0.5, names.length - 0.5]
    : (axis.range ?? spanOf(name, traces, isStacked(barmode), isLog));
  const [start, end] = axis.autorange === "reversed" ? [high, low] : [low, high];
  const placed = (value: Datum) => {
    if (isCategory && typeof value === "string") return Math.max(0, names.indexOf(value));
    return isLog ? Math.log10(Number(value)) : Number(value);
  };
  const isWithin = ({ value }: Tick) =>
    placed(value) >= Math.min(low, high) - 1e-9 && placed(value) <= Math.max(low, high) + 1e-9;
  const given = isCategory
    ? names.map((value) => ({ value, text: plainWords(value) }))
    : axis.tickvals?.map((value, i) => ({
        value,
        text: plainWords(axis.ticktext?.[i] ?? number(value)),
      }));
  const ticks = given ?? (isLog ? logTicks(low, high) : evenTicks(low, high));
  return {
    kind: isCategory ? "category" : isLog ? "log" : "linear",
    range: [start, end],
    ticks: ticks.filter(isWithin),
    share: (value) => (placed(value) - start) / (end - start || 1),
  };
}

/** Whether bars of one name stand on each other. */
export function isStacked(barmode: string | undefined): boolean {
  return barmode === "stack" || barmode === "relative";
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
    ticks.push({ value, text: isPlain ? value.toFixed(digits).replace("-", "−") : number(value) });
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
  if (value < 0) return `−${number(-value, inPowers)}`;
  const e = Math.floor(Math.log10(Math.abs(value)) + 1e-9);
  if (!inPowers && e >= -3 && e < 5) return String(Number(value.toPrecision(6)));
  const m = Number((value / 10 ** e).toPrecision(4));
  return m === 1 ? `10${raised(e)}` : `${m}·10${raised(e)}`;
}
