/** What the package declares to its users. */
import { existsSync, readdirSync } from "node:fs";
import { fileURLToPath } from "node:url";
import ts from "typescript";
import { describe, expect, it } from "vitest";
import { readDataFolder } from "../src/materials/files.js";
import { entries, host, strictly } from "./compiled.js";

const dist = fileURLToPath(new URL("../dist/", import.meta.url));
const files = [...entries].map(
  ([name, file]) => [name, dist + file.replace(".js", ".d.ts")] as const,
);
const program = ts.createProgram(
  files.map(([, file]) => file),
  strictly,
  host,
);
const checker = program.getTypeChecker();
/** What each entry exports, by the name that users import. */
const exportsOf = new Map(
  files.map(([name, file]) => {
    const symbol = checker.getSymbolAtLocation(program.getSourceFile(file)!)!;
    return [name, checker.getExportsOfModule(symbol)];
  }),
);
const declared = (symbol: ts.Symbol) =>
  symbol.flags & ts.SymbolFlags.Alias ? checker.getAliasedSymbol(symbol) : symbol;
const exported = [...new Set([...exportsOf.values()].flat().map(declared))];
const declarations = exported.flatMap((symbol) => symbol.declarations ?? []);

/** Where in a declaration a kind of node stands. */
function placesOf(kind: ts.SyntaxKind): string[] {
  const found: string[] = [];
  const walk = (node: ts.Node): void => {
    if (node.kind === kind) {
      const { fileName, text } = node.getSourceFile();
      const line = text.slice(0, node.pos).split("\n").length;
      found.push(`${fileName.replace(dist, "")}:${line}`);
    }
    ts.forEachChild(node, walk);
  };
  declarations.forEach(walk);
  return found;
}

describe("the public face", () => {
  it("has declarations for all that it exports", () => {
    expect(exported.length).toBeGreaterThan(450);
    for (const symbol of exported) expect(symbol.declarations, symbol.name).not.toHaveLength(0);
  });

  it("has at most 200 names in its index, and all that run anywhere in browser", () => {
    const namesOf = (entry: string) => exportsOf.get(entry)!.map(({ name }) => name);
    const index = namesOf("coldpath");
    expect(index.length).toBeLessThanOrEqual(200);
    const browser = new Set(namesOf("coldpath/browser"));
    expect([...browser].filter((name) => !index.includes(name))).toEqual([]);
    expect(index.filter((name) => !browser.has(name)).sort()).toEqual([
      "Control",
      "MimeBundle",
      "Panel",
      "PlotlyFigure",
      "Presentable",
      "Progress",
      "ReadControl",
      "answer",
      "panel",
      "progressBar",
      "readDataFolder",
      "show",
    ]);
  });

  it("gives each thing one name, in one entry", () => {
    const places = [...exportsOf]
      .filter(([entry]) => entry !== "coldpath/browser")
      .flatMap(([entry, symbols]) => symbols.map(({ name }) => `${name} ${entry}`))
      .sort();
    const doubled = places.filter(
      (place, i) => i > 0 && place.split(" ")[0] === places[i - 1]!.split(" ")[0],
    );
    expect(doubled).toEqual([]);
    const renamed = [...exportsOf.values()]
      .flat()
      .filter((symbol) => declared(symbol).name !== symbol.name)
      .map(({ name }) => name);
    expect(renamed).toEqual([]);
  });

  it("has an entry for each folder of src with an index, with types", () => {
    expect(files.filter(([, file]) => program.getSourceFile(file) === undefined)).toEqual([]);
    const source = fileURLToPath(new URL("../src/", import.meta.url));
    const indices = readdirSync(source).filter((name) => existsSync(`${source}${name}/index.ts`));
    expect(indices.length).toBeGreaterThan(5);
    for (const folder of indices) {
      expect(entries.get(`coldpath/${folder}`)).toBe(`${folder}/index.js`);
    }
    expect(entries.size).toBe(indices.length + 2);
  });

  it("gives a web page the texts of the data folder", async () => {
    const inPage = await import(new URL("../dist/catalogue.js", import.meta.url).href);
    expect(inPage.readDataFolder()).toEqual(readDataFolder());
  });

  it("says nothing of any", () => {
    expect(placesOf(ts.SyntaxKind.AnyKeyword)).toEqual([]);
  });

  it("has no function that takes a bare true or false, whose meaning a call would not show", () => {
    const flags = declarations.flatMap((declaration) =>
      ts.isFunctionDeclaration(declaration) || ts.isClassDeclaration(declaration)
        ? parametersOf(declaration)
        : [],
    );
    expect(flags).toEqual([]);
  });
});

/** Parameters of a function, or of a class's public methods and constructor, that are booleans. */
function parametersOf(declaration: ts.FunctionDeclaration | ts.ClassDeclaration): string[] {
  const callables = ts.isClassDeclaration(declaration)
    ? declaration.members.filter(
        (member): member is ts.MethodDeclaration | ts.ConstructorDeclaration =>
          ts.isMethodDeclaration(member) || ts.isConstructorDeclaration(member),
      )
    : [declaration];
  return callables
    .filter((callable) => !hidden(callable))
    .flatMap((callable) =>
      callable.parameters
        .filter(
          ({ type }) =>
            type !== undefined &&
            (checker.getTypeFromTypeNode(type).flags & ts.TypeFlags.BooleanLike) !== 0,
        )
        .map(({ name }) => `${declaration.name?.text}: ${name.getText()}`),
    );
}

function hidden(callable: ts.Declaration): boolean {
  return (
    (ts.getCombinedModifierFlags(callable) &
      (ts.ModifierFlags.Private | ts.ModifierFlags.Protected)) !==
    0
  );
}
