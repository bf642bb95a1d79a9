/** One term for one thing: words that must not come back, where readers see them. */
import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { type Piece, piecesOf, piecesOfMarkdown, piecesOfNotebook, terms } from "./words.js";

const root = fileURLToPath(new URL("../", import.meta.url));
const within = (folder: string, end: string) =>
  readdirSync(`${root}${folder}`, { recursive: true, encoding: "utf8" })
    .filter((name) => name.endsWith(end))
    .map((name) => `${folder}/${name}`)
    .sort();
const read = (name: string) => readFileSync(root + name, "utf8");

const files: readonly (readonly [string, (source: string) => Piece[]])[] = [
  ...within("src", ".ts").map((name) => [name, piecesOf] as const),
  ...within("notebooks", ".ipynb").map((name) => [name, piecesOfNotebook] as const),
  ...["README.md", "DEVELOPERS.md"].map((name) => [name, piecesOfMarkdown] as const),
];

describe("the list of words", () => {
  it.each(terms.map((each) => [each.once, each] as const))(
    "finds %s where it stood",
    (once, { pattern }) => {
      expect(once).toMatch(pattern);
    },
  );

  it("is looked for in texts, comments and names", () => {
    const source = "/** A door. */\nconst drawUp = `the ${x} hottest place`; // isDear or dear\n";
    const found = piecesOf(source).filter(({ kind, text }) =>
      terms.some(({ kinds, pattern }) => kinds.includes(kind) && pattern.test(text)),
    );
    expect(found.map(({ kind, line }) => [kind, line])).toEqual([
      ["comment", 1],
      ["comment", 2],
      ["name", 2],
      ["text", 2],
    ]);
  });
});

describe("words of our own for what has a standard term", () => {
  it.each(files)("do not stand in %s", (name, pieces) => {
    const found = pieces(read(name)).flatMap(({ kind, text, line }) =>
      terms
        .filter(({ kinds, pattern }) => kinds.includes(kind) && pattern.test(text))
        .map(
          ({ pattern, write }) =>
            `${name}:${line}: "${text.match(pattern)![0]}" in "${text.slice(0, 160)}": write ${write}`,
        ),
    );
    expect(found).toEqual([]);
  });
});
