/**
 * The first files of somebody's own project: a script and a notebook that run.
 * @module
 */
import { existsSync } from "node:fs";
import { join } from "node:path";
import { FieldError } from "../units/errors.js";
import { writeWhole } from "./page/pagefile.js";

const mount = `const mount: Mount = {
  name: "first try",
  die: { material: "silicon", width: "10 mm", length: "10 mm", thickness: "0.5 mm" },
  pads: { material: "gold", width: "200 um", length: "200 um", thickness: "500 nm", residualResistivityRatio: 5 },
  bonds: { material: "gold", count: 20, diameter: "25 um", length: "2 mm", residualResistivityRatio: 30 },
  box: { material: "copper", residualResistivityRatio: 50, crossSection: "50 mm^2", pathLength: "20 mm" },
  joint: { faces: "gold-plated copper on gold-plated copper", force: "1 kN", count: 2 },
  stage: "100 mK", loads: [{ kind: "given", name: "all loads", power: "1 nW" }], limit: { rise: "5 mK" },
};
`;

const script = `import { sizeBonds, thermalBudget, type Mount } from "coldpath";

${mount}console.log(thermalBudget(mount).summary);
console.log(sizeBonds(mount).reason);
`;

const cells: readonly (readonly [kind: "markdown" | "code", source: string])[] = [
  [
    "markdown",
    "# How many bonds does my chip need?\n\nChange the mount to yours and run it again.",
  ],
  [
    "code",
    `import { answer, dropsFigure, show, sizeBonds, thermalBudget, type Mount } from "coldpath";\n\n${mount.trimEnd()}`,
  ],
  [
    "code",
    `const budget = thermalBudget(mount);
const sizing = sizeBonds(mount);
answer([\`Bonds  \${sizing.reason}\`, \`Chip  \${budget.summary}\`]);
show(dropsFigure(budget));`,
  ],
  ["markdown", "---"],
  ["markdown", "## Budget"],
  ["code", "show(budget);"],
];

/** The notebook in nbformat 4. */
function notebook(): string {
  const written = cells.map(([kind, source], i) => ({
    cell_type: kind,
    id: `cell-${String(i + 1).padStart(2, "0")}`,
    metadata: {},
    ...(kind === "code" && { execution_count: null, outputs: [] }),
    source: source.split("\n").map((line, k, all) => (k < all.length - 1 ? `${line}\n` : line)),
  }));
  const kernelspec = { display_name: "TypeScript", language: "typescript", name: "tslab" };
  const metadata = { kernelspec, language_info: { name: "typescript" } };
  return `${JSON.stringify({ cells: written, metadata, nbformat: 4, nbformat_minor: 5 }, null, 1)}\n`;
}

/**
 * Writes `first.mts` and `first.ipynb` into a folder.
 * @returns their paths
 * @throws FieldError where one of them is there already; PageFileError where one cannot be written
 */
export function newProject(folder: string): readonly string[] {
  const files = { "first.mts": script, "first.ipynb": notebook() };
  for (const name of Object.keys(files)) {
    if (existsSync(join(folder, name)))
      throw new FieldError("folder", `one without a ${name}`, folder);
  }
  return Object.entries(files).map(([name, text]) => writeWhole(folder, name, text));
}
