/** The floors of the house: a file imports from a lower floor or its own folder, and no other. */
import { readdirSync, readFileSync } from "node:fs";
import { dirname, join, relative, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";

const source = fileURLToPath(new URL("../src/", import.meta.url));

/** Floor of each folder of src; files that lie in src itself are listed by name. */
const floors: Readonly<Record<string, number>> = {
  "provenance.ts": 0,
  "conductor.ts": 0,
  "version.ts": 0,
  units: 0,
  numerics: 0,
  materials: 1,
  joints: 2,
  loads: 2,
  device: 2,
  network: 2,
  chip: 2,
  mount: 3,
  design: 4,
  plots: 5,
  notebook: 6,
  "browser.ts": 6,
  "index.ts": 7,
};

/** Packages, and Node's own modules, by the only places that may import them. */
const doors: Readonly<Record<string, RegExp>> = {
  mathjs: /^units\//,
  "ml-matrix": /^(numerics|network)\//,
  "pure-rand": /^numerics\//,
  "#csv-parse": /^materials\//,
  tslab: /^notebook\//,
  "@tslab": /^notebook\//,
  marked: /^notebook\//,
  "plotly.js-dist-min": /^notebook\//,
  tinypool: /^design\/confidence\/pool\.ts$/,
  node: /^(notebook\/|materials\/files\.ts$|design\/confidence\/pool\.ts$)/,
};

const files = readdirSync(source, { recursive: true, encoding: "utf8" })
  .filter((name) => name.endsWith(".ts"))
  .map((name) => name.replaceAll("\\", "/"));

const folderOf = (file: string) => (file.includes("/") ? file.slice(0, file.indexOf("/")) : file);

function importsOf(file: string): string[] {
  const text = readFileSync(join(source, file), "utf8");
  const statements = text.matchAll(/^(?:import|export|\})(?:.*\bfrom)?\s+["']([^"']+)["'];?$/gm);
  const calls = text.matchAll(/\b(?:require|import)\(\s*["']([^"']+)["']/g);
  return [...statements, ...calls].map((match) => match[1]!);
}

describe("the floors", () => {
  it("know every folder of src", () => {
    expect(files.length).toBeGreaterThan(40);
    for (const file of files) expect(floors, file).toHaveProperty([folderOf(file)]);
  });

  it.each(files)("%s imports only downwards", (file) => {
    const folder = folderOf(file);
    const floor = floors[folder]!;
    for (const name of importsOf(file)) {
      if (name.startsWith(".")) {
        const target = relative(source, resolve(source, dirname(file), name)).replaceAll("\\", "/");
        const other = folderOf(target.replace(/\.js$/, ".ts"));
        const allowed =
          other === folder || floors[other]! < floor || (floor === 0 && floors[other] === 0);
        expect(allowed, `${file} imports ${name}`).toBe(true);
        if (folder === "network" || folder === "chip") {
          expect(other === folder || floors[other] === 0, `${file} knows ${name}`).toBe(true);
        }
        if (file !== "index.ts") {
          expect(target, `${file} imports an entry`).not.toMatch(/(^|\/)(index|browser)\.js$/);
        }
      } else {
        const door = name.startsWith("node:") ? "node" : name.split("/")[0]!;
        expect(doors, `${file} imports ${name}`).toHaveProperty([door]);
        expect(file, `${name} has its own door`).toMatch(doors[door]!);
      }
    }
  });

  it.each(files.filter((file) => !/^notebook\/|^materials\/files\.ts$/.test(file)))(
    "%s touches no file, console or browser",
    (file) => {
      const text = readFileSync(join(source, file), "utf8").replace(/\/\*[\s\S]*?\*\/|\/\/.*/g, "");
      expect(text).not.toMatch(/\b(console|process|document|window|globalThis)\./);
    },
  );
});
