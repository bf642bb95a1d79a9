import { join } from "node:path";
import { afterAll, afterEach, describe, expect, it, vi } from "vitest";
import { executeNotebook } from "../../../src/notebook/run/execute.js";
import { readNotebook } from "../../../src/notebook/run/notebook.js";
import { progressBar } from "../../../src/notebook/run/progress.js";
import { slowly } from "../../slowly.js";
import { Desk, root } from "../command-line.js";

const desk = new Desk();
afterAll(() => desk.remove());

const { stderr } = process;
const wasTerminal = stderr.isTTY;

afterEach(() => {
  stderr.isTTY = wasTerminal;
  vi.restoreAllMocks();
});

describe("a progress bar", () => {
  it("is a line at each quarter where there is no terminal", () => {
    stderr.isTTY = false;
    const log = vi.spyOn(console, "log").mockImplementation(() => {});
    const progress = progressBar("samples");
    for (let done = 1; done <= 16; done++) progress(done, 16);
    const lines = log.mock.calls.map(([line]) => String(line));
    expect(lines).toHaveLength(4);
    expect(lines[0]).toMatch(/^samples: 25 %, \d+ s left$/);
    expect(lines[3]).toBe("samples: 100 %");
  });

  it("grows in place in a terminal and ends with a line", () => {
    stderr.isTTY = true;
    let written = "";
    vi.spyOn(stderr, "write").mockImplementation((text) => {
      written += String(text);
      return true;
    });
    const progress = progressBar("samples");
    progress(5, 10);
    progress(10, 10);
    expect(written).toContain(`[${"=".repeat(15)}${" ".repeat(15)}] samples: 50 %`);
    expect(written.endsWith(`[${"=".repeat(30)}] samples: 100 %\n`)).toBe(true);
  });

  slowly("grows in place in a notebook", async () => {
    const file = JSON.stringify(join(root, "dist/notebook/run/progress.js"));
    desk.put(
      "bar",
      `import { progressBar } from ${file};\nconst progress = progressBar("a < b");\nfor (let k = 1; k <= 8; k++) progress(k, 8);`,
    );
    const { cells } = await executeNotebook(readNotebook(join(desk.folder, "bar.ipynb")));
    const shown = '<label><progress value="1" max="1"></progress> a &lt; b: 100 %</label>';
    expect(cells[0]!.outputs).toEqual([
      {
        output_type: "display_data",
        data: { "text/plain": `[${"=".repeat(30)}] a < b: 100 %`, "text/html": shown },
      },
    ]);
  });
});
