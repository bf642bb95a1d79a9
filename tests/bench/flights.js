/**
 * Phonons that fly through the example's die with eighty pads: the loop beside the same in C++, the first
 * solve and one with other loads and transmissions, and how both grow with contacts and rays.
 * @module
 */
import { execFileSync, spawn } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { createInterface } from "node:readline";
import { fileURLToPath } from "node:url";
import { DieBox } from "../../dist/chip/flights/box.js";
import { lookupOf, tilesOf } from "../../dist/chip/flights/face-contacts.js";
import { flightSpace } from "../../dist/chip/flights/flight-space.js";
import { Flights } from "../../dist/chip/flights/flights.js";
import { legsOf, marksOf, raysOf, readyRays } from "../../dist/chip/flights/rays.js";
import { pathsOf } from "../../dist/chip/flights/shards.js";
import { sourceOf, startDimensions, startFromSource } from "../../dist/chip/flights/starts.js";
import { trace } from "../../dist/chip/flights/trace.js";
import { powerConductor } from "../../dist/conductor.js";
import { random } from "../../dist/numerics/random.js";
import { Sobol } from "../../dist/numerics/sobol.js";
import { apart, exponent, peakMemory, quick, quickest, report, timed } from "./harness.js";

const side = 25e-3;
const die = { width: side, length: side, thickness: 0.38e-3 };
const even = { kind: "uniform", power: 1 };
/** σ of silicon. */
const radiation = 211;

const padsOf = (count) =>
  Array.from({ length: count }, (_, i) => {
    const middle = 0.8e-3 + ((side - 1.6e-3) * ((i >> 2) + 0.5)) / (count >> 2);
    const [near, far] = i % 2 ? [side - 0.4e-3, side - 0.1e-3] : [0.1e-3, 0.4e-3];
    const [from, to] = [middle - 75e-6, middle + 75e-6];
    const area =
      i % 4 < 2
        ? { left: from, right: to, bottom: near, top: far }
        : { left: near, right: far, bottom: from, top: to };
    return { name: `pad ${i}`, area };
  });
const pads = padsOf(80);

/** The same loop compiled, where there is a compiler: a process of a problem, which runs a turn when asked. */
function compiled() {
  const folder = mkdtempSync(join(tmpdir(), "flights-"));
  const program = join(folder, "flights");
  const source = fileURLToPath(new URL("flights.cpp", import.meta.url));
  try {
    execFileSync("g++", ["-O3", "-o", program, source], { stdio: "ignore" });
  } catch (error) {
    rmSync(folder, { recursive: true });
    if (error.code === "ENOENT") return undefined;
    throw error;
  }
  return {
    start(input) {
      const child = spawn(program, { stdio: ["pipe", "pipe", "inherit"] });
      const lines = createInterface({ input: child.stdout })[Symbol.asyncIterator]();
      child.stdin.write(input);
      return {
        async run() {
          child.stdin.write(".");
          return JSON.parse((await lines.next()).value);
        },
        end: () => child.stdin.end(),
      };
    },
    remove: () => rmSync(folder, { recursive: true }),
  };
}

/** Seconds of a processor that one call takes, and what it gave. */
function processorTime(run) {
  const start = process.cpuUsage();
  const value = run();
  const { user, system } = process.cpuUsage(start);
  return { seconds: (user + system) / 1e6, value };
}

/** Rounds before those that count, in which V8 finds out what runs often. */
const warmUp = quick ? 6 : 12;
const rounds = quick ? 5 : 25;
const reference = compiled();
const rows = [];
const faces = [
  { specularity: 0 },
  { specularity: 0.9 },
  { specularity: 1 },
  { specularity: 0, bulkLength: 2e-3 },
  { specularity: 0.9, bulkLength: 2e-3 },
];
for (const { specularity, bulkLength } of faces) {
  const box = new DieBox({ ...die, specularity, ...(bulkLength && { bulkLength }) });
  const lookup = lookupOf(box, tilesOf(box, pads));
  const count = quick ? 1024 : 4096;
  const { source } = sourceOf(box, even, "front", "power");
  const grid = { cellsX: 32, cellsY: 32, cells: 1024 };
  const spacing = 3 * die.thickness;
  const space = flightSpace(box, lookup, grid, spacing);
  const ready = () => {
    const rays = raysOf(count);
    startFromSource(box, source, new Sobol(startDimensions, random(2)), rays.states, count);
    readyRays(space, rays, random(1));
    return rays;
  };
  const starts = ready();
  const all = Int32Array.from({ length: count }, (_, ray) => ray);
  const input = Buffer.concat(
    [
      Int32Array.of(count, 32, 32, lookup.heads.length, lookup.tiles.length, lookup.ends.length),
      Float64Array.of(...box.sides, ...box.specularity, spacing, box.bulkLength),
      lookup.scale,
      lookup.ends,
      starts.states,
      starts.toMark,
      starts.free,
      starts.streams,
      lookup.cells,
      lookup.first,
      lookup.heads,
      lookup.tiles,
    ].map((part) => Buffer.from(part.buffer, part.byteOffset, part.byteLength)),
  );
  const legs = legsOf(count);
  const marks = marksOf(grid);
  const ours = [];
  const theirs = [];
  const other = reference?.start(input);
  for (let round = -warmUp; round < rounds; round++) {
    const rays = ready();
    marks.count = 0;
    const own = processorTime(() => trace(space, rays, all, count, legs, marks, 1e9));
    const same = await other?.run();
    if (round < 0) continue;
    ours.push(own);
    if (same) theirs.push(same);
  }
  other?.end();
  const own = quickest(ours);
  const path = legs.lengths.reduce((sum, each) => sum + each, 0) / count;
  const millions = (own.value / own.seconds / 1e6).toFixed(1);
  const times = theirs.map(({ seconds }, round) => ours[round].seconds / seconds);
  times.sort((a, b) => a - b);
  const at = (share) => times[Math.floor(share * times.length)].toFixed(2);
  const what = `flights, ${100 * specularity} % mirror${bulkLength ? ", bulk scatters" : ""}`;
  rows.push({
    what,
    ours: own.seconds,
    reference: "C++ -O3, same loop",
    theirs: other ? quickest(theirs).seconds : "no g++",
    // Where the bulk scatters, a last bit of the two logarithms puts some phonons on other ways.
    ...(other && !bulkLength && { ourError: apart([path], [theirs[0].path]) }),
    note:
      `${millions} million flights a second, ${(own.value / count).toFixed(0)} a phonon` +
      (other
        ? `; ours takes ${at(0.5)} times as long in the median of rounds, the middle half ${at(0.25)} to ${at(0.75)}`
        : ""),
  });
}
reference?.remove();

/** A die from nothing: exchange, a heat load and the field; then other loads and transmissions. */
function solve(count, rays, contacts = padsOf(count)) {
  const first = timed(() => {
    const flights = new Flights({ ...die, rays }, contacts);
    const law = powerConductor(radiation * flights.unit, 4);
    const cold = contacts.map(() => 0.11);
    const field = flights.field(flights.body(law, { ...even, power: 7e-9 }), cold);
    return { flights, law, cold, hottest: field.hottest.temperature };
  });
  const { flights, law, cold } = first.value;
  const again = (k) =>
    timed(() => {
      const exchange = flights.exchange(contacts.map((_, i) => 0.3 + 0.1 * ((i + k) % 7)));
      const body = flights.body(
        law,
        [{ map: even, times: 7e-9 + 1e-9 * k, field: "load" }],
        exchange,
      );
      return flights.field(body, cold).hottest.temperature;
    });
  return { first, again: quickest(Array.from({ length: 12 }, (_, k) => again(k))) };
}

const example = solve(80, 2 ** (quick ? 13 : 16));
const { flights } = example.first.value;
const { rise } = flights.source(even);
const weights = flights.field(
  flights.body(example.first.value.law, even),
  example.first.value.cold,
).hottestWeights;
const top = rise.cells.reduce((sum, cell, c) => sum + weights[c] * cell, 0);
rows.push({
  what: "die of flights, 80 contacts, first",
  ours: example.first.seconds,
  memory: peakMemory(),
  note: `standard error ${((100 * rise.errorOf(weights)) / top).toFixed(2)} % of the die's own rise`,
});
rows.push({
  what: "again, other loads and transmissions",
  ours: example.again.seconds,
  memory: peakMemory(),
});

/** Pads in two bands, of which then another number is asked. */
function moved() {
  const bands = [0.1e-3, side - 0.4e-3].map((bottom) => ({
    left: 0.4e-3,
    right: side - 0.4e-3,
    bottom,
    top: bottom + 0.3e-3,
  }));
  const row = (count) =>
    Array.from({ length: count }, (_, k) => {
      const middle = 0.4e-3 + ((side - 0.8e-3) * ((k >> 1) + 0.5)) / (count >> 1);
      const area = { ...bands[k % 2], left: middle - 75e-6, right: middle + 75e-6 };
      return { name: `pad ${k}`, area };
    });
  const options = { ...die, rays: 2 ** (quick ? 13 : 16) };
  const paths = pathsOf(options, bands, []);
  return [80, 82, 84, 100].map((count) => {
    return timed(() => {
      const flights = new Flights(options, row(count), "die", paths);
      const law = powerConductor(radiation * flights.unit, 4);
      const cold = row(count).map(() => 0.11);
      return flights.field(flights.body(law, { ...even, power: 7e-9 }), cold).hottest.temperature;
    }).seconds;
  });
}
const [from, ...others] = moved();
rows.push({
  what: "other numbers of contacts",
  ours: others[1],
  memory: peakMemory(),
  note: `the first ${from.toFixed(1)} s, then ${others.map((each) => each.toFixed(2)).join(", ")} s`,
});
const counts = quick ? [20, 40, 80] : [20, 40, 80, 160, 320];
const byContacts = counts.map((count) => solve(count, 4096));
const numbers = [1024, 4096, 16384];
const byRays = numbers.map((rays) => solve(80, rays).first.seconds);
rows.push({
  what: `flights, ${counts.at(-1)} contacts, 4096 phonons`,
  ours: byContacts.at(-1).first.seconds,
  memory: peakMemory(),
  note:
    `from ${counts[0]} contacts on as their number to the ` +
    `${exponent(
      counts,
      byContacts.map(({ first }) => first.seconds),
    ).toFixed(2)}, again to the ` +
    `${exponent(
      counts,
      byContacts.map(({ again }) => again.seconds),
    ).toFixed(2)}; with phonons to the ` +
    `${exponent(numbers, byRays).toFixed(2)}`,
});
report(rows);
