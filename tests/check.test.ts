/** `npm run check -- NAME`. */
import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { readDataFolder } from "../src/materials/files.js";
import { check } from "./check.js";
import { slowly } from "./slowly.js";

const files = readDataFolder();

/** The data with one text in gold.csv replaced. */
function withGold(from: string | RegExp, to: string) {
  const gold = files.materials.gold!.replace(from, to);
  expect(gold).not.toBe(files.materials.gold);
  return { ...files, materials: { ...files.materials, gold } };
}

describe("the check of a file of data/", () => {
  slowly("says what a material has, and finds nothing wrong with any", () => {
    const { lines, faults } = check("gold");
    expect(faults).toEqual([]);
    expect(lines[0]).toBe("materials/gold: 29 rows");
    expect(lines[1]).toBe("  thermal_conductivity: 0 to 300 K, needs residualResistivityRatio");
    expect(lines[2]).toContain("electron_phonon_coupling, density");
    expect(lines[3]).toMatch(/^ {2}\d+ rows in .*materials\.csv: digits agreed \d\.\d at least/);
    for (const name of Object.keys(files.materials)) expect(check(name).faults, name).toEqual([]);
  });

  it("says what a kind of joint has", () => {
    expect(check("glue").lines.slice(0, 3)).toEqual([
      "joints/glue: 4 laws",
      expect.stringMatching(/^ {2}fast epoxy \(.*\), per_area: 0\.008 to 0\.1 K$/),
      "  varnish (GE 7031), layer: 0.05 to 1 K",
    ]);
  });

  it("names file, line and column of a row that can't be read", () => {
    const density = /^(density,constant,,,value,[^,]*),[^,]*,/m;
    const line = files.materials.gold!.split("\n").findIndex((text) => density.test(text)) + 1;
    expect(() => check("gold", withGold(density, "$1,K,"))).toThrow(
      `gold.csv:${line} unit: expected a unit such as kg/m^3 for value, got "K"`,
    );
    expect(() => check("gould")).toThrow('check: file of data/ "gould" is not known, did you mean');
  });

  it("finds numbers that disagree with published ones, and rows without note", () => {
    const lorenz = withGold(/(wiedemann-franz,[^,]*,[^,]*,lorenz_ratio),[^,]*,/, "$1,1.9,");
    const { faults } = check("gold", lorenz);
    expect(faults.some((fault) => /^materials\.csv:\d+ value: .*published/.test(fault))).toBe(true);
    expect(faults.some((fault) => /^gold\.csv:\d+: κ steps by a factor of/.test(fault))).toBe(true);
    const bare = check("gold", withGold(/^(density,(?:[^,\n]*,){8}.*,)[^,\n]*$/m, "$1"));
    expect(bare.faults).toEqual([
      expect.stringMatching(/^gold\.csv:\d+ note: expected a text in one of its rows$/),
    ]);
  });

  slowly("runs as a command, which fails for a file that is not there", () => {
    const script = fileURLToPath(new URL("../.ci/check.js", import.meta.url));
    const run = (...names: string[]) =>
      spawnSync(process.execPath, [script, ...names], { encoding: "utf8" });
    const { status, stdout } = run("gold");
    expect([status, stdout.split("\n")[0]]).toEqual([0, "materials/gold: 29 rows"]);
    const none = run("gould");
    expect([none.status, none.stderr]).toEqual([1, expect.stringContaining("did you mean")]);
    expect(run().status).toBe(1);
  });
});
