/**
 * The temperature of every place on the die, with what touches it drawn to scale.
 * @module
 */
import type { ContactGroup } from "../../mount/assemble.js";
import type { Budget } from "../../mount/budget-result.js";
import { formatNumber, formatQuantity, formatTemperature } from "../../units/format.js";
import { outlineOf } from "../drawing/outline.js";
import type { Figure } from "../figure.js";
import { curvesPlot, dieAxes, linear, listed } from "../figure-parts.js";
import { mapColours } from "../ramp.js";
import { axis, dashes, layout, nth, onMap, rounded } from "../style.js";

/** Most cells drawn along a side: more than a screen shows, and a fraction of the size. */
const mostDrawn = 64;

/** A die as its map is drawn: a budget, for the mount's own, or one of its `dies`. */
export type MappedDie = Pick<Budget, "name" | "field" | "contacts" | "stage">;

/** How a map of the die is drawn. */
export interface DieMapOptions {
  /** Rise at the bright end of the scale, which then begins at 0: one for all maps that are compared [K]. */
  readonly highest?: number;
}

/**
 * Rise of every place on the die above the stage [mK], and what touches the die, to scale.
 * @throws Error when the budget's die is not a sheet
 */
export function dieMapFigure(
  budget: MappedDie,
  title = "Temperature of the die",
  options: DieMapOptions = {},
): Figure {
  const field = sheetOf(budget);
  const { grid, hottest } = field;
  const columns = drawnCells(grid.cellsX);
  const rows = drawnCells(grid.cellsY);
  const z = rows.map((js) =>
    rounded(
      columns.map((is) => {
        const cells = js.flatMap((j) => is.map((i) => field.temperatures[j * grid.cellsX + i]!));
        return 1e3 * (mean(cells) - budget.stage);
      }),
    ),
  );
  const rises = z.flat();
  const [bottom, top] =
    options.highest === undefined
      ? [Math.min(...rises), Math.max(...rises)]
      : [0, 1e3 * options.highest];
  // Outlines have to show on what the map mostly is.
  const isBright = mean(rises) - bottom > 0.55 * (top - bottom);
  const outline = isBright ? onMap.dark : onMap.light;
  const groups = budget.contacts.filter(({ contacts }) => contacts.length > 0);
  return {
    data: [
      {
        type: "heatmap",
        x: rounded(columns.map((is) => 1e3 * mean(is.map((i) => grid.x(i))))),
        y: rounded(rows.map((js) => 1e3 * mean(js.map((j) => grid.y(j))))),
        z,
        colorscale: mapColours,
        ...(options.highest !== undefined && { zmin: 0, zmax: 1e3 * options.highest }),
        zsmooth: "best",
        colorbar: { title: { text: "rise above the stage (mK)", side: "right" } },
        hovertemplate: "x %{x:.4~g} mm<br>y %{y:.4~g} mm<br>%{z:.4~f} mK<extra></extra>",
      },
      ...groups.map((group, i) => outlines(group, i, outline)),
      {
        type: "scatter",
        mode: "markers",
        name: `hottest, ${formatQuantity(hottest.temperature - budget.stage, "K")}`,
        x: rounded([1e3 * hottest.x]),
        y: rounded([1e3 * hottest.y]),
        marker: {
          symbol: "x",
          size: 11,
          color: onMap.light,
          line: { color: onMap.dark, width: 2 },
        },
        hoverinfo: "name",
        cliponaxis: false,
      },
    ],
    layout: layout(title, {
      ...dieAxes({ range: [0, 1e3 * grid.width] }, { range: [0, 1e3 * grid.length] }),
      height: Math.round(Math.min(900, 160 + (440 * grid.length) / grid.width)),
      // Behind light outlines the legend is dark, behind dark ones light; neither turns with the page.
      legend: {
        orientation: "h",
        y: -0.16,
        bgcolor: isBright ? "#eeeeec" : "#4a525c",
        font: { color: outline },
      },
    }),
    alt:
      `Map of the die: hottest ${formatTemperature(hottest.temperature)} at ` +
      `x = ${formatQuantity(hottest.x, "m")}, y = ${formatQuantity(hottest.y, "m")}, coldest ` +
      `${formatTemperature(field.coldest.temperature)}, mean ${formatTemperature(field.mean)}.`,
  };
}

/** Temperatures along a straight line over the die, through its hottest point. */
export function dieCutFigure(budgets: readonly Budget[], title = "Temperature along x"): Figure {
  const curves = budgets.map((budget) => {
    const field = sheetOf(budget);
    const { y } = field.hottest;
    const cut = field.cut({ x: 0, y }, { x: field.grid.width, y }, 121);
    return {
      name: budget.name,
      x: rounded(cut.distance.map((d) => 1e3 * d)),
      y: rounded(cut.temperature.map((T) => 1e3 * (T - budget.stage))),
    };
  });
  const [lowest, highest] = [Math.min, Math.max].map((of) => of(...curves.flatMap(({ y }) => y)));
  const top = 1.08 * highest!;
  // Curves that lie close together would be one line on an axis from 0.
  const bottom = lowest! > 0.6 * highest! ? lowest! - 0.5 * (highest! - lowest!) : 0;
  const widest = Math.max(...curves.flatMap((curve) => curve.x));
  return curvesPlot({
    title,
    curves,
    hover: "%{x:.3~g} mm<br>%{y:.4~f} mK",
    x: { low: 0, high: widest, shown: axis("x, through the hottest point (mm)") },
    y: linear("rise above the stage (mK)", bottom, top),
    more: { legend: { orientation: "h", y: -0.22 }, height: 440 + 12 * curves.length },
    alt: `Temperature along x through the hottest point: ${listed(
      curves,
      ({ name, y }) =>
        `${name} from ${formatNumber(Math.min(...y))} to ${formatNumber(Math.max(...y))} mK`,
    )}.`,
  });
}

function sheetOf(budget: MappedDie) {
  if (budget.field) return budget.field;
  throw new Error(`${budget.name}: a map needs the die in 2-D; leave out die.model.`);
}

/** The cells along a side, in groups that are drawn as one. */
function drawnCells(cells: number): readonly (readonly number[])[] {
  const every = Math.max(1, Math.floor(cells / mostDrawn));
  return Array.from({ length: Math.floor(cells / every) }, (_, i) =>
    Array.from({ length: every }, (_, k) => i * every + k),
  );
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

/** The outline of a group; pieces that lie side by side have one together. */
function outlines({ name, contacts }: ContactGroup, i: number, color: string): object {
  const segments = outlineOf(contacts.flatMap(({ area }) => area));
  const mm = (v: number) => Number((1e3 * v).toPrecision(5));
  const bonds = contacts.reduce((sum, contact) => sum + contact.bonds, 0);
  return {
    type: "scatter",
    mode: "lines",
    name: bonds > 0 ? `${name}, ${Math.round(bonds)} bonds` : name,
    x: segments.flatMap(([x1, , x2]) => [mm(x1), mm(x2), null]),
    y: segments.flatMap(([, y1, , y2]) => [mm(y1), mm(y2), null]),
    line: { color, width: i === 0 ? 1.4 : 2, dash: nth(dashes, i) },
    hoverinfo: "name",
  };
}
