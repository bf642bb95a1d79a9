/**
 * Temperature drops by element, from the chip to the stage.
 * @module
 */
import type { Budget, BudgetElement } from "../../mount/budget-result.js";
import { formatAbout, formatQuantity, formatRise, formatTemperature } from "../../units/format.js";
import { kindsAlong } from "../elements.js";
import type { Figure } from "../figure.js";
import { barEnd, elementBar, limitAbove, limitAt, lyingBars, rowAxis } from "../figure-parts.js";
import { axis, layout, rounded } from "../style.js";

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
  const kinds = kindsAlong(path);
  return {
    // A trace an element, so that each has its own pattern.
    data: steps.map(({ row, drop, top, words }, i) =>
      lyingBars([row], [1e3 * drop], {
        base: rounded([1e3 * (top - drop)]),
        customdata: [words],
        marker: elementBar(kinds[i]!),
        hovertemplate: "%{y}: %{customdata}<extra></extra>",
        showlegend: false,
      }),
    ),
    layout: layout("Temperature drops, from chip to stage", {
      xaxis: axis(`rise above the stage at ${formatTemperature(budget.stage)} (mK)`, {
        range: [0, 1.2 * Math.max(1e3 * budget.chip.rise, limit ?? 0)],
      }),
      yaxis: rowAxis("element (number)", names),
      height: 120 + 40 * path.length,
      barmode: "overlay",
      shapes,
      annotations: [
        ...steps.map(({ words, top, row, isLargest }) =>
          barEnd(isLargest ? `<b>${words}, largest</b>` : words, 1e3 * top, row),
        ),
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
