/** Draws the README's picture, the answer of its first notebook, anew: node .ci/readme-picture.js */
import { readFileSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";

export const file = fileURLToPath(new URL("../notebooks/size-bonds.svg", import.meta.url));

/** Where the temperature falls in the example mount with the bonds that the README recommends. */
export async function readmePicture() {
  const { dropsFigure, thermalBudget } = await import("../dist/index.js");
  const { figurePicture } = await import("../dist/plots/index.js");
  const text = readFileSync(new URL("../data/mounts/ombrel-camera.json", import.meta.url), "utf8");
  const mount = JSON.parse(text);
  const readme = readFileSync(new URL("../README.md", import.meta.url), "utf8");
  const count = Number(/^Bonds {2}(\d+) of/m.exec(readme)[1]);
  const budget = thermalBudget({ ...mount, bonds: { ...mount.bonds, count } });
  const picture = figurePicture(dropsFigure(budget));
  // A page's ground may be dark; alone, the picture brings its own.
  return `${picture.replace("</desc>", '</desc><rect width="100%" height="100%" fill="#fff"/>')}\n`;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) writeFileSync(file, await readmePicture());
