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
}

/** What every figure takes. */
export interface FigureOptions {
  /** Title over the figure; one of its own words when absent. */
  readonly title?: string;
}
