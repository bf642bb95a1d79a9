/**
 * What the places of a mount do in time.
 * @module
 */
import type { TimeCourse } from "../../mount/time-course.js";
import { FieldError } from "../../units/errors.js";
import { formatQuantity } from "../../units/format.js";
import type { Figure } from "../figure.js";
import { axis, colours, dashes, layout, limitLine, nth, rounded } from "../style.js";
import { unitOfTime } from "../time-unit.js";

/** What the figure shows. */
export interface TimeFigureOptions {
  /** Title over the figure; one of its own words when absent. */
  readonly title?: string;
  /** Places by name; the chip alone when absent. */
  readonly places?: readonly string[];
}

/** Points of a curve: more than a screen shows would only make the page heavy. */
const mostPoints = 600;

/** Rise of places above where the stage began, against time; the limit as a dashed line. */
export function timeFigure(course: TimeCourse, options: TimeFigureOptions = {}): Figure {
  const places = options.places ?? [course.places[0]!];
  if (places.length === 0) throw new FieldError("places", "at least one place", places);
  const end = course.times.at(-1)!;
  const unit = unitOfTime(end);
  const chosen = chosenTimes(course.times);
  const stage = course.coldest(course.places.at(-1)!)[0]!;
  const curves = places.map((name) => {
    const mean = course.mean(name);
    return { name: course.label(name), ys: chosen.map((i) => 1e3 * (mean[i]! - stage)) };
  });
  const xs = rounded(chosen.map((i) => course.times[i]! / unit.size));
  const limit = course.limit === undefined ? undefined : 1e3 * (course.limit - stage);
  const top = Math.max(...curves.flatMap(({ ys }) => ys), limit ?? 0);
  const drawn = limit === undefined ? undefined : limitLine(limit);
  return {
    data: curves.map(({ name, ys }, i) => ({
      type: "scatter",
      mode: "lines",
      name,
      x: xs,
      y: rounded(ys),
      line: { color: nth(colours, i), dash: nth(dashes, i), width: 2.5 },
      showlegend: curves.length > 1,
      hovertemplate: `%{x:.3~g} ${unit.name}<br>%{y:.3~g} mK<extra>${name}</extra>`,
    })),
    layout: layout(
      options.title ??
        `${course.name}: ${places.length === 1 ? course.label(places[0]!) : "places"} in time`,
      {
        xaxis: axis(`time (${unit.name})`, { range: [0, xs.at(-1)!] }),
        yaxis: axis("above the stage at the start (mK)", { range: [0, 1.08 * top] }),
      },
      drawn ? { shapes: [drawn.shape], annotations: [drawn.annotation] } : {},
    ),
    alt: `Temperature above the stage against time, up to ${formatQuantity(end, "s")}: ${curves
      .map(({ name, ys }) => `${name} up to ${formatQuantity(Math.max(...ys) / 1e3, "K")}`)
      .join("; ")}.`,
  };
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
