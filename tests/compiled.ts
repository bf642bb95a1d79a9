/** Texts for users, checked as their compiler would, and run. */
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
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

/** Files that a program holds, read once for all programs; those that are made for one are read anew. */
export const host = ts.createCompilerHost(strictly);
const read = host.getSourceFile;
const kept = new Map<string, ts.SourceFile | undefined>();
host.getSourceFile = (path, ...words) => {
  if (path.includes(".compiled-")) return read(path, ...words);
  if (!kept.has(path)) kept.set(path, read(path, ...words));
  return kept.get(path);
};

/** Files of dist that the package's entries stand for, by the name that users import. */
export const entries: ReadonlyMap<string, string> = new Map(
  Object.entries<string | { default: string }>(
    JSON.parse(readFileSync(join(root, "package.json"), "utf8")).exports,
  )
    .filter(([name]) => name !== "./package.json")
    .map(([name, target]) => [
      `coldpath${name.slice(1)}`,
      (typeof target === "string" ? target : target.default).replace("./dist/", ""),
    ]),
);

/**
 * A text with what it imports at its place: an entry of the package, or a file of src as one beside it
 * would, or of dist as a notebook does.
 */
function placed(text: string, dist: string): string {
  return text.replace(/(["'])(coldpath(?:\/\w+)?|\.\.\/[^"']+)\1/g, (_, __, what: string) =>
    JSON.stringify(dist + (entries.get(what) ?? what.replace(/^..\/(dist\/)?/, ""))),
  );
}

/** What the compiler finds wrong with a program, in words. */
export function wrongWith(text: string): string[] {
  const folder = mkdtempSync(join(root, "tests/.compiled-"));
  try {
    const path = join(folder, "program.ts");
    writeFileSync(path, placed(text, "../../dist/"));
    const faults = ts.getPreEmitDiagnostics(ts.createProgram([path], strictly, host));
    return faults.map(({ file, start, messageText }) => {
      const line = file && start !== undefined ? file.getLineAndCharacterOfPosition(start).line : 0;
      const where = file ? file.text.split("\n")[line]!.trim() : "";
      return `${where} ${ts.flattenDiagnosticMessageText(messageText, "\n")}`.trim();
    });
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** What a program prints, run in the repository. */
export function printedBy(text: string): string {
  const { outputText } = ts.transpileModule(text, {
    compilerOptions: { target: ts.ScriptTarget.ES2022, module: ts.ModuleKind.ESNext },
  });
  const code = placed(outputText, pathToFileURL(join(root, "dist/")).href);
  return execFileSync(process.execPath, ["--input-type=module", "-e", code], {
    encoding: "utf8",
    cwd: root,
  });
}

/** What a comment behind an expression says it gives; undefined where it says nothing, or only words. */
export function saidBy(comment: string): string | undefined {
  return /^-?\d\S*|^["[{].*["\]}]/.exec(comment)?.[0].replace(/[:,;]$/, "");
}

/** Whether a value is what an example says, numbers to the digits that are printed. */
export function agrees(value: unknown, says: string): boolean {
  const numbers: number[] = [];
  const shape = says.replace(/(?<![\w"])-?\d+(\.\d+)?(e-?\d+)?/g, (number) => {
    const digits = number.replace(/e.*|[-.]/g, "").replace(/^0+/, "").length;
    numbers.push(digits);
    return number;
  });
  const wanted = new Function(`return (${shape});`)();
  const alike = (got: unknown, want: unknown): boolean => {
    if (typeof want === "number") {
      const digits = numbers.shift()!;
      return Number((got as number).toPrecision(digits)) === Number(want.toPrecision(digits));
    }
    if (typeof want !== "object" || want === null) return got === want;
    return Object.entries(want).every(([key, w]) =>
      alike((got as Record<string, unknown>)[key], w),
    );
  };
  return alike(value, wanted);
}
