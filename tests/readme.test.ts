/** The README's example and the answer it shows, word for word. */
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

describe("README.md", () => {
  it("has an example that compiles in strict mode", () => {
    expect(wrongWith(blocks[example]!.text)).toEqual([]);
  });

  it("prints what it says it prints", () => {
    expect(printedBy(blocks[example]!.text)).toBe(blocks[example + 1]!.text);
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
