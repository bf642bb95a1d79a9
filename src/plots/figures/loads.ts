/**
 * Heat loads of several mounts or nights, stacked by source.
 * @module
 */
import type { Budget } from "../../mount/budget-result.js";
import { formatAbout, formatQuantity } from "../../units/format.js";
import type { Figure, FigureOptions } from "../figure.js";
import { barEnd, listed, lyingBars, rowAxis, stackLook, unitOfPower } from "../figure-parts.js";
import { axis, layout } from "../style.js";

/**
 * One bar a budget, its loads stacked in the order of their first mention.
 * @param options - `on`: only what falls on the die (default), or on anything
 */
export function loadsFigure(
  budgets: readonly Budget[],
  options: FigureOptions & {
    /** What it falls on: the die or another part, by name. */
    readonly on?: "die" | "all";
  } = {},
): Figure {
  const counted = budgets.map(({ sources }) =>
    sources.filter(({ on }) => options.on === "all" || on.startsWith("die")),
  );
  const names = budgets.map(({ name }) => name);
  const sum = (loads: (typeof counted)[number]) => loads.reduce((all, { power }) => all + power, 0);
  const totals = counted.map(sum);
  const most = Math.max(...totals);
  // A total that rests on an extrapolated law says so.
  const inWords = (total: number, b: number) =>
    counted[b]!.some(({ extrapolated }) => extrapolated)
      ? `${formatAbout(total, "W")}, extrapolated`
      : formatQuantity(total, "W");
  const unit = unitOfPower(most);
  const powersOf = (source: string) =>
    counted.map((loads) => sum(loads.filter(({ name }) => name === source)) / unit.size);
  return {
    data: [...new Set(counted.flat().map(({ name }) => name))].map((source, i) =>
      lyingBars(names, powersOf(source), {
        name: source,
        marker: stackLook(i),
        hovertemplate: `%{y}<br>${source} %{x:.3~g} ${unit.name}<extra></extra>`,
      }),
    ),
    layout: layout(options.title ?? "Heat on the chip, by source", {
      xaxis: axis(`heat (${unit.name})`, { range: [0, (1.2 * most) / unit.size] }),
      yaxis: rowAxis("case"),
      barmode: "stack",
      height: 210 + 44 * budgets.length,
      legend: { orientation: "h", y: -0.28, traceorder: "normal" },
      annotations: totals.map((total, b) =>
        barEnd(inWords(total, b), total / unit.size, names[b]!),
      ),
    }),
    alt: `Heat by source: ${listed(totals, (total, b) => `${names[b]} ${inWords(total, b)}`)}.`,
  };
}
