/**
 * A drawing of a mount: the plan to scale, a section, and a list of its parts.
 * @module
 */
import { drawnParts, type Mount, type PlainMount } from "../../mount/mount.js";
import { readMount } from "../../mount/read.js";
import { sourcesOn } from "../../mount/sources.js";
import type { DrawnPart } from "../../mount/thing.js";
import { dieNames } from "../../mount/things/stack.js";
import { positiveNumber } from "../../units/checks.js";
import { formatGiven } from "../../units/format.js";
import { box, element, line, nameOf, svgDocument, textLines, words } from "../picture/svg.js";
import { wrapped } from "../picture/text-size.js";
import { roundNumbers } from "../scale.js";
import { ink, softInk } from "../style.js";
import { planView } from "./plan.js";
import {
  bubble,
  columnWidth,
  hatchingDefinitions,
  leftSpace,
  lookOf,
  type Scene,
  sceneOf,
} from "./scene.js";
import { cutOf, sectionView, stretchedLayers } from "./section.js";

/** A picture as SVG text, complete in itself. */
export interface Drawing {
  /** Title over the drawing. */
  readonly title: string;
  /** The whole `<svg>`; every text in it is escaped. */
  readonly svg: string;
  /** The same for a narrow screen. */
  readonly narrow: string;
  /** What it shows, in words. */
  readonly alt: string;
}

/** How to draw. */
export interface DrawingOptions {
  /** The mount's name when absent. */
  readonly title?: string;
  /** Width of the picture [px], 680 when absent; below 560 the list stands under the views. */
  readonly width?: number;
  /**
   * How many times the plan of the wide picture is as large as the mount where it is printed at its own size, which
   * is then in millimetres; as wide as its page when absent.
   */
  readonly scale?: number;
}

/** Widths of a page and of a telephone [px]. */
const usual = { wide: 680, narrow: 350 };

/**
 * Draws a mount: plan and section side by side with the list of its parts, their materials and
 * dimensions. Across, both views are to scale; heights of the section are not, and the drawing says by how
 * much each layer is stretched. Gap, wall and bolts of the box are no numbers of a mount: they are drawn
 * so that the bond feet stand on its ledge, which the drawing says too.
 * @throws FieldError or UnknownNameError naming a wrong field, or what does not fit on the die
 * @example mountDrawing(mount, { scale: 5 }).svg
 */
export function mountDrawing(mount: Mount, options: DrawingOptions = {}): Drawing {
  const plain = readMount(mount);
  const parts = drawnParts(plain);
  const title = options.title ?? plain.name;
  const listed = parts.map((part) => `${part.name} (${part.details.join(", ")})`);
  const alt = `Plan and section of the mount: ${listed.join("; ")}.`;
  const scale =
    options.scale === undefined
      ? undefined
      : positiveNumber("scale", options.scale, "a number of times");
  const draw = (width: number, times?: number) => drawn(plain, parts, width, { title, alt }, times);
  return { title, alt, svg: draw(options.width ?? usual.wide, scale), narrow: draw(usual.narrow) };
}

function drawn(
  mount: PlainMount,
  parts: readonly DrawnPart[],
  width: number,
  { title, alt }: Pick<Drawing, "title" | "alt">,
  times?: number,
): string {
  const id = nameOf(`${JSON.stringify(mount)} ${title} ${width}`);
  const isWide = width >= 560;
  const views = isWide ? 0.56 * width : width;
  const scene = sceneOf(mount, parts, id, views - leftSpace - columnWidth);
  const cut = cutOf(mount, parts);
  const plan = planView(scene, cut);
  const section = sectionView(scene, cut);
  const listLeft = isWide ? plan.width + 16 : 0;
  const list = partList(scene, width - listLeft);
  const bold = { "font-weight": "bold" };
  const at = (x: number, top: number, body: string) =>
    element("g", { transform: `translate(${x} ${top})` }, body);
  const barTop = plan.height + 22;
  const sectionTop = barTop + 40;
  const pieces = [
    hatchingDefinitions(id),
    words("Plan, to scale", 0, 16, bold),
    at(0, 18, plan.body),
    scaleBar(scene, barTop),
    words("Section A–A, heights not to scale", 0, sectionTop, bold),
    at(0, sectionTop + 12, section.body),
  ];
  let y = sectionTop + section.height + 14;
  for (const note of noteLines(scene)) {
    for (const text of wrapped(note, views, 11)) {
      y += 14;
      pieces.push(words(text, 0, y, { "font-size": 11, fill: softInk }));
    }
    y += 5;
  }
  const listTop = isWide ? 16 : y + 16;
  pieces.push(words("Parts", listLeft, listTop, bold), at(listLeft, listTop + 10, list.body));
  const height = Math.ceil(Math.max(y + 8, listTop + 10 + list.height) + 4);
  const pixel = times && (times * 1e3) / scene.scale;
  return svgDocument(id, [width, height], { title, alt }, pieces.join(""), pixel);
}

/** A bar of a round length, about a quarter of the die. */
function scaleBar({ face, scale }: Scene, y: number): string {
  const wanted = Math.max(face.right - face.left, face.top - face.bottom) / 4;
  const length = roundNumbers(wanted / 10, wanted * 1.0001).at(-1)!;
  const [x1, x2] = [leftSpace, leftSpace + length * scale];
  const middle = (x1 + x2) / 2;
  const label = { "font-size": 11, "text-anchor": "middle" };
  return (
    box(x1, y, middle, y + 5, { fill: ink, stroke: ink }) +
    box(middle, y, x2, y + 5, { fill: "none", stroke: ink }) +
    words("0", x1, y + 18, label) +
    words(formatGiven(length, "m"), x2, y + 18, label)
  );
}

/** Each part with its number, a sample of its look, and its words. */
function partList(scene: Scene, width: number): { readonly body: string; readonly height: number } {
  const [size, indent, step] = [12, 54, 15];
  let y = 0;
  const rows = scene.parts.map(({ name, details, look }, i) => {
    const style = lookOf(scene, look);
    const heading = wrapped(name, width - indent, size * 1.06);
    const lines = wrapped(details.join(", "), width - indent, size);
    const isHidden = look === "glue" || look === "back" || look === "bump" || look === "free";
    const sample =
      look === "wire"
        ? line(24, y + 10, 46, y + 10, { ...style, "stroke-width": 2 })
        : box(24, y + 3, 46, y + 17, { ...style, ...(isHidden && { "stroke-dasharray": "4 2" }) });
    const row =
      bubble(i + 1, 10, y + 10) +
      sample +
      textLines(heading, [indent, y + 14], step, { "font-weight": "bold" }) +
      textLines(lines, [indent, y + 14 + step * heading.length], step);
    y += step * (heading.length + lines.length) + 9;
    return row;
  });
  return { body: rows.join(""), height: y };
}

/** What is not to scale, and what is not a number of the mount. */
function noteLines(scene: Scene): string[] {
  const sources = dieNames(scene.mount).flatMap((die) => sourcesOn(scene.mount, die));
  const kinds = new Set(sources.map(({ map }) => map(scene.mount)?.kind));
  const hasPlace = kinds.has("spot") || kinds.has("rectangle") || kinds.has("lines");
  const notes = [
    `Section: across at the scale of the plan. Heights are stretched: ${stretchedLayers(scene).join(", ")}.`,
    "Gap, wall and floor of the box, supports under clamps, the path, the bolts and the stage are drawn for their place only; their sizes are not given. Arrows at A show the direction of view.",
    scene.isShortened ? `Bonds are ${formatGiven(scene.longest, "m")} long and drawn shorter.` : "",
    hasPlace
      ? "Dotted: where a load falls (of a round spot, its standard deviation); circles end feed lines."
      : "",
  ];
  return notes.filter(Boolean);
}
