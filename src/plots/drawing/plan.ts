/**
 * The mount from above, to scale: die, films, bonds, clamps, what lies under the die in dashes.
 * @module
 */
import type { Rectangle } from "../../chip/grid.js";
import type { DrawnPart } from "../../mount/thing.js";
import { formatGiven } from "../../units/format.js";
import { type Length, toSI } from "../../units/quantity.js";
import { box, element, line, short, words } from "../picture/svg.js";
import { ink, limitColour, paper, softInk } from "../style.js";
import { outlineOf } from "./outline.js";
import {
  columnWidth,
  dimension,
  feetOf,
  lookOf,
  type Mark,
  markColumn,
  numberOf,
  type Scene,
} from "./scene.js";

/** A view: its SVG and how much space it takes [px]. */
export interface View {
  readonly body: string;
  readonly width: number;
  readonly height: number;
}

/** Where the mount is cut for its section: along x at a height y, or along y. */
export interface Cut {
  readonly along: "x" | "y";
  readonly at: number;
}

/** Space left of and under the box for the die's dimensions [px]. */
export const dimensionSpace = 26;

/** The plan, its upper left corner at 0, 0; `left` of it is kept free for a dimension. */
export function planView(scene: Scene, cut: Cut): View {
  const { mount, parts, scale, gap, wall, reach } = scene;
  const { die } = mount;
  const around = gap + wall;
  const left = dimensionSpace;
  const top = 14;
  const x = (metres: number) => left + (around + metres) * scale;
  const y = (metres: number) => top + (around + die.length - metres) * scale;
  const marks: Mark[] = [];
  const mark = (kind: string, mx: number, my: number) =>
    marks.push({ number: numberOf(scene, kind), x: mx, y: my });
  const drawn: string[] = [];
  const ring = (outer: number, inner: number) => {
    const path = (d: number) =>
      `M${short(x(-d))} ${short(y(-d))}H${short(x(die.width + d))}V${short(y(die.length + d))}H${short(x(-d))}Z`;
    return `${path(outer)}${path(inner)}`;
  };
  drawn.push(
    element("path", { d: ring(around, gap), "fill-rule": "evenodd", ...lookOf(scene, "box") }),
  );
  mark("box", x(die.width + gap + 0.8 * wall), y(die.length + around) + 0.5 * wall * scale);
  if (parts.some(({ kind }) => kind === "plating")) {
    const band = Math.min(wall * 0.55, (reach - gap) * 1.6);
    drawn.push(
      element("path", {
        d: ring(gap + band, gap),
        "fill-rule": "evenodd",
        ...lookOf(scene, "plating"),
        "fill-opacity": 0.75,
      }),
    );
    mark("plating", x(die.width + gap + band / 2), y(0.12 * die.length));
  }
  drawn.push(box(x(0), y(0), x(die.width), y(die.length), lookOf(scene, "die")));
  mark("die", x(0.86 * die.width), y(0.5 * die.length) + 1);
  const rectangle = ({ left: a, right: b, bottom: c, top: d }: Rectangle, more: object) =>
    box(x(a), y(c), x(b), y(d), { ...more } as Record<string, string | number>);
  for (const part of parts) {
    const look = lookOf(scene, part.look);
    // A foot or a bond by the right edge keeps the way to its number short.
    const named = rightmost(part, die.length);
    if (part.kind === "back" || part.kind === "glue") {
      // Under the die: dashed, as what is hidden is.
      for (const [x1, y1, x2, y2] of outlineOf(part.places)) {
        drawn.push(
          line(x(x1), y(y1), x(x2), y(y2), { "stroke-dasharray": "5 3", "stroke-width": 1.1 }),
        );
      }
      if (part.kind === "glue") {
        for (const place of part.places)
          drawn.push(rectangle(place, { fill: look.fill, "fill-opacity": 0.45 }));
      }
    } else if (part.kind === "ring") {
      const { width, inset = 0 } = mount.ring!;
      drawn.push(
        element("path", { d: ring(-inset, -inset - width), "fill-rule": "evenodd", ...look }),
      );
    } else if (part.kind === "pads") {
      drawn.push(...part.places.map((place) => rectangle(place, { ...look, "stroke-width": 0.5 })));
    } else if (part.look === "clamp") {
      drawn.push(...part.places.map((place) => rectangle(place, { ...look, "stroke-width": 1.2 })));
    } else if (part.look === "warm") {
      const { left: a, bottom: b } = part.places[0]!;
      drawn.push(
        element("path", { d: `M${short(x(a))} ${short(y(b) - 6)}l6 6l-6 6l-6 -6Z`, ...look }),
      );
    }
    if (part.kind === "back") {
      const band = mount.back!.frame ?? 0.1 * die.width;
      mark(part.kind, x(die.width - band / 2), y(0.3 * die.length));
    } else if (named && part.look !== "wire" && part.kind !== "die") {
      mark(part.kind, x((named.left + named.right) / 2), y((named.bottom + named.top) / 2));
    }
  }
  drawn.push(...loadPlaces(scene, x, y));
  const feet = feetOf(scene);
  if (feet.length > 0) {
    const far = (foot: (typeof feet)[number]) => ({
      x: foot.edge === "left" ? -reach : foot.edge === "right" ? die.width + reach : foot.x,
      y: foot.edge === "lower" ? -reach : foot.edge === "upper" ? die.length + reach : foot.y,
    });
    const d = feet.map((foot) => {
      const end = far(foot);
      return `M${short(x(foot.x))} ${short(y(foot.y))}L${short(x(end.x))} ${short(y(end.y))}`;
    });
    const wide = mount.bonds!.diameter ?? mount.bonds!.width!;
    drawn.push(
      element("path", {
        d: d.join(""),
        ...lookOf(scene, "wire"),
        "stroke-width": Math.max(1, Math.min(3, wide * scale)),
        "stroke-linecap": "round",
      }),
    );
    const named = [...feet].sort(
      (a, b) =>
        far(b).x - far(a).x ||
        Math.abs(a.y - 0.66 * die.length) - Math.abs(b.y - 0.66 * die.length),
    )[0]!;
    const end = far(named);
    mark("bonds", x((named.x + end.x) / 2), y((named.y + end.y) / 2));
  }
  drawn.push(cutLine(cut, scene, x, y));
  const [bottom, right] = [y(-around), x(die.width + around)];
  const thin = { "stroke-width": 0.5, stroke: softInk };
  const level = bottom + dimensionSpace - 6;
  for (const end of [x(0), x(die.width)]) drawn.push(line(end, y(0) + 2, end, level + 4, thin));
  for (const end of [y(0), y(die.length)]) drawn.push(line(x(0) - 2, end, 2, end, thin));
  drawn.push(
    dimension(formatGiven(die.width, "m"), [x(0), level], [x(die.width), level]),
    dimension(formatGiven(die.length, "m"), [left - 6, y(0)], [left - 6, y(die.length)]),
    markColumn(marks, right + columnWidth - 10, top + 10, bottom - 4),
  );
  return { body: drawn.join(""), width: right + columnWidth, height: bottom + dimensionSpace };
}

/** The place of a part that lies farthest to the right, and nearest to a third of the height. */
function rightmost(part: DrawnPart, height: number): Rectangle | undefined {
  const wanted = { die: 0.5, pads: 0.78 }[part.kind] ?? 0.3;
  return [...part.places].sort(
    (a, b) =>
      Math.round((b.right - a.right) * 1e7) ||
      Math.abs(a.bottom - wanted * height) - Math.abs(b.bottom - wanted * height),
  )[0];
}

/** Where loads fall that do not fall evenly. */
function loadPlaces(
  { mount, scale }: Scene,
  x: (metres: number) => number,
  y: (metres: number) => number,
): string[] {
  const style = {
    fill: "none",
    stroke: limitColour,
    "stroke-dasharray": "2 3",
    "stroke-width": 1.3,
  };
  return mount.loads.flatMap((load) => {
    const map = "map" in load ? load.map : undefined;
    const name = load.name ?? load.kind;
    const si = (value: Length) => toSI(`${name}.map`, value, "length");
    const label = { fill: limitColour, "font-size": 11 };
    if (map?.kind === "rectangle") {
      const [left, top] = [x(si(map.left)), y(si(map.top))];
      return [
        box(left, y(si(map.bottom)), x(si(map.right)), top, style),
        words(name, left + 4, top + 13, label),
      ];
    }
    if (map?.kind === "spot") {
      const [cx, cy, r] = [x(si(map.x)), y(si(map.y)), Math.max(2, si(map.radius) * scale)];
      return [
        element("circle", { cx, cy, r, ...style }),
        words(name, cx, cy - r - 4, { ...label, "text-anchor": "middle" }),
      ];
    }
    return [];
  });
}

/** Ends of the line along which the section is cut, outside the box. */
function cutLine(
  cut: Cut,
  { mount: { die }, gap, wall }: Scene,
  x: (metres: number) => number,
  y: (metres: number) => number,
): string {
  const around = gap + wall;
  const letter = {
    "text-anchor": "middle",
    "font-weight": "bold",
    stroke: paper,
    "stroke-width": 3,
    "paint-order": "stroke",
  } as const;
  const style = { "stroke-width": 1.6, stroke: ink };
  if (cut.along === "x") {
    const level = y(cut.at);
    const [a, b] = [x(-around), x(die.width + around)];
    return (
      line(a - 4, level, a + 8, level, style) +
      line(b - 8, level, b + 4, level, style) +
      words("A", a + 7, level - 5, letter) +
      words("A", b - 7, level - 5, letter)
    );
  }
  const upright = x(cut.at);
  const [a, b] = [y(-around), y(die.length + around)];
  return (
    line(upright, a - 8, upright, a + 4, style) +
    line(upright, b + 8, upright, b - 4, style) +
    words("A", upright + 9, a - 4, letter) +
    words("A", upright + 9, b + 12, letter)
  );
}
