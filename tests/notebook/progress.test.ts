import { afterEach, describe, expect, it, vi } from "vitest";
import { progressBar } from "../../src/notebook/progress.js";

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
});
