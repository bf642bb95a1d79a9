/** The README's example and the answer it shows, word for word. */
import { execFileSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { join, relative } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { file, readmePicture } from "../.ci/readme-picture.js";
import { printedBy, wrongWith } from "./compiled.js";
import { expectPage } from "./notebooks.js";

const root = fileURLToPath(new URL("../", import.meta.url));
const readme = readFileSync(join(root, "README.md"), "utf8");
const blocks = [...readme.matchAll(/^```(\w*)\n([\s\S]*?)^```$/gm)].map(([, language, text]) => ({
  language,
  text: text!,
}));
const example = blocks.findIndex(({ language }) => language === "ts");

const answer = blocks[example + 1]!.text;
const first = "first.mts";

describe("README.md", () => {
  it("says under which name its example runs, and it does as plain JavaScript too", () => {
    const { text } = blocks[example]!;
    expect(readme).toContain(`writes this as \`${first}\``);
    expect(readme).toContain(`npx tsx ${first}`);
    const plain = text.replace(", type Mount", "").replace(": Mount", "");
    const built = new URL("../dist/index.js", import.meta.url).href;
    const words = ["--input-type=module", "--eval", plain.replace('"coldpath"', `"${built}"`)];
    expect(execFileSync(process.execPath, words, { encoding: "utf8" })).toBe(answer);
  });

  it("has an example that compiles in strict mode", () => {
    expect(wrongWith(blocks[example]!.text)).toEqual([]);
  });

  it("prints what it says it prints", () => {
    expect(printedBy(blocks[example]!.text)).toBe(answer);
  });

  it("has a picture that is what the library draws", async () => {
    expect(readme).toContain(`](${relative(root, file)})`);
    expect(readFileSync(file, "utf8")).toBe(await readmePicture());
  });

  it("shows the answer that npm start gives, with a page that stands alone", async () => {
    const shown = blocks.find(({ text }) => text.startsWith("Bonds  "))!.text;
    expect((await expectPage()).startsWith(shown)).toBe(true);
  });
});
