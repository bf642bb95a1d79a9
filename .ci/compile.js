/**
 * Compiles src/ into dist/. What TypeScript found the last time is kept in dist/.tsbuildinfo, so that a
 * small change compiles in a few seconds. Output of a source file that is gone is removed.
 */
import { spawnSync } from "node:child_process";
import { existsSync, readdirSync, rmSync } from "node:fs";
import { fileURLToPath } from "node:url";

const root = fileURLToPath(new URL("../", import.meta.url));
const filesIn = (folder) =>
  readdirSync(`${root}${folder}`, { recursive: true }).map((name) => name.replaceAll("\\", "/"));
const outputs = filesIn("src")
  .filter((name) => name.endsWith(".ts"))
  .flatMap((name) => [name.replace(/ts$/, "js"), name.replace(/ts$/, "d.ts")]);

// TypeScript does not look whether its output is still there.
const buildInfo = `${root}dist/.tsbuildinfo`;
if (!outputs.every((name) => existsSync(`${root}dist/${name}`))) rmSync(buildInfo, { force: true });

const compiler = `${root}node_modules/typescript/bin/tsc`;
const words = ["-p", `${root}tsconfig.json`, "--incremental", "--tsBuildInfoFile", buildInfo];
const { status } = spawnSync(process.execPath, [compiler, ...words], { stdio: "inherit" });
process.exitCode = status ?? 1;

// What the other steps of a build write.
const made = ["catalogue.js", "notebook/panel/bundle.js"];
const wanted = new Set([...outputs, ...made]);
for (const name of filesIn("dist")) {
  if (/\.(js|d\.ts)$/.test(name) && !wanted.has(name)) rmSync(`${root}dist/${name}`);
}
