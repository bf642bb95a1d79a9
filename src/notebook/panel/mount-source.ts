/**
 * A mount as TypeScript, to paste back into a cell.
 * @module
 */
import type { Mount } from "../../mount/mount.js";

/** Longest line that an object or a list is kept on. */
const width = 100;

/** `const mount: Mount = { … };` and the import it needs, with values as they were written. */
export function mountSource(mount: Mount): string {
  return `import type { Mount } from "coldpath";\n\nconst mount: Mount = ${source(mount, "", 24)};\n`;
}

/** A value as source; `used` is what already stands on its first line. */
function source(value: unknown, indent: string, used: number): string {
  if (value === undefined || typeof value !== "object" || value === null) return literal(value);
  const list = Array.isArray(value) || ArrayBuffer.isView(value);
  const inner = `${indent}  `;
  const entries = list
    ? Array.from(value as ArrayLike<unknown>, (each) => ["", each] as const)
    : Object.entries(value)
        .filter(([, each]) => each !== undefined)
        .map(([key, each]) => {
          const name = /^[A-Za-z_$][\w$]*$/.test(key) ? key : quoted(key);
          return [`${name}: `, each] as const;
        });
  const [open, close] = list ? "[]" : "{}";
  if (entries.length === 0) return `${open}${close}`;
  const gap = list ? "" : " ";
  const flat = entries.map(([key, each]) => key + source(each, inner, -1e9)).join(", ");
  const line = `${open}${gap}${flat}${gap}${close}`;
  // A mount itself is always written field by field.
  const fits = !line.includes("\n") && used + line.length <= width && indent !== "";
  if (used < 0 || fits) return line;
  const lines = entries.map(
    ([key, each]) => `${inner}${key}${source(each, inner, inner.length + key.length + 1)},`,
  );
  return `${open}\n${lines.join("\n")}\n${indent}${close}`;
}

function literal(value: unknown): string {
  if (typeof value === "string") return quoted(value);
  // The sign of zero and values that are no numbers have words of their own in the language.
  return Object.is(value, -0) ? "-0" : String(value);
}

/** In double quotes; line ends of other scripts would end the string in old readers. */
function quoted(text: string): string {
  return JSON.stringify(text).replace(/[\u2028\u2029]/g, (c) =>
    c === "\u2028" ? "\\u2028" : "\\u2029",
  );
}
