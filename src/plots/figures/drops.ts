/**
 * Temperature drops by element, from the chip to the stage.
 * @module
 */
import type { Budget, BudgetElement } from "../../mount/budget-result.js";
import { formatAbout, formatQuantity, formatRise, formatTemperature } from "../../units/format.js";
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
  const { inWords } = budget;
  const steps = path.map(({ name, drop, extrapolated }, i) => {
    const step = {
      row: names[i]!,
      isLargest: name === budget.largestDrop.name,
      drop,
      top,
      words: extrapolated ? `${formatAbout(drop, "K")}, extrapolated` : formatRise(drop),
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
      `The chip is ${inWords.rise(budget.chip.rise)} above the stage${inWords.mark}: ` +
      `${path.map(altOf).join(", ")}.`,
  };
}

/** An element in words: `bonds 3.2 mK`, `clamps ≈ 5.1 mK (extrapolated)`. */
function altOf({ name, drop, extrapolated }: BudgetElement): string {
  return extrapolated
    ? `${name} ${formatAbout(drop, "K")} (extrapolated)`
    : `${name} ${formatQuantity(drop, "K", 2)}`;
}
