import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { newProject } from "../../src/notebook/new-project.js";
import { readNotebook, title } from "../../src/notebook/run/notebook.js";

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "coldpath-new-"));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

describe("a new project", () => {
  it("begins with the script of the README", () => {
    const [script] = newProject(folder);
    const readme = readFileSync(fileURLToPath(new URL("../../README.md", import.meta.url)), "utf8");
    const written = /```ts\n(import \{ sizeBonds[\s\S]*?)```/.exec(readme)![1];
    expect(readFileSync(script!, "utf8")).toBe(written);
  });

  it("has a notebook with the same mount, which imports the package by its name", () => {
    const [script, notebook] = newProject(folder);
    const read = readNotebook(notebook!);
    expect(title(read)).toMatch(/^How many bonds/);
    const code = read.cells.filter(({ kind }) => kind === "code").map(({ source }) => source);
    const mount = /const mount[\s\S]*?\n\};/;
    expect(mount.exec(code[0]!)![0]).toBe(mount.exec(readFileSync(script!, "utf8"))![0]);
    expect(code[0]).toContain('from "coldpath"');
  });

  it("overwrites nothing", () => {
    writeFileSync(join(folder, "first.ipynb"), "mine");
    expect(() => newProject(folder)).toThrow("folder: expected one without a first.ipynb");
    expect(readdirSync(folder)).toEqual(["first.ipynb"]);
  });
});
