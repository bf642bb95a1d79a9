/**
 * How warm a chip under particle hits is, for which share of the time.
 * @module
 */
import type { HitSimulation } from "../../design/events/hit-simulation.js";
import { FieldError } from "../../units/errors.js";
import { formatNumber, formatQuantity } from "../../units/format.js";
import type { Figure } from "../figure.js";
import { curvesPlot, limitAt, listed, logarithmic } from "../figure-parts.js";
import { rounded } from "../style.js";

/** A record and what to call it. */
export interface NamedRecord {
  /** Its name in the legend. */
  readonly name: string;
  /** The hits. */
  readonly record: HitSimulation;
}

/** Share of the time in which the chip is more than so far above the baseline, for one mount or several. */
export function hitsFigure(records: readonly NamedRecord[], title?: string): Figure {
  const hit = records.filter(({ record }) => record.hits.length > 0);
  if (hit.length === 0)
    throw new FieldError("records", "a record with a hit in it", records.length);
  const curves = hit.map(({ name, record }) => {
    const { rises, times } = record.distribution;
    const shown = [...rises.keys()].filter((i) => rises[i]! >= 1e-7 && times[i]! > 0);
    const xs = shown.map((i) => 1e3 * rises[i]!);
    const ys = shown.map((i) => times[i]! / record.duration);
    return { name, record, xs, ys, x: rounded(xs), y: rounded(ys) };
  });
  // A threshold is a limit where it is above the steady state.
  const limits = curves.flatMap(({ record: { threshold, baseline } }) =>
    threshold !== undefined && threshold > baseline ? [1e3 * (threshold - baseline)] : [],
  );
  const limit = limits.every((x) => x === limits[0]) ? limits[0] : undefined;
  const xs = curves.flatMap((curve) => curve.xs);
  const lowest = Math.min(...curves.flatMap(({ ys }) => ys));
  const place = { xanchor: "right", yanchor: "top", xshift: -4 };
  const right = 1.5 * Math.max(...xs, ...limits);
  return curvesPlot({
    title: title ?? "How long the chip is warm",
    curves,
    hover: "above %{x:.3~g} mK for %{y:.2~g} of the time",
    x: logarithmic("chip above the baseline (mK)", Math.min(...xs), right),
    y: logarithmic("share of the time above", lowest / 2, 1),
    limits: limitAt("x", limit, { isLogarithmic: true, place }),
    alt: `Share of the time in which the chip is warmer than a rise: ${listed(
      curves,
      ({ name, record }) =>
        `${name}: ${formatNumber(100 * record.shareAbove(1e-3), 2)} % of the time more than ` +
        `${formatQuantity(1e-3, "K")} above the baseline`,
    )}.`,
  });
}
