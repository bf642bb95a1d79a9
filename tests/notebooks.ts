/** The notebooks in notebooks/, and a run of one from top to bottom. */
import { mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect } from "vitest";
import { command, root } from "./notebook/command-line.js";

export const files: readonly string[] = readdirSync(join(root, "notebooks")).filter((name) =>
  name.endsWith(".ipynb"),
);

/** The one that `npm start` runs, and with it readme.slow.test.ts; notebooks.slow.test.ts runs all others. */
export const first = "size-bonds.ipynb";

/**
 * The command, on the first notebook or on one by name, runs without an error, gives a short answer and
 * a page that stands alone.
 * @returns what it printed
 */
export async function expectPage(file = first): Promise<string> {
  const out = mkdtempSync(join(tmpdir(), "coldpath-"));
  try {
    const { code, stdout, stderr } = await command(...(file === first ? [] : [file]), "--out", out);
    expect({ code, stderr }).toEqual({ code: 0, stderr: "" });
    const [answer, place] = stdout.split("\n\n");
    expect(answer).not.toBe("");
    expect(place).toMatch(/^Page: .*\.html\n$/);
    const html = readFileSync(join(out, file.replace(/\.ipynb$/, ".html")), "utf8");
    expect(html.length).toBeLessThan(6e6);
    expect(html).toContain("default-src 'none'");
    const body = html.replace(/<script[\s\S]*?<\/script>/g, "");
    expect(body).not.toMatch(
      /<(script|link|iframe|object|embed|base)\b|<[^>]*\s(on\w+=|src="(?!data:))/i,
    );
    expect(body.replace(/<details[\s\S]*?<\/details>/g, "")).not.toMatch(
      /\b(undefined|NaN|Infinity)\b|\[object /,
    );
    return stdout;
  } finally {
    rmSync(out, { recursive: true, force: true });
  }
}
