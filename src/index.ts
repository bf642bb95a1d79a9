/**
 * coldpath: how heat leaves a superconducting detector chip. All of `coldpath/browser`, and what needs
 * Node: notebooks and the folder of data.
 * @module coldpath
 */
export * from "./browser.js";

// In a notebook
export { Panel, panel } from "./notebook/panel/panel.js";
export type { Control, ReadControl } from "./notebook/panel/controls.js";
export { answer, type Presentable, show } from "./notebook/show.js";
export type { MimeBundle } from "./notebook/run/notebook.js";
export type { PlotlyFigure } from "./notebook/page/figurehtml.js";
export { type Progress, progressBar } from "./notebook/run/progress.js";

// Folder of the data
export { readDataFolder } from "./materials/files.js";
