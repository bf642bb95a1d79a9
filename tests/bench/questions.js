/**
 * What a user asks of one mount, each question by itself: a budget with two nodes, bonds sized, its
 * course in time, short sweeps, two mounts compared. Held against nothing: the growth of a row shows
 * what a change of this library costs.
 * @module
 */
import { readFileSync } from "node:fs";
import { compareMounts, sizeBonds, sweep, thermalBudget, timeCourse } from "../../dist/index.js";
import { peakMemory, quick, race, report, timed } from "./harness.js";

const file = new URL("../../data/mounts/ombrel-camera.json", import.meta.url);
const sheet = JSON.parse(readFileSync(file, "utf8"));
const nodes = { ...sheet, die: { ...sheet.die, model: "two nodes" } };
const fewer = { ...nodes, name: "fewer bonds", bonds: { ...nodes.bonds, count: 40 } };
const hits = [{ at: "0.1 s", energy: "150 keV" }];
const lengths = (count) => ({ field: "bonds.length", from: "0.5 mm", to: "5 mm", count });

/** Name, calls in one stretch, and the call. */
const questions = [
  ["budget, two nodes", 50, () => thermalBudget(nodes)],
  ["budget, 2-D die", 1, () => thermalBudget(sheet)],
  ["sizeBonds, two nodes", 5, () => sizeBonds(nodes)],
  ["sizeBonds, 2-D die", 1, () => sizeBonds(sheet)],
  ["time course of 1 ms, two nodes", 20, () => timeCourse(nodes, { duration: "1 ms" })],
  ["time course with a hit, two nodes", 5, () => timeCourse(nodes, { duration: "1 s", hits })],
  ["sweep of 20, two nodes", 10, () => sweep(nodes, lengths(20))],
  ["sweep of 200, two nodes", 2, () => sweep(nodes, lengths(200))],
  ["sweep of 20, 2-D die", 1, () => sweep(sheet, lengths(20))],
  ["two mounts compared, two nodes", 10, () => compareMounts([nodes, fewer])],
];

const results = race(
  quick ? 3 : 15,
  ...questions.map(([, calls, ask]) => () => {
    const stretch = () => {
      for (let i = 0; i < calls; i++) ask();
    };
    return timed(stretch);
  }),
);
report(
  questions.map(([what, calls], i) => ({
    what,
    ours: results[i].seconds / calls,
    memory: peakMemory(),
  })),
);
