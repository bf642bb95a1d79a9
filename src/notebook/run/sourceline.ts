/**
 * From a line of the JavaScript that tslab made of a cell back to the cell's own line.
 *
 * tslab keeps no source map. Comments outlive its conversion, so a cell converted once more with a
 * comment that carries the line number before each statement tells which line came from where.
 * @module
 */

/** What is used of the TypeScript compiler. */
export interface Syntax {
  createSourceFile(name: string, text: string, target: number): SyntaxNode;
  forEachChild(node: SyntaxNode, visit: (child: SyntaxNode) => void): void;
  isStatement(node: SyntaxNode): boolean;
  isBlock(node: SyntaxNode): boolean;
}
export interface SyntaxNode {
  getStart(file: SyntaxNode): number;
}

const mark = /\/\*@(\d+)\*\//g;
const latestTarget = 99; // ts.ScriptTarget.Latest

/** The cell with a comment `@line` before each statement; its line breaks are left where they were. */
export function markedSource(source: string, syntax: Syntax): string {
  const file = syntax.createSourceFile("cell.ts", source, latestTarget);
  const starts: number[] = [];
  const visit = (node: SyntaxNode): void => {
    if (syntax.isStatement(node) && !syntax.isBlock(node)) starts.push(node.getStart(file));
    syntax.forEachChild(node, visit);
  };
  syntax.forEachChild(file, visit);
  let result = "";
  let from = 0;
  let line = 1;
  for (const start of [...new Set(starts)].sort((a, b) => a - b)) {
    const text = source.slice(from, start);
    line += text.split("\n").length - 1;
    result += `${text}/*@${line}*/`;
    from = start;
  }
  return result + source.slice(from);
}

/**
 * The cell's line for a place, counted from 1, in `plain`, the conversion of the cell; `marked` is
 * the conversion of its marked source. Undefined where the place is not in it or the two differ.
 */
export function originalLine(
  plain: string,
  marked: string,
  place: { readonly line: number; readonly column: number },
): number | undefined {
  const lines = plain.split("\n");
  const text = lines[place.line - 1];
  // A comment can bring a line break with it, so places are counted in characters that are no space.
  if (text === undefined || solid(plain) !== solid(marked.replace(mark, ""))) return undefined;
  const before = [...lines.slice(0, place.line - 1), text.slice(0, place.column - 1)].join("");
  const wanted = solid(before).length;
  let line: number | undefined;
  let passed = 0;
  let from = 0;
  for (const found of marked.matchAll(mark)) {
    passed += solid(marked.slice(from, found.index)).length;
    if (passed > wanted) break;
    line = Number(found[1]);
    from = found.index + found[0].length;
  }
  return line;
}

function solid(text: string): string {
  return text.replace(/\s+/g, "");
}
