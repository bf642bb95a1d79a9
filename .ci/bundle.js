/**
 * Bundle the part of the built library that runs in a page, dist/notebook/panel/page.js and all it
 * imports, into dist/notebook/panel/bundle.js.
 */
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { gzipSync } from "node:zlib";
import { build } from "esbuild";

const root = new URL("../", import.meta.url);
const outfile = fileURLToPath(new URL("dist/notebook/panel/bundle.js", root));
await build({
  entryPoints: [fileURLToPath(new URL("dist/notebook/panel/page.js", root))],
  outfile,
  bundle: true,
  minify: true,
  format: "iife",
  platform: "browser",
  target: "es2022",
  legalComments: "eof",
  logLevel: "warning",
});
const text = readFileSync(outfile);
const compressed = gzipSync(text, { level: 9 }).length;
const most = 240_000;
console.log(`panel bundle: ${text.length} bytes, ${compressed} compressed`);
if (compressed > most) throw new Error(`the panel's bundle is over ${most} bytes, compressed`);
