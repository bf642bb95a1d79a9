/**
 * Options of the figures, and a figure as a picture or as a table.
 * @module coldpath/plots
 */

// Options of figures
export type { Cases } from "./figures/cases.js";
export type { DieMapOptions } from "./figures/die-map.js";
export type { NamedRecord } from "./figures/hits.js";
export type { DecayFigureOptions } from "./figures/decay.js";
export type { TimeFigureOptions } from "./figures/time-course.js";
export type { DrawingOptions } from "./drawing/drawing.js";
export type { AxisScale } from "./style.js";
export type { TornadoOptions } from "./figures/tornado.js";
export type { SharesOptions } from "./figures/shares.js";
export type { CurveOptions } from "./figures/curves.js";
export type { MapOptions } from "./figures/map.js";
export type { SpreadOptions } from "./figures/spread.js";
export type { FitOptions } from "./figures/calibration.js";

// The first phonons of a hit
export { type BurstFigureOptions, burstFigure, type NamedBurst } from "./figures/burst.js";

// The cheapest choice
export { tradeOffFigure } from "./figures/trade-off.js";

// Figures as pictures and tables
export type { FrameSizes } from "./picture/frame.js";
export { figurePicture, type PictureOptions } from "./picture/picture.js";
export { figureCsv } from "./picture/figure-csv.js";
export type { FigureFrames, FigureOptions } from "./figure.js";
export type { MappedDie } from "./figures/die-map.js";
export type { FieldMark } from "./figures/fields.js";
