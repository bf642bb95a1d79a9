/**
 * Reads the folder data/. In a web page dist/catalogue.js, which carries the folder's texts, takes the
 * place of this file (package.json, "browser").
 * @module
 */
import { existsSync, readdirSync, readFileSync } from "node:fs";
import type { CatalogueFiles } from "./types.js";

/** The folder data/ of the package; src/ and dist/ lie equally deep below its root. */
const dataFolder = new URL("../../data/", import.meta.url);

/**
 * Texts of data/sources.csv and of every CSV file in data/materials, data/joints and data/loads. The
 * folders are the catalogue: a file added there is found.
 * @throws Error when data/sources.csv can't be read
 */
export function readDataFolder(folder: URL = dataFolder): CatalogueFiles {
  return {
    sources: readFileSync(new URL("sources.csv", folder), "utf8"),
    materials: textsIn(new URL("materials/", folder)),
    joints: textsIn(new URL("joints/", folder)),
    loads: textsIn(new URL("loads/", folder)),
  };
}

/** CSV files of a folder by name without ending; none when the folder is missing. */
function textsIn(folder: URL): Record<string, string> {
  const names = existsSync(folder) ? readdirSync(folder).sort() : [];
  return Object.fromEntries(
    names
      .filter((name) => name.endsWith(".csv"))
      .map((name) => [name.slice(0, -4), readFileSync(new URL(name, folder), "utf8")]),
  );
}
