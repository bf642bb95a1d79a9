/**
 * The mount from above, to scale: die, films, bonds, clamps, what lies under the die in dashes.
 * @module
 */
import type { Rectangle } from "../../chip/grid.js";
import { ownDie, seenFrom } from "../../mount/on-die.js";
import { sourcesOn } from "../../mount/sources.js";
import type { DrawnPart, Look } from "../../mount/thing.js";
import { dieNames, faceOfDie } from "../../mount/things/stack.js";
import { formatGiven } from "../../units/format.js";
import type { Point } from "../picture/looks.js";
import { type Attributes, box, element, line, short, words } from "../picture/svg.js";
import { ink, limitColour, paper, softInk } from "../style.js";
import { outlineOf } from "./outline.js";
import {
  type Cut,
  columnsHeight,
  columnWidth,
  dimension,
  dimensionSpace,
  fromBelow,
  inOrder,
  isOf,
  leftSpace,
  lookOf,
  type Mark,
  markColumns,
  type Scene,
  type View,
} from "./scene.js";

const freeEdge = { "stroke-dasharray": "1.5 2", "stroke-width": 0.8, stroke: softInk };
const hiddenEdge = { "stroke-dasharray": "2 1.5", "stroke-width": 0.8, stroke: ink };

/** From metres to pixels. */
type Axis = (metres: number) => number;

/** The plan, its upper left corner at 0, 0; `left` of it is kept free for a dimension. */
export function planView(scene: Scene, cut: Cut): View {
  const { mount, parts, scale, gap, wall, reach, wires, face } = scene;
  const { die } = mount;
  const around = gap + wall;
  const left = leftSpace;
  const top = 14;
  const x: Axis = (metres) => left + (around + metres - face.left) * scale;
  const y: Axis = (metres) => top + (around + face.top - metres) * scale;
  // The plating's band on the ledge, as far as the bond feet.
  const plated = Math.min(wall * 0.55, (reach - gap) * 1.6);
  /** A band around a rectangle, between two distances from its edge. */
  const band = (outer: number, inner: number, look: Attributes, of = face) => {
    const path = (d: number) =>
      `M${short(x(of.left - d))} ${short(y(of.bottom - d))}H${short(x(of.right + d))}` +
      `V${short(y(of.top + d))}H${short(x(of.left - d))}Z`;
    return element("path", { d: path(outer) + path(inner), "fill-rule": "evenodd", ...look });
  };
  const rectangles = (places: readonly Rectangle[], look: Attributes) =>
    places.map((place) => box(x(place.left), y(place.bottom), x(place.right), y(place.top), look));
  /** Under the die: dashed, as what is hidden is. */
  const hidden = (places: readonly Rectangle[]) =>
    outlineOf(places).map(([x1, y1, x2, y2]) =>
      line(x(x1), y(y1), x(x2), y(y2), { "stroke-dasharray": "5 3", "stroke-width": 1.1 }),
    );
  const drawers: Partial<Record<Look, (part: DrawnPart, look: Attributes) => readonly string[]>> = {
    box: (_, look) => [band(around, gap, look)],
    plating: (_, look) => [band(gap + plated, gap, { ...look, "fill-opacity": 0.75 })],
    die: ({ places }, look) => rectangles(places, look),
    film({ kind, places, die: name }, look) {
      if (!kind.endsWith("ring")) return rectangles(places, { ...look, "stroke-width": 0.5 });
      const { width, inset = 0 } = seenFrom(mount, name).ring!;
      return [band(-inset, -inset - width, look, faceOfDie(mount, name ?? ownDie))];
    },
    clamp: ({ places }, look) => rectangles(places, { ...look, "stroke-width": 1.2 }),
    glue: ({ places }, { fill }) => [
      ...hidden(places),
      ...rectangles(places, { fill, "fill-opacity": 0.45 }),
    ],
    free: ({ places }, look) =>
      places.flatMap((place) => [
        box(x(place.left), y(place.bottom), x(place.right), y(place.top), { ...look, ...freeEdge }),
        line(x(place.left), y(place.bottom), x(place.right), y(place.top), freeEdge),
      ]),
    bump: ({ places }, { fill }) =>
      rectangles(places, { fill, "fill-opacity": 0.7, ...hiddenEdge }),
    back: ({ places }) => hidden(places),
    warm: ({ places }, look) =>
      places.map((place) => {
        const d = `M${short(x(place.left))} ${short(y(place.bottom) - 6)}l6 6l-6 6l-6 -6Z`;
        return element("path", { d, ...look });
      }),
  };
  const middle = (a: number, b: number) => (a + b) / 2;
  const off = (height: number) => Math.abs(height - 0.66 * die.length);
  /** The middle of a wire of a part, of that whose number has the shortest way. */
  const onWire = (part: DrawnPart, side: 1 | -1): Point | undefined => {
    const [wire] = wires
      .filter((each) => isOf(part, each))
      .sort((a, b) => side * (b.to.x - a.to.x) || off(a.from.y) - off(b.from.y));
    return wire && [x(middle(wire.from.x, wire.to.x)), y(middle(wire.from.y, wire.to.y))];
  };
  const corner = y(face.top + around);
  /** Where the number of a look points, where that is not the middle of its rightmost place. */
  const named: Partial<Record<Look, Point>> = {
    box: [x(face.right + gap + 0.8 * wall), corner + 0.5 * wall * scale],
    plating: [
      x(face.right + gap + plated / 2),
      y(middle(face.bottom, face.top) - 0.38 * (face.top - face.bottom)),
    ],
    ...(mount.back && {
      back: [x(die.width - (mount.back.frame ?? 0.1 * die.width) / 2), y(0.3 * die.length)],
    }),
  };
  const centre = ({ left, right, bottom, top }: Rectangle): Point => [
    x(middle(left, right)),
    y(middle(bottom, top)),
  ];
  const marks: Mark[] = [];
  const drawn: string[] = [];
  for (const part of inOrder(fromBelow(scene), "box", "plating")) {
    const { look } = part;
    drawn.push(...(drawers[look]?.(part, lookOf(scene, look)) ?? []));
    const place = rightmost(part, die.length);
    const inDie: Point | undefined = place && [
      x(place.left + 0.86 * (place.right - place.left)),
      y(middle(place.bottom, place.top)) + 1,
    ];
    const at = onWire(part, 1) ?? named[look] ?? (look === "die" ? inDie : place && centre(place));
    if (!at) continue;
    const isAround = look === "box" || look === "plating";
    const leftPlace = look === "die" || named[look] ? undefined : rightmost(part, die.length, -1);
    const left: Point | undefined = isAround
      ? [2 * x(middle(face.left, face.right)) - at[0], at[1]]
      : (onWire(part, -1) ?? (leftPlace && centre(leftPlace)));
    marks.push({ part, x: at[0], y: at[1], ...(left && { left }) });
  }
  drawn.push(...loadPlaces(scene, x, y));
  const place = (at: { readonly x: number; readonly y: number }) =>
    `${short(x(at.x))} ${short(y(at.y))}`;
  for (const part of wires.length > 0 ? parts : []) {
    if (!part.wire) continue;
    const own = wires.filter((wire) => isOf(part, wire));
    drawn.push(
      element("path", {
        d: own.map(({ from, to }) => `M${place(from)}L${place(to)}`).join(""),
        ...lookOf(scene, "wire"),
        "stroke-width": Math.max(1, Math.min(3, part.wire.width * scale)),
        "stroke-linecap": "round",
      }),
    );
  }
  drawn.push(cutLine(cut, scene, x, y));
  const [bottom, right] = [y(face.bottom - around), x(face.right + around)];
  const thin = { "stroke-width": 0.5, stroke: softInk };
  const level = bottom + dimensionSpace - 6;
  for (const end of [x(0), x(die.width)]) drawn.push(line(end, y(0) + 2, end, level + 4, thin));
  for (const end of [y(0), y(die.length)])
    drawn.push(line(x(0) - 2, end, left - dimensionSpace + 2, end, thin));
  drawn.push(
    dimension(formatGiven(die.width, "m"), [x(0), level], [x(die.width), level]),
    dimension(formatGiven(die.length, "m"), [left - 6, y(0)], [left - 6, y(die.length)]),
    markColumns(scene, marks, {
      left: 10,
      right: right + columnWidth - 10,
      top: top + 10,
      bottom: bottom - 4,
    }),
  );
  return {
    body: drawn.join(""),
    width: right + columnWidth,
    height: Math.max(bottom + dimensionSpace, top + 20 + columnsHeight(marks.length)),
  };
}

/**
 * The place of a part that lies farthest to the right, which keeps the way to its number short, and
 * nearest to a third of the height.
 */
function rightmost({ kind, places }: DrawnPart, height: number, side: 1 | -1 = 1) {
  const wanted = (kind === "pads" ? 0.78 : 0.3) * height;
  const off = ({ bottom }: Rectangle) => Math.abs(bottom - wanted);
  return [...places].sort(
    (a, b) => side * Math.round((b.right - a.right) * 1e7) || off(a) - off(b),
  )[0];
}

/** Where loads fall that do not fall evenly. */
function loadPlaces({ mount, scale }: Scene, x: Axis, y: Axis): string[] {
  const style = {
    fill: "none",
    stroke: limitColour,
    "stroke-dasharray": "2 3",
    "stroke-width": 1.3,
  };
  const label = { fill: limitColour, "font-size": 11 };
  return dieNames(mount).flatMap((die) => {
    const { left: dx, bottom: dy } = faceOfDie(mount, die);
    return sourcesOn(mount, die).flatMap(({ name, map: mapOf }) => {
      const map = mapOf(mount);
      if (map?.kind === "rectangle") {
        const [left, top] = [x(dx + map.left), y(dy + map.top)];
        return [
          box(left, y(dy + map.bottom), x(dx + map.right), top, style),
          words(name, left, top - 4, label),
        ];
      }
      if (map?.kind === "spot") {
        const [cx, cy, r] = [x(dx + map.x), y(dy + map.y), Math.max(2, map.radius * scale)];
        return [
          element("circle", { cx, cy, r, ...style }),
          words(name, cx, cy - r - 4, { ...label, "text-anchor": "middle" }),
        ];
      }
      if (map?.kind !== "lines") return [];
      return map.lines.flatMap(({ route }, k) => {
        const ways = route.map((at): Point => [x(dx + at.x), y(dy + at.y)]);
        const d = ways.map(([px, py], i) => `${i ? "L" : "M"}${short(px)} ${short(py)}`).join("");
        const [first, last] = [ways[0]!, ways.at(-1)!];
        const launch = ([cx, cy]: Point) =>
          element("circle", { cx, cy, r: 2.5, fill: paper, stroke: limitColour });
        return [
          element("path", { d, ...style, "stroke-width": 0.9 }),
          launch(first),
          launch(last),
          ...(k === 0 ? [words(name, first[0] + 5, first[1] - 4, label)] : []),
        ];
      });
    });
  });
}

/** Ends of the line along which the section is cut, outside the box, with arrows the way it is seen. */
function cutLine({ along, at }: Cut, { face, gap, wall }: Scene, x: Axis, y: Axis): string {
  const around = gap + wall;
  const style = { "stroke-width": 1.6, stroke: ink };
  const letter = {
    "text-anchor": "middle",
    "font-weight": "bold",
    stroke: paper,
    "stroke-width": 3,
    "paint-order": "stroke",
  };
  /** An end at a place, its way inwards, and where its letter stands [px]. */
  const end = (px: number, py: number, [dx, dy]: Point, [ax, ay]: Point) =>
    line(px - dx / 2, py - dy / 2, px + dx, py + dy, style) +
    arrow(px - dx / 2, py - dy / 2) +
    words("A", px + ax, py + ay, letter);
  // The section's right is the right or the top of the plan, and its top is towards the reader.
  const [sx, sy] = along === "x" ? [0, -1] : [-1, 0];
  const arrow = (px: number, py: number) => {
    const [tx, ty] = [px + 9 * sx, py + 9 * sy];
    const d =
      `M${short(px + 5 * sx + 2.5 * sy)} ${short(py + 5 * sy + 2.5 * sx)}` +
      `L${short(tx)} ${short(ty)}L${short(px + 5 * sx - 2.5 * sy)} ${short(py + 5 * sy - 2.5 * sx)}Z`;
    return line(px, py, tx, ty, style) + element("path", { d, fill: ink, stroke: ink });
  };
  if (along === "x")
    return (
      end(x(face.left - around), y(at), [8, 0], [7, -5]) +
      end(x(face.right + around), y(at), [-8, 0], [-7, -5])
    );
  const top = y(face.top + around);
  return end(x(at), y(face.bottom - around), [0, -8], [9, -4]) + end(x(at), top, [0, 8], [9, 12]);
}
