/** The invented example mount of data/mounts, as a fresh object each time. */
import { readFileSync } from "node:fs";
import type { Mount } from "../../src/mount/mount.js";

const text = readFileSync(new URL("../../data/mounts/ombrel-camera.json", import.meta.url), "utf8");

export function exampleMount(): Mount {
  return JSON.parse(text) as Mount;
}

/** The same with the two-node model of the die, for tests that solve it many times. */
export function quickMount(): Mount {
  const mount = exampleMount();
  return { ...mount, die: { ...mount.die, model: "two nodes" } };
}
