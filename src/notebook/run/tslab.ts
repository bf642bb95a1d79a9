/**
 * The only module that imports tslab 1.0: its converter (TypeScript 5.0, type checks a cell), its executor
 * (runs it) and the handler that its kernel drives, here driven without a kernel, a socket or Python.
 * @module
 */
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { inspect } from "node:util";
import { type Conversion, type Converted, ConvertedAhead } from "./convert-ahead.js";
import type { MimeBundle } from "./notebook.js";
import { markedSource, originalLine, type Syntax } from "./sourceline.js";

/** One thing wrong with a cell; `line` counts from 1 within the cell, where it is known. */
export interface Fault {
  readonly line: number | undefined;
  readonly message: string;
  /** Calls between the cell and where it was thrown, innermost first; empty for a type error. */
  readonly calls: readonly string[];
}

export interface Sink {
  stream(name: "stdout" | "stderr", text: string): void;
  display(data: MimeBundle, id: string | undefined, update: boolean): void;
}

// What is used of tslab/dist/{converter,executor,jupyter,metadata}.js.
interface Converter {
  convert(previous: string, source: string): Converted;
  addModule(name: string, source: string, directives: object): readonly unknown[];
  close(): void;
}
interface Message {
  readonly data: MimeBundle;
  readonly metadata: object;
  readonly transient: { readonly display_id?: string };
}
type WriteDisplay = (message: Message, update?: boolean) => void;
interface Handler {
  handleExecute(
    request: { code: string },
    writeStream: (name: "stdout" | "stderr", text: string) => void,
    writeDisplay: WriteDisplay,
  ): Promise<{ status: string }>;
}
interface Tslab {
  createConverter(options: { isJS: boolean; isBrowser: boolean }): Converter;
  createExecutor(
    folder: string,
    converters: { node: Converter; close(): void },
    console: { log(...values: unknown[]): void; error(...values: unknown[]): void },
  ): { close(): void };
  JupyterHandlerImpl: new (executor: { close(): void }, isJS: boolean) => Handler;
  getCodeMetadata(source: string): { readonly mode?: string; readonly module?: string };
  /** The TypeScript that tslab brings along. */
  typescript: Syntax;
}

/** A place in a text, counted from 1. */
interface Place {
  readonly line: number;
  readonly column: number;
}

/** Position and text of a type error arrive as arguments of this console format. */
const diagnosticFormat = "%s%d:%d - %s";
/** This package's folder, as it stands in a stack. */
const root = new URL("../../../", import.meta.url).href;
/** The name under which a cell's code stands in a stack. */
const cellFrame = /evalmachine\.<anonymous>:(\d+):(\d+)/;

/**
 * Cells converted one after the other without being run, up to the first with an error, or with one of
 * tslab's directives. The working directory counts as in `openSession`.
 */
export function* conversions(sources: readonly string[]): Generator<Conversion> {
  const { createConverter, getCodeMetadata } = loadTslab();
  const converter = createConverter({ isJS: false, isBrowser: false });
  let previous = "";
  for (const source of sources) {
    const { module, mode } = getCodeMetadata(source);
    if (module !== undefined || mode === "browser") break;
    const converted = converter.convert(previous, source);
    // An earlier cell may yet write the file that this one misses: it is converted again when it runs.
    if (converted.diagnostics.length > 0) break;
    yield { previous, source, converted };
    previous = converted.declOutput ?? "";
  }
  converter.close();
}

/**
 * Open a session whose cells share their variables, and import and read files from `folder`.
 * The working directory must be that folder already: tslab's compiler takes it from the process.
 * @param sources - the cells that will run, where they are known
 */
export function openSession(folder: string, sources: readonly string[] = []) {
  const ahead = new ConvertedAhead(sources);
  const { createConverter, createExecutor, JupyterHandlerImpl, typescript } = loadTslab();
  let here: Converter | undefined; // takes seconds to make, and is not needed for what was done ahead
  const make = () => {
    here ??= createConverter({ isJS: false, isBrowser: false });
    return here;
  };
  let previous = ""; // declarations of the earlier cells, as tslab hands them to its converter
  const converter: Converter = {
    convert(declarations, source) {
      previous = declarations;
      return ahead.take(declarations, source) ?? make().convert(declarations, source);
    },
    addModule: (...module) => make().addModule(...module),
    close: () => here?.close(),
  };
  let raised: unknown[][] = [];
  const outside = running.__tslab__;
  const executor = createExecutor(
    folder,
    { node: converter, close: () => converter.close() },
    { log: (...values) => console.log(...values), error: (...values) => raised.push(values) },
  );
  const handler = new JupyterHandlerImpl(executor, false);

  /** The cell's line for a place in the code that tslab made of it. */
  function lineOf(code: string, place: Place): number | undefined {
    const plain = make().convert(previous, code).output;
    const marked = make().convert(previous, markedSource(code, typescript)).output;
    return plain && marked ? originalLine(plain, marked, place) : undefined;
  }

  /** Run one cell; the faults that stopped it, none when it went well. */
  async function run(code: string, sink: Sink): Promise<Fault[]> {
    await ahead.next();
    raised = [];
    const late = (error: unknown) => raised.push([error]);
    const write = { stdout: process.stdout.write, stderr: process.stderr.write };
    process.on("unhandledRejection", late).on("uncaughtException", late);
    let status: string;
    try {
      ({ status } = await handler.handleExecute(
        { code },
        (name, text) => sink.stream(name, text),
        (message, update) =>
          sink.display(message.data, message.transient.display_id, update === true),
      ));
      // A promise that nothing awaits is reported one turn of the event loop later.
      await new Promise((resolve) => setImmediate(resolve));
    } finally {
      // The handler puts its own write functions in place and leaves them there.
      process.stdout.write = write.stdout;
      process.stderr.write = write.stderr;
      process.off("unhandledRejection", late).off("uncaughtException", late);
    }
    const faults = raised.map((values) =>
      values[0] === diagnosticFormat
        ? typeFault(values)
        : thrownFault(values[0], (place) => lineOf(code, place)),
    );
    if (status !== "ok" && faults.length === 0)
      faults.push({ line: undefined, message: `the cell ended with status ${status}`, calls: [] });
    return joined(faults);
  }

  return {
    run,
    close() {
      ahead.close();
      executor.close();
      running.__tslab__ = outside;
    },
  };
}

/** Where tslab's executor leaves what its cells need; a closed session puts back what was there. */
const running = globalThis as { __tslab__?: { require?: NodeJS.Require } | undefined };

/** Shows something in a notebook, in the place of an earlier display of the same id if there is one. */
export type Display = (data: MimeBundle, id?: string) => void;

const displayed = new Set<string>();

/** The display of the tslab that runs this code, headless or as a Jupyter kernel; undefined outside. */
export function runningDisplay(): Display | undefined {
  // tslab's executor leaves the `require` it gives to cells here. Through it the very copy of tslab
  // that runs is found, whichever copy this library would resolve by itself.
  const require = running.__tslab__?.require;
  if (require === undefined) return undefined;
  const face: unknown = require("tslab");
  const found = Object.values(require.cache).find((module) => module?.exports === face);
  if (found === undefined) return undefined;
  // tslab's public display writes one MIME type at a time; several forms of one thing need this.
  const jupyter = require(join(dirname(found.filename), "jupyter.js")) as {
    lastWriteDisplayData: WriteDisplay | null;
  };
  const write = jupyter.lastWriteDisplayData;
  if (write === null) return undefined;
  return (data, id) => {
    if (id === undefined) return write({ data, metadata: {}, transient: {} });
    write({ data, metadata: {}, transient: { display_id: id } }, displayed.has(id));
    displayed.add(id);
  };
}

/** The file to run with Node for the kernel of this library's own tslab. */
export function tslabCommand(): string {
  const require = createRequire(import.meta.url);
  return join(dirname(require.resolve("tslab/package.json")), "bin", "tslab");
}

function loadTslab(): Tslab {
  const outer = createRequire(import.meta.url);
  const require = createRequire(outer.resolve("tslab/package.json"));
  return {
    ...require("./dist/converter.js"),
    ...require("./dist/executor.js"),
    ...require("./dist/jupyter.js"),
    ...require("./dist/metadata.js"),
    typescript: require("@tslab/typescript-for-tslab"),
  };
}

function typeFault([, file, line, , message]: unknown[]): Fault {
  // A fault in a file that the cell imports carries that file's name; its line is not the cell's.
  return file === ""
    ? { line: Number(line), message: String(message), calls: [] }
    : { line: undefined, message: `${String(file).trim()}:${line} ${message}`, calls: [] };
}

function thrownFault(error: unknown, lineOf: (place: Place) => number | undefined): Fault {
  if (!(error instanceof Error)) {
    return { line: undefined, message: `thrown: ${inspect(error)}`, calls: [] };
  }
  const frames = (error.stack ?? "").split("\n").filter((line) => /^\s+at /.test(line));
  let line: number | undefined;
  let last = frames.length - 1;
  // The outermost frame of a cell is the cell that ran: functions of earlier cells lie further in.
  for (; last >= 0 && line === undefined; last--) {
    const found = cellFrame.exec(frames[last]!);
    if (found !== null) line = lineOf({ line: Number(found[1]), column: Number(found[2]) });
  }
  // An error of a class of its own says what to do in its message; where it was thrown adds nothing.
  const calls = !(error.name in globalThis)
    ? []
    : frames
        .slice(0, last + 1)
        .filter(
          (frame) => !cellFrame.test(frame) && !/node:|<anonymous>|\/tslab\/dist\//.test(frame),
        )
        .map((frame) => frame.trim().replace(root, ""));
  const message = error.name === "Error" ? error.message : `${error.name}: ${error.message}`;
  return { line, message, calls };
}

/** A chain of messages about one place as one fault. */
function joined(faults: readonly Fault[]): Fault[] {
  const result: Fault[] = [];
  for (const fault of faults) {
    const before = result.at(-1);
    if (before !== undefined && before.line === fault.line && fault.calls.length === 0)
      result[result.length - 1] = { ...before, message: `${before.message}\n${fault.message}` };
    else result.push(fault);
  }
  return result;
}
