/** The invented example mount of data/mounts, as a fresh object each time. */
import { readFileSync } from "node:fs";
import type { Mount } from "../../src/mount/description.js";

const text = readFileSync(new URL("../../data/mounts/ombrel-camera.json", import.meta.url), "utf8");

export function exampleMount(): Mount {
  return JSON.parse(text) as Mount;
}
