/**
 * Puts into dist/units/mathjs.js the part of mathjs that is used, in place of the import of all of it:
 * over a thousand files, which would take most of the time of an import of this library.
 */
import { fileURLToPath } from "node:url";
import { build } from "esbuild";

const path = (name) => fileURLToPath(new URL(`../${name}`, import.meta.url));
await build({
  entryPoints: [path("src/units/mathjs.ts")],
  outfile: path("dist/units/mathjs.js"),
  bundle: true,
  format: "esm",
  platform: "neutral",
  mainFields: ["module", "main"],
  target: "es2022",
  minify: true,
  legalComments: "eof",
  logLevel: "warning",
});
