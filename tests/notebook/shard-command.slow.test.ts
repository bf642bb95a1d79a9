import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { solveHere } from "../../src/design/index.js";
import { confidence, spread, sweep } from "../../src/index.js";
import { quickMount } from "../mount/example.js";
import { command } from "./command-line.js";

const folder = mkdtempSync(join(tmpdir(), "coldpath-"));
const out = join(folder, "out");
const work = join(folder, "purity.mjs");
const axis = { field: "pads.residualResistivityRatio", values: [2, 5, 11, 30] } as const;
writeFileSync(
  work,
  `export const mount = ${JSON.stringify(quickMount())};\nexport const axes = [${JSON.stringify(axis)}];\n`,
);
writeFileSync(join(folder, "empty.mjs"), "export const mount = {};\n");
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe("npm start -- shard and merge", () => {
  it("compute the parts of a sweep in processes of their own, and put them together", async () => {
    for (const part of ["1", "2", "3"]) {
      const { code, stdout } = await command("shard", work, part, "3", "--out", out);
      expect([code, stdout]).toEqual([
        0,
        `Part ${part} of 3: ${join(out, `purity.${part}-of-3.csv`)}\n`,
      ]);
    }
    const parts = readdirSync(out).map((name) => join(out, name));
    const { code, stdout } = await command("merge", work, ...parts, "--out", out);
    expect(code).toBe(0);
    expect(stdout).toContain(`All 3 parts: ${join(out, "purity.csv")}\n`);
    const lines = readFileSync(join(out, "purity.csv"), "utf8").trim().split("\n");
    expect(lines[0]).toMatch(/^pads\.residualResistivityRatio,die centre \[K\],.*,stage \[K\]$/);
    const whole = sweep(quickMount(), axis);
    expect(lines.slice(1).map((line) => Number(line.split(",")[1]))).toEqual(
      axis.values.map((_, i) => whole.temperature(i)),
    );
  }, 60_000);

  it("compute samples in parts, where the file asks for them in the place of axes", async () => {
    const mount = { ...quickMount(), stage: spread("0.1 K", "0.12 K") };
    const sampling = { samples: 64, replicates: 4, seed: 2, rows: "none" } as const;
    const file = join(folder, "sure.mjs");
    writeFileSync(
      file,
      `export const mount = ${JSON.stringify(mount)};\nexport const samples = ${JSON.stringify(sampling)};\n`,
    );
    for (const part of ["1", "2"]) {
      expect((await command("shard", file, part, "2", "--out", out)).code).toBe(0);
    }
    const parts = ["1", "2"].map((part) => join(out, `sure.${part}-of-2.csv`));
    const { code, stdout } = await command("merge", file, ...parts, "--out", out);
    const whole = await confidence(mount, { ...sampling, runner: solveHere });
    expect([code, stdout]).toEqual([
      0,
      `${whole.toText()}\nAll 2 parts: ${join(out, "sure.csv")}\n`,
    ]);
    const lines = readFileSync(join(out, "sure.csv"), "utf8").trim().split("\n");
    expect(lines.slice(1).map(Number)).toEqual([...whole.temperatures]);
    writeFileSync(file, `export const mount = {};\nexport const samples = { sample: 3 };\n`);
    expect((await command("shard", file, "1", "2", "--out", out)).stderr).toContain(
      'samples: expected some of samples, replicates, seed, rows, got "sample"',
    );
  }, 60_000);

  it("say what is wrong, and how they are used", async () => {
    const failed = async (...words: string[]) => {
      const { code, stderr } = await command(...words, "--out", out);
      expect(code).toBe(2);
      return stderr;
    };
    expect(await failed("shard", work, "4", "3")).toBe(
      "shard.index: expected a whole number from 1 to 3, got 4\n",
    );
    expect(await failed("shard", work, "1.5", "3")).toBe(
      'shard I: expected a whole number from 1, got "1.5"\n',
    );
    expect(await failed("shard", work)).toContain(
      "shard: expected a part and how many, such as 3 16",
    );
    expect(await failed("shard", join(folder, "empty.mjs"), "1", "2")).toContain(
      "empty.mjs axes: expected a list of one axis or two, exported",
    );
    expect(await failed("merge", work, join(out, "purity.1-of-3.csv"))).toBe(
      'shards: expected all 3 of them, got "none of number 2, 3"\n',
    );
    expect(await failed("merge", work, join(out, "nowhere.csv"))).toContain(
      'nowhere.csv: expected a file that can be read, got "ENOENT"',
    );
    const { stdout } = await command("shard", "--help");
    expect(stdout).toContain("merge FILE.mjs SHARD.csv ...");
  }, 60_000);
});
