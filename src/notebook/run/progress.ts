/**
 * How far a long computation is, in a terminal or a notebook.
 * @module
 */
import { randomUUID } from "node:crypto";
import { escapeHtml } from "../../units/table.js";
import { runningDisplay } from "./tslab.js";

/** Called with how much is done of all there is. */
export type Progress = (done: number, total: number) => void;

const width = 30;
/** Least time between two changes of what is shown [ms]. */
const leastInterval = 250;

/**
 * A bar for the `progress` of a long computation: it grows in place in a terminal and in a notebook;
 * anything else gets a line at each quarter.
 * @example await confidence(mount, { progress: progressBar("samples") })
 */
export function progressBar(label = "done"): Progress {
  const started = Date.now();
  const bar = barHere();
  let shown = 0;
  return (done, total) => {
    const share = total > 0 ? Math.min(1, done / total) : 1;
    if (bar.inPlace && share < 1 && Date.now() - shown < leastInterval) return;
    shown = Date.now();
    const left = share > 0 ? ((Date.now() - started) / 1e3) * (1 / share - 1) : 0;
    bar.at(
      share,
      `${label}: ${Math.floor(100 * share)} %${share < 1 ? `, ${inWords(left)} left` : ""}`,
    );
  };
}

/** Shows how far it is, in words and as a bar where there is one; `inPlace` over what was shown before. */
function barHere() {
  const display = runningDisplay();
  if (display) {
    const id = randomUUID();
    return {
      inPlace: true,
      at: (share: number, words: string) => {
        const html = `<label><progress value="${share}" max="1"></progress> ${escapeHtml(words)}</label>`;
        display({ "text/plain": `${drawn(share)} ${words}`, "text/html": html }, id);
      },
    };
  }
  const { stderr } = process;
  if (stderr.isTTY === true) {
    return {
      inPlace: true,
      at: (share: number, words: string) => {
        stderr.write(`\r\x1b[K${drawn(share)} ${words}${share === 1 ? "\n" : ""}`);
      },
    };
  }
  let quarters = 0;
  return {
    inPlace: false,
    at(share: number, words: string) {
      const now = Math.floor(4 * share);
      if (now > quarters) console.log(words);
      quarters = Math.max(now, quarters);
    },
  };
}

function drawn(share: number): string {
  const full = Math.round(width * share);
  return `[${"=".repeat(full)}${" ".repeat(width - full)}]`;
}

function inWords(seconds: number): string {
  if (seconds < 90) return `${Math.ceil(seconds)} s`;
  return `${Math.ceil(seconds / 60)} min`;
}
