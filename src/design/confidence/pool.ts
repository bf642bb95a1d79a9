/**
 * Workers that solve samples on all processors. In a web page one-thread.ts takes the place of this file
 * (package.json, "browser").
 * @module
 */
import { setMaxListeners } from "node:events";
import { existsSync } from "node:fs";
import { availableParallelism } from "node:os";
import { fileURLToPath } from "node:url";
import { serialize } from "node:v8";
import type Tinypool from "tinypool";
import { type SampleRunner, solveHere } from "./samples.js";

/** The built worker; src/ and dist/ lie equally deep below the package's root. */
const workerFile = fileURLToPath(
  new URL("../../../dist/design/confidence/sample-worker.js", import.meta.url),
);

/** How often chunks are tried whose workers die. */
const attempts = 3;

/**
 * Fewer samples than this are not worth the start of workers, about a second: of a mount with formulas, of
 * one whose 2-D die is seen from its contacts, and of one that is solved in full for each; the chunks of
 * these two are short.
 */
const worthWorkers = { quick: 50_000, contacts: 8_192, full: 512, shortChunk: 64 };

/** A thread of the pool. */
interface Thread {
  terminate(): Promise<unknown>;
  once(event: "exit", listener: () => void): unknown;
}

/** A pool, and the runner that uses it. */
export interface SamplePool {
  readonly runner: SampleRunner;
  /** Threads that run now. */
  threads(): readonly Pick<Thread, "terminate">[];
  /** Ends the workers. */
  close(): Promise<void>;
}

/**
 * Workers that start with the first run and stay for the next. Chunks of a worker that dies are solved
 * again by new ones; a run whose workers die again and again fails.
 * @param workers - how many; as many as there are processors when absent
 * @throws Error when the package was not built
 */
export function samplePool(workers = availableParallelism()): SamplePool {
  if (!existsSync(workerFile)) {
    throw new Error(`samplePool: ${workerFile} is missing. Build the package first: npm run build`);
  }
  /** The pool that runs, and the runs to be told when one of its threads ends. */
  let now: { readonly pool: Tinypool; readonly waiting: Set<() => void> } | undefined;
  const watched = new WeakSet<Thread>();
  const threads = () => (now?.pool.threads ?? []) as unknown as readonly Thread[];
  const open = async () => {
    // Loaded with the first run: it would be a tenth of an import of the library.
    const { default: Pool } = await import("tinypool");
    now ??= {
      pool: new Pool({
        filename: workerFile,
        minThreads: workers,
        maxThreads: workers,
        // Node's own options are meant for the program that was started; workers refuse some of them.
        execArgv: [],
      }),
      waiting: new Set(),
    };
    return now;
  };
  // The pool itself does not notice, and would wait for ever.
  const watch = (waiting: ReadonlySet<() => void>) => {
    for (const thread of threads()) {
      if (watched.has(thread)) continue;
      watched.add(thread);
      thread.once("exit", () => {
        for (const lost of waiting) lost();
      });
    }
  };
  const discard = (broken: typeof now) => {
    if (now !== broken) return;
    for (const thread of threads()) void thread.terminate();
    now = undefined;
  };

  const runner: SampleRunner = async (job, chunks, { signal, progress }) => {
    const results = new Map<number, Float64Array>();
    // In one piece, a chunk sends a copy of bytes in place of thousands of objects.
    const sent = serialize(job);
    const total = chunks.reduce((sum, { count }) => sum + count, 0);
    let done = 0;
    for (let attempt = 0; attempt < attempts; attempt++) {
      const own = await open();
      signal?.throwIfAborted();
      // The first failure ends the others' work.
      const stop = new AbortController();
      setMaxListeners(chunks.length + 1, stop.signal);
      const abort = () => stop.abort();
      signal?.addEventListener("abort", abort, { once: true });
      let lost = () => {};
      const death = new Promise<"died">((resolve) => {
        lost = () => {
          if (!stop.signal.aborted) resolve("died");
        };
      });
      const { pool, waiting } = own;
      waiting.add(lost);
      const solved = Promise.all(
        chunks.map(async (chunk, k) => {
          if (results.has(k)) return;
          const samples: Float64Array = await pool.run(
            { job: sent, chunk },
            { signal: stop.signal },
          );
          // What comes after the end of this attempt is solved again by the next.
          if (stop.signal.aborted) return;
          results.set(k, samples);
          done += chunk.count;
          progress?.(done, total);
        }),
      );
      watch(waiting);
      try {
        const ended = await Promise.race([solved, death]);
        if (ended !== "died") return chunks.map((_, k) => results.get(k)!);
        stop.abort();
        discard(own);
      } catch (error) {
        stop.abort();
        discard(own);
        signal?.throwIfAborted();
        throw error;
      } finally {
        waiting.delete(lost);
        signal?.removeEventListener("abort", abort);
      }
    }
    throw new Error(`confidence: workers died in each of ${attempts} attempts.`);
  };
  return {
    runner,
    threads,
    async close() {
      const own = now;
      now = undefined;
      await own?.pool.destroy();
    },
  };
}

let shared: SamplePool | undefined;

/**
 * Who solves samples when a call names nobody: all processors for what is worth it, this process for the
 * rest and where nothing was built.
 */
export const defaultRunner: SampleRunner = (job, chunks, options) => {
  const samples = chunks.reduce((sum, { count }) => sum + count, 0);
  const { quick, contacts, full, shortChunk } = worthWorkers;
  const isShort = chunks.every(({ count }) => count <= shortChunk);
  const long = samples >= (!isShort ? quick : job.recipe.formulas ? contacts : full);
  if (chunks.length < 2 || !long || availableParallelism() < 2 || !existsSync(workerFile)) {
    return solveHere(job, chunks, options);
  }
  shared ??= samplePool();
  return shared.runner(job, chunks, options);
};
