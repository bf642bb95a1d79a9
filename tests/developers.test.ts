/** DEVELOPERS.md: short, and its smallest notebook runs. recipes.slow.test.ts applies its recipes. */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { printedBy, wrongWith } from "./compiled.js";
import { slowly } from "./slowly.js";

const text = readFileSync(new URL("../DEVELOPERS.md", import.meta.url), "utf8");

describe("DEVELOPERS.md", () => {
  it("has at most 10 kB", () => {
    expect(Buffer.byteLength(text)).toBeLessThanOrEqual(10_000);
  });

  slowly("has a smallest notebook, which runs", () => {
    const section = text.split(/^## /m).find((part) => part.startsWith("Notebooks"))!;
    const [, cells] = /^```ts\n([\s\S]*?)^```$/m.exec(section)!;
    expect(wrongWith(cells!)).toEqual([]);
    expect(printedBy(cells!)).toMatch(/^Rise {2}\S+ .K by a heater of 1 nW$/m);
  });
});
