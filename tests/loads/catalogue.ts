/** Catalogue for the tests of this folder. */
import { readCatalogue } from "../../src/materials/catalogue.js";
import { readDataFolder } from "../../src/materials/files.js";

export const catalogue = readCatalogue(readDataFolder());
