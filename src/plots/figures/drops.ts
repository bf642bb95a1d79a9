/**
 * Where the millikelvins go: the drop over each element from the chip to the stage.
 * @module
 */
import type { Budget } from "../../mount/budget-result.js";
import { formatQuantity } from "../../units/format.js";
import type { Figure } from "../figure.js";
import {
  axis,
  colours,
  ink,
  layout,
  limitColour,
  note,
  patternInk,
  patterns,
  rounded,
  uprightLimit,
  veil,
} from "../style.js";

function limitName(at: number): object {
  const font = { size: 12, color: limitColour };
  return note("limit", { x: at, y: 1, yref: "paper", xanchor: "left", yanchor: "bottom", font });
}

/**
 * Falling steps from the chip's temperature to the stage's, one bar an element of the main path; a
 * line marks the limit when the mount has one.
 */
export function dropsFigure(budget: Budget): Figure {
  const path = budget.mainPath;
  const names = path.map(({ name, count }) => (count > 1 ? `${name} (${count})` : name));
  const tops: number[] = [];
  let level = budget.chip.rise;
  for (const { drop } of path) {
    tops.push(level);
    level -= drop;
  }
  const governing = budget.governs.name;
  const labels = path.map(({ drop }) => formatQuantity(drop, "K", Math.abs(drop) < 1e-4 ? 2 : 3));
  const limit = budget.limit === undefined ? undefined : 1e3 * (budget.limit - budget.stage);
  const highest = Math.max(1e3 * budget.chip.rise, limit ?? 0);
  const bars = (belongs: (name: string) => boolean, marker: object) => {
    const chosen = path.flatMap(({ name }, i) => (belongs(name) ? [i] : []));
    return {
      type: "bar",
      orientation: "h",
      y: chosen.map((i) => names[i]),
      x: rounded(chosen.map((i) => 1e3 * path[i]!.drop)),
      base: rounded(chosen.map((i) => 1e3 * (tops[i]! - path[i]!.drop))),
      customdata: chosen.map((i) => labels[i]),
      marker: { ...marker, line: { color: ink, width: 1 } },
      hovertemplate: "%{y}: %{customdata}<extra></extra>",
      showlegend: false,
    };
  };
  return {
    // What governs is a trace of its own, so that grey print can tell it by its hatching.
    data: [
      bars((name) => name !== governing, { color: colours[0] }),
      bars((name) => name === governing, {
        color: colours[1],
        pattern: { shape: patterns[1], fillmode: "overlay", fgcolor: patternInk },
      }),
    ],
    layout: layout(
      "Where the temperature falls, from chip to stage",
      {
        xaxis: axis(`above the stage at ${formatQuantity(budget.stage, "K", 4)} (mK)`, {
          range: [0, 1.2 * highest],
        }),
        yaxis: axis("element (number)", {
          autorange: "reversed",
          showgrid: false,
          categoryorder: "array",
          categoryarray: names,
        }),
      },
      {
        height: 120 + 40 * path.length,
        barmode: "overlay",
        shapes: limit === undefined ? [] : [uprightLimit(limit)],
        annotations: [
          ...labels.map((label, i) =>
            // Set over the lines of the figure, so that none runs through a number.
            note(label, {
              x: 1e3 * tops[i]!,
              y: names[i],
              xanchor: "left",
              xshift: 4,
              bgcolor: veil,
            }),
          ),
          ...(limit === undefined ? [] : [limitName(limit)]),
        ],
      },
    ),
    alt:
      `The chip is ${formatQuantity(budget.chip.rise, "K")} above the stage: ` +
      `${path.map(({ name, drop }) => `${name} ${formatQuantity(drop, "K", 2)}`).join(", ")}.`,
  };
}
