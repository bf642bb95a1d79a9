/**
 * Holds the answer of a notebook run in Jupyter against that of the run without Jupyter.
 * Usage: node .ci/answers.js EXECUTED.ipynb OUTPUT-OF-THE-COMMAND
 */
import { readFileSync } from "node:fs";

const [, , notebook, printed] = process.argv;
const type = "application/vnd.coldpath.answer+json";
const { cells } = JSON.parse(readFileSync(notebook, "utf8"));
const answers = cells
  .flatMap((cell) => cell.outputs ?? [])
  .flatMap((output) => output.data?.[type] ?? []);
const lines = answers.at(-1)?.lines;
if (!lines) throw new Error(`${notebook} has no answer`);
const said = readFileSync(printed, "utf8").split("\n");
const missing = lines.filter((line) => !said.some((other) => other.trim() === line.trim()));
if (missing.length > 0) {
  throw new Error(`only in Jupyter:\n${missing.join("\n")}\nwithout it:\n${said.join("\n")}`);
}
console.log(`${lines.length} lines alike`);
