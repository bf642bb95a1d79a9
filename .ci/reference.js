/**
 * Typedoc's plugin: each entry of the reference is ordered by the headings of its file, the list of what
 * it exports, so that a section of the reference is a section of the list.
 */
import { readFileSync } from "node:fs";
import { Comment, CommentTag, Converter } from "typedoc";

const { exports: entries } = JSON.parse(
  readFileSync(new URL("../package.json", import.meta.url), "utf8"),
);
const lists = Object.values(entries)
  .map((target) => target.default ?? target)
  .filter((target) => target.endsWith(".js"))
  .map((target) => target.replace("./dist/", "../src/").replace(".js", ".ts"))
  .map((path) => readFileSync(new URL(path, import.meta.url), "utf8"));

/** From an exported name to the heading above it. */
export const headings = new Map();
for (const [, heading, lines] of lists.join("\n").matchAll(/^\/\/ (.+)\n((?:(?!\/\/ ).*\n)*)/gm)) {
  for (const [, names] of lines.matchAll(/^export (?:type )?\{([^}]*)\}/gm)) {
    for (const part of names.split(",")) {
      const name = part.replace(/^\s*type\s/, "").trim();
      if (name !== "") headings.set(name, heading);
    }
  }
}

export function load(app) {
  app.options.setValue("categoryOrder", [...new Set(headings.values())]);
  app.converter.on(Converter.EVENT_RESOLVE_BEGIN, ({ project }) => {
    for (const reflection of (project.children ?? []).flatMap(({ children }) => children ?? [])) {
      const heading = headings.get(reflection.name);
      if (heading === undefined) throw new Error(`${reflection.name} is under no heading`);
      for (const documented of [reflection, ...(reflection.signatures ?? [])].slice(-1)) {
        documented.comment ??= new Comment();
        documented.comment.blockTags.push(
          new CommentTag("@category", [{ kind: "text", text: heading }]),
        );
      }
    }
  });
}
