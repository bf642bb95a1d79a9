/** Every notebook in notebooks/ runs from top to bottom and is committed clean. */
import { mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { command, root } from "./notebook/command-line.js";

const files = readdirSync(join(root, "notebooks")).filter((name) => name.endsWith(".ipynb"));
const out = mkdtempSync(join(tmpdir(), "coldpath-"));
afterAll(() => rmSync(out, { recursive: true, force: true }));

it("notebooks/ holds at least one notebook", () => {
  expect(files).not.toEqual([]);
});

describe.each(files)("%s", (file) => {
  const notebook = JSON.parse(readFileSync(join(root, "notebooks", file), "utf8"));
  const code: Record<string, unknown>[] = notebook.cells.filter(
    (cell: { cell_type: string }) => cell.cell_type === "code",
  );

  it("is committed without outputs and execution counts", () => {
    expect(code.flatMap((cell) => cell.outputs)).toEqual([]);
    expect(code.map((cell) => cell.execution_count).filter((count) => count !== null)).toEqual([]);
  });

  it("names the kernel that Jupyter shall run it with", () => {
    expect(notebook.metadata.kernelspec?.name).toBe("tslab");
  });

  it("runs without an error, gives a short answer and a page that stands alone", async () => {
    const { code, stdout, stderr } = await command(file, "--out", out);
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
  }, 120_000);
});
