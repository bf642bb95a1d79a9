/**
 * What the places of a mount do in time.
 * @module
 */
import type { TimeCourse } from "../mount/time-course.js";
import { FieldError } from "../units/errors.js";
import { formatQuantity } from "../units/format.js";
import type { Figure } from "./figure.js";
import { axis, colours, dashes, layout, limitLine, logAxis, nth, rounded } from "./style.js";

/** What the figure shows. */
export interface TimeFigureOptions {
  readonly title?: string;
  /** Places by name; the chip alone when absent. */
  readonly places?: readonly string[];
  /**
   * `"logarithmic"`: time and rise on logarithmic axes, from this time after the start on [s], as suits a
   * pulse; straight axes when absent.
   */
  readonly logarithmicFrom?: number;
}

/** Points of a curve: more than a screen shows would only make the page heavy. */
const mostPoints = 600;

/** Rise of places above where the chip's stage began, against time; the limit as a dashed line. */
export function timeFigure(course: TimeCourse, options: TimeFigureOptions = {}): Figure {
  const places = options.places ?? [course.places[0]!];
  if (places.length === 0) throw new FieldError("places", "at least one place", places);
  const logarithmic = options.logarithmicFrom !== undefined;
  const end = course.times.at(-1)!;
  const unit = unitOfTime(logarithmic ? Math.sqrt(options.logarithmicFrom! * end) : end);
  const chosen = chosenTimes(course.times, options.logarithmicFrom);
  const stage = course.coldest(course.places.at(-1)!)[0]!;
  const origin = logarithmic ? course.before : stage;
  const curves = places.map((name) => {
    const mean = course.mean(name);
    const base = logarithmic ? mean[0]! : origin;
    return { name: course.label(name), ys: chosen.map((i) => 1e3 * (mean[i]! - base)) };
  });
  const xs = rounded(chosen.map((i) => course.times[i]! / unit.size));
  const highest = Math.max(...curves.flatMap(({ ys }) => ys));
  const limit = course.limit === undefined ? undefined : 1e3 * (course.limit - origin);
  const top = Math.max(highest, limit ?? 0);
  const yTitle = logarithmic ? "rise above rest (mK)" : "above the stage at the start (mK)";
  const floor = top * 1e-4;
  const shown =
    limit === undefined ? undefined : limitLine(logarithmic ? Math.log10(limit) : limit);
  return {
    data: curves.map(({ name, ys }, i) => ({
      type: "scatter",
      mode: "lines",
      name,
      x: xs,
      y: rounded(logarithmic ? ys.map((y) => Math.max(y, floor / 10)) : ys),
      line: { color: nth(colours, i), dash: nth(dashes, i), width: 2.5 },
      showlegend: curves.length > 1,
      hovertemplate: `%{x:.3~g} ${unit.name}<br>%{y:.3~g} mK<extra>${name}</extra>`,
    })),
    layout: layout(
      options.title ??
        `${course.name}: ${places.length === 1 ? course.label(places[0]!) : "places"} in time`,
      {
        xaxis: logarithmic
          ? logAxis(`time after the hit (${unit.name})`, xs[0]!, xs.at(-1)!)
          : axis(`time (${unit.name})`, { range: [0, xs.at(-1)!] }),
        yaxis: logarithmic
          ? logAxis(yTitle, floor, 1.5 * top)
          : axis(yTitle, { range: [0, 1.08 * top] }),
      },
      shown
        ? {
            shapes: [logarithmic ? { ...shown.shape, y0: limit, y1: limit } : shown.shape],
            annotations: [shown.annotation],
          }
        : {},
    ),
    alt: `${yTitle} against time, up to ${formatQuantity(end, "s")}: ${curves
      .map(({ name, ys }) => `${name} up to ${formatQuantity(Math.max(...ys) / 1e3, "K")}`)
      .join("; ")}.`,
  };
}

/** Steps to draw: all, or as many as a screen shows, evenly in time or in its logarithm. */
function chosenTimes(times: Float64Array, from: number | undefined): readonly number[] {
  const end = times.at(-1)!;
  const place = (t: number) =>
    from === undefined ? t / end : Math.log(t / from) / Math.log(end / from);
  const chosen: number[] = [];
  let next = 0;
  times.forEach((time, i) => {
    const s = place(time);
    // Both sides of a jump are drawn.
    const jump = times[i + 1] === time || times[i - 1] === time;
    if (s >= 0 && (s >= next || jump || i === times.length - 1)) {
      chosen.push(i);
      next = s + 1 / mostPoints;
    }
  });
  return chosen;
}

function unitOfTime(time: number): { readonly name: string; readonly size: number } {
  if (time < 1e-4) return { name: "µs", size: 1e-6 };
  if (time < 0.1) return { name: "ms", size: 1e-3 };
  if (time < 1000) return { name: "s", size: 1 };
  return { name: "h", size: 3600 };
}
