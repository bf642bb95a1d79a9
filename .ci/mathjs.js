/**
 * Puts into dist/units/mathjs.js the part of mathjs that is used, in place of the import of all of it:
 * two thousand files, for which Node takes longer than for everything else at a start.
 */
import { fileURLToPath } from "node:url";
import { build } from "esbuild";

const file = fileURLToPath(new URL("../dist/units/mathjs.js", import.meta.url));
await build({
  entryPoints: [file],
  outfile: file,
  allowOverwrite: true,
  bundle: true,
  format: "esm",
  platform: "neutral",
  mainFields: ["module", "main"],
  target: "es2022",
  legalComments: "eof",
  logLevel: "warning",
});
