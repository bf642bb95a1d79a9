/**
 * Write dist/catalogue.js, which in a web page takes the place of dist/materials/files.js: the texts of
 * the folder data/ as a module.
 */
import { writeFileSync } from "node:fs";
import { readDataFolder } from "../dist/materials/files.js";

const texts = JSON.stringify(readDataFolder());
writeFileSync(
  new URL("../dist/catalogue.js", import.meta.url),
  `const texts = ${texts};\nexport const readDataFolder = () => texts;\n`,
);
