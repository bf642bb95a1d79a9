/**
 * How the energy of a hit's first phonons comes to what takes them.
 * @module
 */
import type { PhononBurst } from "../../design/events/burst.js";
import { FieldError, UnknownNameError } from "../../units/errors.js";
import { formatQuantity, formatShare } from "../../units/format.js";
import type { Figure, FigureOptions } from "../figure.js";
import { curvesPlot, linear, listed, logarithmic, unitOfTime } from "../figure-parts.js";
import { rounded } from "../style.js";

/** A burst and how the figure calls it. */
export interface NamedBurst {
  /** In the legend. */
  readonly name: string;
  /** The burst. */
  readonly burst: PhononBurst;
}

/** What a burst's figure shows. */
export interface BurstFigureOptions extends FigureOptions {
  /** What the energy comes to: contacts such as `"pads"`; the `"pixels"` when absent. */
  readonly into?: string;
}

/**
 * Share of the energy that has come by each time, one curve a burst.
 * @throws FieldError without bursts; UnknownNameError for what no burst has
 */
export function burstFigure(
  bursts: readonly NamedBurst[],
  { into = "pixels", title }: BurstFigureOptions = {},
): Figure {
  if (bursts.length === 0) throw new FieldError("bursts", "one burst or more", bursts);
  const known = [...new Set(bursts.flatMap(({ burst }) => burst.shares.map(({ name }) => name)))];
  if (!known.includes(into)) throw new UnknownNameError("into", "taker", into, known);
  const until = Math.max(...bursts.map(({ burst }) => burst.until));
  // Nothing comes in the first hundred nanoseconds through a die of any thickness.
  const from = Math.min(1e-8, until / 100);
  const unit = unitOfTime(Math.sqrt(from * until));
  const curves = bursts.map(({ name, burst }) => {
    const course = burst.shares.find((own) => own.name === into)?.course;
    const kept = [...burst.times.keys()].filter((k) => burst.times[k]! >= from);
    return {
      name,
      x: rounded(kept.map((k) => burst.times[k]! / unit.size)),
      y: rounded(kept.map((k) => 100 * (course?.[k] ?? 0))),
      last: course?.at(-1) ?? 0,
    };
  });
  const top = Math.max(1e-3, ...curves.flatMap(({ y }) => y));
  return curvesPlot({
    title: title ?? `Energy of the first phonons into the ${into}`,
    curves,
    hover: `%{x:.3~g} ${unit.name}<br>%{y:.3~g} %`,
    x: logarithmic(`time after the hit (${unit.name})`, from / unit.size, until / unit.size),
    y: linear(`share of the energy in the ${into} (%)`, 0, 1.06 * top),
    alt: `Share of a hit's energy in the ${into} up to ${formatQuantity(until, "s")}: ${listed(
      curves,
      ({ name, last }) => `${name} ${formatShare(last)} in the end`,
    )}.`,
  });
}
