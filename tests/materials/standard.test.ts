import { expect, it } from "vitest";
import { readDataFolder } from "../../src/materials/files.js";
import { standardCatalogue, supplyStandardCatalogue } from "../../src/materials/standard.js";

it("the standard catalogue says what to do when nothing was supplied, then reads once", () => {
  expect(() => standardCatalogue()).toThrow("standardCatalogue: no texts were supplied");
  let reads = 0;
  supplyStandardCatalogue(() => {
    reads++;
    return readDataFolder();
  });
  expect(reads).toBe(0);
  expect(standardCatalogue().materials).toContain("gold");
  expect(standardCatalogue()).toBe(standardCatalogue());
  expect(reads).toBe(1);
});

it("the data folder is listed, and folders that are missing are empty", () => {
  const files = readDataFolder();
  expect(Object.keys(files.materials)).toContain("sapphire");
  const none = readDataFolder.bind(undefined, new URL("./nowhere/", import.meta.url));
  expect(none).toThrow("sources.csv");
});
