/** What the package declares to its users. */
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import ts from "typescript";
import { describe, expect, it } from "vitest";

const dist = fileURLToPath(new URL("../dist/", import.meta.url));
const entry = join(dist, "index.d.ts");
const program = ts.createProgram([entry], {
  target: ts.ScriptTarget.ES2022,
  module: ts.ModuleKind.NodeNext,
  moduleResolution: ts.ModuleResolutionKind.NodeNext,
  strict: true,
  types: ["node"],
});
const checker = program.getTypeChecker();
const exported = checker
  .getExportsOfModule(checker.getSymbolAtLocation(program.getSourceFile(entry)!)!)
  .map((symbol) =>
    symbol.flags & ts.SymbolFlags.Alias ? checker.getAliasedSymbol(symbol) : symbol,
  );
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
    expect(exported.length).toBeGreaterThan(150);
    for (const symbol of exported) expect(symbol.declarations, symbol.name).not.toHaveLength(0);
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
