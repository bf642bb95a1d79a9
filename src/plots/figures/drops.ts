/**
 * Temperature drops by element, from the chip to the stage.
 * @module
 */
import type { Budget } from "../../mount/budget-result.js";
import { formatQuantity } from "../../units/format.js";
import type { Figure } from "../figure.js";
import { barEnd, hatching, rowAxis, uprightLimit } from "../figure-parts.js";
import { axis, colours, ink, layout, rounded } from "../style.js";

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
  const largest = budget.governs.name;
  const labels = path.map(({ drop }) => formatQuantity(drop, "K", Math.abs(drop) < 1e-4 ? 2 : 3));
  const limit = budget.limit === undefined ? undefined : 1e3 * (budget.limit - budget.stage);
  const limitMarks = uprightLimit(limit);
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
    // The largest drop is a trace of its own, so that grey print can tell it by its hatching.
    data: [
      bars((name) => name !== largest, { color: colours[0] }),
      bars((name) => name === largest, { color: colours[1], pattern: hatching(1) }),
    ],
    layout: layout(
      "Where the temperature falls, from chip to stage",
      {
        xaxis: axis(`above the stage at ${formatQuantity(budget.stage, "K", 4)} (mK)`, {
          range: [0, 1.2 * highest],
        }),
        yaxis: rowAxis("element (number)", names),
      },
      {
        height: 120 + 40 * path.length,
        barmode: "overlay",
        shapes: limitMarks.shapes,
        annotations: [
          ...labels.map((label, i) => barEnd(label, 1e3 * tops[i]!, names[i]!)),
          ...limitMarks.annotations,
        ],
      },
    ),
    alt:
      `The chip is ${formatQuantity(budget.chip.rise, "K")} above the stage: ` +
      `${path.map(({ name, drop }) => `${name} ${formatQuantity(drop, "K", 2)}`).join(", ")}.`,
  };
}
