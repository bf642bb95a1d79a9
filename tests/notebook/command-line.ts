/** Notebooks made for a test, and the command run on them in a process of its own. */
import { spawn } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

export const root = fileURLToPath(new URL("../../", import.meta.url));

/** The built module a cell imports `show` and `answer` from. */
export const showModule = join(root, "dist/notebook/show.js");

/** A folder for one test file's notebooks and pages; `remove` it at the end. */
export class Desk {
  readonly folder = mkdtempSync(join(tmpdir(), "coldpath-"));
  readonly out = join(this.folder, "out");

  /** Put a notebook there; cells that start with `#` are text, all others are code. */
  put(name: string, ...cells: string[]): void {
    const json = {
      cells: cells.map((source) => ({
        cell_type: source.startsWith("#") ? "markdown" : "code",
        metadata: {},
        source,
        ...(source.startsWith("#") ? {} : { outputs: [], execution_count: null }),
      })),
      metadata: {},
      nbformat: 4,
      nbformat_minor: 5,
    };
    writeFileSync(join(this.folder, `${name}.ipynb`), JSON.stringify(json));
  }

  /** Run the command on this folder's notebooks. */
  run(...words: string[]): Promise<Ended> {
    return command("--notebooks", this.folder, "--out", this.out, ...words);
  }

  remove(): void {
    rmSync(this.folder, { recursive: true, force: true });
  }
}

/** What a process left behind. */
export interface Ended {
  readonly code: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

/** Run `npm start`'s command from the repository's top. */
export function command(...words: string[]): Promise<Ended> {
  return node(join(root, "dist/notebook/command.js"), ...words);
}

/** Run Node on these words. */
export function node(...words: string[]): Promise<Ended> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, words, { cwd: root });
    const text = { stdout: "", stderr: "" };
    child.stdout.on("data", (chunk) => {
      text.stdout += chunk;
    });
    child.stderr.on("data", (chunk) => {
      text.stderr += chunk;
    });
    child.on("error", reject);
    child.on("close", (code) => resolve({ code, ...text }));
  });
}
