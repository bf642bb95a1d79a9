/**
 * Typedoc's plugin: the reference is ordered by the headings of src/index.ts, the list that is
 * the public face, so that a section of the reference is a section of the list.
 */
import { readFileSync } from "node:fs";
import { Comment, CommentTag, Converter } from "typedoc";

const index = readFileSync(new URL("../src/index.ts", import.meta.url), "utf8");

/** From an exported name to the heading above it. */
export const headings = new Map();
for (const [, heading, lines] of index.matchAll(/^\/\/ (.+)\n((?:(?!\/\/ ).*\n)*)/gm)) {
  for (const [, names] of lines.matchAll(/\{([^}]*)\}/g)) {
    for (const part of names.split(",")) {
      const name = part.replace(/^\s*type\s/, "").trim();
      if (name !== "") headings.set(name.split(" as ").at(-1), heading);
    }
  }
}

export function load(app) {
  app.options.setValue("categoryOrder", [...new Set(headings.values())]);
  app.converter.on(Converter.EVENT_RESOLVE_BEGIN, ({ project }) => {
    for (const reflection of project.children ?? []) {
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
