/**
 * Where the millikelvins go: the drop over each element from the chip to the stage.
 * @module
 */
import type { Budget } from "../mount/budget.js";
import { formatQuantity } from "../units/format.js";
import type { Figure } from "./figure.js";
import { axis, colours, ink, layout, limitColour, note, patterns } from "./style.js";

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
  const limit = budget.limit === undefined ? undefined : 1e3 * (budget.limit - budget.stage);
  const highest = Math.max(1e3 * budget.chip.rise, limit ?? 0);
  return {
    data: [
      {
        type: "bar",
        orientation: "h",
        y: names,
        x: path.map(({ drop }) => 1e3 * drop),
        base: path.map(({ drop }, i) => 1e3 * (tops[i]! - drop)),
        text: path.map(
          ({ drop }) => ` ${formatQuantity(drop, "K", Math.abs(drop) < 1e-4 ? 2 : 3)}`,
        ),
        textposition: "outside",
        cliponaxis: false,
        marker: {
          color: path.map(({ name }) => (name === governing ? colours[3] : colours[0])),
          pattern: { shape: path.map(({ name }) => (name === governing ? patterns[1] : "")) },
          line: { color: ink, width: 1 },
        },
        hovertemplate: "%{y}: %{text}<extra></extra>",
        showlegend: false,
      },
    ],
    layout: layout(
      "Where the temperature falls, from chip to stage",
      {
        xaxis: axis(`above the stage at ${formatQuantity(budget.stage, "K", 4)} (mK)`, {
          range: [0, 1.18 * highest],
        }),
        yaxis: axis("", { autorange: "reversed", showgrid: false }),
      },
      {
        height: 120 + 40 * path.length,
        ...(limit !== undefined && {
          shapes: [
            {
              type: "line",
              x0: limit,
              x1: limit,
              y0: 0,
              y1: 1,
              yref: "paper",
              line: { color: limitColour, width: 2, dash: "dash" },
            },
          ],
          annotations: [
            note("limit", {
              x: limit,
              y: 1,
              yref: "paper",
              xanchor: "left",
              yanchor: "bottom",
              font: { size: 12, color: limitColour },
            }),
          ],
        }),
      },
    ),
    alt:
      `The chip is ${formatQuantity(budget.chip.rise, "K")} above the stage: ` +
      `${path.map(({ name, drop }) => `${name} ${formatQuantity(drop, "K", 2)}`).join(", ")}.`,
  };
}
