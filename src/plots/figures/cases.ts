/**
 * One mount in the nominal, the probable and the pessimistic case, against its limit.
 * @module
 */
import type { Confidence } from "../../design/confidence/confidence.js";
import type { Budget } from "../../mount/budget-result.js";
import { FieldError } from "../../units/errors.js";
import { formatRise } from "../../units/format.js";
import { dropsOf, type ElementKind, elementLooks } from "../elements.js";
import type { Figure, FigureOptions } from "../figure.js";
import {
  barEnd,
  dropBars,
  inBar,
  limitAbove,
  limitAt,
  listed,
  lyingBars,
  rowAxis,
} from "../figure-parts.js";
import { axis, ink, layout, note, sumColour, veil } from "../style.js";

/** A mount in its cases. */
export interface Cases {
  /** Every unknown at its median. */
  readonly nominal: Budget;
  /** All unknowns together: the warm end of its 90 % band is met with 95 % confidence. */
  readonly probable?: Confidence;
  /** Every unknown at its pessimistic limit. */
  readonly pessimistic?: Budget;
}

/** Least share of the axis for which a part of a bar carries its drop [1]. */
const leastNamed = 0.09;

/**
 * A bar a case, from the stage to the hottest point, with the drop of each element; the probable case, which
 * is of many samples, in one piece. A dashed line is the limit.
 * @throws FieldError where cases are of stages at different temperatures
 */
export function casesFigure(cases: Cases, options: FigureOptions = {}): Figure {
  const { nominal, probable, pessimistic } = cases;
  const budgets = [
    { row: "nominal", budget: nominal },
    ...(pessimistic ? [{ row: "pessimistic", budget: pessimistic }] : []),
  ];
  const warm = probable?.band[1].value;
  const rows = [
    { row: "nominal", rise: nominal.chip.rise },
    ...(warm === undefined ? [] : [{ row: "probable (95 %)", rise: warm - nominal.stage }]),
    ...(pessimistic ? [{ row: "pessimistic", rise: pessimistic.chip.rise }] : []),
  ];
  const far = rows.find(({ rise }) => !Number.isFinite(rise));
  if (far) throw new FieldError("cases", "a steady state in each case", far.row);
  const limit = limitAbove(nominal.limit, nominal.stage);
  const highest = Math.max(...rows.map(({ rise }) => 1e3 * rise), limit ?? 0);
  const drops = budgets.map(({ budget }) => dropsOf(budget.mainPath));
  // The stage is at the left, so what is nearest to it is drawn first.
  const kinds = (Object.keys(elementLooks) as ElementKind[])
    .reverse()
    .filter((kind) => drops.some((of) => of(kind) > 5e-4 * highest));
  const ends = budgets.map(() => 0);
  const labels: object[] = [];
  const bars = kinds.map((kind) => {
    const lengths = budgets.map(({ row }, b) => {
      const drop = drops[b]!(kind);
      if (drop > leastNamed * highest)
        labels.push(
          note(formatRise(drop / 1e3), {
            x: ends[b]! + drop / 2,
            y: row,
            name: inBar(drop),
            bgcolor: veil,
            font: { size: 11, color: ink },
          }),
        );
      ends[b]! += drop;
      return drop;
    });
    const names = budgets.map(({ row }) => row);
    return dropBars(kind, names, lengths);
  });
  const whole = rows.find(({ row }) => row.startsWith("probable"));
  const sum = whole && [
    lyingBars([whole.row], [1e3 * whole.rise], {
      name: "all elements",
      showlegend: false,
      marker: { color: sumColour, line: { color: ink, width: 0.8 } },
      hovertemplate: "%{y}<br>%{x:.3~f} mK<extra></extra>",
    }),
  ];
  const { shapes, annotations } = limitAt("x", limit);
  const names = rows.map(({ row }) => row);
  return {
    data: [...bars, ...(sum ?? [])],
    layout: layout(options.title ?? `${nominal.name} against its limit`, {
      xaxis: axis("rise above the stage (mK)", { range: [0, 1.22 * highest] }),
      yaxis: rowAxis("case", names),
      barmode: "stack",
      height: 200 + 50 * rows.length,
      legend: { orientation: "h", y: -0.35, traceorder: "reversed" },
      shapes,
      annotations: [
        ...labels,
        ...rows.map(({ row, rise }) => barEnd(`<b>${formatRise(rise)}</b>`, 1e3 * rise, row)),
        ...annotations,
      ],
    }),
    alt:
      `Rise of the hottest point${limit === undefined ? "" : `, limit ${formatRise(limit / 1e3)}`}: ` +
      `${listed(rows, ({ row, rise }) => `${row} ${formatRise(rise)}`)}. Nominal drops: ${listed(
        [...kinds].reverse().filter((kind) => drops[0]!(kind) > 0),
        (kind) => `${elementLooks[kind].label} ${formatRise(drops[0]!(kind) / 1e3)}`,
      )}.`,
  };
}
