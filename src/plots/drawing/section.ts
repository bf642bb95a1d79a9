/**
 * The mount cut through: across at the plan's scale, heights drawn so that each layer can be seen.
 * @module
 */
import type { Rectangle } from "../../chip/grid.js";
import type { PlainMount } from "../../mount/mount.js";
import { ownDie, seenFrom } from "../../mount/on-die.js";
import type { DrawnPart, Look } from "../../mount/thing.js";
import { cooledSides } from "../../mount/things/edges.js";
import { faceOfDie } from "../../mount/things/stack.js";
import { formatGiven } from "../../units/format.js";
import { type Attributes, box, element, line, short, words } from "../picture/svg.js";
import { ink, paper, softInk } from "../style.js";
import { drawnBelow, heightBelow } from "./below.js";
import {
  type Cut,
  columnsHeight,
  columnWidth,
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

/** Heights as drawn [px]; glue and a film on the back lie in the layer under the die. */
const height = { film: 6, die: 22, bump: 9, under: 9, floor: 16, stage: 24, plating: 5, clamp: 16 };
const layers: Readonly<Partial<Record<Look, number>>> = {
  ...height,
  glue: height.under,
  back: height.under,
};

/** Where a section shows most: through glue, bumps or a clamp near the middle, else beside the middle. */
export function cutOf(mount: PlainMount, parts: readonly DrawnPart[]): Cut {
  const { die } = mount;
  const hasBonds = parts.some(({ look }) => look === "wire");
  const bonded = new Set(parts.flatMap(({ wire, die: name }) => (wire ? [name] : [])));
  const sides = [...bonded].flatMap((name) => cooledSides(seenFrom(mount, name)));
  const along = sides.length === 0 || sides.includes("left") || sides.includes("right") ? "x" : "y";
  const across = along === "x" ? die.length : die.width;
  const off = (at: number) => Math.abs(at - 0.45 * across);
  const middles = parts
    .filter(({ look }) => look === "glue" || look === "bump" || (look === "clamp" && !hasBonds))
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
  const { mount, parts, gap, wall, wires, face, levels, scale } = scene;
  /** From where to where a rectangle reaches along the cut [m]. */
  const along = ({ left, right, bottom, top }: Rectangle): Span =>
    cut.along === "x" ? [left, right] : [bottom, top];
  const [begin, end] = along(face);
  // Without numbers there is no column of them.
  const space = scene.painted ? dimensionSpace : leftSpace;
  const x = (metres: number) => space + (gap + wall + metres - begin) * scale;
  const has = (wanted: Look) => parts.some(({ look }) => look === wanted);
  const [lowest, highest] = [Math.min(...levels.values()), Math.max(...levels.values())];
  const storey = height.die + height.bump;
  const above = has("wire") || has("clamp") ? 42 : 14;
  /** A die in the section: its ends along the cut, and its front, which is down where it is joined below. */
  const dieOf = ({ die: name = ownDie }: Pick<DrawnPart, "die">) => {
    const top = above + (highest - levels.get(name)!) * storey;
    const below = mount.between?.find(({ from }) => from === name);
    const isFlipped =
      below !== undefined && (below.fromFace ?? ("bumps" in below ? "front" : "back")) === "front";
    const bottom = top + height.die;
    const front: Span = isFlipped ? [bottom, bottom + height.film] : [top - height.film, top];
    const [first, last] = along(faceOfDie(mount, name));
    const seen = seenFrom(mount, name);
    const carrying = cooledSides(seen);
    /** Both ends: the edge of the die there, and a place so far inwards of it [m]. */
    const ends = [
      { edge: cut.along === "x" ? "left" : "lower", at: (inwards: number) => first + inwards },
      { edge: cut.along === "x" ? "right" : "upper", at: (inwards: number) => last - inwards },
    ] as const;
    const carried = ends.filter(({ edge }) => carrying.includes(edge));
    return { top, bottom, front, first, last, seen, ends, carried };
  };
  /** The lowest dies lie in the box. */
  const dieTop = above + (highest - lowest) * storey;
  const dieBottom = dieTop + height.die;
  const floorTop = dieBottom + height.under;
  const floorBottom = floorTop + height.floor;
  const stageTop = floorBottom + heightBelow(parts);
  const bottom = stageTop + height.stage;
  const [left, right] = [x(begin - gap - wall), x(end + gap + wall)];
  const drawn: string[] = [];
  const marks: Mark[] = [];
  const mark = (part: DrawnPart, mx: number, my: number, left?: number) =>
    marks.push({ part, x: mx, y: my, ...(left !== undefined && { left: [left, my] }) });
  const markLast = (part: DrawnPart, spans: readonly Span[], my: number) => {
    const [first, last] = [spans[0], spans.at(-1)];
    const middle = (span: Span) => (x(span[0]) + x(span[1])) / 2;
    if (first && last) mark(part, middle(last), my, middle(first));
  };
  const boxes = (spans: readonly Span[], from: number, to: number, look: Attributes) =>
    drawn.push(...spans.map(([a, b]) => box(x(a), from, x(b), to, look)));
  /** What lies in a layer below a place [px]. */
  const layer = (part: DrawnPart, look: Attributes, from: number, high: number) => {
    const { spans, style } = cutThrough(part.places, cut, look);
    boxes(spans, from, from + high, style);
    return spans;
  };
  const drawers: Partial<Record<Look, (part: DrawnPart, look: Attributes) => void>> = {
    stage(part, look) {
      drawn.push(box(left, stageTop, right, bottom, look));
      mark(part, right - 14, bottom - height.stage / 2, left + 14);
    },
    box(part, look) {
      // One piece: walls as high as the die, and the floor.
      const [from, to] = [short(left), short(right)];
      const d =
        `M${from} ${dieTop}H${short(x(begin - gap))}V${floorTop}H${short(x(end + gap))}V${dieTop}` +
        `H${to}V${floorBottom}H${from}Z`;
      drawn.push(element("path", { d, ...look }));
      mark(part, right - 14, (floorTop + dieTop) / 2 + 4, left + 14);
    },
    free(part) {
      const [from, to] = dieOf(part).front;
      const { spans } = cutThrough(part.places, cut, {});
      boxes(spans, from, to, { fill: "none", stroke: softInk, "stroke-dasharray": "1.5 2" });
      markLast(part, spans, (from + to) / 2);
    },
    die(part, look) {
      const { first, last, top, bottom: low } = dieOf(part);
      drawn.push(box(x(first), top, x(last), low, look));
      mark(part, x(last) - 30, top + height.die * 0.6, x(first) + 30);
    },
    film(part, look) {
      const { seen, ends, carried, front } = dieOf(part);
      const { length = 0, inset = 0 } = seen.pads ?? {};
      const isPads = part.kind.endsWith("pads");
      // Pads are shown at an end that has some, also where the cut runs between two of them.
      const spans = isPads
        ? carried.map(({ at }): Span => [at(inset), at(inset + length)])
        : cutThrough(part.places, cut, look).spans;
      boxes(spans, ...front, look);
      const middle = (front[0] + front[1]) / 2;
      if (!isPads || carried.includes(ends[1])) markLast(part, spans, middle);
    },
    bump(part, look) {
      const { bottom: from } = dieOf({ die: part.below! });
      markLast(part, layer(part, look, from, height.bump), from + height.bump / 2);
    },
    glue(part, look) {
      const { bottom: from } = dieOf(part);
      markLast(part, layer(part, look, from, height.under), from + height.under / 2);
    },
    back(part, look) {
      const { last, bottom: low } = dieOf(part);
      layer(part, look, low, height.under);
      mark(part, x(last) - 6, low + height.under / 2);
    },
    clamp(part, look) {
      const { top: on, bottom: low } = dieOf(part);
      const { spans, style } = cutThrough(part.places, cut, look);
      const top = on - (has("film") ? height.film : 0) - height.clamp;
      for (const [a, b] of spans) {
        const middle = (x(a) + x(b)) / 2;
        // What a clamp presses the die on.
        if (low === dieBottom) {
          const { fill, ...edge } = lookOf(scene, "box");
          drawn.push(box(x(a), low, x(b), floorTop, { ...style, ...edge, fill }));
        }
        drawn.push(
          box(x(a), on, x(b), top, style),
          line(middle, top - 14, middle, top - 4, { "stroke-width": 1.4 }),
          element("path", { d: `M${short(middle - 4)} ${top - 6}h8l-4 6Z`, fill: ink }),
        );
      }
      markLast(part, spans, on - height.clamp);
    },
    plating(part, look) {
      drawn.push(
        box(left, dieTop - height.plating, x(begin - gap), dieTop, look),
        box(x(end + gap), dieTop - height.plating, right, dieTop, look),
      );
      mark(part, right - 6, dieTop - height.plating / 2, left + 6);
    },
    wire(part, look) {
      const { ends, top } = dieOf(part);
      for (const { edge } of ends) {
        const bond = wires.find((each) => each.edge === edge && isOf(part, each));
        if (!bond) continue;
        const [from, to] = [x(bond.from[cut.along]), x(bond.to[cut.along])];
        const [y1, y2] = [top - height.film, dieTop - (has("plating") ? height.plating : 0)];
        const peak = Math.min(y1, y2) - 30;
        const d = `M${short(from)} ${y1}C${short(from)} ${peak} ${short(to)} ${peak} ${short(to)} ${y2}`;
        drawn.push(element("path", { d, ...look, "stroke-width": 1.8 }));
        if (edge === ends[1].edge) mark(part, (from + to) / 2, Math.min(y1, y2) - 20.88);
      }
    },
  };
  for (const part of inOrder(fromBelow(scene), "stage", "box", "die"))
    drawers[part.look]?.(part, lookOf(scene, part.look));
  const below = drawnBelow(mount, parts, [left, right], floorBottom, ({ look }) =>
    lookOf(scene, look),
  );
  for (const { part, body, mark: place } of below) {
    drawn.push(body);
    mark(part, ...place);
  }
  drawn.push(
    // A section in the colours of temperature has no plan beside it that says where A is.
    scene.painted
      ? ""
      : words("A", left - 10, dieBottom, { "font-weight": "bold", "text-anchor": "middle" }),
    markColumns(scene, marks, {
      left: 10,
      right: right + columnWidth - 10,
      top: 6,
      bottom: bottom - 4,
    }),
  );
  return {
    body: drawn.join(""),
    width: right + columnWidth,
    height: Math.max(bottom, 6 + columnsHeight(marks.length)) + 4,
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
