import { expect, it } from "vitest";
import { readDataFolder } from "../../src/materials/files.js";
import { standardCatalogue } from "../../src/materials/standard.js";

it("the standard catalogue is the data folder's, read once", () => {
  expect(standardCatalogue().origin.files).toEqual(readDataFolder());
  expect(standardCatalogue()).toBe(standardCatalogue());
});

it("the data folder is listed, and folders that are missing are empty", () => {
  const files = readDataFolder();
  expect(Object.keys(files.materials)).toContain("sapphire");
  const none = readDataFolder.bind(undefined, new URL("./nowhere/", import.meta.url));
  expect(none).toThrow("sources.csv");
});
