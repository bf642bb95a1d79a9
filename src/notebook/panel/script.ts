/// <reference lib="dom" />
/// <reference lib="dom.iterable" />
/**
 * The browser's part of panels: this library in one script, with the texts of the catalogue. It
 * travels compressed, once for each page or kernel.
 * @module
 */
import { createHash } from "node:crypto";
import { existsSync, readFileSync } from "node:fs";
import { gzipSync } from "node:zlib";
import { unpackScript, whenReadyScript } from "../page/unpack.js";

/** MIME type of a panel: `{ html }`, which stands on the page; the page's script starts it. */
export const panelType = "application/vnd.coldpath.panel+json";

/** Written by the build; src/ and dist/ lie equally deep below the package. */
const bundle = new URL("../../../dist/notebook/panel/bundle.js", import.meta.url);

let kept: { readonly compressed: string; readonly digest: string } | undefined;

/** The script compressed, as base64 text, and the digest by which a page's policy lets it run. */
function script() {
  if (kept === undefined) {
    if (!existsSync(bundle)) {
      throw new Error("panel: dist/notebook/panel/bundle.js is missing; `npm run build` makes it.");
    }
    const source = readFileSync(bundle, "utf8");
    kept = {
      compressed: gzipSync(source, { level: 9 }).toString("base64"),
      digest: createHash("sha256").update(source).digest("base64"),
    };
  }
  return kept;
}

/** For a page: brings the script and starts every panel. */
export function pagePanels(): { readonly source: string; readonly digest: string } {
  const { compressed, digest } = script();
  return { source: unpackScript(compressed, "coldpathPanel", startAll), digest };
}

let panelsShown = 0;

/** For Jupyter: starts one panel; the first after the kernel's start brings the script along. */
export function cellScripts(id: string): string {
  const first = panelsShown++ === 0;
  return [
    ...(first
      ? [`<script>${unpackScript(script().compressed, "coldpathPanel", startAll)}</script>`]
      : []),
    `<script>${whenReadyScript("coldpathPanel", startOne, id)}</script>`,
  ].join("\n");
}

// The two functions below run in the browser; they are sent as their source and use nothing outside.

declare const coldpathPanel: { start(panel: Element): void };

/* v8 ignore start */
/** A notebook may show later outputs before the one that brings the script. */
function startAll(): void {
  for (const panel of document.querySelectorAll(".coldpath-panel")) coldpathPanel.start(panel);
}

function startOne(id: string): void {
  const panel = document.getElementById(id);
  if (panel) coldpathPanel.start(panel);
}
/* v8 ignore stop */
