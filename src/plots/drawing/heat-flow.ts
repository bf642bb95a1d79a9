/**
 * Where the heat goes: from each load over the places of a mount to the stage, as bands as wide as their heat.
 * @module
 */
import type { Budget } from "../../mount/budget-result.js";
import { formatQuantity } from "../../units/format.js";
import { elementKind, elementLooks } from "../elements.js";
import { box, element, nameOf, svgDocument, words } from "../picture/svg.js";
import { lineHeight, wrapped } from "../picture/text-size.js";
import { ink, paper, softInk } from "../style.js";
import type { Drawing, DrawingOptions } from "./drawing.js";
import { type Band, type Flow, flowPlaces, labelSize, type Stop } from "./flow-places.js";

/** Heats below this share of the whole are left out. */
const leastShare = 1e-4;

/**
 * Bands as wide as their heat, from the loads on the left to the stage on the right. Elements through which the
 * same heat flows one after the other are one band. What would be thinner than a line is drawn as thin as one
 * and dashed, which the drawing says.
 */
export function heatFlowDrawing(budget: Budget, options: DrawingOptions = {}): Drawing {
  const title = options.title ?? `Heat flow: ${budget.name}`;
  const flow = flowOf(budget);
  const carrying = flow.stops.filter(({ kind }) => kind !== "place");
  const alt =
    `Heat flow of ${formatQuantity(budget.total, "W")} in all: ` +
    `${carrying.map(({ name, power }) => `${name} ${formatQuantity(power, "W")}`).join("; ")}.`;
  const draw = (width: number) => drawn(flow, width, { title, alt });
  return { title, alt, svg: draw(options.width ?? 680), narrow: draw(350) };
}

/** A place as a reader calls it; a die is one, however many points of it have a temperature. */
function placeWords(place: string): string {
  return /^die\b(?! \d)/.test(place) ? "die" : place;
}

/** Loads, places and elements; chains of elements with nothing else at their places are one stop. */
function flowOf(budget: Budget): Flow {
  const least = leastShare * budget.total;
  const elements = budget.elements
    .map(({ from, to, power, name }) => {
      const [a, b] = power > 0 ? [from, to] : [to, from];
      return { from: placeWords(a), to: placeWords(b), power: Math.abs(power), name };
    })
    .filter(({ from, to, power }) => power > least && from !== to);
  const loads = budget.sources
    .filter(({ power }) => power > least)
    .map(({ name, on, power }) => ({ name, power, to: placeWords(on) }));
  const leaving = (place: string) => elements.filter(({ from }) => from === place);
  const isBusy = (place: string) =>
    loads.some(({ to }) => to === place) ||
    leaving(place).length !== 1 ||
    elements.filter(({ to }) => to === place).length !== 1;
  const chains = elements
    .filter(({ from }) => isBusy(from))
    .map((first) => {
      const chain = [first];
      while (!isBusy(chain.at(-1)!.to)) chain.push(...leaving(chain.at(-1)!.to));
      return chain;
    });
  const stops: Stop[] = [];
  const bands: Band[] = [];
  const places = new Map<string, number>();
  const place = (name: string) => {
    const known = places.get(name);
    if (known !== undefined) return known;
    places.set(name, stops.length);
    const sum = (ends: readonly { readonly power: number }[]) =>
      ends.reduce((all, { power }) => all + power, 0);
    const into = [...chains.map((chain) => chain.at(-1)!), ...loads].filter(
      ({ to }) => to === name,
    );
    const out = chains.map((chain) => chain[0]!).filter(({ from }) => from === name);
    stops.push({ name, kind: "place", power: Math.max(sum(into), sum(out)) });
    return stops.length - 1;
  };
  for (const { name, to, power } of loads) {
    const end = place(to);
    bands.push({ from: stops.length, to: end, power });
    stops.push({ name, kind: "load", power });
  }
  for (const chain of chains) {
    const names = chain.map(({ name }) => name);
    const kinds = names.map((name) => elementKind(name));
    const carrier = (["bonds", "clamps", "glue", "back", "path", "joint"] as const).find((kind) =>
      kinds.includes(kind),
    );
    const kind = carrier ?? kinds[0]!;
    const name = names.length === 1 ? names[0]! : names[kinds.indexOf(kind)]!;
    const power = Math.min(...chain.map(({ power }) => power));
    const [start, end] = [place(chain[0]!.from), place(chain.at(-1)!.to)];
    bands.push({ from: start, to: stops.length, power }, { from: stops.length, to: end, power });
    stops.push({ name, kind, power });
  }
  return { stops, bands };
}

function drawn(
  flow: Flow,
  width: number,
  heads: { readonly title: string; readonly alt: string },
): string {
  const { stops, bands } = flow;
  const { places, paths, isNumbered, bottom: end } = flowPlaces(flow, width, width < 500);
  let bottom = end;
  const size = labelSize;
  const line = size * lineHeight;
  const colourOf = (kind: Stop["kind"]) =>
    kind === "load" ? softInk : kind === "place" ? ink : elementLooks[kind].colour;
  const curves = paths.map(({ d, thick, isThin }, b) => {
    const { from, to } = bands[b]!;
    const { kind } = stops[stops[from]!.kind === "place" ? to : from]!;
    return element("path", {
      d,
      fill: "none",
      stroke: colourOf(kind),
      "stroke-width": thick,
      ...(isThin ? { "stroke-dasharray": "4 3" } : { "stroke-opacity": 0.3 }),
    });
  });
  const marks = places.map(({ mark: { left, top, right, bottom } }, i) =>
    box(left, top, right, bottom, { fill: colourOf(stops[i]!.kind) }),
  );
  const texts = places.flatMap(({ label, lines }, i) =>
    lines.map((text, k) =>
      words(text, label.left, label.top + line * (k + 0.85), {
        "font-size": size,
        stroke: paper,
        "stroke-width": 3,
        "stroke-linejoin": "round",
        "paint-order": "stroke",
        ...((stops[i]!.kind === "place" || k === lines.length - 1) && { "font-weight": "bold" }),
      }),
    ),
  );
  if (isNumbered) {
    stops.forEach(({ name, power }, i) => {
      for (const text of wrapped(`${i + 1}  ${name}: ${formatQuantity(power, "W")}`, width, size)) {
        bottom += 1.3 * size;
        texts.push(words(text, 4, bottom, { "font-size": size }));
      }
    });
    bottom += 4;
  }
  if (paths.some(({ isThin }) => isThin)) {
    bottom += line;
    texts.push(
      words("Dashed: too little heat to be drawn to scale.", 4, bottom, {
        "font-size": size,
        fill: softInk,
      }),
    );
  }
  const id = nameOf(`${heads.alt} ${heads.title} ${width}`);
  const body = [...curves, ...marks, ...texts].join("");
  return svgDocument(id, [width, Math.ceil(bottom + 8)], heads, body);
}
