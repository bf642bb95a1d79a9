import { readCatalogue } from "../../src/materials/catalogue.js";
import { readDataFolder } from "../../src/materials/files.js";
import { materialComputations } from "./materials.js";
import { checkReference } from "./rows.js";

checkReference("materials.csv", materialComputations(readCatalogue(readDataFolder())));
