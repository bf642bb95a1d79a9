import { readFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { ConvertedAhead } from "../../../src/notebook/run/convert-ahead.js";
import { conversions } from "../../../src/notebook/run/tslab.js";
import { Desk } from "../command-line.js";

const desk = new Desk();
afterAll(() => desk.remove());
const page = (name: string) => readFileSync(join(desk.out, `${name}.html`), "utf8");

describe("cells converted ahead", () => {
  const cells = ["const a: number = 6;", "const b = a * 7;\nb", "const wrong: string = b;", "1"];

  it("are those before the first with an error, each resting on what the earlier declare", () => {
    const made = [...conversions(cells)];
    expect(made.map(({ source }) => source)).toEqual(cells.slice(0, 2));
    expect(made[0]!.previous).toBe("");
    expect(made[1]!.previous).toMatch(/a: number/);
    expect(made[1]!.converted.output).toMatch(/a \* 7/);
  });

  it("come in order, for the text they were made of alone", async () => {
    const ahead = new ConvertedAhead(cells);
    try {
      await ahead.next();
      const first = ahead.take("", cells[0]!)!;
      await ahead.next();
      expect(ahead.take(first.declOutput!, `${cells[1]} + 1`)).toBeUndefined();
      // The third has an error: nothing more comes, and nobody waits for it.
      await ahead.next();
      expect(ahead.take("", cells[2]!)).toBeUndefined();
    } finally {
      ahead.close();
    }
  });

  it("are none when their thread ends", async () => {
    const ahead = new ConvertedAhead(cells);
    ahead.close();
    await ahead.next();
    expect(ahead.take("", cells[0]!)).toBeUndefined();
  });
});

describe("a notebook whose cells cannot all be converted ahead", () => {
  it.each([
    [
      "imports what an earlier one wrote",
      'import { writeFileSync } from "node:fs";\nwriteFileSync("made-here.ts", "export const made: number = 42;");',
      'import { made } from "./made-here";\nconsole.log("then", made + 1);',
      "then 43",
    ],
    [
      "is a module of its own for the later ones",
      "/** @module beside */\nexport const beside: number = 8;",
      'import { beside } from "./beside";\nconsole.log("then", beside + 1);',
      "then 9",
    ],
  ])("runs the same when a cell %s", async (_, first, second, printed) => {
    desk.put("then", first, second);
    expect(await desk.run("then")).toMatchObject({ code: 0, stderr: "" });
    expect(page("then")).toContain(printed);
  });
});
