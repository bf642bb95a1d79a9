/** The README's example and the answer it shows, word for word. */
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import ts from "typescript";
import { describe, expect, it } from "vitest";

const root = fileURLToPath(new URL("../", import.meta.url));
const readme = readFileSync(join(root, "README.md"), "utf8");
const blocks = [...readme.matchAll(/^```(\w*)\n([\s\S]*?)^```$/gm)].map(([, language, text]) => ({
  language,
  text: text!,
}));
const example = blocks.findIndex(({ language }) => language === "ts");

describe("README.md", () => {
  it("has an example that compiles in strict mode", () => {
    const folder = mkdtempSync(join(root, "tests/.readme-"));
    try {
      const file = join(folder, "example.ts");
      writeFileSync(file, blocks[example]!.text.replace('"coldpath"', '"../../src/index.js"'));
      const program = ts.createProgram([file], {
        strict: true,
        noEmit: true,
        skipLibCheck: true,
        target: ts.ScriptTarget.ES2022,
        module: ts.ModuleKind.NodeNext,
        moduleResolution: ts.ModuleResolutionKind.NodeNext,
        types: ["node"],
      });
      const faults = ts.getPreEmitDiagnostics(program);
      expect(faults.map((f) => ts.flattenDiagnosticMessageText(f.messageText, "\n"))).toEqual([]);
    } finally {
      rmSync(folder, { recursive: true });
    }
  });

  it("prints what it says it prints", () => {
    const face = pathToFileURL(join(root, "dist/index.js")).href;
    const { outputText } = ts.transpileModule(blocks[example]!.text, {
      compilerOptions: { target: ts.ScriptTarget.ES2022, module: ts.ModuleKind.ESNext },
    });
    const code = outputText.replace('"coldpath"', JSON.stringify(face));
    const printed = execFileSync(process.execPath, ["--input-type=module", "-e", code], {
      encoding: "utf8",
    });
    expect(printed).toBe(blocks[example + 1]!.text);
  });

  it("shows the answer that npm start gives", () => {
    const out = mkdtempSync(join(tmpdir(), "coldpath-"));
    try {
      const command = [join(root, "dist/notebook/command.js"), "--out", out];
      const printed = execFileSync(process.execPath, command, { encoding: "utf8" });
      const shown = blocks.find(({ text }) => text.startsWith("Bonds  "))!.text;
      expect(printed.startsWith(shown)).toBe(true);
    } finally {
      rmSync(out, { recursive: true });
    }
  });
});
