/**
 * The die after a hit: its temperature at several times side by side.
 * @module
 */
import type { TimeCourse } from "../mount/time-course.js";
import { FieldError } from "../units/errors.js";
import { formatQuantity } from "../units/format.js";
import type { Figure } from "./figure.js";
import { axis, layout, note, rounded } from "./style.js";

/** Share of the width that lies between two maps. */
const gap = 0.04;

/**
 * Rise of every place of the die above where it began, one map a time, all on one logarithmic scale.
 * @param times - [s], one to four
 * @throws FieldError when the die is not a sheet, or a time lies outside the run
 */
export function hotSpotFigure(
  course: TimeCourse,
  times: readonly number[],
  title = "The die after the hit",
): Figure {
  const { grid } = course;
  if (!grid) throw new FieldError("die.model", '"sheet" (or leave it out)', "one of few nodes");
  if (times.length < 1 || times.length > 4) throw new FieldError("times", "1 to 4 times", times);
  const end = course.times.at(-1)!;
  for (const time of times) {
    if (!(time >= 0 && time <= end))
      throw new FieldError("times", `times from 0 to ${end} s`, time);
  }
  const before = course.before;
  const maps = times.map((time) => Array.from(course.die(time), (T) => 1e3 * (T - before)));
  const high = Math.max(...maps.flat());
  // Four factors of ten are what the eye tells apart on one scale.
  const low = Math.max(high / 1e4, Math.min(...maps.flat().filter((rise) => rise > 0)));
  const levels = decades(low, high);
  const xs = rounded(Array.from({ length: grid.cellsX }, (_, i) => 1e3 * grid.x(i)));
  const ys = rounded(Array.from({ length: grid.cellsY }, (_, j) => 1e3 * grid.y(j)));
  const columns = times.length === 4 ? 2 : times.length;
  const rows = Math.ceil(times.length / columns);
  const place = (k: number, of: number) => {
    const wide = (1 - gap * 2 * (of - 1)) / of;
    return [k * (wide + 2 * gap), k * (wide + 2 * gap) + wide] as const;
  };
  const axes: Record<string, object> = {};
  const data = maps.map((map, n): object => {
    const suffix = n === 0 ? "" : String(n + 1);
    const [column, row] = [n % columns, rows - 1 - Math.floor(n / columns)];
    const lowest = row === 0;
    axes[`xaxis${suffix}`] = axis(lowest ? "across the die (mm)" : "", {
      domain: place(column, columns),
      anchor: `y${suffix}`,
      showgrid: false,
      showticklabels: lowest,
      constrain: "domain",
    });
    axes[`yaxis${suffix}`] = axis(column === 0 ? "up the die (mm)" : "", {
      domain: place(row, rows),
      anchor: `x${suffix}`,
      scaleanchor: `x${suffix}`,
      showgrid: false,
      showticklabels: column === 0,
      constrain: "domain",
    });
    return {
      type: "heatmap",
      x: xs,
      y: ys,
      z: ys.map((_, j) =>
        rounded(xs.map((_, i) => Math.log10(Math.max(low, map[j * grid.cellsX + i]!)))),
      ),
      xaxis: `x${suffix}`,
      yaxis: `y${suffix}`,
      zmin: Math.log10(low),
      zmax: Math.log10(high),
      colorscale: "Cividis",
      showscale: n === 0,
      colorbar: {
        title: { text: "rise (mK)", side: "right" },
        tickvals: levels.map(Math.log10),
        ticktext: levels.map(String),
      },
      hovertemplate: "x %{x:.3~g} mm<br>y %{y:.3~g} mm<extra></extra>",
    };
  });
  const annotations = times.map((time, n) => {
    const [column, row] = [n % columns, rows - 1 - Math.floor(n / columns)];
    return note(time === 0 ? "at the hit" : `after ${formatQuantity(time, "s", 2)}`, {
      x: place(column, columns)[0],
      y: place(row, rows)[1],
      xref: "paper",
      yref: "paper",
      xanchor: "left",
      yanchor: "bottom",
    });
  });
  return {
    data,
    layout: layout(title, axes, {
      annotations,
      height: Math.round(
        Math.min(900, 140 + ((rows * 600) / columns) * (grid.length / grid.width)),
      ),
      margin: { l: 70, r: 30, t: 80, b: 60 },
    }),
    alt: `Rise of the die: ${times
      .map((time, n) => {
        const [least, most] = [Math.min(...maps[n]!), Math.max(...maps[n]!)];
        return (
          `${formatQuantity(time, "s", 2)} after the hit from ${formatQuantity(least / 1e3, "K")} ` +
          `to ${formatQuantity(most / 1e3, "K")}`
        );
      })
      .join("; ")}.`,
  };
}

/** 1, 10, 100 ... between low and high; the ends where no factor of ten lies between. */
function decades(low: number, high: number): number[] {
  const found: number[] = [];
  for (let e = Math.ceil(Math.log10(low)); e <= Math.floor(Math.log10(high)); e++) {
    found.push(Number((10 ** e).toPrecision(1)));
  }
  return found.length > 1 ? found : [low, high].map((x) => Number(x.toPrecision(2)));
}
