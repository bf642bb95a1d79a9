/**
 * What a plot is: plain data for Plotly, with a text for those who can't see it.
 * @module
 */

/** A figure; nothing here draws, so it can be checked, stored and sent as JSON. */
export interface Figure {
  /** Plotly traces. */
  readonly data: readonly object[];
  /** Plotly layout. */
  readonly layout: object;
  /** What the figure shows, in a sentence or two. */
  readonly alt: string;
  /** What a slider under the figure shows in its place, where scripts run. */
  readonly frames?: FigureFrames;
}

/** A figure at several values of something, such as a time. */
export interface FigureFrames {
  /** What the slider moves: `time after the hit`. */
  readonly label: string;
  /** What stands at the slider's start: the figure itself. */
  readonly start: string;
  /** The other places of the slider. */
  readonly each: readonly (Pick<Figure, "data" | "layout"> & { readonly name: string })[];
}

/** What every figure takes. */
export interface FigureOptions {
  /** Title over the figure; one of its own words when absent. */
  readonly title?: string;
}
