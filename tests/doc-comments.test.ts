/** What is said of the public names, and that the examples in it compile. */
import ts from "typescript";
import { describe, expect, it } from "vitest";
import { agrees, wrongWith } from "./compiled.js";
import { checker, examples, exported, programOf } from "./doc-comments.js";
import { slowly } from "./slowly.js";

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

describe("examples in doc comments", () => {
  slowly("compile in strict mode", () => {
    expect(wrongWith(programOf(examples))).toEqual([]);
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
