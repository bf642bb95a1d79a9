/**
 * Where the temperature falls, in the mount's section: each part in the colour of its temperature, and the
 * drop written at each interface on the way from the hottest point to the stage.
 * @module
 */
import type { Budget, BudgetElement } from "../../mount/budget-result.js";
import { drawnParts, type Mount } from "../../mount/mount.js";
import { readMount } from "../../mount/read.js";
import type { Look } from "../../mount/thing.js";
import { FieldError } from "../../units/errors.js";
import { formatRise, formatTemperature } from "../../units/format.js";
import { type ElementKind, kindsAlong } from "../elements.js";
import { box, element, line, nameOf, short, svgDocument, words } from "../picture/svg.js";
import { wrapped } from "../picture/text-size.js";
import { mapColours } from "../ramp.js";
import { ink, softInk } from "../style.js";
import type { Drawing, DrawingOptions } from "./drawing.js";
import { sceneOf } from "./scene.js";
import { cutOf, sectionView } from "./section.js";

/** A place on the way from the hottest point to the stage, and what lies before it. */
interface Step {
  readonly place: string;
  readonly temperature: number;
  /** The element that leads to it, none for the hottest point. */
  readonly element?: BudgetElement;
  readonly kind?: ElementKind;
}

/** Of which elements a part of the section has the temperature: the mean of their two ends. */
const partOf: Readonly<Partial<Record<ElementKind, Look>>> = {
  bonds: "wire",
  clamps: "clamp",
  glue: "glue",
  back: "back",
  box: "box",
  joint: "joint",
  path: "path",
  ledge: "plating",
};

/**
 * The section of a mount with each part in the colour of its temperature, hot bright, and beside it the way of
 * the heat from the hottest point to the stage with the drop of each element. Across, the die has the
 * temperatures along the cut where it is solved in 2-D.
 * @param budget - of the same mount
 * @throws FieldError where nothing is warmer than the stage; and as `mountDrawing`
 */
export function temperatureDrawing(
  mount: Mount,
  budget: Budget,
  options: DrawingOptions = {},
): Drawing {
  const { name, chip, stage, inWords } = budget;
  if (!(chip.temperature > stage)) {
    throw new FieldError("budget", "a chip that is warmer than its stage", name);
  }
  const title = options.title ?? `${name}: temperatures in the section`;
  const steps = stepsOf(budget);
  const alt =
    `Section in the colours of its temperatures, from ${formatTemperature(chip.temperature)} at the hottest point ` +
    `to ${formatTemperature(stage)} at the stage: ${steps
      .flatMap(({ element }) => (element ? [`${element.name} ${formatRise(element.drop)}`] : []))
      .join(", ")}${inWords.mark}.`;
  const draw = (width: number) => drawn(mount, budget, steps, width, { title, alt });
  return { title, alt, svg: draw(options.width ?? 680), narrow: draw(350) };
}

function stepsOf({ mainPath, chip, stage }: Budget): readonly Step[] {
  const kinds = kindsAlong(mainPath);
  let temperature = chip.temperature;
  const steps: Step[] = [{ place: "hottest point", temperature }];
  mainPath.forEach((element, i) => {
    temperature -= element.drop;
    const isLast = i === mainPath.length - 1;
    steps.push({
      place: isLast ? "stage" : element.to,
      temperature: isLast ? stage : temperature,
      element,
      kind: kinds[i]!,
    });
  });
  return steps;
}

function drawn(
  mount: Mount,
  budget: Budget,
  steps: readonly Step[],
  width: number,
  heads: { readonly title: string; readonly alt: string },
): string {
  const { chip, stage, field } = budget;
  const plain = readMount(mount);
  const parts = drawnParts(plain);
  const id = nameOf(`${JSON.stringify(plain)} ${JSON.stringify(steps)} ${width}`);
  const colour = (T: number) => {
    const share = Math.min(1, Math.max(0, (T - stage) / (chip.temperature - stage)));
    return mapColours[Math.round(share * (mapColours.length - 1))]![1];
  };
  const isWide = width >= 560;
  const views = isWide ? 0.56 * width : width;
  const scene = sceneOf(plain, parts, id, views - 62);
  const cut = cutOf(plain, parts);
  /** Temperatures of the looks: of the elements that they are, else of the places that they are between. */
  const mean = (kind: string) => {
    const i = steps.findIndex((step) => step.kind === kind);
    return i < 0 ? undefined : (steps[i]!.temperature + steps[i - 1]!.temperature) / 2;
  };
  const painted: Partial<Record<Look, string>> = {
    die: colour(mean("die") ?? chip.temperature),
    stage: colour(stage),
  };
  for (const [kind, look] of Object.entries(partOf)) {
    const T = mean(kind);
    if (T !== undefined) painted[look] = colour(T);
  }
  const film = steps.find(({ kind }) => kind === "coupling");
  if (film) painted.film = colour(film.temperature);
  if (painted.box) painted.plating ??= painted.box;
  const stops: string[] = [];
  if (field) {
    const { width, length } = field.grid;
    const at = (share: number) =>
      cut.along === "x" ? { x: share * width, y: cut.at } : { x: cut.at, y: share * length };
    field.cut(at(0), at(1), 25).temperature.forEach((T, k) => {
      stops.push(element("stop", { offset: k / 24, "stop-color": colour(T) }));
    });
    painted.die = `url(#${id}-cut)`;
  }
  const section = sectionView({ ...scene, painted }, cut);
  const bold = { "font-weight": "bold" };
  const at = (x: number, top: number, body: string) =>
    element("g", { transform: `translate(${short(x)} ${short(top)})` }, body);
  const ladderLeft = isWide ? section.width + 18 : 0;
  const ladderTop = isWide ? 26 : section.height + 62;
  const ladder = ladderOf(steps, budget, width - ladderLeft, colour);
  const heading = isWide ? "From the hottest point to the stage" : "Hottest point to stage";
  const pieces = [
    stops.length > 0
      ? element("defs", {}, element("linearGradient", { id: `${id}-cut` }, ...stops))
      : "",
    words("Section, heights not to scale", 0, 16, bold),
    at(0, 26, section.body),
    words(heading, ladderLeft, ladderTop - 10, bold),
    at(ladderLeft, ladderTop, ladder.body),
  ];
  const height = Math.ceil(Math.max(section.height + 36, ladderTop + ladder.height) + 6);
  return svgDocument(id, [width, height], heads, pieces.join(""));
}

/** Places as boxes of their colour, one under the other, and between two of them the drop that parts them. */
function ladderOf(
  steps: readonly Step[],
  { largestDrop, chip }: Budget,
  width: number,
  colour: (temperature: number) => string,
): { readonly body: string; readonly height: number } {
  const [swatch, size] = [30, 12];
  let y = 0;
  const rows = steps.map(({ place, temperature, element: before }, i) => {
    const pieces: string[] = [];
    if (before) {
      const share = Math.round((100 * before.drop) / chip.rise);
      const isLargest = before.name === largestDrop.name;
      const text = `${before.name} ${formatRise(before.drop)}${share >= 1 ? ` (${share} %)` : ""}`;
      const lines = wrapped(text, width - swatch - 22, size);
      pieces.push(
        line(swatch / 2, y, swatch / 2, y + 15 * lines.length + 6, { stroke: softInk }),
        ...lines.map((each, k) =>
          words(each, swatch + 18, y + 14 + 15 * k, isLargest ? { "font-weight": "bold" } : {}),
        ),
      );
      y += 15 * lines.length + 6;
    }
    const isEnd = i === 0 || i === steps.length - 1;
    pieces.push(box(0, y, swatch, y + 16, { fill: colour(temperature), stroke: ink }));
    pieces.push(
      words(`${isEnd ? `${place} ` : ""}${formatTemperature(temperature)}`, swatch + 8, y + 12.5, {
        fill: isEnd ? ink : softInk,
        ...(isEnd && { "font-weight": "bold" }),
      }),
    );
    y += 16;
    return pieces.join("");
  });
  return { body: rows.join(""), height: y };
}
