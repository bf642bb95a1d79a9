/**
 * Write the entry for web pages, dist/browser.js: all that dist/index.js gives but for the notebook and
 * the folder of files, with the catalogue's texts beside it in dist/catalogue.js.
 */
import { readFileSync, writeFileSync } from "node:fs";
import { readDataFolder } from "../dist/materials/files.js";

const dist = new URL("../dist/", import.meta.url);

/** The statements of an entry that need neither files nor a notebook. */
function withoutFiles(name) {
  const statements = readFileSync(new URL(name, dist), "utf8").split(/(?<=;\n)/);
  const kept = statements.filter(
    (text) => !/"\.\/(notebook\/|materials\/files)|^supply/m.test(text),
  );
  const dropped = statements.length - kept.length;
  if (dropped < 3) throw new Error(`${name}: only ${dropped} statements need files`);
  return kept.join("");
}

writeFileSync(
  new URL("catalogue.js", dist),
  `export default ${JSON.stringify(readDataFolder())};\n`,
);
writeFileSync(
  new URL("browser.js", dist),
  `import files from "./catalogue.js";\n${withoutFiles("index.js")}supplyStandardCatalogue(() => files);\n`,
);
writeFileSync(new URL("browser.d.ts", dist), withoutFiles("index.d.ts"));
