/** Builds, unless dist/ was built after the last change of what it is built from. */
import { spawnSync } from "node:child_process";
import { readdirSync, statSync } from "node:fs";
import { fileURLToPath } from "node:url";

const root = fileURLToPath(new URL("../", import.meta.url));
const changed = (path) => statSync(`${root}${path}`, { throwIfNoEntry: false })?.mtimeMs ?? 0;
/** Folders too: a file that was taken away changes its folder. */
const within = (folder) => [
  folder,
  ...readdirSync(`${root}${folder}`, { recursive: true }).map((name) => `${folder}/${name}`),
];
const sources = ["src", "data", ".ci"].flatMap(within);
const newest = Math.max(...[...sources, "package-lock.json", "tsconfig.json"].map(changed));
// What a build writes last.
if (!(changed("dist/notebook/panel/bundle.js") > newest)) {
  const { status } = spawnSync("npm", ["run", "--silent", "build"], {
    cwd: root,
    stdio: "inherit",
  });
  // What went wrong has been said by the build.
  process.exitCode = status ?? 1;
}
