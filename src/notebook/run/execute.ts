/**
 * Run a notebook from the first cell to the last inside this Node process, no Jupyter needed.
 * @module
 */
import { dirname, resolve } from "node:path";
import { plotlyCompressed } from "../page/plotly.js";
import { type Cell, type MimeBundle, type Notebook, type Output, shortPath } from "./notebook.js";
import { type Fault, openSession, type Sink } from "./tslab.js";

/** A cell with what it put out; text cells put out nothing. */
export interface ExecutedCell extends Cell {
  readonly outputs: readonly Output[];
}

/** A notebook after its run. */
export interface ExecutedNotebook extends Notebook {
  readonly cells: readonly ExecutedCell[];
}

/** How far a run is: code cell `index` of `count`, from 1, is about to run. */
export type Progress = (index: number, count: number, cell: Cell) => void;

/** The library as notebooks import it. */
const entry = new URL("../../index.js", import.meta.url).href;
const mostFaults = 5; // of one cell; one slip can make a type error in every line after it

/** A cell failed: the message names notebook, code cell and line and shows the line. */
export class CellError extends Error {
  override readonly name = "CellError";
  constructor(
    readonly file: string,
    /** Number of the code cell, counted from 1 as Jupyter counts a run from the top. */
    readonly cell: number,
    readonly source: string,
    readonly faults: readonly Fault[],
  ) {
    const shown = faults.slice(0, mostFaults).map((fault) => report(file, cell, source, fault));
    const more = faults.length - shown.length;
    super([...shown, ...(more > 0 ? [`and ${more} more in this cell`] : [])].join("\n\n"));
  }
}

/**
 * Run all code cells in order.
 * While it runs, the working directory is the notebook's folder and standard output goes to the cell.
 * @throws CellError at the first cell that fails; nothing after it runs
 */
export async function executeNotebook(
  notebook: Notebook,
  progress: Progress = () => {},
): Promise<ExecutedNotebook> {
  const before = process.cwd();
  const file = resolve(notebook.file);
  const folder = dirname(file);
  const code = notebook.cells.filter(({ kind }) => kind === "code").map(({ source }) => source);
  process.chdir(folder);
  const filled = code.filter((source) => source.trim() !== "");
  const session = openSession(folder, filled);
  // What nearly every notebook needs is made ready while its first cell is checked; what fails here
  // says why where it is needed.
  const makeReady = (library: { standardCatalogue(): unknown }) => library.standardCatalogue();
  void import(entry)
    .then(makeReady)
    .then(plotlyCompressed)
    .catch(() => {});
  try {
    const cells: ExecutedCell[] = [];
    let index = 0;
    for (const cell of notebook.cells) {
      if (cell.kind !== "code" || cell.source.trim() === "") {
        if (cell.kind === "code") index++;
        cells.push({ ...cell, outputs: [] });
        continue;
      }
      progress(++index, code.length, cell);
      const collected = new Collected();
      const faults = await session.run(cell.source, collected);
      if (faults.length > 0)
        throw new CellError(shortPath(before, file), index, cell.source, faults);
      cells.push({ ...cell, outputs: collected.outputs });
    }
    return { ...notebook, cells };
  } finally {
    session.close();
    process.chdir(before);
  }
}

/** Outputs in the order in which they came, as a notebook file would hold them. */
class Collected implements Sink {
  readonly outputs: Output[] = [];
  private readonly places = new Map<string, number>();

  stream(name: "stdout" | "stderr", text: string): void {
    const last = this.outputs.at(-1);
    if (last?.output_type === "stream" && last.name === name)
      this.outputs[this.outputs.length - 1] = { ...last, text: last.text + text };
    else this.outputs.push({ output_type: "stream", name, text });
  }

  display(data: MimeBundle, id: string | undefined, update: boolean): void {
    const output: Output = { output_type: "display_data", data };
    const place = id === undefined ? undefined : this.places.get(id);
    if (update && place !== undefined) {
      this.outputs[place] = output;
      return;
    }
    if (id !== undefined) this.places.set(id, this.outputs.length);
    this.outputs.push(output);
  }
}

function report(file: string, cell: number, source: string, fault: Fault): string {
  const { line, message, calls } = fault;
  const place = `${file}, code cell ${cell}${line === undefined ? "" : `, line ${line}`}:`;
  const text = line === undefined ? undefined : source.split("\n")[line - 1];
  return [
    place,
    ...(text === undefined ? [] : [`  ${line} | ${text.trimEnd()}`]),
    message,
    ...calls.map((call) => `  ${call}`),
  ].join("\n");
}
