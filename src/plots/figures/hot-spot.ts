/**
 * The die after a hit: its temperature at several times side by side.
 * @module
 */
import type { TimeCourse } from "../../mount/time-course.js";
import { FieldError } from "../../units/errors.js";
import { formatQuantity } from "../../units/format.js";
import type { Figure } from "../figure.js";
import { dieAxes, listed } from "../figure-parts.js";
import { mapColours } from "../ramp.js";
import { number, roundNumbers } from "../scale.js";
import { layout, note, rounded } from "../style.js";

/** Space between two maps, of a side of the die: across, and up for the words above a map. */
const gap = { across: 0.12, up: 0.22 };

const places = 24;

/**
 * Rise of every place of the die above where it began: one map a time, in one frame, all on one
 * logarithmic scale. Where scripts run, a slider shows the die at times between the first and the last.
 * @param times - [s], one to four
 * @throws FieldError when the die is not a sheet, or a time lies outside the run
 */
export function hotSpotFigure(
  course: TimeCourse,
  times: readonly number[],
  title = "The die after the hit",
): Figure {
  const { grid } = course;
  if (!grid) throw new FieldError("die.model", '"sheet"', "one of few nodes in time");
  if (times.length < 1 || times.length > 4) throw new FieldError("times", "1 to 4 times", times);
  const end = course.times.at(-1)!;
  for (const time of times) {
    if (!(time >= 0 && time <= end))
      throw new FieldError("times", `times from 0 to ${end} s`, time);
  }
  const mapAt = (time: number) => Array.from(course.dieRise(time), (rise) => 1e3 * rise);
  const maps = times.map(mapAt);
  const high = Math.max(...maps.flat());
  if (!(high > 0)) throw new FieldError("times", "a time at which the die has risen", times);
  // Four factors of ten are what the eye tells apart on one scale.
  const low = high / 1e4;
  const columns = times.length === 4 ? 2 : times.length;
  const rows = Math.ceil(times.length / columns);
  const [width, length] = [1e3 * grid.width, 1e3 * grid.length];
  const across = tiled(columns, grid.cellsX, width, gap.across);
  const up = tiled(rows, grid.cellsY, length, gap.up);
  const map = (column: number, row: number) => maps[(rows - 1 - row) * columns + column]!;
  const rises = up.cells.map(({ tile: row, cell: j }) =>
    across.cells.map(({ tile: column, cell: i }) =>
      row === undefined || column === undefined ? null : map(column, row)[j * grid.cellsX + i]!,
    ),
  );
  const shown = (map: readonly (readonly (number | null)[])[], digits: number) => {
    const each = (by: (rise: number) => number) =>
      map.map((row) => row.map((v) => (v === null ? null : Number(by(v).toPrecision(digits)))));
    return {
      z: each((rise) => Math.log10(Math.max(low, rise))),
      customdata: each((rise) => Math.max(0, rise)),
    };
  };
  const powers = roundNumbers(low, high, [1]);
  const levels = powers.length > 1 ? powers : [low, high].map((x) => Number(x.toPrecision(2)));
  const look = {
    type: "heatmap",
    zmin: Math.log10(low),
    zmax: Math.log10(high),
    colorscale: mapColours,
    hoverongaps: false,
    colorbar: {
      title: { text: "rise (mK)", side: "right" },
      tickvals: levels.map(Math.log10),
      ticktext: levels.map((level) => number(level)),
    },
    hovertemplate: "%{customdata:.3~g} mK<extra></extra>",
  };
  const timeWords = (time: number) =>
    time === 0 ? "at the hit" : `after ${formatQuantity(time, "s", 2)}`;
  const middles = (cells: number, side: number) =>
    rounded(Array.from({ length: cells }, (_, k) => ((k + 0.5) * side) / cells));
  const frameAt = (time: number) => {
    const map = mapAt(time);
    const rows = Array.from({ length: grid.cellsY }, (_, j) =>
      map.slice(j * grid.cellsX, (j + 1) * grid.cellsX),
    );
    const [x, y] = [middles(grid.cellsX, width), middles(grid.cellsY, length)];
    return {
      name: timeWords(time),
      data: [{ ...look, x, y, ...shown(rows, 3) }],
      layout: layout(title, {
        ...dieAxes({ range: [0, width] }, { range: [0, length] }),
        height: Math.round(Math.min(900, 130 + (560 * length) / width)),
      }),
    };
  };
  const [first, last] = [Math.max(times[0]!, 1e-9 * end), times.at(-1)!];
  const moments = Array.from({ length: places }, (_, k) =>
    frameAt(first * (last / first) ** (k / (places - 1))),
  );
  return {
    ...(last > first && {
      frames: { label: "time after the hit", start: `${times.length} times`, each: moments },
    }),
    data: [
      {
        ...look,
        x: rounded(across.cells.map(({ at }) => at)),
        y: rounded(up.cells.map(({ at }) => at)),
        ...shown(rises, 4),
      },
    ],
    layout: layout(title, {
      ...dieAxes(across.axis, { ...up.axis, range: [0, up.axis.range[1]! + gap.up * length] }),
      height: Math.round(Math.min(900, 130 + 560 * (up.axis.range[1]! / across.axis.range[1]!))),
      annotations: times.map((time, n) =>
        note(timeWords(time), {
          x: (n % columns) * width * (1 + gap.across),
          y: (rows - 1 - Math.floor(n / columns)) * length * (1 + gap.up) + length,
          xanchor: "left",
          yanchor: "bottom",
        }),
      ),
    }),
    alt: `Rise of the die: ${listed(times, (time, n) => {
      const [least, most] = [Math.min(...maps[n]!), Math.max(...maps[n]!)];
      return (
        `${formatQuantity(time, "s", 2)} after the hit from ` +
        `${formatQuantity(Math.max(0, least) / 1e3, "K", 2)} to ${formatQuantity(most / 1e3, "K")}`
      );
    })}.`,
  };
}

/** Several maps one after the other along an axis, each with its own ticks from 0. */
function tiled(tiles: number, cells: number, side: number, gapShare: number) {
  const gap = gapShare * side;
  const half = side / cells / 2;
  // 1, 2 or 5 times a power of ten, two of which fit a side.
  const tick = roundNumbers(side / 20, side / 2).at(-1)!;
  const starts = Array.from({ length: tiles }, (_, tile) => tile * (side + gap));
  return {
    cells: starts.flatMap((start, tile): { at: number; cell: number; tile?: number }[] => [
      // A gap has a cell at either end, as wide as those of the map, and one between.
      ...(tile > 0 ? [start - gap + half, start - gap / 2, start - half] : []).map((at) => ({
        at,
        cell: 0,
      })),
      ...Array.from({ length: cells }, (_, cell) => {
        return { at: start + (2 * cell + 1) * half, cell, tile };
      }),
    ]),
    axis: {
      range: [0, starts.at(-1)! + side],
      tickmode: "array",
      tickvals: starts.flatMap((start) => [start, start + tick, start + 2 * tick]),
      ticktext: starts.flatMap(() => [0, tick, 2 * tick].map(String)),
    },
  };
}
