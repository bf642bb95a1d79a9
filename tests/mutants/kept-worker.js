/**
 * A worker thread of Vitest that outlives a run of tests. A mutant's tests take milliseconds, and to
 * start a thread and read the library in it a second; so thread and library are kept, and what mutants
 * can touch is read anew for each.
 */
import { ThreadsPoolWorker } from "vitest/node";

/** A thread that says nothing for so long [ms] is in a loop without end: no test takes a tenth of it. */
const longestSilence = 12_000;

class KeptWorker extends ThreadsPoolWorker {
  name = "kept";
  #listeners = [];
  #running = false;
  #stop = () => {};
  #watch;

  /** @param anew - files that each run reads anew, beside its tests */
  constructor(options, vitest, anew) {
    super(options);
    this.vitest = vitest;
    this.anew = anew;
  }

  on(event, callback) {
    this.#listeners.push([event, callback]);
    super.on(event, callback);
  }

  off(event, callback) {
    if (this._thread) super.off(event, callback);
  }

  async start() {
    if (this._thread) return;
    await super.start();
    this._thread.setMaxListeners(0);
    this._thread.on("message", (message) => {
      this.#watch?.refresh();
      if (message?.type !== "testfileFinished") return;
      this.#countFaults();
      this.#finished();
    });
  }

  /** Stryker looks at tests alone: a file that can't even be read must count as one that failed. */
  #countFaults() {
    const files = this.vitest.state.getFiles();
    for (const file of files) {
      const { result } = file;
      if (result?.state !== "fail" || file.tasks.length > 0) continue;
      const test = { type: "test", name: "is read", mode: "run", file, result };
      file.tasks.push({ ...test, artifacts: [], annotations: [], meta: {} });
    }
    if (!files.some(({ result }) => result)) {
      this.vitest.state.catchError(new Error("no test was run"), "Kept worker");
    }
  }

  #finished() {
    clearTimeout(this.#watch);
    this.#running = false;
    this.#stop();
  }

  #tell(message) {
    for (const [event, callback] of [...this.#listeners]) {
      if (event === "message") callback({ ...message, __vitest_worker_response__: true });
    }
  }

  /** Ends a thread without end, and says so in Stryker's way: far more hits than without the mutant. */
  async #giveUp() {
    const thread = this._thread;
    this._thread = undefined;
    for (const [event, callback] of this.#listeners) thread.off(event, callback);
    await thread.terminate();
    for (const file of this.vitest.state.getFiles()) file.meta.hitCount = Number.MAX_SAFE_INTEGER;
    this.#countFaults();
    this.#tell({ type: "testfileFinished" });
    this.#finished();
  }

  send(message) {
    if (message.type === "run") {
      this.#running = true;
      this.#watch = setTimeout(() => this.#giveUp(), longestSilence);
      const tests = message.context.files.map(({ filepath }) => filepath);
      message.context.invalidates = [...tests, ...this.anew];
    }
    if (message.type !== "stop") return super.send(message);
    this.#stop = () => {
      this.#stop = () => {};
      this.#tell({ type: "stopped" });
    };
    if (!this.#running) this.#stop();
  }

  /** Not the thread, only those who listened to it in this run. */
  async stop() {
    for (const [event, callback] of this.#listeners) this.off(event, callback);
    this.#listeners = [];
  }
}

/** For Vitest's `pool`: every run gets the same thread. */
export function keptWorker(vitest, anew) {
  let worker;
  vitest.onClose(() => worker?._thread?.terminate());
  return {
    name: "kept",
    createPoolWorker: (options) => {
      worker ??= new KeptWorker(options, vitest, anew);
      return worker;
    },
  };
}
