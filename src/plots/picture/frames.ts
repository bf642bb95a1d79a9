/**
 * Where the plots of a figure go: one, or two over one x axis.
 * @module
 */
import { halvesOf, lowerShare } from "../composite.js";
import type { DrawableFigure } from "../traces.js";
import { type Frame, type FrameSizes, frameOf } from "./frame.js";

/** A plot of a figure, and how far down in it the plot and its legend are [px]. */
export interface PlacedFrame {
  readonly frame: Frame;
  readonly down: number;
  readonly legendDown: number;
  /** Of the whole figure [px]. */
  readonly height: number;
}

/** Space between two plots [px]. */
const between = 16;

/** The plots of a figure, the upper one first. */
export function framesOf(
  figure: DrawableFigure,
  width: number,
  withTitle: boolean,
  fixed: FrameSizes = {},
): readonly PlacedFrame[] {
  const halves = halvesOf(figure);
  if (!halves) {
    const frame = frameOf(figure, width, withTitle, fixed);
    return [{ frame, down: 0, legendDown: 0, height: frame.height }];
  }
  const [above, below] = halves;
  const first = frameOf(above, width, withTitle, fixed);
  const low = { high: Math.round(lowerShare * first.plot.height) };
  const left = Math.max(first.plot.left, frameOf(below, width, false, low).plot.left);
  const upper = frameOf(above, width, withTitle, { left, high: first.plot.height });
  // The upper plot may reach further, for words at the ends of its curves.
  const xaxis = { ...below.layout.xaxis, range: upper.x.range };
  const same = { ...below, layout: { ...below.layout, xaxis } };
  const lower = frameOf(same, width, false, { left, ...low });
  const down = upper.plot.top + upper.plot.height + between - lower.plot.top;
  const legend = upper.legend.length > 0 ? upper.height - upper.legendTop : 0;
  const height = Math.ceil(down + lower.height + legend);
  return [
    { frame: upper, down: 0, legendDown: down + lower.height - upper.legendTop, height },
    { frame: lower, down, legendDown: 0, height },
  ];
}
