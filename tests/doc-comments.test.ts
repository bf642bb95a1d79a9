/** What is said of the public names, and that the examples in it are true. */
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import ts from "typescript";
import { describe, expect, it } from "vitest";
import { agrees, entries, host, printedBy, saidBy, strictly, wrongWith } from "./compiled.js";

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
const checker = program.getTypeChecker();
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
const exported = [...symbols];

const documented = (symbol: ts.Symbol) =>
  ts.displayPartsToString(symbol.getDocumentationComment(checker)).trim() !== "";

/** Methods and plain numbers of a declaration that neither they nor what they stand in explain. */
function unexplained(node: ts.Node, path: string): string[] {
  if (ts.isConstructorDeclaration(node)) return [];
  let here = path;
  if (
    (ts.isTypeElement(node) || ts.isClassElement(node)) &&
    node.name !== undefined &&
    !ts.isPrivateIdentifier(node.name) &&
    (ts.getCombinedModifierFlags(node) & ts.ModifierFlags.NonPublicAccessibilityModifier) === 0
  ) {
    here = `${path}.${node.name.getText()}`;
    const symbol = checker.getSymbolAtLocation(node.name);
    if (symbol && documented(symbol)) return [];
    const type = (node as { type?: ts.TypeNode }).type?.getText() ?? "";
    const does = ts.isMethodSignature(node) || ts.isMethodDeclaration(node) || /=>/.test(type);
    if (does || /\bnumber\b|Float64Array/.test(type)) return [here];
  }
  const below: string[] = [];
  ts.forEachChild(node, (child) => void below.push(...unexplained(child, here)));
  return below;
}

describe("doc comments of the public face", () => {
  it("say what each name is", () => {
    expect(exported.filter((symbol) => !documented(symbol)).map(({ name }) => name)).toEqual([]);
  });

  it("say what each method does, and what each plain number is or its unit", () => {
    const bare = exported.flatMap(({ name, declarations = [] }) =>
      declarations
        .filter((declaration) => !ts.isFunctionDeclaration(declaration))
        .flatMap((declaration) => unexplained(declaration, name)),
    );
    expect(bare).toEqual([]);
  });
});

interface Example {
  readonly name: string;
  readonly file: string;
  readonly code: string;
  /** What the comment behind it says it gives; undefined where it says nothing, or only words. */
  readonly says: string | undefined;
}

/** Every example of an exported function, those that only the house itself uses included. */
const examples: Example[] = program
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
function programOf(examples: readonly Example[]): string {
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

describe("examples in doc comments", () => {
  const text = programOf(examples);

  it("compile in strict mode", () => {
    expect(wrongWith(text)).toEqual([]);
  });

  it("give what they say", () => {
    // Examples may print, too; the results are the last line.
    const results: unknown[] = JSON.parse(printedBy(text).trim().split("\n").at(-1)!);
    expect(results).toHaveLength(examples.length);
    const wrong = examples.flatMap(({ name, says }, i) =>
      says === undefined || agrees(results[i], says)
        ? []
        : [`${name}: says ${says}, gives ${JSON.stringify(results[i])}`],
    );
    expect(wrong).toEqual([]);
  });

  it("are many, and most of them say what they give", () => {
    expect(examples.length).toBeGreaterThan(40);
    expect(examples.filter(({ says }) => says !== undefined).length).toBeGreaterThan(20);
  });

  it("are compared by the digits they print", () => {
    expect(agrees(1.384e-3, "1.38e-3")).toBe(true);
    expect(agrees(1.386e-3, "1.38e-3")).toBe(false);
    expect(agrees({ kind: "factor", factor: 2 }, '{ kind: "factor", factor: 2 }')).toBe(true);
    expect(agrees([0.1, 5e-4], "[0.1, 4e-4]")).toBe(false);
  });
});
