/** A figure as its tests read it. */
import { type Figure, type Mount, thermalBudget, timeCourse } from "../../src/index.js";
import { exampleMount, quickMount } from "../mount/example.js";

interface Trace {
  readonly type: string;
  readonly name: string;
  readonly x: readonly number[];
  readonly y: readonly (number | null)[];
  readonly z: readonly (readonly (number | null)[])[];
  readonly base: readonly number[];
  readonly line: { readonly color: string; readonly dash: string; readonly width: number };
  readonly error_y: { readonly array: readonly number[]; readonly visible: boolean };
  readonly showlegend: boolean;
}
interface Axis {
  readonly title: { readonly text: string };
  readonly type?: string;
  readonly range: readonly number[];
  readonly categoryarray: readonly string[];
  readonly ticktext: readonly string[];
}

/** Traces, axes with their titles, and notes of a figure. */
export function read(figure: Figure) {
  const { xaxis, yaxis, yaxis2, annotations, shapes } = figure.layout as Record<
    "xaxis" | "yaxis",
    Axis
  > & {
    readonly yaxis2?: Axis;
    readonly annotations?: readonly { readonly text: string }[];
    readonly shapes?: readonly { readonly x0: number; readonly y0: number }[];
  };
  return {
    traces: figure.data as readonly Trace[],
    xaxis,
    yaxis,
    x: xaxis.title.text,
    y: yaxis.title.text,
    y2: yaxis2?.title.text,
    notes: (annotations ?? []).map(({ text }) => text),
    shapes: shapes ?? [],
  };
}

/** The example mount, its die in 2-D of few cells. */
export function coarseMount(): Mount {
  const mount = exampleMount();
  return { ...mount, die: { ...mount.die, cells: 32 } };
}

/** A budget of the example mount with other fields. */
export function budgetOf(more: Partial<Mount> = {}) {
  return thermalBudget({ ...quickMount(), ...more });
}

/** The example mount without a limit. */
export function openMount(): Mount {
  const { limit: _, ...open } = quickMount();
  return open;
}

/** The example mount hit once, a millisecond after the start. */
export function hitCourse(mount = quickMount()) {
  const hits = [{ at: "1 ms", energy: "1 MeV" }] as const;
  return timeCourse(mount, { duration: "20 ms", hits, cells: 8 });
}
