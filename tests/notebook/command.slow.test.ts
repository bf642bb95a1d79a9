/** Whole runs of the command; what it says without a run is in command.test.ts. */
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
});
afterAll(() => desk.remove());

describe("npm start", () => {
  it(
    "prints the last answer and the page's path, and nothing else when piped",
    async () => {
      const { code, stdout, stderr } = await desk.run("good");
      expect({ code, stderr }).toEqual({ code: 0, stderr: "" });
      expect(stdout).toBe(`Bonds  12\nLimit  105 mK\n\nPage: ${join(desk.out, "good.html")}\n`);
      expect(readFileSync(join(desk.out, "good.html"), "utf8")).toMatch(/<td>105\smK<\/td>/);
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
