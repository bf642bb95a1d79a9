/**
 * Two plots over one x axis: data with residuals, a distribution with its sum.
 * @module
 */
import type { Figure } from "./figure.js";
import { scaleOf } from "./scale.js";
import type { Annotation, DrawableFigure, FigureLayout, Shape } from "./traces.js";

/** Heights of the plots, of that of the whole, where a figure is drawn without places of its own. */
const domains = { upper: [0.4, 1], lower: [0, 0.34] } as const;
/** Height of the lower plot, of the upper one's. */
export const lowerShare = 0.5;

/** One figure over another with the same x axis; the title and the legend are those of the upper. */
export function stacked(upper: Figure, lower: Figure): Figure {
  const [above, below] = [upper.layout, lower.layout] as FigureLayout[];
  const marks = (name: "y" | "y2", { shapes = [], annotations = [] }: FigureLayout) => {
    const moved = <T extends Shape | Annotation>(mark: T): T => ({
      ...mark,
      yref: mark.yref === "paper" ? `${name} domain` : name,
    });
    return { shapes: shapes.map(moved), annotations: annotations.map(moved) };
  };
  const [first, second] = [marks("y", above!), marks("y2", below!)];
  return {
    data: [...upper.data, ...lower.data.map((trace) => ({ ...trace, yaxis: "y2" }))],
    layout: {
      ...upper.layout,
      xaxis: { ...below!.xaxis, anchor: "y2", mirror: "all" },
      yaxis: { ...above!.yaxis, domain: domains.upper },
      yaxis2: { ...below!.yaxis, domain: domains.lower },
      height: (above!.height ?? 460) + 140,
      shapes: [...first.shapes, ...second.shapes],
      annotations: [...first.annotations, ...second.annotations],
    },
    alt: upper.alt,
  };
}

/** The two plots of a figure, each as one of its own; undefined for a figure of one plot. */
export function halvesOf({
  data,
  layout,
}: DrawableFigure): readonly [upper: DrawableFigure, lower: DrawableFigure] | undefined {
  const { yaxis2, xaxis = {}, shapes = [], annotations = [], ...rest } = layout;
  if (!yaxis2) return undefined;
  const x = scaleOf("x", xaxis, data, layout.barmode);
  const along = { ...xaxis, range: x.range };
  const isBelow = ({ yref = "" }: Shape | Annotation) => yref.startsWith("y2");
  const own = <T extends Shape | Annotation>(mark: T): T => {
    const { yref, ...others } = mark;
    return (yref?.endsWith(" domain") ? { ...others, yref: "paper" } : others) as T;
  };
  const marks = (below: boolean) => ({
    shapes: shapes.filter((mark) => isBelow(mark) === below).map(own),
    annotations: annotations.filter((mark) => isBelow(mark) === below).map(own),
  });
  const { title: _, ...untitled } = along;
  const ticks = {
    tickvals: x.ticks.map(({ value }) => Number(value)),
    ticktext: x.ticks.map(() => ""),
  };
  const lower = data.filter(({ yaxis }) => yaxis === "y2");
  return [
    {
      data: data.filter(({ yaxis }) => yaxis !== "y2"),
      layout: { ...rest, xaxis: { ...untitled, ...ticks }, ...marks(false) },
    },
    {
      data: lower,
      layout: {
        ...rest,
        title: "",
        xaxis: along,
        yaxis: yaxis2,
        showlegend: false,
        ...marks(true),
      },
    },
  ];
}
