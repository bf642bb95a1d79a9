/**
 * How far a long computation is, in a terminal or a notebook.
 * @module
 */
import { runningDisplay } from "./tslab.js";

/** Called with how much is done of all there is. */
export type Progress = (done: number, total: number) => void;

const width = 30;
/** Least time between two changes of what is shown [ms]. */
const rest = 250;

/**
 * A bar for the `progress` of a long computation: it grows in place in a terminal; a notebook, and
 * anything else that is no terminal, gets a line at each quarter.
 * @example await confidence(mount, { progress: progressBar("samples") })
 */
export function progressBar(label = "done"): Progress {
  const { stderr } = process;
  const inPlace = runningDisplay() === undefined && stderr.isTTY === true;
  const started = Date.now();
  let shown = 0;
  let quarters = 0;
  return (done, total) => {
    const share = total > 0 ? Math.min(1, done / total) : 1;
    const left = share > 0 ? ((Date.now() - started) / 1e3) * (1 / share - 1) : 0;
    const words = `${label}: ${Math.floor(100 * share)} %${share < 1 ? `, ${inWords(left)} left` : ""}`;
    if (inPlace) {
      if (share < 1 && Date.now() - shown < rest) return;
      shown = Date.now();
      const full = Math.round(width * share);
      stderr.write(`\r\x1b[K[${"=".repeat(full)}${" ".repeat(width - full)}] ${words}`);
      if (share === 1) stderr.write("\n");
      return;
    }
    const now = Math.floor(4 * share);
    if (now <= quarters) return;
    quarters = now;
    console.log(words);
  };
}

function inWords(seconds: number): string {
  if (seconds < 90) return `${Math.ceil(seconds)} s`;
  return `${Math.ceil(seconds / 60)} min`;
}
