import { chmodSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { findChromium, printPdf } from "../../../src/notebook/page/pdf.js";

const folder = mkdtempSync(join(tmpdir(), "coldpath-pdf-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** A program that stands for the browser. */
function program(name: string, script: string): string {
  const file = join(folder, name);
  writeFileSync(file, `#!/bin/sh\n${script}\n`);
  chmodSync(file, 0o755);
  return file;
}

describe("the browser for PDF", () => {
  it("is the one that CHROMIUM names, before the search path", () => {
    const own = program("mine", "");
    program("chromium", "");
    expect(findChromium({ CHROMIUM: own, PATH: folder })).toBe(own);
    expect(findChromium({ PATH: folder })).toBe(join(folder, "chromium"));
  });

  it("is asked for where there is none", () => {
    expect(() => findChromium({ PATH: "" })).toThrow(
      /^no PDF: it is printed by Chromium, and none of chromium, .* is on the search path\. Install it, or set CHROMIUM/,
    );
    expect(() => findChromium({ CHROMIUM: "/nowhere/x" })).toThrow(
      "CHROMIUM names /nowhere/x, which is no program",
    );
  });
});

describe("printing", () => {
  const page = join(folder, "a b.html");
  writeFileSync(page, "<p>x");

  it("writes beside the page and says where", async () => {
    const browser = program(
      "prints",
      'for w; do case "$w" in --print-to-pdf=*) printf %s "$*" > "$(echo "$w" | cut -d= -f2-)";; esac; done',
    );
    const pdf = await printPdf(page, { CHROMIUM: browser });
    expect(pdf).toBe(join(folder, "a b.pdf"));
    expect(readFileSync(pdf, "utf8")).toMatch(/--headless .*file:\/\/.*a%20b\.html$/);
  });

  it("leaves an older PDF as it was when the browser fails, and tells what it said", async () => {
    writeFileSync(join(folder, "a b.pdf"), "old");
    const browser = program("fails", "echo cannot >&2; exit 1");
    await expect(printPdf(page, { CHROMIUM: browser })).rejects.toThrow(
      /wrote none\. It said:\ncannot/,
    );
    expect(readFileSync(join(folder, "a b.pdf"), "utf8")).toBe("old");
    expect(readdirSync(folder).filter((name) => name.startsWith("."))).toEqual([]);
  });
});
