/** The public names as they are built, and the examples in their doc comments. */
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import ts from "typescript";
import { entries, host, saidBy, strictly } from "./compiled.js";

const root = fileURLToPath(new URL("../", import.meta.url));
const dist = join(root, "dist/");
const files = [...entries].map(
  ([name, file]) => [name, dist + file.replace(".js", ".d.ts")] as const,
);
const program = ts.createProgram(
  files.map(([, file]) => file),
  strictly,
  host,
);
export const checker = program.getTypeChecker();
/** The entry that a name is imported from. */
const entryOf = new Map<string, string>();
const symbols = new Set<ts.Symbol>();
for (const [entry, file] of files) {
  const symbol = checker.getSymbolAtLocation(program.getSourceFile(file)!)!;
  for (const name of checker.getExportsOfModule(symbol)) {
    symbols.add(name.flags & ts.SymbolFlags.Alias ? checker.getAliasedSymbol(name) : name);
    if (!entryOf.has(name.name)) entryOf.set(name.name, entry);
  }
}
/** What the entries export. */
export const exported = [...symbols];

export interface Example {
  readonly name: string;
  readonly file: string;
  readonly code: string;
  /** What the comment behind it says it gives; undefined where it says nothing, or only words. */
  readonly says: string | undefined;
}

/** Every example of an exported function, those that only the house itself uses included. */
export const examples: Example[] = program
  .getSourceFiles()
  .filter(({ fileName }) => fileName.startsWith(dist))
  .flatMap((source) =>
    source.statements.filter(ts.isFunctionDeclaration).flatMap((declaration) =>
      ts
        .getJSDocTags(declaration)
        .filter(({ tagName }) => tagName.text === "example")
        .map((tag) => {
          const text = ts.getTextOfJSDocComment(tag.comment)!;
          const [code, comment = ""] = text.split(/\s\/\/ /) as [string, string?];
          const says = saidBy(comment);
          const file = source.fileName.replace(/\.d\.ts$/, ".js");
          return { name: declaration.name!.text, file, code, says };
        }),
    ),
  );

/**
 * All examples as one program that prints what they give. They may speak of `mount`, the example mount
 * with a spread of its pads' thickness;
 * of `model`, the same with what is not known of it; of `guess`, the same with a guess at its pads'
 * coupling; and of `csv`, the text of a measurement.
 */
export function programOf(examples: readonly Example[]): string {
  const used = [...entryOf.keys()].filter(
    (name) =>
      name !== "uncertainMount" &&
      name !== "spread" &&
      examples.some(({ code }) => new RegExp(`\\b${name}\\(`).test(code)),
  );
  const inside = examples.filter(
    ({ name }, i) => !entryOf.has(name) && examples.findIndex((e) => e.name === name) === i,
  );
  const text = (path: string) =>
    `readFileSync(${JSON.stringify(join(root, "data", path))}, "utf8")`;
  return [
    'import { readFileSync } from "node:fs";',
    'import { spread, uncertainMount, type Mount } from "coldpath";',
    ...used.map((name) => `import { ${name} } from ${JSON.stringify(entryOf.get(name))};`),
    ...inside.map(({ name, file }) => `import { ${name} } from ${JSON.stringify(file)};`),
    `const csv = ${text("measurements/ombrel-cooldown.csv")};`,
    `const given = JSON.parse(${text("mounts/ombrel-camera.json")});`,
    'const mount: Mount & { bonds: NonNullable<Mount["bonds"]> } = {',
    '  ...given, die: { ...given.die, model: "two nodes" },',
    '  pads: { ...given.pads, thickness: spread("400 nm", "600 nm") } };',
    "const coupling = { coefficient: 2.4e9, exponent: 5 };",
    "const guess = { ...mount, pads: { ...given.pads, coupling } } satisfies Mount;",
    "const model = uncertainMount(mount);",
    "const results: unknown[] = [];",
    ...examples.map(({ code, says }) =>
      says === undefined ? `results.push(void (${code}));` : `results.push(${code});`,
    ),
    "console.log(JSON.stringify(results));",
  ].join("\n");
}
