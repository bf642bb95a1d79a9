/**
 * How places come back to the steady state after a hit or a change, over many factors of ten in time.
 * @module
 */
import type { TimeCourse } from "../../mount/time-course.js";
import { notNegative, positive } from "../../units/checks.js";
import { FieldError } from "../../units/errors.js";
import { formatQuantity } from "../../units/format.js";
import type { Time } from "../../units/quantity.js";
import type { Figure } from "../figure.js";
import { curvesPlot, limitAbove, limitAt, logarithmic, unitOfTime } from "../figure-parts.js";
import { rounded } from "../style.js";
import { highestOf, placesOf, type TimeFigureOptions } from "./time-course.js";

/** What the figure shows. */
export interface DecayFigureOptions extends TimeFigureOptions {
  /** The moment from which time is counted, 0 when absent, and what it is. */
  readonly after?: {
    /** The moment from which it is counted [s]. */
    readonly time: Time;
    /** What happened then, in words. */
    readonly what: string;
  };
  /** Left end of the axis, so long after that moment [s]; a millionth of the run when absent. */
  readonly from?: Time;
}

const points = 240;
/** The rises shown: so many factors of ten below the highest. */
const decades = 4;

/** Rise of places above where each began, against the time since a moment, both logarithmic. */
export function decayFigure(course: TimeCourse, options: DecayFigureOptions = {}): Figure {
  const places = placesOf(course, options);
  const { what = "the hit" } = options.after ?? {};
  const origin = notNegative("after.time", options.after?.time ?? 0, "time");
  const length = course.times.at(-1)! - origin;
  if (!(length > 0)) throw new FieldError("after.time", "a time within the run", origin);
  const from = positive("from", options.from ?? 1e-6 * length, "time");
  if (!(from < length)) throw new FieldError("from", "a time within the run", options.from);
  const since = Array.from(
    { length: points },
    (_, i) => from * (length / from) ** (i / (points - 1)),
  );
  const unit = unitOfTime(Math.sqrt(from * length));
  const curves = places.map((place) => {
    const baseline = course.mean(place)[0]!;
    const rises = since.map(
      (time) => 1e3 * (course.meanAt(place, Math.min(origin + time, origin + length)) - baseline),
    );
    return { name: course.label(place), rises, highest: Math.max(...rises) };
  });
  const limit = limitAbove(course.limit, course.before);
  const highest = Math.max(...curves.map((curve) => curve.highest));
  if (!(highest > 0))
    throw new FieldError("places", "a place that is warmer than it began", places);
  // A limit far above everything would squeeze the curves.
  const shown = limit !== undefined && limit > 0 && limit < 100 * highest ? limit : undefined;
  const floor = highest / 10 ** decades;
  const x = rounded(since.map((time) => time / unit.size));
  // A logarithmic axis has no place for what is back at the steady state.
  const drawn = (rise: number) => (rise > floor / 10 ? Number(rise.toPrecision(5)) : null);
  // Above a limit there is space for its name.
  const top = (shown === undefined ? 2 : 4) * Math.max(highest, shown ?? 0);
  return curvesPlot({
    title: options.title ?? `${course.name}: after ${what}`,
    curves: curves.map(({ name, rises }) => ({ name, x, y: rises.map(drawn) })),
    hover: `%{x:.3~g} ${unit.name}<br>%{y:.3~g} mK`,
    x: logarithmic(`time after ${what} (${unit.name})`, from / unit.size, length / unit.size),
    y: logarithmic("rise above the baseline (mK)", floor, top),
    limits: limitAt("y", shown, { isLogarithmic: true }),
    alt: `Rise above the baseline from ${formatQuantity(from, "s")} to ${formatQuantity(length, "s")} after ${what}: ${highestOf(curves)}.`,
  });
}
