/** What the command says without running a notebook; its runs are in command.slow.test.ts. */
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { calledAs } from "../../src/notebook/programs.js";
import { version } from "../../src/version.js";
import { command, Desk } from "./command-line.js";

const desk = new Desk();

beforeAll(() => {
  for (const name of ["good", "silent", "awaited"]) desk.put(name, "1");
  writeFileSync(join(desk.folder, "broken.ipynb"), "{");
  writeFileSync(join(desk.folder, "old.ipynb"), '{"nbformat": 3}');
});
afterAll(() => desk.remove());

describe("npm start", () => {
  it("lists the notebooks with their first headings, and their names where there is none", async () => {
    const folder = new Desk();
    folder.put("b-second", "text", "## Second **one**");
    folder.put("a", "code()");
    const { code, stdout } = await folder.run("--list");
    folder.remove();
    expect(code).toBe(0);
    expect(stdout).toBe("a         a\nb-second  Second **one**\n");
  });

  it("names the nearest notebook and all known ones for a name it does not know", async () => {
    const { code, stdout, stderr } = await desk.run("goood");
    expect({ code, stdout }).toEqual({ code: 2, stdout: "" });
    expect(stderr).toMatch(/"goood" is not known, did you mean "good"\?.*Known: awaited, broken, /);
  });

  it.each([
    ["an option it does not know", ["--lust"], /Unknown option '--lust'/],
    ["two names", ["good", "silent"], /notebook: expected one name, got "good silent"/],
    ["a file that is not JSON", ["broken"], /broken\.ipynb: expected a notebook in JSON/],
    ["an older notebook format", ["old"], /old\.ipynb nbformat: expected 4, got 3/],
    [
      "a folder that is not there",
      ["--notebooks", "/nowhere"],
      /expected a folder that can be read/,
    ],
  ])("says what is wrong with %s and ends with 2", async (_name, words, message) => {
    const { code, stderr } = await desk.run(...words);
    expect(code).toBe(2);
    expect(stderr).toMatch(message);
    expect(stderr).not.toMatch(/\n./);
  });

  it("prints its usage", async () => {
    const { code, stdout } = await desk.run("--help");
    expect(code).toBe(0);
    expect(stdout).toContain("--list");
    expect(stdout).toMatch(/^Usage: node dist\/notebook\/command\.js \[NAME\]/);
  });

  it("prints its version", async () => {
    expect(await desk.run("--version")).toMatchObject({ code: 0, stdout: `${version}\n` });
  });

  it("is called in its help as it was", () => {
    expect(calledAs("/x/node_modules/.bin/coldpath", {})).toBe("coldpath");
    expect(calledAs("C:\\x\\coldpath.cmd".replaceAll("\\", "/"), {})).toBe("coldpath");
    expect(calledAs("/x/dist/notebook/command.js", { npm_lifecycle_event: "start" })).toBe(
      "npm start --",
    );
  });

  const broken = join(desk.folder, "broken.mjs");
  const throws = join(desk.folder, "throws.mjs");
  writeFileSync(broken, "export const mount = {\n");
  writeFileSync(throws, "throw new Error('no fridge\\nat all');\n");
  it.each([
    [
      ["shard", join(desk.folder, "none.mjs"), "1", "2"],
      'expected a file that can be read, got "ENOENT"',
    ],
    [["shard", broken, "1", "2"], "broken.mjs: expected a module that runs, got "],
    [
      ["shard", throws, "1", "2"],
      'throws.mjs: expected a module that runs, got "no fridge" (Error)',
    ],
    [["shard", "--lust"], "Unknown option '--lust'"],
  ])("says in one line what is wrong with %j", async (words, message) => {
    const { code, stdout, stderr } = await command(...words);
    expect({ code, stdout }).toEqual({ code: 2, stdout: "" });
    expect(stderr).toContain(message);
    expect(stderr).toMatch(/^[^\n]+\n$/);
  });
});
