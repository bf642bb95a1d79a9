/**
 * The catalogue that joints and loads use when none is given: the one of the package's data folder.
 * @module
 */
import { readCatalogue } from "./catalogue.js";
import type { Catalogue, CatalogueFiles } from "./types.js";

let reader: (() => CatalogueFiles) | undefined;
let kept: Catalogue | undefined;

/**
 * Sets where the texts of the standard catalogue come from. The package does so on import, by reading
 * its data folder; a web page supplies the texts in its bundle.
 */
export function supplyStandardCatalogue(read: () => CatalogueFiles): void {
  reader = read;
  kept = undefined;
}

/**
 * The standard catalogue, read once, when first asked for.
 * @throws Error when nothing was supplied; FieldError when a file has a fault
 */
export function standardCatalogue(): Catalogue {
  if (kept) return kept;
  if (!reader) {
    throw new Error(
      "standardCatalogue: no texts were supplied. Import the package by its index, call " +
        "supplyStandardCatalogue(() => files), or pass a catalogue of your own.",
    );
  }
  kept = readCatalogue(reader());
  return kept;
}
