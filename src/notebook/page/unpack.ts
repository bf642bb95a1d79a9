/// <reference lib="dom" />
/**
 * Scripts that travel compressed in a page or in an output of a notebook: a browser unpacks them, and what
 * needs them waits. What runs in the browser is sent as its source and uses nothing outside itself.
 * @module
 */
import { scriptJson } from "./escape.js";

type Page = typeof globalThis & Record<string, unknown>;

/* v8 ignore start */
function unpack(compressed: string, name: string, added?: () => void): void {
  const page = globalThis as Page;
  if (page[name] !== undefined || page.DecompressionStream === undefined) return;
  const bytes = Uint8Array.from(page.atob(compressed), (character) => character.charCodeAt(0));
  const source = new page.Blob([bytes]).stream().pipeThrough(new page.DecompressionStream("gzip"));
  page[`${name}Ready`] = new page.Response(source).text().then((text) => {
    const script = page.document.createElement("script");
    script.text = text;
    page.document.head.append(script);
    added?.();
  });
}

function whenReady(name: string, call: () => void): void {
  const page = globalThis as Page;
  // The place of an output can enter the page after its script has run.
  page.setTimeout(() => {
    if (page[name] !== undefined) call();
    else (page[`${name}Ready`] as Promise<void> | undefined)?.then(call);
  }, 0);
}
/* v8 ignore stop */

/**
 * Source that adds a script to the page, unless `window[name]`, which the script sets, is there already.
 * @param compressed - the script, by gzip, as base64 text
 * @param added - called in the browser once it is added
 */
export function unpackScript(compressed: string, name: string, added?: () => void): string {
  return `(${unpack})("${compressed}","${name}"${added ? `,${added}` : ""})`;
}

/** Source that calls a function in the browser with some values once `window[name]` is there. */
export function whenReadyScript<Values extends readonly unknown[]>(
  name: string,
  call: (...values: Values) => void,
  ...values: Values
): string {
  return `(${whenReady})("${name}",()=>(${call})(${values.map(scriptJson).join(",")}))`;
}
