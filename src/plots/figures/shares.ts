/**
 * What makes up the chip's rise along one field: the drop of each element, stacked.
 * @module
 */
import type { Sweep } from "../../design/sweeping/sweep-result.js";
import type { BudgetElement } from "../../mount/budget-result.js";
import { type ElementLook, elementLooks, kindsAlong } from "../elements.js";
import type { Figure } from "../figure.js";
import { limitAbove, limitAt, listed, together } from "../figure-parts.js";
import {
  axis,
  fieldAxis,
  ink,
  layout,
  note,
  patternInk,
  rounded,
  sumColour,
  veil,
} from "../style.js";
import { type AlongOptions, type FieldMark, fieldAlong, markLine } from "./fields.js";

/** What the figure shows beside the stack. */
export interface SharesOptions extends AlongOptions {
  /** Values of the field to mark. */
  readonly marks?: readonly FieldMark[];
  /** Elements that never cost this share of the rise are drawn together; 2 % when absent. */
  readonly smallest?: number;
}

/**
 * Stacked drops over the first field of a sweep.
 * @param elements - the main path of a budget of the swept mount
 */
export function sharesFigure(
  sweep: Sweep,
  elements: readonly BudgetElement[],
  options: SharesOptions = {},
): Figure {
  const x = fieldAlong(sweep.axes[0]!);
  const xs = x.values;
  const rises = xs.map((_, i) => 1e3 * sweep.rise(i));
  const kinds = kindsAlong(elements);
  const drops = elements.map(({ name, from, to }, e) => ({
    name,
    look: elementLooks[kinds[e]!] as Pick<ElementLook, "colour" | "pattern">,
    ys: rounded(
      xs.map((_, i) => 1e3 * (sweep.temperature(i, 0, from) - sweep.temperature(i, 0, to))),
    ),
  }));
  const { marks = [], smallest = 0.02, scale = "linear" } = options;
  const limit = limitAbove(options.limit);
  const isLarge = ({ ys }: { ys: number[] }) => ys.some((y, i) => y > smallest * rises[i]!);
  const large = drops.filter(isLarge);
  const small = drops.filter((drop) => !isLarge(drop));
  if (small.length > 0) {
    const names = small.map(({ name }) => name).join(", ");
    large.push({
      name: small.length === 1 ? names : `the rest: ${names}`,
      look: small.length === 1 ? small[0]!.look : { colour: sumColour, pattern: "" },
      ys: xs.map((_, i) => small.reduce((sum, { ys }) => sum + ys[i]!, 0)),
    });
  }
  // What has the largest drop lies at the bottom, where its edge is a curve to read off.
  large.sort((a, b) => b.ys.at(-1)! - a.ys.at(-1)!);
  const places = marks.map(({ at }) => at * x.factor);
  const along = (at: number) => (scale === "logarithmic" ? Math.log(at) : at);
  const span = along(xs.at(-1)!) - along(xs[0]!);
  // The name of a mark goes to its left when another mark or the frame is close on its right.
  const crowded = (place: number) =>
    [...places, xs.at(-1)!].some((other) => {
      const gap = (along(other) - along(place)) / span;
      return gap > 0 && gap < 0.2;
    });
  const highest = Math.max(...rises);
  const top = Math.min(limit === undefined ? highest : 2.2 * limit, 1.05 * highest);
  const labels = bandLabels(large, top);
  return {
    data: large.map(({ name, look, ys }, i) => ({
      type: "scatter",
      mode: "lines",
      stackgroup: "drops",
      x: xs,
      y: ys,
      // Long legend entries are broken at spaces.
      name: name.replace(/(.{1,48})(?:\s|$)/g, "$1<br>").replace(/<br>$/, ""),
      line: { color: ink, width: 0.8 },
      showlegend: labels[i] === undefined,
      fillcolor: look.colour,
      fillpattern: {
        shape: look.pattern,
        bgcolor: look.colour,
        fgcolor: patternInk,
        size: 8,
        solidity: 0.15,
      },
      hovertemplate: `%{x:.4~g}<br>%{y:.3~f} mK<extra>${name}</extra>`,
    })),
    layout: layout(options.title ?? `Temperature drops against ${x.name}`, {
      xaxis: fieldAxis(x.title, xs, scale),
      yaxis: axis("chip above the stage (mK)", { range: [0, top] }),
      legend: { orientation: "h", y: -0.22, traceorder: "normal" },
      height: 540,
      ...together(
        limitAt("y", limit),
        {
          shapes: [],
          annotations: large.flatMap(({ name }, i) => {
            const { at, y } = labels[i] ?? {};
            if (at === undefined) return [];
            const x = scale === "logarithmic" ? Math.log10(xs[at]!) : xs[at]!;
            return [note(name, { x, y, bgcolor: veil })];
          }),
        },
        ...places.map((place, i) => {
          const side = crowded(place) ? { xanchor: "right", xshift: -4 } : {};
          return markLine(place, marks[i]!.text, scale, { y: 0.98, bgcolor: veil, ...side });
        }),
      ),
    }),
    alt: `Drops that make up the chip's rise against ${x.title}: ${listed(
      large,
      ({ name, ys }) => `${name} from ${ys[0]!.toPrecision(2)} to ${ys.at(-1)!.toPrecision(2)} mK`,
    )}.`,
  };
}

/**
 * Where the name of a band stands in it: where it is widest, away from the frame; none where it is nowhere
 * high enough for a line of text.
 */
function bandLabels(bands: readonly { readonly ys: readonly number[] }[], top: number) {
  const count = bands[0]?.ys.length ?? 0;
  const [first, last] = [Math.ceil(0.2 * count), Math.floor(0.8 * count)];
  return bands.map(({ ys }, b) => {
    let best: { readonly at: number; readonly y: number; readonly high: number } | undefined;
    for (let at = first; at < last; at++) {
      const below = bands.slice(0, b).reduce((sum, band) => sum + band.ys[at]!, 0);
      const high = Math.min(top, below + ys[at]!) - below;
      if (high > 0.07 * top && high > (best?.high ?? 0)) best = { at, y: below + high / 2, high };
    }
    return best;
  });
}
