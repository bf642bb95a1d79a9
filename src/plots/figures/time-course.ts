/**
 * What the places of a mount do in time.
 * @module
 */
import type { TimeCourse } from "../../mount/time-course.js";
import { FieldError } from "../../units/errors.js";
import { formatQuantity } from "../../units/format.js";
import type { Figure, FigureOptions } from "../figure.js";
import { curvesPlot, limitAbove, limitAt, linear, listed, unitOfTime } from "../figure-parts.js";
import { rounded } from "../style.js";

/** What the figure shows. */
export interface TimeFigureOptions extends FigureOptions {
  /** Places by name; the chip alone when absent. */
  readonly places?: readonly string[];
}

/** Points of a curve: more than a screen shows would only make the page heavy. */
const mostPoints = 600;

/** Rise of places above where the stage began, against time; the limit as a dashed line. */
export function timeFigure(course: TimeCourse, options: TimeFigureOptions = {}): Figure {
  const places = placesOf(course, options);
  const end = course.times.at(-1)!;
  const unit = unitOfTime(end);
  const chosen = chosenTimes(course.times);
  const stage = course.coldest(course.places.at(-1)!)[0]!;
  const x = rounded(chosen.map((i) => course.times[i]! / unit.size));
  const curves = places.map((place) => {
    const mean = course.mean(place);
    const rises = chosen.map((i) => 1e3 * (mean[i]! - stage));
    return { name: course.label(place), x, y: rounded(rises), highest: Math.max(...rises) };
  });
  const limit = limitAbove(course.limit, stage);
  const top = Math.max(...curves.map(({ highest }) => highest), limit ?? 0);
  const shown = places.length === 1 ? course.label(places[0]!) : "places";
  return curvesPlot({
    title: options.title ?? `${course.name}: ${shown} in time`,
    curves,
    hover: `%{x:.3~g} ${unit.name}<br>%{y:.3~g} mK`,
    x: linear(`time (${unit.name})`, 0, x.at(-1)!),
    y: linear("above the stage at the start (mK)", 0, 1.08 * top),
    limits: limitAt("y", limit),
    alt: `Temperature above the stage against time, up to ${formatQuantity(end, "s")}: ${highestOf(curves)}.`,
  });
}

/** The places to show. @throws FieldError when there is none */
export function placesOf(course: TimeCourse, options: TimeFigureOptions): readonly string[] {
  const places = options.places ?? [course.places[0]!];
  if (places.length === 0) throw new FieldError("places", "at least one place", places);
  return places;
}

/** How high each curve comes [mK], in words. */
export function highestOf(curves: readonly { name: string; highest: number }[]): string {
  const rise = (highest: number) => formatQuantity(highest / 1e3, "K");
  return listed(curves, ({ name, highest }) => `${name} up to ${rise(highest)}`);
}

/** Steps to draw: all, or as many as a screen shows, evenly in time. */
function chosenTimes(times: Float64Array): readonly number[] {
  const end = times.at(-1)!;
  const chosen: number[] = [];
  let next = 0;
  times.forEach((time, i) => {
    // Both sides of a jump are drawn.
    const jump = times[i + 1] === time || times[i - 1] === time;
    if (time / end >= next || jump || i === times.length - 1) {
      chosen.push(i);
      next = time / end + 1 / mostPoints;
    }
  });
  return chosen;
}
