/**
 * The look of each element of a heat path: one colour, pattern and symbol in every figure and drawing.
 * @module
 */
import { colours, mixed, paper } from "./style.js";

export interface ElementLook {
  /** What it is called where several mounts are drawn. */
  readonly label: string;
  readonly colour: string;
  /** Name of a fill pattern, empty for none. */
  readonly pattern: string;
  /** Name of a marker. */
  readonly symbol: string;
  /** Its colour, thinned, as the ground of a part in a drawing. */
  readonly tint: string;
  /** How much of the colour is in its tint. */
  readonly strength: number;
}

const look = (
  label: string,
  colour: number,
  pattern: string,
  symbol: string,
  strength = 0.25,
): ElementLook => ({
  label,
  colour: colours[colour]!,
  pattern,
  symbol,
  tint: mixed(colours[colour]!, paper, strength),
  strength,
});

/** From the die to the stage. */
export const elementLooks = {
  die: look("spreading in the die", 0, "", "circle", 0.2),
  boundary: look("boundary", 1, "/", "diamond"),
  coupling: look("electron-phonon coupling", 2, ".", "triangle-up"),
  film: look("film on the die", 3, "\\", "square", 0.6),
  bonds: look("bonds", 4, "-", "x"),
  ledge: look("ledge", 4, "|", "triangle-down", 0.3),
  clamps: look("clamps", 5, "x", "cross", 0.5),
  glue: look("glue", 5, "+", "hexagon", 0.25),
  back: look("pressed back", 5, "|", "star", 0.35),
  box: look("box", 6, "", "circle", 0.18),
  path: look("path to the stage", 6, "x", "diamond", 0.5),
  joint: look("joint to the stage", 6, "/", "square", 0.6),
  stage: look("stage", 6, ".", "triangle-down", 0.08),
};

/** What an element of a path is. */
export type ElementKind = keyof typeof elementLooks;

/** Each name of an element in a budget belongs to the first that fits. */
const names: readonly (readonly [kind: ElementKind, fits: RegExp])[] = [
  ["die", /^spreading/],
  ["boundary", /\bboundary\b/],
  ["coupling", /^electron-phonon/],
  ["film", /\bfilm\b|^(pads?|ring)\b/],
  ["ledge", /^ledge/],
  ["bonds", /\bbonds?\b/],
  ["glue", /^glue/],
  ["back", /^(pressed back|back)/],
  ["box", /^box/],
  ["joint", /^(joint|bumps)/],
  ["stage", /^stage/],
];

/**
 * What an element of a budget is, by its name. Clamps and parts between box and stage may have any name: what
 * no other name fits is clamps before the wall of the box, and the path after it.
 */
export function elementKind(name: string, isAfterBox = false): ElementKind {
  // Names around a further die begin with its own: `carrier: bonds`.
  const own = name.replace(/^[^:]+: /, "");
  return names.find(([, fits]) => fits.test(own))?.[0] ?? (isAfterBox ? "path" : "clamps");
}

/** The kind of each element of a main path, hot to cold. */
export function kindsAlong(path: readonly { readonly name: string }[]): readonly ElementKind[] {
  const box = path.findIndex(({ name }) => elementKind(name) === "box");
  return path.map(({ name }, i) => elementKind(name, box >= 0 && i > box));
}

/** What the elements of a kind drop on a main path together [mK]. */
export function dropsOf(path: readonly { readonly name: string; readonly drop: number }[]) {
  const kinds = kindsAlong(path);
  return (wanted: ElementKind) =>
    path.reduce((sum, { drop }, i) => sum + (kinds[i] === wanted ? 1e3 * Math.max(0, drop) : 0), 0);
}
