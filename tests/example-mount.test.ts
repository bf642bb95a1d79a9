/** The example mount stands in data/mounts and, for reading, in the first notebook: they must agree. */
import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { thermalBudget } from "../src/index.js";
import { exampleMount } from "./mount/example.js";

it("the first notebook shows the mount of data/mounts", () => {
  const file = new URL("../notebooks/size-bonds.ipynb", import.meta.url);
  const { cells } = JSON.parse(readFileSync(file, "utf8")) as { cells: { source: string[] }[] };
  const text = cells
    .map(({ source }) => source.join(""))
    .find((s) => s.includes("const mount: Mount"))!;
  const literal = /const mount: Mount = (\{[\s\S]*?\n\});/.exec(text)![1]!;
  const shown: unknown = new Function(`return ${literal}`)();
  expect(shown).toEqual(exampleMount());
});

it("and says that it is invented", () => {
  expect(thermalBudget(exampleMount()).name).toContain("invented");
});
