/**
 * How warm a chip under particle hits is, for which share of the time.
 * @module
 */
import type { HitRecord } from "../../design/events/hit-record.js";
import { FieldError } from "../../units/errors.js";
import { formatNumber, formatQuantity } from "../../units/format.js";
import type { Figure } from "../figure.js";
import {
  colours,
  dashes,
  layout,
  limitColour,
  logAxis,
  note,
  nth,
  rounded,
  uprightLimit,
} from "../style.js";

/** A record and what to call it. */
export interface NamedRecord {
  /** Its name in the legend. */
  readonly name: string;
  /** The hits. */
  readonly record: HitRecord;
}

/** Share of the time in which the chip is more than so far above rest, for one mount or several. */
export function hitsFigure(records: readonly NamedRecord[], title?: string): Figure {
  const hit = records.filter(({ record }) => record.hits.length > 0);
  if (hit.length === 0)
    throw new FieldError("records", "a record with a hit in it", records.length);
  const curves = hit.map(({ name, record }) => {
    const { rises, times } = record.distribution;
    const shown = [...rises.keys()].filter((i) => rises[i]! >= 1e-7 && times[i]! > 0);
    return {
      name,
      record,
      xs: shown.map((i) => 1e3 * rises[i]!),
      ys: shown.map((i) => times[i]! / record.duration),
    };
  });
  const lowest = Math.min(...curves.flatMap(({ ys }) => ys));
  const right = 1.5 * Math.max(...curves.flatMap(({ xs, record }) => [...xs, ...limitOf(record)]));
  const left = Math.min(...curves.flatMap(({ xs }) => xs));
  const limits = curves.flatMap(({ record }) => limitOf(record));
  const limit = limits.every((x) => x === limits[0]) ? limits[0] : undefined;
  return {
    data: curves.map(({ name, xs, ys }, i) => ({
      type: "scatter",
      mode: "lines",
      name,
      x: rounded(xs),
      y: rounded(ys),
      line: { color: nth(colours, i), dash: nth(dashes, i), width: 2.5 },
      showlegend: curves.length > 1,
      hovertemplate: `above %{x:.3~g} mK for %{y:.2~g} of the time<extra>${name}</extra>`,
    })),
    layout: layout(
      title ?? "How long the chip is warm",
      {
        xaxis: logAxis("chip above rest (mK)", left, right),
        yaxis: logAxis("share of the time above", lowest / 2, 1),
      },
      limit === undefined
        ? {}
        : {
            shapes: [uprightLimit(limit)],
            annotations: [
              note("limit", {
                x: Math.log10(limit),
                y: 1,
                yref: "paper",
                xanchor: "right",
                yanchor: "top",
                xshift: -4,
                font: { size: 12, color: limitColour },
              }),
            ],
          },
    ),
    alt: `Share of the time in which the chip is warmer than a rise: ${curves
      .map(
        ({ name, record }) =>
          `${name}: ${formatNumber(100 * record.shareAbove(1e-3), 2)} % of the time more than ` +
          `${formatQuantity(1e-3, "K")} above rest`,
      )
      .join("; ")}.`,
  };
}

/** The threshold above rest [mK], where it is above it. */
function limitOf({ threshold, rest }: HitRecord): readonly number[] {
  return threshold !== undefined && threshold > rest ? [1e3 * (threshold - rest)] : [];
}
