/**
 * Distribution of the chip's temperature: the share of samples in each step, and at or below each value.
 * @module
 */
import { type Confidence, formatChance } from "../../design/confidence/confidence.js";
import { formatQuantity, formatTemperature } from "../../units/format.js";
import { stacked } from "../composite.js";
import type { Figure, FigureOptions } from "../figure.js";
import { hatching, limitAt, limitNote, lineAt } from "../figure-parts.js";
import { axis, colours, ink, layout, limitColour, note, rounded, veil } from "../style.js";

/** How to draw. */
export interface SpreadOptions extends FigureOptions {
  /** Bars of the histogram, 10 to 100; 40 by default. */
  readonly bars?: number;
}

/**
 * How many samples lie in each step of temperature, those in the middle 90 % filled, and below that the share
 * of samples at or below each temperature. Lines mark the median and the limit, a band where the samples' own
 * limits differ. The warmest half percent is not drawn, since a few samples would squeeze the rest.
 */
export function spreadFigure(confidence: Confidence, options: SpreadOptions = {}): Figure {
  const { temperatures, band, median } = confidence;
  const { title = `How warm the chip may be: ${confidence.name}`, bars = 40 } = options;
  const count = Math.min(100, Math.max(10, Math.round(bars)));
  const steady = temperatures.filter(Number.isFinite);
  const low = 1e3 * (steady[0] ?? 0);
  const high = 1e3 * (steady[Math.ceil(0.995 * (steady.length - 1))] ?? 1);
  const width = (high - low) / count || 1e-3;
  const range = [low - 2 * width, high + 2 * width] as const;
  const steps = Array.from({ length: count }, (_, k) => {
    const middle = low + (k + 0.5) * width;
    const isInside = middle >= 1e3 * band[0].value && middle <= 1e3 * band[1].value;
    return { middle, isInside, share: 0 };
  });
  for (const T of steady) {
    const step = steps[Math.max(0, Math.floor((1e3 * T - low) / width))];
    if (step) step.share += 100 / temperatures.length;
  }
  const highest = Math.max(...steps.map(({ share }) => share));
  const { xaxis, shapes, annotations } = axes(confidence, range);
  const histogram: Figure = {
    data: [true, false].map((isInside) => {
      const shown = steps.filter((step) => step.isInside === isInside);
      return {
        type: "bar",
        name: isInside ? "middle 90 %" : "the rest",
        showlegend: false,
        x: rounded(shown.map(({ middle }) => middle)),
        y: rounded(shown.map(({ share }) => share)),
        width,
        marker: {
          color: isInside ? colours[0] : colours[1],
          line: { color: ink, width: 0.5 },
          ...(!isInside && { pattern: hatching(1) }),
        },
        hovertemplate: "%{y:.2f} % around %{x:.2f} mK<extra></extra>",
      };
    }),
    layout: layout(title, {
      xaxis,
      yaxis: axis(`in each ${width.toPrecision(2)} mK (%)`, { range: [0, 1.08 * highest] }),
      bargap: 0,
      barmode: "overlay",
      shapes,
      annotations: [
        ...annotations,
        note("middle 90 %", { x: 1e3 * median.value, y: 0.3 * highest, xshift: -2, bgcolor: veil }),
      ],
    }),
    alt: words(confidence),
  };
  const x = Array.from({ length: 201 }, (_, k) => low + (k / 200) * (high - low));
  const upTo = (T: number) => steady.filter((sample) => sample <= T).length;
  const below = x.map((T) => (100 * upTo(T / 1e3)) / temperatures.length);
  const sum: Figure = {
    data: [
      {
        type: "scatter",
        mode: "lines",
        name: "samples at or below",
        x: rounded(x),
        y: rounded(below),
        showlegend: false,
        line: { color: colours[0], width: 2.5 },
        hovertemplate: "%{y:.1f} % at or below %{x:.2f} mK<extra></extra>",
      },
    ],
    layout: layout("", {
      xaxis,
      yaxis: axis("at or below (%)", { range: [0, 105], tickvals: [0, 25, 50, 75, 95] }),
      shapes,
    }),
    alt: "",
  };
  return stacked(histogram, sum);
}

/** The axis of temperatures between two ends [mK], and lines at the median and the limit. */
function axes({ median, limits }: Confidence, range: readonly [number, number]) {
  const [low, high] = range;
  const middle = 1e3 * median.value;
  const above = { layer: "above" };
  const left = { y: 1, yref: "paper", yanchor: "bottom", xanchor: "right", xshift: -4 };
  const right = { ...left, xanchor: "left", xshift: 4 };
  const shapes: object[] = [
    { ...above, ...lineAt("x", middle, { color: ink, width: 2, dash: "solid" }) },
  ];
  const annotations = [note("median", { ...left, x: middle })];
  if (limits) {
    const [from, to] = limits.map((T) => 1e3 * T) as [number, number];
    const seen = (T: number) => Math.min(Math.max(T, low), high);
    if (to - from > 1e-4 * (high - low)) {
      const band = { x0: seen(from), x1: seen(to), y0: 0, y1: 1, yref: "paper" };
      const fill = { fillcolor: limitColour, opacity: 0.12, line: { width: 0 } };
      shapes.push({ ...above, type: "rect", ...band, ...fill });
    }
    const at = (from + to) / 2;
    if (at === seen(at)) {
      const place = at > (low + high) / 2 ? right : left;
      const limit = limitAt("x", at, { place });
      shapes.push(...limit.shapes.map((line) => ({ ...above, ...line })));
      annotations.push(...limit.annotations);
    } else {
      const end = at > high ? { x: 1, xanchor: "right" } : { x: 0, xanchor: "left" };
      const outside = { ...end, xref: "paper", y: 1.06, yref: "paper" };
      annotations.push(limitNote(`limit at ${formatQuantity(at / 1e3, "K")}, outside`, outside));
    }
  }
  return { xaxis: axis("hottest point on the chip (mK)", { range }), shapes, annotations };
}

function words({ median, band, chance }: Confidence): string {
  const [cold, warm] = band.map(({ value }) => formatTemperature(value));
  return (
    `Distribution of the chip's temperature: median ${formatTemperature(median.value)}, ` +
    `90 % between ${cold} and ${warm}` +
    `${chance ? `; the limit is met with ${formatChance(chance)} confidence` : ""}.`
  );
}
