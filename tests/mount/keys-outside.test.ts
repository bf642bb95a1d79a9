/**
 * A thing of a mount is one file in src/mount/things. Files elsewhere that name one by its key are counted
 * here, with the reason: the list may become shorter, and grows only for a better reason than these.
 */
import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { things } from "../../src/mount/mount.js";

const source = fileURLToPath(new URL("../../src/", import.meta.url));
const files = ["mount", "design"].flatMap((folder) =>
  readdirSync(`${source}${folder}`, { recursive: true, encoding: "utf8" })
    .map((name) => `${folder}/${name.replaceAll("\\", "/")}`)
    .filter((name) => name.endsWith(".ts"))
    .filter((name) => !name.startsWith("mount/things/") && name !== "mount/mount.ts"),
);
// Every mount has dies, a box, a stage and loads, and so have results and networks: these are no marks of a thing.
const always = ["die", "dies", "box", "joint", "stage", "loads", "limit"];
const keys = Object.keys(things).filter((key) => !always.includes(key));

/** Keys of things that a text names: quoted, at the beginning of a quoted path, or after a dot. */
function named(text: string): readonly string[] {
  const code = text
    .replace(/\/\*[\s\S]*?\*\/|\/\/.*/g, "")
    .replace(/^(?:import|export|\})[^;]*from "[^"]*";$/gm, "");
  return keys.filter((key) =>
    new RegExp(`["'\`]${key}["'\`.]|[\\w)\\]!?]\\.${key}\\b|\\{ ${key}\\b[^}]*\\} = `).test(code),
  );
}

const known: Readonly<Record<string, readonly [keys: string, why: string]>> = {
  "mount/thing.ts": [
    "bonds clamps glue back patches path",
    "Layers and patches of contacts and looks of drawings bear the names of what is commonly there; a path is shared by bonds.",
  ],
  "mount/assemble.ts": ["bonds patches", "It passes on these layers and what a path is shared by."],
  "mount/on-die.ts": [
    "pads padGroups ring bonds bondGroups clamps glue back patches bodies",
    "It says which keys belong to a die, so that no thing needs to know on which it is.",
  ],
  "mount/read.ts": [
    "patches between",
    "What lies between two dies is held against all else on them.",
  ],
  "mount/made-together.ts": [
    "pads padGroups ring bonds bondGroups back patches",
    "One film or one spool may be written as several things, which none of them can tell.",
  ],
  "mount/links.ts": [
    "bonds",
    "A contact says how many bonds stand on it, as a path is shared by them.",
  ],
  "mount/cuts.ts": ["bonds", "A contact that is cut hands on how many bonds stand on each piece."],
  "design/field.ts": ["bonds", "An error shows a path as an example."],
  "design/sweeping/axis.ts": ["bonds", "An error shows a path as an example."],
  "design/sizing/size.ts": [
    "pads ring bonds",
    "Sizing asks how many bonds are needed, and tries single changes of what they stand on.",
  ],
  "design/sizing/sizing.ts": ["bonds", "The answer of sizing is a number of bonds."],
  "design/sizing/cheapest.ts": ["bonds", "So many bonds fit."],
  "design/sizing/choice-search.ts": ["bonds", "A pad comes with each few bonds."],
  "design/sizing/costs.ts": [
    "pads bonds clamps",
    "What is to be least is a number of bonds, their gold and that of their pads, or the force of clamps.",
  ],
  "design/sizing/placement.ts": ["bonds", "Placing asks where the bonds should stand."],
  "design/sizing/comparison.ts": ["bonds", "A comparison lists how many bonds each mount has."],
  "design/confidence/confident-sizing.ts": ["bonds", "The answer of sizing is a number of bonds."],
  "design/confidence/fast-mount.ts": [
    "bonds",
    "Sizing with confidence counts bonds in a compiled mount.",
  ],
  "design/confidence/corrected-mount.ts": [
    "bonds",
    "The two-node die is fitted for numbers of bonds around the mount's own.",
  ],
  "design/confidence/correlated.ts": [
    "correlations",
    "Errors on inputs that vary together name the key.",
  ],
  "design/confidence/margin.ts": ["bonds", "The recommendation is a number of bonds."],
  "design/confidence/recommendation.ts": ["bonds", "The recommendation is a number of bonds."],
  "design/confidence/two-levels.ts": [
    "bonds",
    "The two-node die is fitted for numbers of bonds around the mount's own.",
  ],
  "design/confidence/mount-pieces.ts": ["bonds", "A path may be shared by any number of bonds."],
  "design/confidence/samples.ts": ["bonds", "A job of samples may take another number of bonds."],
  "design/confidence/uncertain-mount.ts": [
    "bonds",
    "Sizing with confidence counts bonds in a compiled mount.",
  ],
  "design/confidence/uncertainty.ts": [
    "bonds",
    "Sizing with confidence starts from the mount's bonds.",
  ],
};

describe("keys of things outside of their files", () => {
  it.each(files)("%s", (file) => {
    const found = named(readFileSync(source + file, "utf8"));
    expect(found.join(" ")).toBe(known[file]?.[0] ?? "");
  });

  it("are found however they are written", () => {
    expect(named('mount.bonds; f("pads.width"); const { ring } = m; m["glue"]; m?.back')).toEqual([
      "pads",
      "ring",
      "bonds",
      "glue",
      "back",
    ]);
    expect(named("// mount.bonds\nconst bondsNeeded = 1;")).toEqual([]);
  });
});
