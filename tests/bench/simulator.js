/**
 * The circuit simulator of tests/reference/spice.ts for the bench, translated from TypeScript on the way.
 * @module
 */
import { mkdirSync } from "node:fs";
import { performance } from "node:perf_hooks";
import { fileURLToPath, pathToFileURL } from "node:url";
import { referenceFile } from "./harness.js";

/** The module, and an engine that has started; undefined where the package is not installed. */
async function engine() {
  try {
    const [{ build }, { Simulation }] = await Promise.all([
      import("esbuild"),
      import("eecircuit-engine"),
    ]);
    const outfile = fileURLToPath(new URL("../../out/spice.mjs", import.meta.url));
    mkdirSync(new URL("../../out/", import.meta.url), { recursive: true });
    const options = { bundle: true, packages: "external", format: "esm", logLevel: "warning" };
    await build({ ...options, entryPoints: [referenceFile("spice.ts")], outfile });
    const simulation = new Simulation();
    await simulation.start();
    return { simulation, spice: await import(pathToFileURL(outfile).href) };
  } catch (error) {
    if (error.code === "ERR_MODULE_NOT_FOUND") return undefined;
    throw error;
  }
}

/** Runs a netlist: seconds, the reading of the netlist in, and the values of each quantity by name. */
async function run(simulation, netlist) {
  const start = performance.now();
  simulation.setNetList(netlist);
  const { data } = await simulation.runSim();
  const seconds = (performance.now() - start) / 1e3;
  return { seconds, values: new Map(data.map(({ name, values }) => [name.toLowerCase(), values])) };
}

/** A function that finds the operating point of a network; undefined without the package. */
export async function circuit(description) {
  const started = await engine();
  if (started === undefined) return undefined;
  const { simulation, spice } = started;
  const text = spice.netlist(description);
  return async () => {
    const { seconds, values } = await run(simulation, text);
    const value = description.nodes.map((_, i) => spice.kelvin * values.get(`v(n${i})`)[0]);
    return { seconds, value };
  };
}

/**
 * Sweeps factors on two links inside the simulator, the second fastest.
 * @param axes - [{ link, from, to, count }, the same]
 */
export async function circuitSweep(description, axes) {
  const started = await engine();
  if (started === undefined) return undefined;
  const { simulation, spice } = started;
  const sources = axes.map((_, i) => `Vfactor${i} factor${i} 0 1`);
  const steps = [...axes].reverse().map(({ from, to, count }, i) => {
    return `Vfactor${axes.length - 1 - i} ${from} ${to} ${(to - from) / (count - 1)}`;
  });
  const lines = spice.netlist(description).split("\n");
  axes.forEach(({ link }, i) => {
    const at = lines.findIndex((line) => line.startsWith(`B${link} `));
    lines[at] = lines[at].replace("I=", `I=v(factor${i})*(`).concat(")");
  });
  const text = [
    ...lines.slice(0, 1),
    ...sources,
    ...lines.slice(1).map((line) => (line === ".op" ? `.dc ${steps.join(" ")}` : line)),
  ].join("\n");
  const { seconds, values } = await run(simulation, text);
  return {
    seconds,
    temperatures: description.nodes.map((_, i) =>
      values.get(`v(n${i})`).map((volt) => spice.kelvin * volt),
    ),
  };
}
