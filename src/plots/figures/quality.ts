/**
 * Internal quality factor of a resonator against temperature, with cases marked.
 * @module
 */
import type { Resonator } from "../../device/quality.js";
import type { Budget } from "../../mount/budget-result.js";
import { formatNumber, formatTemperature } from "../../units/format.js";
import type { Figure, FigureOptions } from "../figure.js";
import { limitAt, listed, millikelvin } from "../figure-parts.js";
import { axis, colours, ink, layout, logAxis, nth, rounded } from "../style.js";

/** Markers in an order in which neighbours differ. */
const symbols = "circle square diamond triangle-up x star cross hexagon".split(" ");

/**
 * The curve between the temperatures of the cases and some way around them.
 * @param budgets - cases whose chip temperature is marked
 */
export function qualityFigure(
  resonator: Resonator,
  budgets: readonly Budget[],
  options: FigureOptions & {
    /** Lowest quality factor required, drawn as a line. */
    readonly least?: number;
  } = {},
): Figure {
  const reached = budgets.map(({ chip }) => chip.temperature);
  const low = 0.9 * Math.min(...reached);
  const high = Math.min(
    1.1 * Math.max(...reached),
    0.95 * resonator.superconductor.criticalTemperature,
  );
  const Ts = Array.from({ length: 81 }, (_, i) => low + (i / 80) * (high - low));
  const qualities = Ts.map((T) => resonator.internalQuality(T));
  const cases = budgets.map(({ chip }) => resonator.internalQuality(chip.temperature));
  const all = [...qualities, ...cases, ...(options.least === undefined ? [] : [options.least])];
  return {
    data: [
      {
        type: "scatter",
        mode: "lines",
        name: "internal quality factor",
        x: millikelvin(Ts),
        y: rounded(qualities),
        line: { color: colours[0], width: 2.5 },
        hovertemplate: "%{x:.4~g} mK<br>%{y:.3~g}<extra></extra>",
      },
      ...budgets.map(({ name, chip }, i) => ({
        type: "scatter",
        mode: "markers",
        name,
        x: millikelvin([chip.temperature]),
        y: rounded([cases[i]!]),
        marker: {
          symbol: nth(symbols, i),
          size: 11,
          color: nth(colours, i + 1),
          line: { color: ink, width: 1 },
        },
        hovertemplate: `${name}<br>%{x:.4~g} mK<br>%{y:.3~g}<extra></extra>`,
      })),
    ],
    layout: layout(options.title ?? "Internal quality factor against the chip's temperature", {
      xaxis: axis("hottest point of the chip (mK)"),
      yaxis: logAxis("internal quality factor", 0.7 * Math.min(...all), 1.4 * Math.max(...all)),
      legend: { orientation: "h", y: -0.22 },
      height: 500,
      ...limitAt("y", options.least, { text: "required", isLogarithmic: true }),
    }),
    alt: `Internal quality factor: ${listed(
      budgets,
      ({ name, chip }, i) =>
        `${name} ${formatNumber(cases[i]!)} at ${formatTemperature(chip.temperature)}`,
    )}.`,
  };
}
