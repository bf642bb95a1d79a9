/**
 * The recipes of DEVELOPERS.md, applied to a copy of the tree exactly as they stand: it compiles, and a
 * budget, a run in time, a sample, a drawing and a sweep have the heat of what was added.
 */
import { execFileSync, spawnSync } from "node:child_process";
import {
  appendFileSync,
  cpSync,
  existsSync,
  mkdtempSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";

const root = fileURLToPath(new URL("../", import.meta.url));
const page = readFileSync(join(root, "DEVELOPERS.md"), "utf8");
const copy = mkdtempSync(join(tmpdir(), "coldpath-recipes-"));

interface Step {
  readonly kind: string;
  readonly file: string;
  readonly text: string;
}

/** The steps under a heading: blocks of code that name a file. */
function stepsOf(heading: string): Step[] {
  const section = page.split(/^## /m).find((part) => part.startsWith(`${heading}\n`));
  const blocks = section!.matchAll(/^```(\w+) (\S+)\n([\s\S]*?)^```$/gm);
  return [...blocks].map(([, kind, file, text]) => ({ kind: kind!, file: file!, text: text! }));
}

/** Puts lines in and takes lines out: each piece of a diff stands once in the file. */
function patched(text: string, diff: string): string {
  return diff.split("@@\n").reduce((before, piece) => {
    const lines = piece.split("\n").filter((line) => line !== "");
    const side = (sign: string) =>
      lines.filter((line) => line.startsWith(sign) || line.startsWith(" ")).map((l) => l.slice(1));
    const [old, fresh] = [side("-").join("\n"), side("+").join("\n")];
    expect(before.split(`${old}\n`), `once in the file: ${old}`).toHaveLength(2);
    return before.replace(`${old}\n`, () => `${fresh}\n`);
  }, text);
}

function apply({ kind, file, text }: Step): void {
  const path = join(copy, file);
  if (kind === "diff") writeFileSync(path, patched(readFileSync(path, "utf8"), text));
  else if (existsSync(path)) appendFileSync(path, text);
  else writeFileSync(path, text);
}

/** What the compiler says of the copy; it writes dist/ where it is content. */
function compiled(...more: readonly string[]): string {
  const tsc = join(root, "node_modules/typescript/bin/tsc");
  const { stdout } = spawnSync(process.execPath, [tsc, "-p", copy, "--noEmitOnError", ...more], {
    encoding: "utf8",
  });
  return stdout;
}

beforeAll(() => {
  for (const name of ["src", "data", "package.json", "tsconfig.json"]) {
    cpSync(join(root, name), join(copy, name), { recursive: true });
  }
  symlinkSync(join(root, "node_modules"), join(copy, "node_modules"));
});
afterAll(() => rmSync(copy, { recursive: true }));

describe("the recipes", () => {
  it("compile when they are applied", () => {
    stepsOf("Add a material").forEach(apply);
    stepsOf("Add a joint, and a thing that uses it").forEach(apply);
    stepsOf("Add a load").forEach(apply);
    expect(compiled()).toBe("");
  });

  it("add a field by its type and its reader, of which none goes without the other", () => {
    const [{ text }] = stepsOf("Add a field") as [Step];
    const [imports, type, reader, use] = text.split("@@\n") as [string, string, string, string];
    const file = join(copy, "src/mount/things/felt.ts");
    const before = readFileSync(file, "utf8");
    writeFileSync(file, patched(before, type));
    expect(compiled("--noEmit")).toMatch(/felt\.ts.*'layers' is missing/s);
    writeFileSync(file, patched(before, `${imports}@@\n${reader}`));
    expect(compiled("--noEmit")).toMatch(/felt\.ts.*'layers' does not exist/s);
    writeFileSync(file, patched(before, [imports, type, reader, use].join("@@\n")));
    expect(compiled()).toBe("");
  });

  it("are seen in a budget, in time, in a sample, in a drawing and in a sweep", () => {
    const program = `
      import * as coldpath from "${copy}/dist/index.js";
      const { bonds, pads, ledge, ...bare } = JSON.parse(
        (await import("node:fs")).readFileSync("${copy}/data/mounts/ombrel-camera.json", "utf8"));
      const loads = [
        { kind: "shaking", name: "hum", each: "20 pW", wires: 12 },
        { kind: "conduction", name: "strut", material: "new-alloy", length: "50 mm", diameter: "1 mm", from: "1 K", on: "box" },
      ];
      const mount = { ...bare, die: { ...bare.die, cells: 32 }, loads, limit: { rise: "1 K" }, felt: { area: "4 mm^2", layers: 2 } };
      const { felt: _, ...without } = mount;
      const refused = (text) => { try { coldpath.readMount(text); return "accepted"; } catch (error) { return error.message; } };
      const budget = coldpath.thermalBudget(mount);
      const element = budget.elements.find(({ name }) => name === "felt");
      const course = coldpath.timeCourse(mount, { duration: "1 s", initially: { hum: 0 }, changes: [{ at: "1 ms", load: "hum", to: 1 }], cells: 8 });
      const spread = { ...mount, felt: { ...mount.felt, area: coldpath.spread("3 mm^2", "5 mm^2") } };
      const lumped = { ...spread, die: { ...bare.die, model: "two nodes" } };
      const rises = [spread, lumped].map((each) => {
        const sample = coldpath.uncertainMount(each, { rows: "none" });
        return [0.8, 1.2].map((by) => { const { chip, stage } = sample.evaluate(sample.medians.map((m) => m * by)); return chip - stage; });
      });
      const swept = coldpath.sweep(mount, { field: "felt.area", values: ["2 mm^2", "4 mm^2"] });
      console.log(JSON.stringify({
        power: element.power, drop: element.drop, main: element.main,
        sources: budget.sources.map(({ name, power }) => [name, power]),
        numbers: budget.provenance.some(({ quantity }) => quantity === "felt: area"),
        start: course.before, end: course.meanAt(course.places[0], 1), inputs: coldpath.uncertainMount(spread, { rows: "none" }).inputs.map(({ name }) => name),
        rises, swept: [swept.rise(0), swept.rise(1)],
        drawn: coldpath.mountDrawing(mount).svg.includes("soft"), alt: coldpath.mountDrawing(mount).alt,
        adrift: refused(without), wrong: refused({ ...mount, felt: { area: "3 mK" } }), misspelt: refused({ ...mount, felt: { area: 1e-6, layer: 2 } }),
      }));`;
    const node = ["--input-type=module", "-e", program];
    const seen = JSON.parse(execFileSync(process.execPath, node, { encoding: "utf8" }));
    // All the heat of twelve wires goes through the felt: P = c A/2 (T² − T₀²).
    expect(seen.power).toBeCloseTo(2.4e-10, 18);
    expect(seen.main && seen.numbers && seen.drawn).toBe(true);
    expect(seen.sources[0]).toEqual(["hum", 2.4e-10]);
    expect(seen.sources[1][1]).toBeGreaterThan(0);
    expect(seen.end).toBeGreaterThan(seen.start);
    expect(seen.inputs).toEqual(["felt: area"]);
    for (const [smaller, larger] of [...seen.rises, seen.swept]) {
      expect(smaller).toBeGreaterThan(1.2 * larger);
    }
    expect(seen.alt).toContain("felt (soft)");
    expect(seen.adrift).toMatch(/^mount: .*felt.* for the heat/);
    expect(seen.wrong).toMatch(/^felt\.area: expected an area/);
    expect(seen.misspelt).toMatch(/layer.*did you mean "layers"/);
  });
});
