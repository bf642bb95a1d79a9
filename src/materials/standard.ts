/**
 * The catalogue that joints and loads use when none is given: the one of the package's data folder.
 * @module
 */
import { readCatalogue } from "./catalogue.js";
import { readDataFolder } from "./files.js";
import type { Catalogue } from "./types.js";

let kept: Catalogue | undefined;

/**
 * The standard catalogue, read once, when first asked for: from the folder data/, or in a web page from
 * the texts that the package carries.
 * @throws FieldError when a file has a fault
 */
export function standardCatalogue(): Catalogue {
  kept ??= readCatalogue(readDataFolder());
  return kept;
}
