/**
 * A drawing of a mount: the plan to scale, a section, and a list of its parts.
 * @module
 */
import { drawnParts, type Mount, type PlainMount } from "../../mount/mount.js";
import { readMount } from "../../mount/read.js";
import type { DrawnPart } from "../../mount/thing.js";
import { formatGiven } from "../../units/format.js";
import { box, element, line, nameOf, svgDocument, textLines, words } from "../picture/svg.js";
import { wrapped } from "../picture/text-size.js";
import { roundNumbers } from "../scale.js";
import { ink, softInk } from "../style.js";
import { planView } from "./plan.js";
import { bubble, hatchingDefinitions, lookOf, type Scene, sceneOf } from "./scene.js";
import { cutOf, sectionView } from "./section.js";

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
}

/** Widths of a page and of a telephone [px]. */
const usual = { wide: 680, narrow: 350 };

/**
 * Draws a mount: plan and section side by side with the list of its parts, their materials and
 * dimensions. Across, both views are to scale; heights of the section are not, and the drawing says by how
 * much each layer is stretched. Gap, wall and bolts of the box are no numbers of a mount: they are drawn
 * so that the feet of the bonds stand on its ledge, which the drawing says too.
 * @throws FieldError or UnknownNameError naming a wrong field, or what does not fit on the die
 */
export function mountDrawing(mount: Mount, options: DrawingOptions = {}): Drawing {
  const plain = readMount(mount);
  const parts = drawnParts(plain);
  const title = options.title ?? plain.name;
  const alt = altOf(parts);
  const draw = (width: number) => drawn(plain, parts, { title, alt, width });
  return { title, alt, svg: draw(options.width ?? usual.wide), narrow: draw(usual.narrow) };
}

function altOf(parts: readonly DrawnPart[]): string {
  const listed = parts.map(({ name, details }) => `${name} (${details.join(", ")})`);
  return `Plan and section of the mount: ${listed.join("; ")}.`;
}

function drawn(
  mount: PlainMount,
  parts: readonly DrawnPart[],
  { title, alt, width }: { readonly title: string; readonly alt: string; readonly width: number },
): string {
  const id = nameOf(`${JSON.stringify(mount)} ${title} ${width}`);
  const isWide = width >= 560;
  const views = isWide ? 0.56 * width : width;
  const scene = sceneOf(mount, parts, id, views - 62);
  const cut = cutOf(mount, parts);
  const plan = planView(scene, cut);
  const section = sectionView(scene, cut);
  const pieces: string[] = [hatchingDefinitions(id)];
  let y = 16;
  const heading = (text: string, x = 0) => words(text, x, y, { "font-weight": "bold" });
  const at = (x: number, top: number, body: string) =>
    element("g", { transform: `translate(${x} ${top})` }, body);
  pieces.push(heading("Plan, to scale"), at(0, y + 2, plan.body));
  y += plan.height + 6;
  const bar = scaleBar(scene, y);
  pieces.push(bar.body);
  y += bar.height + 20;
  pieces.push(heading("Section A–A, heights not to scale"), at(0, y + 12, section.body));
  y += section.height + 14;
  const list = partList(scene, isWide ? width - plan.width - 16 : width);
  for (const note of noteLines(scene, section.stretched)) {
    for (const text of wrapped(note, views, 11)) {
      y += 14;
      pieces.push(words(text, 0, y, { "font-size": 11, fill: softInk }));
    }
    y += 5;
  }
  y += 8;
  if (isWide) {
    pieces.push(
      words("Parts", plan.width + 16, 16, { "font-weight": "bold" }),
      at(plan.width + 16, 26, list.body),
    );
    y = Math.max(y, 26 + list.height);
  } else {
    y += 8;
    pieces.push(heading("Parts"), at(0, y + 10, list.body));
    y += 10 + list.height;
  }
  return svgDocument({ id, width, height: Math.ceil(y + 4), title, alt, body: pieces.join("") });
}

/** A bar of a round length, about a quarter of the die. */
function scaleBar(
  { mount, scale }: Scene,
  y: number,
): { readonly body: string; readonly height: number } {
  const wanted = Math.max(mount.die.width, mount.die.length) / 4;
  const length = roundNumbers(wanted / 10, wanted * 1.0001).at(-1)!;
  const [x1, x2] = [26, 26 + length * scale];
  const middle = (x1 + x2) / 2;
  const label = { "font-size": 11, "text-anchor": "middle" };
  return {
    body:
      box(x1, y, middle, y + 5, { fill: ink, stroke: ink }) +
      box(middle, y, x2, y + 5, { fill: "none", stroke: ink }) +
      words("0", x1, y + 18, label) +
      words(formatGiven(length, "m"), x2, y + 18, label),
    height: 20,
  };
}

/** Each part with its number, a sample of its look, and its words. */
function partList(scene: Scene, width: number): { readonly body: string; readonly height: number } {
  let y = 0;
  const rows = scene.parts.map((part, i) => {
    const size = 12;
    const indent = 54;
    const name = wrapped(part.name, width - indent, size * 1.06);
    const details = wrapped(part.details.join(", "), width - indent, size);
    const sample =
      part.look === "wire"
        ? line(24, y + 10, 46, y + 10, { ...lookOf(scene, "wire"), "stroke-width": 2 })
        : box(24, y + 3, 46, y + 17, {
            ...lookOf(scene, part.look),
            ...((part.kind === "glue" || part.kind === "back") && { "stroke-dasharray": "4 2" }),
          });
    const row =
      bubble(i + 1, 10, y + 10) +
      sample +
      textLines(name, [indent, y + 14], 15, { "font-weight": "bold" }) +
      textLines(details, [indent, y + 14 + 15 * name.length], 15);
    y += 15 * (name.length + details.length) + 9;
    return row;
  });
  return { body: rows.join(""), height: y };
}

/** What is not to scale, and what is not a number of the mount. */
function noteLines({ mount, isShortened }: Scene, stretched: readonly string[]): string[] {
  const { bonds } = mount;
  return [
    `Section: across at the scale of the plan. Heights are stretched: ${stretched.join(", ")}.`,
    "Gap, wall and floor of the box, the bolts and the stage are drawn for their place only; their sizes are not given.",
    ...(isShortened
      ? [`Bonds are ${formatGiven(bonds!.length, "m")} long and drawn shorter.`]
      : []),
    ...(mount.loads.some(
      (load) => "map" in load && (load.map?.kind === "spot" || load.map?.kind === "rectangle"),
    )
      ? ["Dotted: where a load falls (of a round spot, its standard deviation)."]
      : []),
  ];
}
