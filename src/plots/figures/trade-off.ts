/**
 * What a tighter limit costs: the least cost against the rise that is not exceeded.
 * @module
 */
import type { Cheapest } from "../../design/sizing/cheapest-result.js";
import { formatCost } from "../../design/sizing/cheapest-result.js";
import { formatRise, formatShare } from "../../units/format.js";
import type { Figure, FigureOptions } from "../figure.js";
import { axis, colours, layout, rounded } from "../style.js";

/** The trade-off of a cheapest choice: no choice lies left of and below the line. The chosen one is marked. */
export function tradeOffFigure(
  cheapest: Cheapest,
  { title = `What a tighter limit costs: ${cheapest.name}` }: FigureOptions = {},
): Figure {
  const { least, cost, tradeOff, allowed, probability, meets } = cheapest;
  const met = tradeOff.filter((each) => each.meets);
  const by = least.unit === "m^3" ? 1e9 : 1;
  const unit = least.unit === "m^3" ? "mm³" : least.unit;
  const first = met[0];
  const range = first
    ? `The limit of ${formatRise(first.limit)} takes ${formatCost(first.cost, least)}, that of ` +
      `${formatRise(met.at(-1)!.limit)} ${formatCost(met.at(-1)!.cost, least)}.`
    : "No limit that was tried is met.";
  const chosen = {
    type: "scatter",
    mode: "markers",
    name: "the choice",
    x: rounded([1e3 * allowed]),
    y: rounded([by * cost]),
    marker: { color: colours[1], size: 12, symbol: "diamond" },
    hovertemplate: `chosen: %{y:.3g} ${unit}<extra></extra>`,
  };
  return {
    data: [
      {
        type: "scatter",
        mode: "lines+markers",
        name: `least ${least.name}`,
        x: rounded(met.map(({ rise }) => 1e3 * rise)),
        y: rounded(met.map((each) => by * each.cost)),
        line: { color: colours[0], width: 2.5 },
        marker: { color: colours[0], size: 6 },
        hovertemplate: `%{y:.3g} ${unit} for %{x:.2f} mK<extra></extra>`,
      },
      ...(meets ? [chosen] : []),
    ],
    layout: layout(title, {
      xaxis: axis(`rise not exceeded with ${formatShare(probability)} (mK)`),
      yaxis: axis(`${least.name}${unit === "" ? "" : ` (${unit})`}`, { rangemode: "tozero" }),
    }),
    alt: `Least ${least.name} against the rise that is not exceeded with ${formatShare(probability)}. ${range}`,
  };
}
