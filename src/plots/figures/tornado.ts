/**
 * Sensitivity to each unknown: the chip's rise between its low and its high end, longest on top.
 * @module
 */
import { type Effect, inputValue, type Sensitivity } from "../../design/confidence/sensitivity.js";
import { formatNumber, formatQuantity } from "../../units/format.js";
import type { Figure, FigureOptions } from "../figure.js";
import { barEnd, hatching, limitAt, lineAt, listed, lyingBars, rowAxis } from "../figure-parts.js";
import { axis, colours, ink, layout, rounded } from "../style.js";

/** How to draw. */
export interface TornadoOptions extends FigureOptions {
  /** Most unknowns to show; 10 by default. */
  readonly most?: number;
}

/**
 * One bar an unknown, from the rise at its low end to that at its high end, on a line at the rise with
 * every unknown at its median; a dashed line marks the limit when the mount has one. What moves the rise
 * by less than a thousandth is left out.
 */
export function tornadoFigure(sensitivity: Sensitivity, options: TornadoOptions = {}): Figure {
  const { rise } = sensitivity;
  const shown = sensitivity.noticeable.slice(0, options.most ?? 10);
  const title = options.title ?? "What each unknown does to the chip, from its 5 % to its 95 % end";
  const middle = 1e3 * rise;
  const limit = Number.isFinite(sensitivity.margin) ? 1e3 * (rise + sensitivity.margin) : undefined;
  const ends = shown.flatMap((effect) => [effect.riseAtLow, effect.riseAtHigh]);
  const finite = ends.filter(Number.isFinite).map((x) => 1e3 * x);
  const lowest = Math.min(middle, ...finite);
  const highest = Math.max(middle, limit ?? 0, ...finite);
  const margin = 0.14 * (highest - lowest || middle);
  // A chip that runs away has a bar to the edge of the figure.
  const edge = highest + margin;
  const shownAt = (x: number) => (Number.isFinite(x) ? 1e3 * x : edge);
  const names = shown.map(label);
  const bars = (end: "low" | "high", rise: "riseAtLow" | "riseAtHigh", look: object) =>
    lyingBars(
      names,
      shown.map((effect) => shownAt(effect[rise]) - middle),
      {
        name: `at its ${end} end (${end === "low" ? 5 : 95} %)`,
        base: rounded(shown.map(() => middle)),
        customdata: shown.map((effect) => [
          effect.input.name,
          inputValue(effect.input, effect.input[end]),
          inMillikelvin(effect[rise]),
        ]),
        marker: { ...look, line: { color: ink, width: 1 } },
        hovertemplate: "%{customdata[0]}<br>%{customdata[1]}: %{customdata[2]}<extra></extra>",
      },
    );
  /** The rise beside each end of a bar; beyond one end of it only, when both lie on one side. */
  const endsOf = ({ riseAtLow, riseAtHigh }: Effect, i: number) => {
    const [left, right] = [riseAtLow, riseAtHigh].sort((a, b) => a - b) as [number, number];
    const end = (rise: number, side: "left" | "right") => {
      const text = Number.isFinite(rise) ? formatNumber(1e3 * rise, 3) : "none";
      return barEnd(text, shownAt(rise), names[i]!, side);
    };
    return [
      ...(shownAt(left) <= middle ? [end(left, "left")] : []),
      ...(shownAt(right) >= middle ? [end(right, "right")] : []),
    ];
  };
  const marks = limitAt("x", limit, { place: { y: 0, xshift: 4 } });
  return {
    data: [
      bars("low", "riseAtLow", { color: colours[0] }),
      bars("high", "riseAtHigh", { color: colours[1], pattern: hatching(1) }),
    ],
    layout: layout(title, {
      xaxis: axis("chip above the stage (mK)", {
        range: [lowest - margin, highest + 1.2 * margin],
      }),
      yaxis: rowAxis("unknown, others at their medians", names, { tickfont: { size: 12 } }),
      // Names take much of the width, so the title begins above them.
      title: { text: title, x: 0.02, xanchor: "left", xref: "container", font: { size: 16 } },
      width: 820,
      barmode: "overlay",
      bargap: 0.35,
      height: 190 + 46 * Math.max(shown.length, 1),
      legend: { orientation: "h", y: 1.015, yanchor: "bottom", x: 1, xanchor: "right" },
      shapes: [lineAt("x", middle, { color: ink, width: 1.5, dash: "solid" }), ...marks.shapes],
      annotations: [...shown.flatMap(endsOf), ...marks.annotations],
    }),
    alt:
      `The chip is ${formatQuantity(rise, "K")} above the stage with every unknown at its median. ` +
      `From its low to its high end each moves it: ${listed(
        shown,
        (e) =>
          `${e.input.name} from ${inMillikelvin(e.riseAtLow)} to ${inMillikelvin(e.riseAtHigh)}`,
      )}.`,
  };
}

/** The unknown, and below it between what it lies. */
function label({ input }: Effect): string {
  const { name, low, high } = input;
  const [first, last] = [low, high].map((end) => inputValue(input, end)) as [string, string];
  const unit = / .*/.exec(last)?.[0] ?? "";
  const from = first.endsWith(unit) ? first.slice(0, first.length - unit.length) : first;
  // One power of ten for both ends.
  const power = /e(-?\d+)$/.exec(from)?.[1];
  const scaled = Number.parseFloat(last) / 10 ** Number(power);
  const to =
    power && !/^\S*e/.test(last) ? `${Number(scaled.toPrecision(3))}e${power}${unit}` : last;
  return `${name}<br><span style="font-size:11px">${from} to ${to}</span>`;
}

function inMillikelvin(rise: number): string {
  return Number.isFinite(rise) ? formatQuantity(rise, "K") : "no steady state";
}
