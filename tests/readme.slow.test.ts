import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { expectPage } from "./notebooks.js";

it("README.md shows the answer that npm start gives, with a page that stands alone", async () => {
  const readme = readFileSync(new URL("../README.md", import.meta.url), "utf8");
  const shown = /^```\w*\n(Bonds {2}[\s\S]*?)^```$/m.exec(readme)![1]!;
  expect((await expectPage()).startsWith(shown)).toBe(true);
});
