/**
 * What a thread that converts a notebook's cells ahead of their run does.
 * @module
 */
import { parentPort, workerData } from "node:worker_threads";
import { conversions } from "./tslab.js";

for (const conversion of conversions(workerData as readonly string[])) {
  parentPort!.postMessage(conversion);
}
