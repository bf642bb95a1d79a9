/** The examples of DEVELOPERS.md: they compile, run, and give what stands behind them. */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { standardCatalogue } from "../src/index.js";
import { agrees, printedBy, saidBy, wrongWith } from "./compiled.js";

const text = readFileSync(new URL("../DEVELOPERS.md", import.meta.url), "utf8");

/** Blocks of a language under a heading, without their indentation. */
function blocks(heading: string, language: string): string[] {
  const section = text.split(/^## /m).find((part) => part.startsWith(`${heading}\n`))!;
  const found = section.matchAll(new RegExp(`^( *)\`\`\`${language}\\n([^]*?)^ *\`\`\`$`, "gm"));
  return [...found].map(([, indent, block]) =>
    block!.replaceAll(new RegExp(`^${indent}`, "gm"), ""),
  );
}

describe("DEVELOPERS.md", () => {
  it("adds a material that the catalogue reads", () => {
    const [sources, material] = blocks("Add a material", "csv");
    const catalogue = standardCatalogue().withMaterial("new-alloy", material!, sources);
    // The row's own law: 2.6e-3 T^1.75.
    const conductivity = catalogue.material("new-alloy").thermalConductivity().at(0.5);
    expect(conductivity).toBeCloseTo(2.6e-3 * 0.5 ** 1.75, 12);
  });

  for (const heading of ["Add a joint", "Add a load", "Add a heat store"]) {
    it(`has an example of how to ${heading.toLowerCase()}`, () => {
      const [example] = blocks(heading, "ts");
      expect(wrongWith(example!)).toEqual([]);
      const [, expression, comment] = /\n(.*); \/\/ (.*)\n$/.exec(example!)!;
      const program = `${example}console.log(JSON.stringify(${expression}));`;
      expect(agrees(JSON.parse(printedBy(program)), saidBy(comment!)!)).toBe(true);
    });
  }

  it("has a smallest notebook, which runs", () => {
    const [cells] = blocks("Write a notebook", "ts");
    expect(wrongWith(cells!)).toEqual([]);
    expect(printedBy(cells!)).toMatch(/^Rise {2}\S+ .K by a heater of 1 nW$/m);
  });
});
