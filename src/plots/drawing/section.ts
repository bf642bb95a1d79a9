/**
 * The mount cut through: across at the plan's scale, heights drawn so that each layer can be seen.
 * @module
 */
import type { Rectangle } from "../../chip/grid.js";
import type { PlainMount } from "../../mount/mount.js";
import type { DrawnPart, Look } from "../../mount/thing.js";
import { cooledSides } from "../../mount/things/edges.js";
import { jointCount } from "../../mount/things/joint.js";
import { formatGiven } from "../../units/format.js";
import { type Attributes, box, element, line, short, words } from "../picture/svg.js";
import { ink, paper } from "../style.js";
import {
  type Cut,
  columnWidth,
  dimensionSpace,
  inOrder,
  lookOf,
  type Mark,
  markColumn,
  type Scene,
  type View,
} from "./scene.js";

/** Heights as drawn [px]; glue and a film on the back lie in the layer under the die. */
const height = { film: 6, die: 22, under: 9, floor: 16, seam: 6, stage: 24, plating: 5, clamp: 16 };
const layers: Readonly<Partial<Record<Look, number>>> = {
  ...height,
  glue: height.under,
  back: height.under,
};

/** Where a section shows most: through glue or a clamp near the middle, else beside the middle. */
export function cutOf(mount: PlainMount, parts: readonly DrawnPart[]): Cut {
  const { die } = mount;
  const hasBonds = parts.some(({ look }) => look === "wire");
  const sides = hasBonds ? cooledSides(mount) : [];
  const along = sides.length === 0 || sides.includes("left") || sides.includes("right") ? "x" : "y";
  const across = along === "x" ? die.length : die.width;
  const off = (at: number) => Math.abs(at - 0.45 * across);
  const middles = parts
    .filter(({ look }) => look === "glue" || (look === "clamp" && !hasBonds))
    .flatMap(({ places }) => places)
    .map((r) => (along === "x" ? r.bottom + r.top : r.left + r.right) / 2)
    .sort((a, b) => off(a) - off(b));
  return { along, at: middles[0] ?? 0.42 * across };
}

/** By how much the height of each layer of known thickness is stretched, in words. */
export function stretchedLayers({ parts, scale }: Scene): readonly string[] {
  return parts.flatMap(({ look, thickness }, i) => {
    const pixels = layers[look];
    if (thickness === undefined || pixels === undefined) return [];
    const times = Number((pixels / (thickness * scale)).toPrecision(2));
    return [`part ${i + 1} by ${formatGiven(times, "")}`];
  });
}

/** The section, its upper left corner at 0, 0, across in line with the plan above it. */
export function sectionView(scene: Scene, cut: Cut): View {
  const { mount, parts, scale, gap, wall, wires } = scene;
  const { die } = mount;
  const side = cut.along === "x" ? die.width : die.length;
  const x = (metres: number) => dimensionSpace + (gap + wall + metres) * scale;
  const has = (wanted: Look) => parts.some(({ look }) => look === wanted);
  const dieTop = has("wire") || has("clamp") ? 42 : 14;
  const dieBottom = dieTop + height.die;
  const floorTop = dieBottom + height.under;
  const floorBottom = floorTop + height.floor;
  const stageTop = floorBottom + height.seam;
  const bottom = stageTop + height.stage;
  const [left, right] = [x(-gap - wall), x(side + gap + wall)];
  /** Both ends: the edge of the die there, and a place so far inwards of it [m]. */
  const ends = [
    { edge: cut.along === "x" ? "left" : "lower", at: (inwards: number) => inwards },
    { edge: cut.along === "x" ? "right" : "upper", at: (inwards: number) => side - inwards },
  ] as const;
  const drawn: string[] = [];
  const marks: Mark[] = [];
  const mark = (part: DrawnPart, mx: number, my: number) => marks.push({ part, x: mx, y: my });
  const markLast = (part: DrawnPart, spans: readonly Span[], my: number) => {
    const last = spans.at(-1);
    if (last) mark(part, (x(last[0]) + x(last[1])) / 2, my);
  };
  const under = ({ places }: DrawnPart, look: Attributes) => {
    const { spans, style } = cutThrough(places, cut, look);
    drawn.push(...spans.map(([a, b]) => box(x(a), dieBottom, x(b), floorTop, style)));
    return spans;
  };
  const drawers: Partial<Record<Look, (part: DrawnPart, look: Attributes) => void>> = {
    stage(part, look) {
      drawn.push(box(left, stageTop, right, bottom, look));
      mark(part, right - 14, bottom - height.stage / 2);
    },
    box(part, look) {
      // One piece: walls as high as the die, and the floor.
      const [from, to] = [short(left), short(right)];
      const d =
        `M${from} ${dieTop}H${short(x(-gap))}V${floorTop}H${short(x(side + gap))}V${dieTop}` +
        `H${to}V${floorBottom}H${from}Z`;
      drawn.push(element("path", { d, ...look }));
      mark(part, right - 14, (floorTop + dieTop) / 2 + 4);
    },
    joint(part, look) {
      const bolts = Math.min(6, jointCount(mount.joint));
      const middle = (k: number) => left + ((k + 0.5) / bolts) * (right - left);
      for (let k = 0; k < bolts; k++) {
        const at = middle(k);
        drawn.push(
          box(at - 7, floorBottom - 3, at + 7, stageTop + 3, look),
          box(at - 2, floorBottom, at + 2, bottom - 4, look),
        );
      }
      mark(part, middle(bolts - 1) + 4, (floorBottom + stageTop) / 2);
    },
    die(part, look) {
      drawn.push(box(x(0), dieTop, x(side), dieBottom, look));
      mark(part, x(side) - 30, dieTop + height.die * 0.6);
    },
    film(part, look) {
      const { length = 0, inset = 0 } = mount.pads ?? {};
      const isPads = part.kind === "pads";
      const carrying = ends.filter(({ edge }) => cooledSides(mount).includes(edge));
      // Pads are shown at an end that has some, also where the cut runs between two of them.
      const spans = isPads
        ? carrying.map(({ at }): Span => [at(inset), at(inset + length)])
        : cutThrough(part.places, cut, look).spans;
      for (const [a, b] of spans) drawn.push(box(x(a), dieTop - height.film, x(b), dieTop, look));
      if (!isPads || carrying.includes(ends[1])) markLast(part, spans, dieTop - height.film / 2);
    },
    glue(part, look) {
      markLast(part, under(part, look), (dieBottom + floorTop) / 2);
    },
    back(part, look) {
      under(part, look);
      mark(part, x(side) - 6, (dieBottom + floorTop) / 2);
    },
    clamp(part, look) {
      const { spans, style } = cutThrough(part.places, cut, look);
      const top = dieTop - (has("film") ? height.film : 0) - height.clamp;
      for (const [a, b] of spans) {
        const middle = (x(a) + x(b)) / 2;
        drawn.push(
          box(x(a), dieTop, x(b), top, style),
          line(middle, top - 14, middle, top - 4, { "stroke-width": 1.4 }),
          element("path", { d: `M${short(middle - 4)} ${top - 6}h8l-4 6Z`, fill: ink }),
        );
      }
      markLast(part, spans, dieTop - height.clamp);
    },
    plating(part, look) {
      for (const { at } of ends)
        drawn.push(box(x(at(-gap - wall)), dieTop - height.plating, x(at(-gap)), dieTop, look));
      mark(part, right - 6, dieTop - height.plating / 2);
    },
    wire(part, look) {
      for (const { edge } of ends) {
        const bond = wires.find((each) => each.edge === edge);
        if (!bond) continue;
        const [from, to] = [x(bond.from[cut.along]), x(bond.to[cut.along])];
        const [y1, y2] = [dieTop - height.film, dieTop - (has("plating") ? height.plating : 0)];
        const peak = 6;
        const d = `M${short(from)} ${y1}C${short(from)} ${peak} ${short(to)} ${peak} ${short(to)} ${y2}`;
        drawn.push(element("path", { d, ...look, "stroke-width": 1.8 }));
        if (edge === ends[1].edge) mark(part, (from + to) / 2, 0.36 * dieTop);
      }
    },
  };
  for (const part of inOrder(parts, "stage", "box", "joint", "die"))
    drawers[part.look]?.(part, lookOf(scene, part.look));
  drawn.push(
    words("A", left - 10, dieBottom, { "font-weight": "bold", "text-anchor": "middle" }),
    markColumn(scene, marks, [right + columnWidth - 10, 6, bottom - 4]),
  );
  return {
    body: drawn.join(""),
    width: right + columnWidth,
    height: Math.max(bottom, 6 + 20 * marks.length) + 4,
  };
}

const behind = {
  "stroke-dasharray": "3 2",
  "fill-opacity": 0.55,
  stroke: ink,
  "paint-order": "stroke",
  color: paper,
};

type Span = readonly [number, number];

/** What a cut meets, joined where it touches; or, when it meets nothing, what lies behind it. */
function cutThrough(places: readonly Rectangle[], { along, at }: Cut, look: Attributes) {
  const turned = places.map(({ left, right, bottom, top }) =>
    along === "x" ? ([left, right, bottom, top] as const) : ([bottom, top, left, right] as const),
  );
  const met = turned.filter(([, , low, high]) => low <= at && at <= high);
  const isBehind = met.length === 0;
  const spans: Span[] = [];
  for (const [a, b] of (isBehind ? turned : met).sort((p, q) => p[0] - q[0])) {
    const last = spans.at(-1);
    if (last && a <= last[1] * (1 + 1e-9))
      spans[spans.length - 1] = [last[0], Math.max(last[1], b)];
    else spans.push([a, b]);
  }
  return { spans, style: isBehind ? { ...look, ...behind } : look };
}
