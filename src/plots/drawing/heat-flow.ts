/**
 * Where the heat goes: from each load over the places of a mount to the stage, as bands as wide as their heat.
 * @module
 */
import type { Budget } from "../../mount/budget-result.js";
import { formatQuantity } from "../../units/format.js";
import { type ElementKind, elementKind, elementLooks } from "../elements.js";
import { element, nameOf, short, svgDocument, words } from "../picture/svg.js";
import { wrapped } from "../picture/text-size.js";
import { ink, paper, softInk } from "../style.js";
import type { Drawing, DrawingOptions } from "./drawing.js";

/** What heat passes: a load, a place, or elements that carry the same heat one after the other. */
interface Stop {
  readonly name: string;
  readonly kind: ElementKind | "load" | "place";
  readonly power: number;
}

/** Heat from one stop to another, by their places in the list. */
interface Band {
  readonly from: number;
  readonly to: number;
  readonly power: number;
}

interface Flow {
  readonly stops: readonly Stop[];
  readonly bands: readonly Band[];
}

/** Height of the widest layer [px], and the least of a band that is still drawn to scale. */
const tallest = 240;
const thinnest = 2;
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

/** The column of each stop: at least one after those it gets heat from; loads just before their place. */
function columnsOf({ stops, bands }: Flow): readonly number[] {
  const columns = stops.map(() => 0);
  // As many rounds as there are stops put every order without a circle right.
  for (const _ of stops) {
    for (const { from, to } of bands)
      columns[to] = Math.min(stops.length, Math.max(columns[to]!, columns[from]! + 1));
  }
  for (const { from, to } of bands)
    if (stops[from]!.kind === "load") columns[from] = columns[to]! - 1;
  return columns;
}

function drawn(
  flow: Flow,
  width: number,
  heads: { readonly title: string; readonly alt: string },
): string {
  const { stops, bands } = flow;
  const columns = columnsOf(flow);
  const last = Math.max(...columns);
  const isNarrow = width < 500;
  const size = 12;
  const line = size * 1.25;
  const thickness = 8;
  const step = width / (last + 1);
  const x = (i: number) => 4 + step * columns[i]!;
  const perWatt = tallest / Math.max(...stops.map(({ power }) => power), Number.MIN_VALUE);
  const thick = (power: number) => Math.max(thinnest, power * perWatt);
  const isThin = (power: number) => power * perWatt < thinnest;
  // In a narrow drawing stops have numbers, and a list below says what they are.
  const labels = stops.map(({ name, power }, i) =>
    isNarrow
      ? [String(i + 1)]
      : [...wrapped(name, step - thickness - 10, size), formatQuantity(power, "W")],
  );
  const tops = stops.map(() => 0);
  let bottom = 0;
  for (let column = 0; column <= last; column++) {
    let y = 8;
    stops.forEach(({ power }, i) => {
      if (columns[i] !== column) return;
      tops[i] = y;
      y += Math.max(thick(power), labels[i]!.length * line) + 10;
    });
    bottom = Math.max(bottom, y);
  }
  const used = stops.map(() => ({ in: 0, out: 0 }));
  const slot = (i: number, side: "in" | "out", high: number) => {
    const at = tops[i]! + used[i]![side] + high / 2;
    used[i]![side] += high;
    return at;
  };
  const colourOf = (kind: Stop["kind"]) =>
    kind === "load" ? softInk : kind === "place" ? ink : elementLooks[kind].colour;
  const curves = bands.map(({ from, to, power }) => {
    const high = thick(power);
    const [y1, y2] = [slot(from, "out", high), slot(to, "in", high)];
    const [x1, x2] = [x(from) + thickness, x(to)];
    const middle = (x1 + x2) / 2;
    const { kind } = stops[stops[from]!.kind === "place" ? to : from]!;
    return element("path", {
      d: `M${short(x1)} ${short(y1)}C${short(middle)} ${short(y1)} ${short(middle)} ${short(y2)} ${short(x2)} ${short(y2)}`,
      fill: "none",
      stroke: colourOf(kind),
      "stroke-width": high,
      ...(isThin(power) ? { "stroke-dasharray": "4 3" } : { "stroke-opacity": 0.3 }),
    });
  });
  const marks = stops.map(({ kind, power }, i) =>
    element("rect", {
      x: x(i),
      y: tops[i]!,
      width: thickness,
      height: thick(power),
      fill: colourOf(kind),
    }),
  );
  const texts = stops.flatMap(({ kind }, i) =>
    labels[i]!.map((text, k) =>
      words(text, x(i) + thickness + 4, tops[i]! + line * (k + 0.85), {
        "font-size": size,
        stroke: paper,
        "stroke-width": 3,
        "stroke-linejoin": "round",
        "paint-order": "stroke",
        ...((kind === "place" || k === labels[i]!.length - 1) && { "font-weight": "bold" }),
      }),
    ),
  );
  if (isNarrow) {
    stops.forEach(({ name, power }, i) => {
      for (const text of wrapped(`${i + 1}  ${name}: ${formatQuantity(power, "W")}`, width, size)) {
        bottom += 1.3 * size;
        texts.push(words(text, 4, bottom, { "font-size": size }));
      }
    });
    bottom += 4;
  }
  if (bands.some(({ power }) => isThin(power))) {
    bottom += line;
    texts.push(
      words("Dashed: too little heat to be drawn to scale.", 4, bottom, {
        "font-size": size - 1,
        fill: softInk,
      }),
    );
  }
  const id = nameOf(`${heads.alt} ${heads.title} ${width}`);
  const body = [...curves, ...marks, ...texts].join("");
  return svgDocument(id, [width, Math.ceil(bottom + 8)], heads, body);
}
