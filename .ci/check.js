/**
 * npm run check -- NAME: checks one file of data/ and says what is in it; see tests/check.ts. Exits 1 with
 * file, line and column of what is wrong.
 */
import { mkdirSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";

const root = new URL("../", import.meta.url);
const name = process.argv[2];
if (name === undefined) {
  console.error("npm run check -- NAME, a material, or a kind of joint or load: gold, glue");
  process.exit(1);
}
const { outputFiles } = await build({
  entryPoints: [fileURLToPath(new URL("tests/check.ts", root))],
  bundle: true,
  write: false,
  format: "esm",
  platform: "node",
  // With mathjs in it: Node takes longer to load that package than esbuild to pick what is used.
  mainFields: ["module", "main"],
  // Both folders that are read, data/ and tests/reference/, are found from a file in the latter.
  define: { "import.meta.url": JSON.stringify(new URL("tests/reference/check.js", root).href) },
});
const bundle = new URL("out/check.js", root);
mkdirSync(new URL("./", bundle), { recursive: true });
writeFileSync(bundle, outputFiles[0].contents);
const { check } = await import(bundle.href);
try {
  const { lines, faults } = check(name);
  console.log(lines.join("\n"));
  if (faults.length > 0) throw new Error(faults.join("\n"));
} catch (error) {
  console.error(error.message);
  process.exitCode = 1;
}
