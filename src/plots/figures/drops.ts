/**
 * Temperature drops by element, from the chip to the stage.
 * @module
 */
import type { Budget } from "../../mount/budget-result.js";
import { formatQuantity, formatRise, formatTemperature } from "../../units/format.js";
import type { Figure } from "../figure.js";
import { barEnd, hatching, limitAbove, limitAt, lyingBars, rowAxis } from "../figure-parts.js";
import { axis, colours, ink, layout, rounded } from "../style.js";

/**
 * Falling steps from the chip's temperature to the stage's, one bar an element of the main path; a
 * line marks the limit when the mount has one.
 */
export function dropsFigure(budget: Budget): Figure {
  const path = budget.mainPath;
  const names = path.map(({ name, count }) => (count > 1 ? `${name} (${count})` : name));
  let top = budget.chip.rise;
  const steps = path.map(({ name, drop }, i) => {
    const step = {
      row: names[i]!,
      isLargest: name === budget.governs.name,
      drop,
      top,
      words: formatRise(drop),
    };
    top -= drop;
    return step;
  });
  const limit = limitAbove(budget.limit, budget.stage);
  const { shapes, annotations } = limitAt("x", limit);
  const bars = (isLargest: boolean, marker: object) => {
    const shown = steps.filter((step) => step.isLargest === isLargest);
    return lyingBars(
      shown.map(({ row }) => row),
      shown.map(({ drop }) => 1e3 * drop),
      {
        base: rounded(shown.map((step) => 1e3 * (step.top - step.drop))),
        customdata: shown.map(({ words }) => words),
        marker: { ...marker, line: { color: ink, width: 1 } },
        hovertemplate: "%{y}: %{customdata}<extra></extra>",
        showlegend: false,
      },
    );
  };
  return {
    // The largest drop is a trace of its own, so that grey print can tell it by its hatching.
    data: [
      bars(false, { color: colours[0] }),
      bars(true, { color: colours[1], pattern: hatching(1) }),
    ],
    layout: layout("Where the temperature falls, from chip to stage", {
      xaxis: axis(`above the stage at ${formatTemperature(budget.stage)} (mK)`, {
        range: [0, 1.2 * Math.max(1e3 * budget.chip.rise, limit ?? 0)],
      }),
      yaxis: rowAxis("element (number)", names),
      height: 120 + 40 * path.length,
      barmode: "overlay",
      shapes,
      annotations: [
        ...steps.map(({ words, top, row }) => barEnd(words, 1e3 * top, row)),
        ...annotations,
      ],
    }),
    alt:
      `The chip is ${formatQuantity(budget.chip.rise, "K")} above the stage: ` +
      `${path.map(({ name, drop }) => `${name} ${formatQuantity(drop, "K", 2)}`).join(", ")}.`,
  };
}
