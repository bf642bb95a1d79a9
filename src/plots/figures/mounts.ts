/**
 * Temperature drops of several mounts side by side, by kind of element.
 * @module
 */
import type { Budget } from "../../mount/budget-result.js";
import { dropsOf, type ElementKind, elementLooks } from "../elements.js";
import type { Figure, FigureOptions } from "../figure.js";
import { barEnd, dropBars, limitAt, listed, rowAxis } from "../figure-parts.js";
import { axis, ink, layout, paper } from "../style.js";

const drawnKinds = Object.keys(elementLooks) as ElementKind[];

/**
 * One bar a mount, stacked from the stage up by kind of element, the hottest point at its end.
 * Bars longer than `longest` are cut there, show a break and say so.
 */
export function mountsFigure(
  budgets: readonly Budget[],
  options: FigureOptions & {
    /** Rise at which the bars end, longer ones cut [K]; the longest bar's when absent. */
    readonly longest?: number;
  } = {},
): Figure {
  const rises = budgets.map((budget) => budget.chip.rise);
  const limits = budgets.flatMap(({ limit, stage }) =>
    limit === undefined ? [] : [limit - stage],
  );
  const most = Math.max(...rises, ...limits);
  const longest = 1e3 * Math.min(options.longest ?? most, most);
  const names = budgets.map(({ name }) => name);
  const left = budgets.map(() => longest);
  const drops = budgets.map(({ mainPath }) => dropsOf(mainPath));
  // From the stage up: what lies nearest to it is drawn first.
  const bars = [...drawnKinds].reverse().map((kind) => {
    const lengths = budgets.map((_, b) => {
      const shown = Math.min(drops[b]!(kind), left[b]!);
      left[b]! -= shown;
      return shown;
    });
    return dropBars(kind, names, lengths);
  });
  const limit = limits.every((l) => l === limits[0]) ? limits[0] : undefined;
  const isSeen = limit !== undefined && 1e3 * limit <= 1.4 * longest;
  const { shapes, annotations } = limitAt("x", isSeen ? 1e3 * limit : undefined);
  const isCut = (rise: number) => 1e3 * rise > longest * 1.0001;
  return {
    // A kind that no mount has would only lengthen the legend.
    data: bars.filter(({ x }) => x.some((drop) => drop > 0)),
    layout: layout(options.title ?? "Temperature drops by mount", {
      xaxis: axis("hottest point above the stage (mK)", { range: [0, 1.4 * longest] }),
      yaxis: rowAxis("mount"),
      barmode: "stack",
      height: 230 + 46 * budgets.length,
      legend: { orientation: "h", y: -0.25, traceorder: "reversed" },
      shapes: [
        ...shapes,
        ...rises.flatMap((rise, b) => (isCut(rise) ? broken(0.93 * longest, b) : [])),
      ],
      annotations: [
        ...rises.map((rise, b) => {
          const cut = isCut(rise) ? ", bar cut" : "";
          const { inWords } = budgets[b]!;
          const text = `${inWords.rise(rise)}${inWords.mark}${cut}`;
          return barEnd(text, Math.min(1e3 * rise, longest), names[b]!);
        }),
        ...annotations,
      ],
    }),
    alt: `Rise of the hottest point: ${listed(
      budgets,
      ({ name, chip, largestDrop, inWords }) =>
        `${name} ${inWords.rise(chip.rise)}, most in ${largestDrop.name}${inWords.mark}`,
    )}.`,
  };
}

/** A break across a bar: a slanted gap between two lines. @param row - of the bar, from 0 */
function broken(x: number, row: number): readonly object[] {
  const [wide, slant, high] = [0.012 * x, 0.012 * x, 0.46];
  const across = (at: number, line: object) => ({
    type: "line",
    x0: at - slant,
    x1: at + slant,
    y0: row + high,
    y1: row - high,
    line,
  });
  return [
    across(x, { color: paper, width: 7 }),
    across(x - wide, { color: ink, width: 1 }),
    across(x + wide, { color: ink, width: 1 }),
  ];
}
