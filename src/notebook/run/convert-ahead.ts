/**
 * Cells converted and type-checked in another thread while the cells before them run. Checking takes
 * about as long as running, and depends on the text of the earlier cells alone.
 * @module
 */
import { existsSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { Worker } from "node:worker_threads";

/** A cell as tslab's converter gives it: JavaScript, and what it declares for the next cells. */
export interface Converted {
  readonly output?: string;
  readonly declOutput?: string;
  readonly diagnostics: readonly unknown[];
}

/** A cell converted, with the declarations of the earlier cells on which that rests. */
export interface Conversion {
  readonly previous: string;
  readonly source: string;
  readonly converted: Converted;
}

/** The built worker; src/ and dist/ lie equally deep below the package's root. */
const workerFile = fileURLToPath(
  new URL("../../../dist/notebook/run/convert-worker.js", import.meta.url),
);

/** Conversions in the order of the cells. A thread that fails, or never was built, gives none. */
export class ConvertedAhead {
  readonly #worker: Worker | undefined;
  readonly #ready: Conversion[] = [];
  #ended = false;
  #wake = () => {};

  constructor(sources: readonly string[]) {
    if (!existsSync(workerFile)) {
      this.#ended = true;
      return;
    }
    this.#worker = new Worker(workerFile, { workerData: sources, execArgv: [] });
    this.#worker.on("message", (conversion: Conversion) => {
      this.#ready.push(conversion);
      this.#wake();
    });
    // Its end follows; what it did not convert is converted where it is run, which says what is wrong.
    this.#worker.on("error", () => {});
    this.#worker.on("exit", () => {
      this.#ended = true;
      this.#wake();
    });
  }

  /** Waits until the next cell is converted, or none will be. */
  async next(): Promise<void> {
    while (this.#ready.length === 0 && !this.#ended) {
      await new Promise<void>((resolve) => {
        this.#wake = resolve;
      });
    }
  }

  /** Takes the next conversion if it is of this very text. */
  take(previous: string, source: string): Converted | undefined {
    const next = this.#ready.shift();
    return next?.previous === previous && next.source === source ? next.converted : undefined;
  }

  close(): void {
    void this.#worker?.terminate();
  }
}
