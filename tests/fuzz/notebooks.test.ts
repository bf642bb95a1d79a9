/** Notebook files with mistakes in them, and names of notebooks that lead elsewhere. */
import { mkdtempSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve, sep } from "node:path";
import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { page } from "../../src/notebook/page/page.js";
import { writeWhole } from "../../src/notebook/page/pagefile.js";
import {
  findNotebook,
  listNotebooks,
  readNotebook,
  title,
} from "../../src/notebook/run/notebook.js";
import { fuzz } from "./cases.js";
import { strangeName, strangeVersions } from "./strange.js";

let folder = "";
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "coldpath-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const notebook = {
  cells: [
    { cell_type: "markdown", metadata: {}, source: ["# Title\n", "words"] },
    { cell_type: "code", metadata: {}, source: "const a = 1;", outputs: [], execution_count: null },
    { cell_type: "raw", metadata: {}, source: "raw" },
  ],
  metadata: { kernelspec: { name: "tslab" } },
  nbformat: 4,
  nbformat_minor: 5,
};

/** As it may stand in a file: what JSON can't hold is left out, and texts are cut. */
const files = fc
  .tuple(
    strangeVersions(fc.constant(notebook)),
    fc.oneof(fc.constant(null), fc.constant(null), fc.nat({ max: 400 })),
    fc.integer({ min: 0, max: 5 }),
  )
  .map(([json, cut, zero]) => {
    let text = "";
    try {
      text = JSON.stringify(json, (_, value) => (typeof value === "bigint" ? 1 : value)) ?? "";
    } catch {
      text = "{";
    }
    if (cut !== null) text = text.slice(0, cut);
    return zero === 0 ? text.replace("1", "\u0000") : text;
  });

describe("a notebook's file with mistakes in it", () => {
  it("is read and becomes a page, or is refused in words", () => {
    fuzz(0.08, files, (text) => {
      const file = join(folder, "odd.ipynb");
      writeFileSync(file, text);
      const read = readNotebook(file);
      const cells = read.cells.map((cell) => ({ ...cell, outputs: [] }));
      const html = page({ ...read, cells }, { date: "2026-01-01", versions: [] });
      if (/<script[^>]*>(?!window|!|\/|")/.test(html) && read.cells.length === 0)
        throw new TypeError("a script of its own");
      return [title(read).length, listNotebooks(folder).length];
    });
  });
});

describe("a page's file", () => {
  it("stays in its folder, whatever the notebook's name", () => {
    const out = join(folder, "out");
    const names = fc.oneof(
      strangeName,
      fc.constantFrom("..", ".", "../x", "/etc/x", "a/../../b", "con:", "~"),
    );
    fuzz(0.03, names, (name) => {
      const file = resolve(writeWhole(out, `${name}.html`, "text"));
      if (!file.startsWith(out + sep) || file.slice(out.length + 1).includes(sep))
        throw new TypeError(`${file} lies elsewhere`);
    });
    expect(readdirSync(folder).filter((name) => !/^(odd\.ipynb|out)$/.test(name))).toEqual([]);
  });

  it("is written only for a notebook that is in the folder", () => {
    fuzz(
      0.02,
      fc.oneof(strangeName, fc.constantFrom("../odd", "/etc/passwd", "odd.ipynb", "x/odd")),
      (name) => {
        const found = findNotebook(folder, name);
        if (!found.startsWith(folder + sep)) throw new TypeError(`${found} lies elsewhere`);
      },
    );
  });
});
