/**
 * What both views of a drawing share: the scale, how far the box reaches, looks and numbered marks.
 * @module
 */
import type { Rectangle } from "../../chip/grid.js";
import type { PlainMount } from "../../mount/mount.js";
import { ownDie, seenFrom } from "../../mount/on-die.js";
import type { DrawnPart, Look } from "../../mount/thing.js";
import { bondFeet } from "../../mount/things/edges.js";
import { dieNames, faceOfDie, levelsOf } from "../../mount/things/stack.js";
import { elementLooks } from "../elements.js";
import type { Point } from "../picture/looks.js";
import { type Attributes, box, element, line, words } from "../picture/svg.js";
import { colours, hatchInk, ink, paper, softInk } from "../style.js";

/** A mount made ready for its views. */
export type Scene = ReturnType<typeof sceneOf> & {
  /** Fills in place of the looks' own. */
  readonly painted?: Readonly<Partial<Record<Look, string>>>;
};

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

/** Space for the column of numbers beside a view [px]. */
export const columnWidth = 34;
/** Space under the box for the die's dimension [px]. */
export const dimensionSpace = 26;
/** Space left of the box, for a column of numbers and the die's dimension [px]. */
export const leftSpace = columnWidth + dimensionSpace;

/** The scene of a mount whose box shall be so wide [px], and not much higher. */
export function sceneOf(mount: PlainMount, parts: readonly DrawnPart[], id: string, space: number) {
  const dies = dieNames(mount).map((name) => ({ name, face: faceOfDie(mount, name) }));
  const faces = dies.map(({ face }) => face);
  /** The rectangle around all dies [m]. */
  const face: Rectangle = {
    left: Math.min(...faces.map(({ left }) => left)),
    right: Math.max(...faces.map(({ right }) => right)),
    bottom: Math.min(...faces.map(({ bottom }) => bottom)),
    top: Math.max(...faces.map(({ top }) => top)),
  };
  const [width, length] = [face.right - face.left, face.top - face.bottom];
  const side = Math.max(width, length);
  const feet = dies.flatMap(({ name, face: own }) =>
    bondFeet(seenFrom(mount, name)).map((foot) => ({
      ...foot,
      die: name,
      x: foot.x + own.left,
      y: foot.y + own.bottom,
    })),
  );
  const inwards = Math.min(
    ...feet.flatMap(({ x, y }) => [x - face.left, face.right - x, y - face.bottom, face.top - y]),
  );
  // Bonds longer than a third of the die are drawn as long as that.
  const longest = Math.max(0, ...parts.flatMap(({ wire }) => wire?.length ?? []));
  const drawn = Math.min(longest, side / 3);
  /** From the die's edge to the far bond foot [m]. */
  const reach = feet.length > 0 ? Math.max(drawn - inwards, 0.02 * side) : 0;
  /** From the die's edge to the box, and thickness of its wall [m]; no numbers of the mount. */
  const gap = feet.length > 0 ? 0.55 * reach : 0.03 * side;
  const wall = Math.max(0.05 * side, reach - gap + 0.03 * side);
  const across = width + 2 * (gap + wall);
  const up = length + 2 * (gap + wall);
  /** Bonds from where they stand on a die over its edge to the ledge [m]. */
  const wires = feet.map(({ edge, group, die, ...from }) => {
    const ledge = {
      lower: { x: from.x, y: face.bottom - reach },
      upper: { x: from.x, y: face.top + reach },
      left: { x: face.left - reach, y: from.y },
      right: { x: face.right + reach, y: from.y },
    };
    return { edge, group, die, from, to: ledge[edge] };
  });
  /** Pixels of one metre, in both views across. */
  const scale = Math.min(space / across, (1.25 * space) / up);
  const isShortened = longest > drawn;
  const levels = levelsOf(mount);
  return { mount, parts, id, face, levels, scale, gap, wall, reach, isShortened, longest, wires };
}

export const isOf = (
  { die = ownDie, wire }: DrawnPart,
  each: { readonly die: string; readonly group?: number | undefined },
) => wire !== undefined && each.die === die && each.group === wire.group;

/** Parts from the lowest die up; what joins two dies comes after the upper one. */
export function fromBelow(scene: Pick<Scene, "levels" | "parts">): readonly DrawnPart[] {
  const { levels, parts } = scene;
  const level = ({ die = ownDie, below }: DrawnPart) => levels.get(below ?? die)!;
  return [...parts].sort((a, b) => level(a) - level(b));
}

/** Parts in the order in which a view draws them: some looks first, bonds last. */
export function inOrder(parts: readonly DrawnPart[], ...first: Look[]): readonly DrawnPart[] {
  const ofLook = (wanted: Look) => parts.filter(({ look }) => look === wanted);
  const rest = parts.filter(({ look }) => ![...first, "wire"].includes(look));
  return [...first.flatMap(ofLook), ...rest, ...ofLook("wire")];
}

interface Painted {
  readonly fill: string;
  readonly stroke: string;
  /** Angle and distance of the strokes of its hatching [px]. */
  readonly hatched?: readonly [number, number];
}

const looks: Readonly<Record<Look, Painted>> = {
  die: { fill: elementLooks.die.tint, stroke: ink },
  film: { fill: elementLooks.film.tint, stroke: ink },
  wire: { fill: "none", stroke: elementLooks.bonds.colour },
  clamp: { fill: elementLooks.clamps.tint, stroke: ink, hatched: [45, 4] },
  glue: { fill: elementLooks.glue.tint, stroke: ink, hatched: [0, 4] },
  bump: { fill: elementLooks.joint.tint, stroke: ink },
  back: { fill: elementLooks.back.tint, stroke: ink, hatched: [90, 5] },
  warm: { fill: colours[1], stroke: ink },
  box: { fill: elementLooks.box.tint, stroke: ink, hatched: [-45, 7] },
  plating: { fill: elementLooks.ledge.tint, stroke: ink },
  path: { fill: elementLooks.path.tint, stroke: ink },
  free: { fill: "none", stroke: ink },
  joint: { fill: elementLooks.joint.tint, stroke: ink },
  stage: { fill: elementLooks.stage.tint, stroke: ink, hatched: [45, 9] },
};

/** Definitions of the hatchings, by which grey print and the colour-blind tell looks apart. */
export function hatchingDefinitions(id: string): string {
  const patterns = Object.entries(looks).map(([look, { fill, hatched }]) => {
    if (!hatched) return "";
    const [angle, apart] = hatched;
    const turn = { patternUnits: "userSpaceOnUse", patternTransform: `rotate(${angle})` };
    const stroke = { stroke: hatchInk, "stroke-width": 0.8 };
    return element(
      "pattern",
      { id: `${id}-${look}`, width: apart, height: apart, ...turn },
      box(0, 0, apart, apart, { fill }),
      element("path", { d: `M0 ${apart / 2}H${apart}`, ...stroke }),
    );
  });
  return element("defs", {}, ...patterns);
}

export function lookOf({ id, painted }: Scene, look: Look): Attributes {
  const { fill, stroke, hatched } = looks[look];
  const paint = painted?.[look];
  if (paint !== undefined) {
    const wire = { fill: "none", stroke: paint };
    return { ...(look === "wire" ? wire : { fill: paint, stroke }), "stroke-width": 0.8 };
  }
  return {
    fill: hatched ? `url(#${id}-${look})` : fill,
    stroke,
    "stroke-width": look === "wire" ? 1 : 0.8,
  };
}

export function bubble(number: number, x: number, y: number): string {
  return (
    element("circle", { cx: x, cy: y, r: 9, fill: paper, stroke: ink }) +
    words(String(number), x, y + 4, { "text-anchor": "middle", "font-size": 11 })
  );
}

/** A place of a part that the part's number points at. */
export interface Mark {
  readonly part: DrawnPart;
  readonly x: number;
  readonly y: number;
  /** Another place of the part, nearer to the left column. */
  readonly left?: readonly [x: number, y: number];
}

/** Where the columns of numbers stand [px]. */
interface Columns {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** From one number to the next in a column, at least [px]. */
const leastApart = 20;
/** Fewer numbers than this stand in the right column alone. */
const fewMarks = 7;

/** How high columns of numbers for so many marks are [px]. */
export function columnsHeight(marks: number): number {
  return leastApart * (marks < fewMarks ? marks : Math.ceil(marks / 2));
}

/** Numbers in columns on both sides, each with a line to its place that crosses no other. */
export function markColumns(
  { parts, painted }: Scene,
  marks: readonly Mark[],
  columns: Columns,
): string {
  // Numbers belong to a list of parts, which a section in other colours does not have.
  if (painted) return "";
  const { left } = columns;
  const pointers = leaders(marks, columns);
  const dot = { r: 2, fill: ink, stroke: paper, "stroke-width": 0.6 };
  const drawn = pointers.map(({ part, from: [x, y], to: [column, level] }) => {
    const edge = column === left ? column + 9 : column - 9;
    return (
      line(x, y, edge, level, { "stroke-width": 0.8, stroke: softInk }) +
      element("circle", { cx: x, cy: y, ...dot }) +
      bubble(parts.indexOf(part) + 1, column, level)
    );
  });
  return drawn.join("");
}

/** A line from a place of a part to its number. */
export interface Leader {
  readonly part: DrawnPart;
  readonly from: Point;
  readonly to: Point;
}

/**
 * The lines from places to numbers: half of the parts in either column, those with the shortest ways, and in
 * each column numbers exchanged until no two lines cross. Each exchange makes the lines shorter, so that it ends.
 */
export function leaders(
  marks: readonly Mark[],
  { left, right, top, bottom }: Columns,
): readonly Leader[] {
  const middle = (left + right) / 2;
  const column = (x: number, own: readonly { readonly mark: Mark; readonly from: Point }[]) => {
    const sorted = [...own].sort((a, b) => a.from[1] - b.from[1] || b.from[0] - a.from[0]);
    const wanted = sorted.map(({ from }) => from[1]);
    const levels = levelsFor(wanted, [top, bottom]);
    const to = levels.map((level): [number, number] => [x, level]);
    for (let moved = true; moved; ) {
      moved = false;
      for (let a = 0; a < sorted.length; a++) {
        for (let b = 0; b < a; b++) {
          if (!cross(sorted[a]!.from, to[a]!, sorted[b]!.from, to[b]!)) continue;
          [to[a], to[b]] = [to[b]!, to[a]!];
          moved = true;
        }
      }
    }
    return sorted.map(({ mark, from }, k): Leader => ({ part: mark.part, from, to: to[k]! }));
  };
  const nearLeft = marks
    .map((mark) => ({ mark, from: mark.left ?? ([mark.x, mark.y] as const) }))
    .filter(({ from: [x] }) => marks.length >= fewMarks && x < middle)
    .sort((a, b) => a.from[0] - b.from[0])
    .slice(0, Math.floor(marks.length / 2));
  // A line to the left that crosses one to the right goes there, too: in one column none cross.
  for (let toLeft = nearLeft; ; ) {
    const taken = new Set(toLeft.map(({ mark }) => mark));
    const toRight = marks
      .filter((mark) => !taken.has(mark))
      .map((mark) => ({ mark, from: [mark.x, mark.y] as const }));
    const [there, here] = [column(left, toLeft), column(right, toRight)];
    const crossing = there.find((a) => here.some((b) => cross(a.from, a.to, b.from, b.to)));
    if (!crossing) return [...there, ...here];
    toLeft = toLeft.filter(({ mark }) => mark.part !== crossing.part);
  }
}

/** Levels as near to wanted ones as their distance allows. @param wanted - from the top down */
function levelsFor(
  wanted: readonly number[],
  [top, bottom]: readonly [number, number],
): readonly number[] {
  const apart =
    wanted.length > 1
      ? Math.max(leastApart, Math.min(24, (bottom - top) / (wanted.length - 1)))
      : 24;
  const lowest = Math.max(bottom, top + apart * (wanted.length - 1));
  const levels: number[] = [];
  for (const y of wanted) levels.push(Math.max(y, (levels.at(-1) ?? top - apart) + apart));
  // What was pushed beyond the bottom is moved up again.
  for (let i = levels.length - 1, most = lowest; i >= 0; i--, most = levels[i + 1]! - apart)
    levels[i] = Math.min(levels[i]!, most);
  return levels;
}

export function cross(a: Point, b: Point, c: Point, d: Point): boolean {
  const side = (p: Point, q: Point, r: Point) =>
    (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]);
  return side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0;
}

/** A length between two points of a level or upright line, with ticks at its ends. */
export function dimension(
  text: string,
  [x1, y1]: readonly [number, number],
  [x2, y2]: readonly [number, number],
): string {
  const isLevel = y1 === y2;
  const tick = (x: number, y: number) => line(x - 3, y + 3, x + 3, y - 3, { "stroke-width": 1.2 });
  const [x, y] = [(x1 + x2) / 2, (y1 + y2) / 2];
  return (
    line(x1, y1, x2, y2, { "stroke-width": 0.8 }) +
    tick(x1, y1) +
    tick(x2, y2) +
    words(text, x, isLevel ? y - 4 : y, {
      "text-anchor": "middle",
      ...(!isLevel && { transform: `rotate(-90 ${x} ${y}) translate(0 -4)` }),
    })
  );
}
