/**
 * The drawing library Plotly as a script: read from its package, never loaded into Node.
 * @module
 */
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { gzipSync } from "node:zlib";
import { scriptSource } from "./escape.js";

const require = createRequire(import.meta.url);

export function plotlyVersion(): string {
  return (require("plotly.js-dist-min/package.json") as { version: string }).version;
}

/** Plotly's whole source, ready to stand inside a script element; it sets `window.Plotly`. */
export function plotlySource(): string {
  return scriptSource(readFileSync(require.resolve("plotly.js-dist-min"), "utf8"));
}

let compressed: string | undefined;

/**
 * Plotly compressed, as base64 text: 2.0 MB instead of 4.8 MB. A Jupyter server drops output that
 * comes at more than 1 MB/s over three seconds, which the whole source would exceed.
 */
export function plotlyCompressed(): string {
  compressed ??= gzipSync(readFileSync(require.resolve("plotly.js-dist-min"))).toString("base64");
  return compressed;
}
