#!/usr/bin/env node
/**
 * The command `npm start`: run a notebook, print its answer, write its page.
 * @module
 */
import { createHash } from "node:crypto";
import { existsSync, readdirSync, readFileSync, writeSync } from "node:fs";
import { resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";
import { FieldError, UnknownNameError } from "../units/errors.js";
import { printable } from "../units/format.js";
import { version } from "../version.js";
import { newProject } from "./new-project.js";
import { answerLines, page } from "./page/page.js";
import { PageFileError, writeWhole } from "./page/pagefile.js";
import { PdfError, printPdf } from "./page/pdf.js";
import { plotlyVersion } from "./page/plotly.js";
import { calledAs } from "./programs.js";
import { CellError, executeNotebook, type Progress } from "./run/execute.js";
import { findNotebook, listNotebooks, readNotebook, shortPath } from "./run/notebook.js";

const usage = `Usage: ${calledAs()} [NAME] [OPTION]
       ${calledAs()} new [FOLDER]
       ${calledAs()} shard|merge FILE.mjs ...   (see ${calledAs()} shard --help)

Runs the notebook NAME (default: size-bonds), prints its answer and writes it as one HTML page. NAME is
one of this package, or the path of a file of your own that ends in .ipynb. "new" writes a first script and
a first notebook of your own.

  --list            list the notebooks
  --notebooks DIR   take notebooks from DIR (default: the notebooks/ of this package)
  --out DIR         write the page to DIR (default: out)
  --pdf             print the page to PDF too (by Chromium on the search path, or named by CHROMIUM)
  --version         print the version of this library
  --help            print this text

Ends with 2 for what it was asked wrongly, 1 for what failed, 0 otherwise.
`;

const root = fileURLToPath(new URL("../../", import.meta.url));

async function main(words: readonly string[]): Promise<void> {
  if (words[0] === "shard" || words[0] === "merge") {
    // Brings the whole library along, which a notebook's first cell need not wait for.
    const { shardCommand } = await import("./shard-command.js");
    return shardCommand(words);
  }
  if (words[0] === "new") {
    if (words.length > 2) throw new FieldError("folder", "one folder", words.slice(1).join(" "));
    const files = newProject(words[1] ?? ".");
    process.stdout.write(printable(files.map((file) => `Written: ${file}\n`).join("")));
    return;
  }
  const { values, positionals } = parseArgs({
    args: [...words],
    allowPositionals: true,
    options: {
      list: { type: "boolean" },
      notebooks: { type: "string", default: shortPath(process.cwd(), resolve(root, "notebooks")) },
      out: { type: "string", default: "out" },
      pdf: { type: "boolean" },
      version: { type: "boolean" },
      help: { type: "boolean", short: "h" },
    },
  });
  if (values.version) return void process.stdout.write(`${version}\n`);
  if (values.help) return void process.stdout.write(usage);
  const folder = values.notebooks;
  if (values.list) {
    const entries = listNotebooks(folder);
    const width = Math.max(0, ...entries.map(({ name }) => name.length));
    const lines = entries.map(({ name, title }) => `${name.padEnd(width)}  ${title}\n`);
    return void process.stdout.write(printable(lines.join("")));
  }
  if (positionals.length > 1) throw new FieldError("notebook", "one name", positionals.join(" "));
  const [name = "size-bonds"] = positionals;
  // A file of the user's own goes before one of the package.
  const isFile = name.endsWith(".ipynb") && existsSync(name);
  const notebook = readNotebook(isFile ? name : findNotebook(folder, name));
  const executed = await executeNotebook(notebook, process.stderr.isTTY ? onTerminal : undefined);
  const versions = [
    `coldpath ${version}`,
    `Plotly ${plotlyVersion()}`,
    `Node ${process.version}`,
    `data ${dataDigest()}`,
  ];
  const html = page(executed, { date: new Date().toISOString().slice(0, 10), versions });
  const file = writeWhole(values.out, `${notebook.name}.html`, html);
  const lines = answerLines(executed);
  if (lines.length > 0) process.stdout.write(`${printable(lines.join("\n"))}\n\n`);
  process.stdout.write(`Page: ${file}\n`);
  if (values.pdf) process.stdout.write(`PDF: ${await printPdf(file)}\n`);
}

/** One line per cell while it runs. */
const onTerminal: Progress = (index, count, { source }) => {
  const first = source.split("\n").find((line) => line.trim() !== "") ?? "";
  process.stderr.write(printable(`cell ${index} of ${count}  ${first.trim().slice(0, 60)}\n`));
};

/** A short name of all files of data/: it changes with any number in them. */
function dataDigest(): string {
  const folder = resolve(root, "data");
  const hash = createHash("sha256");
  const names = readdirSync(folder, { recursive: true, encoding: "utf8" });
  for (const name of names.map((n) => n.replaceAll("\\", "/")).sort()) {
    if (/\.(csv|json)$/.test(name)) hash.update(name).update(readFileSync(resolve(folder, name)));
  }
  return hash.digest("hex").slice(0, 8);
}

/** What the error says, and the status to end with; an error of none of these kinds is a fault of this program. */
function ending(error: unknown): { readonly said: string; readonly status: 1 | 2 } {
  const is = (kind: abstract new (...values: never[]) => Error) => error instanceof kind;
  const { code, message, stack } = error as NodeJS.ErrnoException;
  if ([FieldError, UnknownNameError].some(is)) return { said: message, status: 2 };
  if (code?.startsWith("ERR_PARSE_ARGS")) return { said: message.split("\n")[0]!, status: 2 };
  const failed = [CellError, PageFileError, PdfError].some(is);
  return { said: failed ? message : (stack ?? message), status: 1 };
}

// A reader that stops early, such as head, is no fault.
process.stdout.on("error", (error: NodeJS.ErrnoException) => {
  if (error.code !== "EPIPE") throw error;
});

let finished = false;
process.on("exit", () => {
  // A cell that ends the process must not look like success; while a cell runs, its output is
  // taken, so the words go to the terminal by file number.
  if (finished) return;
  writeSync(2, "A cell ended the program before the last cell was done; no page is written.\n");
  process.exitCode = 1;
});
try {
  await main(process.argv.slice(2));
} catch (error) {
  const { said, status } = ending(error);
  process.stderr.write(`${printable(said)}\n`);
  process.exitCode = status;
}
finished = true;
