import { mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { Desk, showModule } from "./command-line.js";

const desk = new Desk();
const slow = 60_000;

beforeAll(() => {
  desk.put(
    "good",
    "# A good notebook\n\nwords",
    `import { answer, show } from ${JSON.stringify(showModule)};\nconst n: number = await Promise.resolve(12);`,
    'console.log("unseen in the terminal");\nanswer(["old"]);',
    'answer(["Bonds  " + n, "Limit  105 mK"]);',
  );
  desk.put("silent", "const a = 1;");
  desk.put("type-error", "# Types", "const a = 1;", "// words\n\nconst b: string = a;");
  desk.put(
    "thrown",
    "interface Size {\n  a: number;\n}\nfunction f(size: Size) {\n  throw new RangeError('a = ' + size.a);\n}",
    "const text = `\n\n`;\n\nfor (const a of [7])\n  f({ a });",
  );
  desk.put("awaited", "await null;\n\nawait Promise.reject(new Error('no'));");
  desk.put(
    "floating",
    "const a = 1;\n(async () => {\n  await null;\n  throw new Error('late');\n})();",
  );
  desk.put(
    "inside",
    `import { show } from ${JSON.stringify(showModule)};\nshow({ toText() { throw new RangeError("inner"); } });`,
  );
  desk.put("leaves", "process.exit(0);");
  writeFileSync(join(desk.folder, "broken.ipynb"), "{");
  writeFileSync(join(desk.folder, "old.ipynb"), '{"nbformat": 3}');
});
afterAll(() => desk.remove());

describe("npm start", () => {
  it(
    "prints the last answer and the page's path, and nothing else when piped",
    async () => {
      const { code, stdout, stderr } = await desk.run("good");
      expect({ code, stderr }).toEqual({ code: 0, stderr: "" });
      expect(stdout).toBe(`Bonds  12\nLimit  105 mK\n\nPage: ${join(desk.out, "good.html")}\n`);
      expect(readFileSync(join(desk.out, "good.html"), "utf8")).toContain("<td>105 mK</td>");
    },
    slow,
  );

  it(
    "takes a name with .ipynb, and runs a notebook that gives no answer",
    async () => {
      const { code, stdout } = await desk.run("silent.ipynb");
      expect(code).toBe(0);
      expect(stdout).toBe(`Page: ${join(desk.out, "silent.html")}\n`);
    },
    slow,
  );

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
    expect({ code, stdout }).toEqual({ code: 1, stdout: "" });
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
  ])("says what is wrong with %s and ends with 1", async (_name, words, message) => {
    const { code, stderr } = await desk.run(...words);
    expect(code).toBe(1);
    expect(stderr).toMatch(message);
    expect(stderr).not.toMatch(/\n\s+at /);
  });

  it("prints its usage", async () => {
    const { code, stdout } = await desk.run("--help");
    expect(code).toBe(0);
    expect(stdout).toContain("--list");
  });
});

describe("a cell that fails", () => {
  it.each([
    [
      "type-error",
      "code cell 2, line 3:\n  3 | const b: string = a;\nType 'number' is not assignable to type 'string'.\n",
    ],
    ["awaited", "code cell 1, line 3:\n  3 | await Promise.reject(new Error('no'));\nno\n"],
    ["floating", "code cell 1, line 4:\n  4 |   throw new Error('late');\nlate\n"],
    ["thrown", "code cell 2, line 6:\n  6 |   f({ a });\nRangeError: a = 7\n"],
  ])(
    "%s: is reported with its number, its line and the error, and ends with 1",
    async (name, report) => {
      const { code, stdout, stderr } = await desk.run(name);
      expect({ code, stdout }).toEqual({ code: 1, stdout: "" });
      expect(stderr).toBe(`${join(desk.folder, name)}.ipynb, ${report}`);
    },
    slow,
  );

  it(
    "shows the calls inside the library for an error that the library did not foresee",
    async () => {
      const { stderr } = await desk.run("inside");
      expect(stderr).toMatch(
        /code cell 1, line 2:\n {2}2 \| show\(.*\nRangeError: inner\n {2}at bundle \(dist\/notebook\/show\.js:\d+:\d+\)\n {2}at show \(.*\)\n$/,
      );
    },
    slow,
  );

  it(
    "leaves an older page as it was and no half-written one beside it",
    async () => {
      const out = join(desk.folder, "kept");
      mkdirSync(out);
      writeFileSync(join(out, "thrown.html"), "older page");
      await desk.run("thrown", "--out", out);
      expect(readdirSync(out)).toEqual(["thrown.html"]);
      expect(readFileSync(join(out, "thrown.html"), "utf8")).toBe("older page");
    },
    slow,
  );

  it(
    "does not pass for success when it ends the program",
    async () => {
      const { code, stdout, stderr } = await desk.run("leaves");
      expect({ code, stdout }).toEqual({ code: 1, stdout: "" });
      expect(stderr).toContain("A cell ended the program");
    },
    slow,
  );
});
