/**
 * Distribution of the chip's temperature: the share of samples in each step, and at or below each value.
 * @module
 */
import { type Confidence, formatChance } from "../../design/confidence/confidence.js";
import { formatQuantity } from "../../units/format.js";
import type { Figure, FigureOptions } from "../figure.js";
import { hatching, limitNote, type Marks, uprightLine } from "../figure-parts.js";
import { axis, colours, ink, layout, limitColour, note, rounded } from "../style.js";

/** How to draw. */
export interface SpreadOptions extends FigureOptions {
  /** Bars of the histogram, 10 to 100; 40 by default. */
  readonly bars?: number;
}

/**
 * How many samples lie in each step of temperature, those in the middle 90 % filled. Lines mark the
 * median and the limit, a band where the samples' own limits differ. The warmest half percent is not
 * drawn, since a few samples would squeeze the rest.
 */
export function spreadFigure(confidence: Confidence, options: SpreadOptions = {}): Figure {
  const { temperatures, band } = confidence;
  const { title = `How warm the chip may be: ${confidence.name}`, bars = 40 } = options;
  const count = Math.min(100, Math.max(10, Math.round(bars)));
  const { steady, low, high } = drawn(confidence);
  const width = (high - low) / count || 1e-3;
  const edges = Array.from({ length: count + 1 }, (_, k) => low + k * width);
  const shares = new Array<number>(count).fill(0);
  for (const T of steady) {
    const k = Math.floor((1e3 * T - low) / width);
    if (k < count) shares[Math.max(k, 0)]! += 100 / temperatures.length;
  }
  const middles = shares.map((_, k) => (edges[k]! + edges[k + 1]!) / 2);
  const inBand = (T: number) => T >= 1e3 * band[0].value && T <= 1e3 * band[1].value;
  return {
    data: [true, false].map((inside) => ({
      type: "bar",
      name: inside ? "middle 90 %" : "the rest",
      x: rounded(middles.filter((T) => inBand(T) === inside)),
      y: rounded(shares.filter((_, k) => inBand(middles[k]!) === inside)),
      width,
      marker: {
        color: inside ? colours[0] : colours[1],
        line: { color: ink, width: 0.5 },
        ...(!inside && { pattern: hatching(1) }),
      },
      hovertemplate: "%{y:.2f} % around %{x:.2f} mK<extra></extra>",
    })),
    layout: layout(
      title,
      {
        xaxis: axis("hottest place on the chip (mK)", {
          range: [low - 2 * width, high + 2 * width],
        }),
        yaxis: axis(`in each ${width.toPrecision(2)} mK (%)`, {
          range: [0, 1.08 * Math.max(...shares)],
        }),
      },
      { bargap: 0, barmode: "overlay", ...marks(confidence, low - 2 * width, high + 2 * width) },
    ),
    alt: words(confidence),
  };
}

/** The share of samples that lie at or below each temperature; lines as in `spreadFigure`. */
export function chanceFigure(
  confidence: Confidence,
  { title = `How likely the chip stays below: ${confidence.name}` }: FigureOptions = {},
): Figure {
  const { steady, low, high } = drawn(confidence);
  const curve = Array.from({ length: 201 }, (_, k) => low + (k / 200) * (high - low));
  const below = curve.map((T) => (100 * upTo(steady, T / 1e3)) / confidence.temperatures.length);
  return {
    data: [
      {
        type: "scatter",
        mode: "lines",
        name: "samples at or below",
        x: rounded(curve),
        y: rounded(below),
        showlegend: false,
        line: { color: colours[0], width: 2.5 },
        hovertemplate: "%{y:.1f} % at or below %{x:.2f} mK<extra></extra>",
      },
    ],
    layout: layout(
      title,
      {
        xaxis: axis("hottest place on the chip (mK)", { range: [low, high] }),
        yaxis: axis("samples at or below (%)", { range: [0, 101] }),
      },
      marks(confidence, low, high),
    ),
    alt: words(confidence),
  };
}

/** What is drawn: the samples with a steady state in order, and the ends of the axis [mK]. */
function drawn({ temperatures }: Confidence) {
  const steady = temperatures.filter(Number.isFinite);
  return {
    steady,
    low: 1e3 * (steady[0] ?? 0),
    high: 1e3 * (steady[Math.ceil(0.995 * (steady.length - 1))] ?? 1),
  };
}

/** Lines at the median and the limit, with their names, between the ends of an axis [mK]. */
function marks({ median, limits }: Confidence, low: number, high: number): Marks {
  const middle = 1e3 * median.value;
  const shapes: object[] = [{ ...above, ...uprightLine(middle, ink, "solid", 2) }];
  const named = { y: 1, yref: "paper", yanchor: "bottom" };
  const left = { ...named, xanchor: "right", xshift: -4 };
  const right = { ...named, xanchor: "left", xshift: 4 };
  const annotations = [note("median", { ...left, x: middle })];
  if (!limits) return { shapes, annotations };
  const [from, to] = limits.map((T) => 1e3 * T) as [number, number];
  const seen = (T: number) => Math.min(Math.max(T, low), high);
  if (to - from > 1e-4 * (high - low)) {
    const band = { x0: seen(from), x1: seen(to), y0: 0, y1: 1, yref: "paper" };
    const fill = { fillcolor: limitColour, opacity: 0.12, line: { width: 0 } };
    shapes.push({ ...above, type: "rect", ...band, ...fill });
  }
  const at = (from + to) / 2;
  if (at === seen(at)) {
    shapes.push({ ...above, ...uprightLine(at, limitColour, "dash", 2) });
    annotations.push(limitNote("limit", { ...(at > (low + high) / 2 ? right : left), x: at }));
  } else {
    const end = at > high ? { x: 1, xanchor: "right" } : { x: 0, xanchor: "left" };
    const outside = { ...end, xref: "paper", y: 1.06, yref: "paper" };
    annotations.push(limitNote(`limit at ${formatQuantity(at / 1e3, "K")}, outside`, outside));
  }
  return { shapes, annotations };
}

/** Over the bars. */
const above = { layer: "above" };

function words({ median, band, chance }: Confidence): string {
  const [cold, warm] = band.map(({ value }) => formatQuantity(value, "K", 4));
  return (
    `Distribution of the chip's temperature: median ${formatQuantity(median.value, "K", 4)}, ` +
    `90 % between ${cold} and ${warm}` +
    `${chance ? `; the limit is held with ${formatChance(chance)} confidence` : ""}.`
  );
}

/** How many of the rising values are at or below one. */
function upTo(sorted: Float64Array, value: number): number {
  let [low, high] = [0, sorted.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (sorted[middle]! <= value) low = middle + 1;
    else high = middle;
  }
  return low;
}
