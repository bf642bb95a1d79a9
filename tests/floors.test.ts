/** The floors, layers of src: a file imports from a lower floor or its own folder, and never in a circle. */
import { readdirSync, readFileSync } from "node:fs";
import { dirname, join, relative, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";

const source = fileURLToPath(new URL("../src/", import.meta.url));

/** Floor of each folder of src; files that lie in src itself are listed by name. */
const floors: Readonly<Record<string, number>> = {
  "provenance.ts": 0,
  "conductor.ts": 0,
  "ranges.ts": 0,
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

/** Packages, and Node's own modules, by the only modules that may import them. */
const importers: Readonly<Record<string, RegExp>> = {
  mathjs: /^units\//,
  "ml-matrix": /^(numerics|network)\//,
  "pure-rand": /^numerics\//,
  "#csv-parse": /^materials\//,
  tslab: /^notebook\//,
  "@tslab": /^notebook\//,
  marked: /^notebook\//,
  "plotly.js-dist-min": /^notebook\//,
  tinypool: /^design\/confidence\/pool\.ts$/,
  node: /^(notebook\/|materials\/files\.ts$|design\/confidence\/(pool|sample-worker)\.ts$)/,
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

/** The file of src that a relative import names. */
function targetOf(file: string, name: string): string {
  const target = relative(source, resolve(source, dirname(file), name)).replaceAll("\\", "/");
  return target.replace(/\.js$/, ".ts");
}

/** A way from a file over imports back to a file on the way, if there is one. */
function circleIn(imports: ReadonlyMap<string, readonly string[]>): readonly string[] {
  const done = new Set<string>();
  const from = (file: string, way: readonly string[]): readonly string[] => {
    if (way.includes(file)) return [...way.slice(way.indexOf(file)), file];
    if (done.has(file)) return [];
    for (const next of imports.get(file) ?? []) {
      const circle = from(next, [...way, file]);
      if (circle.length > 0) return circle;
    }
    done.add(file);
    return [];
  };
  return [...imports.keys()].map((file) => from(file, [])).find(({ length }) => length > 0) ?? [];
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
        const other = folderOf(targetOf(file, name));
        const allowed =
          other === folder || floors[other]! < floor || (floor === 0 && floors[other] === 0);
        expect(allowed, `${file} imports ${name}`).toBe(true);
        if (folder === "network" || folder === "chip") {
          expect(other === folder || floors[other] === 0, `${file} knows ${name}`).toBe(true);
        }
        if (file !== "index.ts") {
          expect(targetOf(file, name), `${file} imports an entry`).not.toMatch(
            /(^|\/)(index|browser)\.ts$/,
          );
        }
      } else {
        const packageName = name.startsWith("node:") ? "node" : name.split("/")[0]!;
        expect(importers, `${file} imports ${name}`).toHaveProperty([packageName]);
        expect(file, `${name} is imported elsewhere`).toMatch(importers[packageName]!);
      }
    }
  });

  it("have no circle of imports, those of types included", () => {
    const imports = files.map((file) => {
      const own = importsOf(file).filter((name) => name.startsWith("."));
      return [file, own.map((name) => targetOf(file, name))] as const;
    });
    expect(circleIn(new Map(imports)).join(" → ")).toBe("");
    const three = { "a.ts": ["b.ts"], "b.ts": ["c.ts", "d.ts"], "c.ts": [], "d.ts": ["b.ts"] };
    expect(circleIn(new Map(Object.entries(three)))).toEqual(["b.ts", "d.ts", "b.ts"]);
  });

  it.each(files.filter((file) => !/^notebook\/|^materials\/files\.ts$/.test(file)))(
    "%s touches no file, console or browser",
    (file) => {
      const text = readFileSync(join(source, file), "utf8").replace(/\/\*[\s\S]*?\*\/|\/\/.*/g, "");
      expect(text).not.toMatch(/\b(console|process|document|window|globalThis)\./);
    },
  );
});
