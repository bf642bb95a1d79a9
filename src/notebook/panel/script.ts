/**
 * The browser's part of panels: this library in one script, with the texts of the catalogue. It
 * travels compressed, once for each page or kernel.
 * @module
 */
import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import { gzipSync } from "node:zlib";

/** MIME type of a panel: `{ html }`, which stands on the page; the page's script starts it. */
export const panelType = "application/vnd.coldpath.panel+json";

/** Written by the build; src/ and dist/ lie equally deep below the package. */
const bundle = new URL("../../../dist/notebook/panel/bundle.js", import.meta.url);

let kept: { readonly compressed: string; readonly digest: string } | undefined;

/** The script compressed, as base64 text, and the digest by which a page's policy lets it run. */
function script() {
  if (kept === undefined) {
    const source = readBundle();
    kept = {
      compressed: gzipSync(source, { level: 9 }).toString("base64"),
      digest: createHash("sha256").update(source).digest("base64"),
    };
  }
  return kept;
}

function readBundle(): string {
  try {
    return readFileSync(bundle, "utf8");
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== "ENOENT") throw error;
    throw new Error("panel: dist/notebook/panel/bundle.js is missing; `npm run build` makes it.");
  }
}

/** For a page: brings the script and starts every panel. */
export function pagePanels(): { readonly source: string; readonly digest: string } {
  const { compressed, digest } = script();
  return { source: `(${unpackPanels.toString()})("${compressed}")`, digest };
}

let panelsShown = 0;

/** For Jupyter: starts one panel; the first after the kernel's start brings the script along. */
export function cellScripts(id: string): string {
  const first = panelsShown++ === 0;
  return [
    ...(first ? [`<script>(${unpackPanels.toString()})("${script().compressed}")</script>`] : []),
    `<script>(${startPanel.toString()})("${id}")</script>`,
  ].join("\n");
}

// The two functions below run in the browser; they are sent as their source and use nothing outside.

interface BrowserWindow {
  coldpathPanelReady?: Promise<void>;
  coldpathPanel?: { start(panel: unknown): void };
  document: {
    createElement(name: string): { text: string };
    head: { append(element: object): void };
    getElementById(id: string): unknown;
    querySelectorAll(selector: string): Iterable<unknown>;
  };
  Blob: new (parts: unknown[]) => { stream(): { pipeThrough(through: unknown): unknown } };
  DecompressionStream: new (format: string) => unknown;
  Response: new (body: unknown) => { text(): Promise<string> };
  atob(text: string): string;
  setTimeout(call: () => void, delay: number): void;
}

/* v8 ignore start */
function unpackPanels(compressed: string): void {
  const page = globalThis as unknown as BrowserWindow;
  if (page.coldpathPanel !== undefined || page.DecompressionStream === undefined) return;
  const bytes = Uint8Array.from(page.atob(compressed), (character) => character.charCodeAt(0));
  const source = new page.Blob([bytes]).stream().pipeThrough(new page.DecompressionStream("gzip"));
  page.coldpathPanelReady = new page.Response(source).text().then((text) => {
    const script = page.document.createElement("script");
    script.text = text;
    page.document.head.append(script);
    // A notebook may show later outputs before the one that brings the script.
    for (const panel of page.document.querySelectorAll(".coldpath-panel"))
      page.coldpathPanel?.start(panel);
  });
}

function startPanel(id: string): void {
  const page = globalThis as unknown as BrowserWindow;
  const start = (): void => {
    const panel = page.document.getElementById(id);
    if (panel) page.coldpathPanel?.start(panel);
  };
  // The place of an output can enter the page after its script has run.
  page.setTimeout(() => {
    if (page.coldpathPanel !== undefined) start();
    else page.coldpathPanelReady?.then(start);
  }, 0);
}
/* v8 ignore stop */
