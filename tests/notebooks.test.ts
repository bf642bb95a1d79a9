/** Every notebook in notebooks/ is committed clean. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { root } from "./notebook/command-line.js";
import { files } from "./notebooks.js";

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
});
