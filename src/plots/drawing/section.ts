/**
 * The mount cut through: across at the plan's scale, heights drawn so that each layer can be seen.
 * @module
 */
import type { Rectangle } from "../../chip/grid.js";
import type { PlainMount } from "../../mount/mount.js";
import type { DrawnPart } from "../../mount/thing.js";
import { cooledSides } from "../../mount/things/edges.js";
import { formatGiven } from "../../units/format.js";
import { type Attributes, box, element, line, short, words } from "../picture/svg.js";
import { ink, paper } from "../style.js";
import { type Cut, dimensionSpace, type View } from "./plan.js";
import {
  columnWidth,
  feetOf,
  lookOf,
  type Mark,
  markColumn,
  numberOf,
  type Scene,
} from "./scene.js";

/** Heights as drawn [px]. */
const height = {
  air: 42,
  film: 6,
  die: 22,
  under: 9,
  floor: 16,
  seam: 6,
  stage: 24,
  plating: 5,
  clamp: 16,
};

/** Where a section shows most: through glue or a clamp near the middle, else beside the middle. */
export function cutOf({ die, bonds }: PlainMount, parts: readonly DrawnPart[]): Cut {
  const sides = bonds ? cooledSides({ bonds }) : [];
  const along = sides.length === 0 || sides.includes("left") || sides.includes("right") ? "x" : "y";
  const across = along === "x" ? die.length : die.width;
  const middles = parts
    .filter(({ kind, look }) => kind === "glue" || (look === "clamp" && !bonds))
    .flatMap(({ places }) => places)
    .map((r) => (along === "x" ? r.bottom + r.top : r.left + r.right) / 2);
  const off = (at: number) => Math.abs(at - 0.45 * across);
  const at = middles.reduce((best, middle) => (off(middle) < off(best) ? middle : best), Infinity);
  return { along, at: Number.isFinite(at) ? at : 0.42 * across };
}

/** The section, its upper left corner at 0, 0, across in line with the plan above it. */
export function sectionView(
  scene: Scene,
  cut: Cut,
): View & { readonly stretched: readonly string[] } {
  const { mount, parts, scale, gap, wall, reach } = scene;
  const { die } = mount;
  const side = cut.along === "x" ? die.width : die.length;
  const around = gap + wall;
  const x = (metres: number) => dimensionSpace + (around + metres) * scale;
  const air = mount.bonds || mount.clamps?.length ? height.air : 14;
  const dieTop = air;
  const dieBottom = dieTop + height.die;
  const floorTop = dieBottom + height.under;
  const floorBottom = floorTop + height.floor;
  const stageTop = floorBottom + height.seam;
  const bottom = stageTop + height.stage;
  const [left, right] = [x(-around), x(side + around)];
  const drawn: string[] = [];
  const marks: Mark[] = [];
  const mark = (kind: string, mx: number, my: number) =>
    marks.push({ number: numberOf(scene, kind), x: mx, y: my });

  drawn.push(box(left, stageTop, right, bottom, lookOf(scene, "stage")));
  mark("stage", right - 14, bottom - height.stage / 2);
  // The box as one piece: walls as high as the die, and the floor.
  const [in1, in2] = [x(-gap), x(side + gap)];
  drawn.push(
    element("path", {
      d: `M${short(left)} ${dieTop}H${short(in1)}V${floorTop}H${short(in2)}V${dieTop}H${short(right)}V${floorBottom}H${short(left)}Z`,
      ...lookOf(scene, "box"),
    }),
  );
  mark("box", right - 14, (floorTop + dieTop) / 2 + 4);
  const bolts = Math.min(6, Math.max(1, mount.joint.count ?? 1));
  for (let k = 0; k < bolts; k++) {
    const middle = left + ((k + 0.5) / bolts) * (right - left);
    drawn.push(
      box(
        middle - 7,
        floorTop + height.floor - 3,
        middle + 7,
        stageTop + 3,
        lookOf(scene, "joint"),
      ),
      box(middle - 2, floorBottom, middle + 2, bottom - 4, lookOf(scene, "joint")),
    );
  }
  mark("joint", left + ((bolts - 0.5) / bolts) * (right - left) + 4, (floorBottom + stageTop) / 2);
  drawn.push(box(x(0), dieTop, x(side), dieBottom, lookOf(scene, "die")));
  mark("die", x(side) - 30, dieTop + height.die * 0.6);

  const spans = (places: readonly Rectangle[], look: Attributes) => {
    const { at, isBehind } = spansAt(places, cut);
    return { at, style: isBehind ? { ...look, ...behind } : look };
  };
  const markLast = (kind: string, at: readonly Span[], my: number) => {
    const last = at.at(-1);
    if (last) mark(kind, (x(last[0]) + x(last[1])) / 2, my);
  };
  const stretched: string[] = [];
  const layer = (kind: string, thickness: number | undefined, pixels: number) => {
    if (thickness !== undefined)
      stretched.push(
        `part ${numberOf(scene, kind)} by ${formatGiven(Number((pixels / (thickness * scale)).toPrecision(2)), "")}`,
      );
  };
  layer("die", die.thickness, height.die);
  const sides = mount.bonds ? cooledSides(mount) : [];
  const ends = cut.along === "x" ? (["left", "right"] as const) : (["lower", "upper"] as const);
  for (const part of parts) {
    const look = lookOf(scene, part.look);
    if (part.kind === "pads" || part.kind === "ring") {
      const film = mount.pads
        ? { deep: mount.pads.length, inset: mount.pads.inset ?? 0 }
        : { deep: mount.ring!.width, inset: mount.ring!.inset ?? 0 };
      ends.forEach((end, e) => {
        if (part.kind === "pads" && !sides.includes(end)) return;
        const [a, b] =
          e === 0
            ? [film.inset, film.inset + film.deep]
            : [side - film.inset - film.deep, side - film.inset];
        drawn.push(box(x(a), dieTop - height.film, x(b), dieTop, look));
        if (e === 1) mark(part.kind, (x(a) + x(b)) / 2, dieTop - height.film / 2);
      });
      if (!ends.some((end) => part.kind === "ring" || sides.includes(end))) continue;
      layer(part.kind, part.thickness, height.film);
    } else if (part.kind === "glue") {
      const { at, style } = spans(part.places, look);
      for (const [a, b] of at) drawn.push(box(x(a), dieBottom, x(b), floorTop, style));
      markLast(part.kind, at, (dieBottom + floorTop) / 2);
      layer(part.kind, part.thickness, height.under);
    } else if (part.kind === "back") {
      for (const [a, b] of spans(part.places, look).at)
        drawn.push(box(x(a), dieBottom, x(b), floorTop, look));
      mark(part.kind, x(side) - 6, (dieBottom + floorTop) / 2);
      layer(part.kind, part.thickness, height.under);
    } else if (part.look === "clamp") {
      const { at, style } = spans(part.places, look);
      const top = dieTop - (mount.ring || mount.pads ? height.film : 0) - height.clamp;
      for (const [a, b] of at) {
        const middle = (x(a) + x(b)) / 2;
        drawn.push(
          box(x(a), dieTop, x(b), top, style),
          line(middle, top - 14, middle, top - 4, { "stroke-width": 1.4 }),
          element("path", { d: `M${short(middle - 4)} ${top - 6}h8l-4 6Z`, fill: ink }),
        );
      }
      markLast(part.kind, at, dieTop - height.clamp);
    } else if (part.kind === "plating") {
      for (const [a, b] of [
        [left, in1],
        [in2, right],
      ] as const) {
        drawn.push(box(a, dieTop - height.plating, b, dieTop, look));
      }
      mark(part.kind, right - 6, dieTop - height.plating / 2);
      layer(part.kind, part.thickness, height.plating);
    }
  }
  const feet = feetOf(scene);
  ends.forEach((end, e) => {
    const foot = feet.find(({ edge }) => edge === end);
    if (!foot) return;
    const from = cut.along === "x" ? foot.x : foot.y;
    const to = e === 0 ? -reach : side + reach;
    const [y1, y2] = [
      dieTop - height.film,
      dieTop - (numberOf(scene, "plating") > 0 ? height.plating : 0),
    ];
    const peak = dieTop - air + 6;
    drawn.push(
      element("path", {
        d: `M${short(x(from))} ${y1}C${short(x(from))} ${peak} ${short(x(to))} ${peak} ${short(x(to))} ${y2}`,
        ...lookOf(scene, "wire"),
        "stroke-width": 1.8,
      }),
    );
    if (e === 1) mark("bonds", (x(from) + x(to)) / 2, dieTop - 0.64 * air);
  });
  drawn.push(
    words("A", left - 10, dieBottom, { "font-weight": "bold", "text-anchor": "middle" }),
    markColumn(marks, right + columnWidth - 10, 6, bottom - 4),
  );
  return {
    body: drawn.join(""),
    width: right + columnWidth,
    height: Math.max(bottom, 6 + 20 * marks.length) + 4,
    stretched,
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
function spansAt(places: readonly Rectangle[], { along, at }: Cut) {
  const turned = places.map(({ left, right, bottom, top }) =>
    along === "x" ? ([left, right, bottom, top] as const) : ([bottom, top, left, right] as const),
  );
  const met = turned.filter(([, , low, high]) => low <= at && at <= high);
  const shown = met.length > 0 ? met : turned;
  const sorted = shown.map(([a, b]): Span => [a, b]).sort((a, b) => a[0] - b[0]);
  const spans: Span[] = [];
  for (const [a, b] of sorted) {
    const last = spans.at(-1);
    if (last && a <= last[1] * (1 + 1e-9))
      spans[spans.length - 1] = [last[0], Math.max(last[1], b)];
    else spans.push([a, b]);
  }
  return { at: spans, isBehind: met.length === 0 };
}
