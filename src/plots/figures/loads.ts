/**
 * Who brings the heat: the loads of several mounts or nights, stacked by source.
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
  note,
  nth,
  patternInk,
  patterns,
  rounded,
  veil,
} from "../style.js";

/**
 * One bar a budget, its loads stacked in the order of their first mention.
 * @param options - `on`: only what falls on the die (default), or on anything
 */
export function loadsFigure(
  budgets: readonly Budget[],
  options: {
    /** Title over the figure; one of its own words when absent. */
    readonly title?: string;
    /** What it falls on: the die or another part, by name. */
    readonly on?: "die" | "all";
  } = {},
): Figure {
  const counted = (budget: Budget) =>
    budget.sources.filter(({ on }) => options.on === "all" || on.startsWith("die"));
  const sources = [...new Set(budgets.flatMap((budget) => counted(budget).map((s) => s.name)))];
  const names = budgets.map(({ name }) => name);
  const totals = budgets.map((budget) => counted(budget).reduce((sum, s) => sum + s.power, 0));
  const most = Math.max(...totals);
  const [unit, factor] = most < 1e-9 ? ["pW", 1e12] : most < 1e-6 ? ["nW", 1e9] : ["µW", 1e6];
  return {
    data: sources.map((source, i) => ({
      type: "bar",
      orientation: "h",
      name: source,
      y: names,
      x: rounded(
        budgets.map((budget) =>
          counted(budget)
            .filter(({ name }) => name === source)
            .reduce((sum, { power }) => sum + factor * power, 0),
        ),
      ),
      marker: {
        color: nth(colours, i),
        pattern: {
          shape: nth(patterns, i),
          fillmode: "overlay",
          fgcolor: patternInk,
          size: 7,
        },
        line: { color: ink, width: 0.8 },
      },
      hovertemplate: `%{y}<br>${source} %{x:.3~g} ${unit}<extra></extra>`,
    })),
    layout: layout(
      options.title ?? "Heat on the chip, by source",
      {
        xaxis: axis(`heat (${unit})`, { range: [0, 1.2 * factor * most] }),
        yaxis: axis("case", { autorange: "reversed", showgrid: false }),
      },
      {
        barmode: "stack",
        height: 210 + 44 * budgets.length,
        legend: { orientation: "h", y: -0.28, traceorder: "normal" },
        annotations: totals.map((total, b) =>
          note(formatQuantity(total, "W"), {
            x: factor * total,
            y: names[b],
            xanchor: "left",
            xshift: 4,
            bgcolor: veil,
          }),
        ),
      },
    ),
    alt: `Heat by source: ${budgets
      .map(({ name }, b) => `${name} ${formatQuantity(totals[b]!, "W")}`)
      .join("; ")}.`,
  };
}
