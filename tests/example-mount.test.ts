/** The example mount stands in data/mounts and, for reading, in two notebooks: they must agree. */
import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { type Mount, readMount, spread, thermalBudget } from "../src/index.js";
import { exampleMount } from "./mount/example.js";

/** The mount as a notebook writes it. */
function mountIn(notebook: string): Mount {
  const file = new URL(`../notebooks/${notebook}.ipynb`, import.meta.url);
  const { cells } = JSON.parse(readFileSync(file, "utf8")) as { cells: { source: string[] }[] };
  const text = cells
    .map(({ source }) => source.join(""))
    .find((s) => s.includes("const mount: Mount"))!;
  const literal = /const mount: Mount = (\{[\s\S]*?\n\});/.exec(text)![1]!;
  return new Function("spread", `return ${literal}`)(spread) as Mount;
}

/** With twelve digits, since a median is computed. */
const rounded = (mount: unknown): unknown =>
  JSON.parse(
    JSON.stringify(mount, (_, value: unknown) =>
      typeof value === "number" ? Number(value.toPrecision(12)) : value,
    ),
  );

it("the first notebook has spreads about the numbers of data/mounts", () => {
  const shown = readMount(mountIn("size-bonds"));
  const { boundary, ...pads } = shown.pads!;
  expect(rounded({ ...shown, pads })).toEqual(rounded(readMount(exampleMount())));
  // The boundary is computed where none is given; its spread is about that.
  expect(boundary).toEqual({ resistance: expect.closeTo(1.26e-3, 12) });
});

it("the notebook on probability asks of the same mount", () => {
  expect(mountIn("how-sure")).toEqual(mountIn("size-bonds"));
});

it("all name the same number of bonds", () => {
  const readme = readFileSync(new URL("../README.md", import.meta.url), "utf8");
  const [, count] = /^Bonds {2}(\d+) of/m.exec(readme)!;
  expect(readme).toContain(`with those ${count}:`);
  expect(readme).toContain(`probable ${count},`);
});

it("and says that it is invented", () => {
  expect(thermalBudget(exampleMount()).name).toContain("invented");
});
