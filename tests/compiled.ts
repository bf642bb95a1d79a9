/** Texts for users, checked as their compiler would, and run. */
import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import ts from "typescript";

const root = fileURLToPath(new URL("../", import.meta.url));

/** How a careful user compiles. */
export const strictly: ts.CompilerOptions = {
  strict: true,
  noEmit: true,
  skipLibCheck: true,
  target: ts.ScriptTarget.ES2022,
  module: ts.ModuleKind.NodeNext,
  moduleResolution: ts.ModuleResolutionKind.NodeNext,
  types: ["node"],
};

/** What the compiler finds wrong with a program that imports "coldpath", in words. */
export function wrongWith(text: string): string[] {
  const folder = mkdtempSync(join(root, "tests/.compiled-"));
  try {
    const path = join(folder, "program.ts");
    writeFileSync(path, text.replaceAll('"coldpath"', '"../../dist/index.js"'));
    const faults = ts.getPreEmitDiagnostics(ts.createProgram([path], strictly));
    return faults.map(({ file, start, messageText }) => {
      const line = file && start !== undefined ? file.getLineAndCharacterOfPosition(start).line : 0;
      const where = file ? file.text.split("\n")[line]!.trim() : "";
      return `${where} ${ts.flattenDiagnosticMessageText(messageText, "\n")}`.trim();
    });
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** What a program that imports "coldpath" prints, run in the repository. */
export function printedBy(text: string): string {
  const { target, ...rest } = strictly;
  const compilerOptions = { ...rest, target: target!, module: ts.ModuleKind.ESNext };
  const face = JSON.stringify(pathToFileURL(join(root, "dist/index.js")).href);
  const code = ts
    .transpileModule(text, { compilerOptions })
    .outputText.replaceAll('"coldpath"', face);
  return execFileSync(process.execPath, ["--input-type=module", "-e", code], {
    encoding: "utf8",
    cwd: root,
  });
}
