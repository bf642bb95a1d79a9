/**
 * Which unknown matters: the chip's rise between the low and the high end of each, longest on top.
 * @module
 */
import {
  type Effect,
  inputValue,
  type Sensitivity,
} from "../../design/confidence/sensitivity-result.js";
import { formatNumber, formatQuantity } from "../../units/format.js";
import type { Figure } from "../figure.js";
import { axis, colours, ink, layout, limitColour, note, patterns, rounded } from "../style.js";

/** How to draw. */
export interface TornadoOptions {
  /** Title over the figure; one of its own words when absent. */
  readonly title?: string;
  /** Most unknowns to show; 10 by default. */
  readonly most?: number;
}

/**
 * One bar an unknown, from the rise at its low end to that at its high end, on a line at the rise with
 * every unknown at its median; a dashed line marks the limit when the mount has one. What moves the rise
 * by less than a thousandth is left out.
 */
export function tornadoFigure(sensitivity: Sensitivity, options: TornadoOptions = {}): Figure {
  const { rise, margin } = sensitivity;
  const shown = sensitivity.noticeable.slice(0, options.most ?? 10);
  const title = options.title ?? "What each unknown does to the chip, from its 5 % to its 95 % end";
  const middle = 1e3 * rise;
  const limit = Number.isFinite(margin) ? 1e3 * (rise + margin) : undefined;
  const ends = shown.flatMap((effect) => [effect.riseAtLow, effect.riseAtHigh]);
  const finite = ends.filter(Number.isFinite).map((x) => 1e3 * x);
  const lowest = Math.min(middle, ...finite);
  const highest = Math.max(middle, limit ?? 0, ...finite);
  const room = 0.14 * (highest - lowest || middle);
  // A chip that runs away has a bar to the edge of the figure.
  const edge = highest + room;
  const shownAt = (x: number) => (Number.isFinite(x) ? 1e3 * x : edge);
  const names = shown.map(label);
  const bars = (end: "low" | "high", rises: readonly number[], marker: object) => ({
    type: "bar",
    orientation: "h",
    name: `at its ${end} end (${end === "low" ? 5 : 95} %)`,
    y: names,
    x: rounded(rises.map((x) => shownAt(x) - middle)),
    base: rounded(rises.map(() => middle)),
    customdata: shown.map(({ input }, i) => [
      input.name,
      inputValue(input, input[end]),
      inMillikelvin(rises[i]!),
    ]),
    marker: { ...marker, line: { color: ink, width: 1 } },
    hovertemplate: "%{customdata[0]}<br>%{customdata[1]}: %{customdata[2]}<extra></extra>",
  });
  const lows = shown.map(({ riseAtLow }) => riseAtLow);
  const highs = shown.map(({ riseAtHigh }) => riseAtHigh);
  return {
    data: [
      bars("low", lows, { color: colours[0] }),
      bars("high", highs, {
        color: colours[1],
        pattern: { shape: patterns[1], fillmode: "overlay", fgcolor: "#333333" },
      }),
    ],
    layout: layout(
      title,
      {
        xaxis: axis("chip above the stage (mK)", { range: [lowest - room, highest + 1.2 * room] }),
        yaxis: axis("unknown, others at their medians", {
          autorange: "reversed",
          showgrid: false,
          categoryorder: "array",
          categoryarray: names,
          tickfont: { size: 12 },
        }),
      },
      {
        // Names take much of the width, so the title begins above them.
        title: { text: title, x: 0.02, xanchor: "left", xref: "container", font: { size: 16 } },
        width: 820,
        barmode: "overlay",
        bargap: 0.35,
        height: 190 + 46 * Math.max(shown.length, 1),
        legend: { orientation: "h", y: 1.015, yanchor: "bottom", x: 1, xanchor: "right" },
        shapes: [
          upright(middle, { color: ink, width: 1.5 }),
          ...(limit === undefined
            ? []
            : [upright(limit, { color: limitColour, width: 2, dash: "dash" })]),
        ],
        annotations: [
          ...shown.flatMap((effect, i) => numbersOf(effect, names[i]!, middle, shownAt)),
          ...(limit === undefined
            ? []
            : [
                note("limit", {
                  x: limit,
                  y: 0,
                  yref: "paper",
                  xanchor: "left",
                  yanchor: "bottom",
                  xshift: 4,
                  font: { size: 12, color: limitColour },
                }),
              ]),
        ],
      },
    ),
    alt:
      `The chip is ${formatQuantity(rise, "K")} above the stage with every unknown at its median. ` +
      `From its low to its high end each moves it: ${shown
        .map(
          (e) =>
            `${e.input.name} from ${inMillikelvin(e.riseAtLow)} to ${inMillikelvin(e.riseAtHigh)}`,
        )
        .join("; ")}.`,
  };
}

/** The unknown, and below it between what it lies. */
function label({ input }: Effect): string {
  const { name, low, high } = input;
  return `${name.replace(/(.{1,38})(?:\s|$)/g, "$1<br>")}<span style="font-size:11px">${inputValue(input, low)} to ${inputValue(input, high)}</span>`;
}

/** The rise beside each end of a bar; beyond one end of it only, when both lie on one side. */
function numbersOf(
  { riseAtLow, riseAtHigh }: Effect,
  y: string,
  middle: number,
  shownAt: (rise: number) => number,
): object[] {
  const [left, right] = riseAtLow < riseAtHigh ? [riseAtLow, riseAtHigh] : [riseAtHigh, riseAtLow];
  const text = (rise: number) => (Number.isFinite(rise) ? formatNumber(1e3 * rise, 3) : "no rest");
  const at = { y, bgcolor: "rgba(255,255,255,0.9)" };
  return [
    ...(shownAt(left) <= middle
      ? [note(text(left), { ...at, x: shownAt(left), xanchor: "right", xshift: -4 })]
      : []),
    ...(shownAt(right) >= middle
      ? [note(text(right), { ...at, x: shownAt(right), xanchor: "left", xshift: 4 })]
      : []),
  ];
}

function inMillikelvin(rise: number): string {
  return Number.isFinite(rise) ? formatQuantity(rise, "K") : "no steady state";
}

function upright(at: number, line: object): object {
  return { type: "line", x0: at, x1: at, y0: 0, y1: 1, yref: "paper", line };
}
