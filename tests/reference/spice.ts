/**
 * Thermal networks in a circuit simulator (ngspice, compiled to WebAssembly).
 *
 * Temperature is a voltage to ground and heat a current; a link is a behavioural current source
 * c·(V(a)ⁿ − V(b)ⁿ), a held temperature a voltage source, a load a current source. The simulator
 * shares no line with this library: its own parser differentiates the sources, its own matrix package
 * orders and factors, and its own iteration imposes Kirchhoff's current law, so that agreement speaks
 * for the laws, the signs, the bookkeeping of nodes and the convergence at once.
 * @module
 */
import { Simulation } from "eecircuit-engine";
import type { NetworkDescription } from "../../src/network/description.js";

/** What a volt and an ampere stand for, so that both are near 1: a tenth of a kelvin, a nanowatt. */
export const kelvin = 0.1;
const watt = 1e-9;

/**
 * The tolerances a solution is held to: in parts, in amperes and in volts. The simulator shunts every
 * node by `gmin`, at 1e-30 nothing.
 */
const options = "reltol=1e-12 abstol=1e-15 vntol=1e-13 gmin=1e-30 itl1=1000";

/** A network of power laws and constant loads as a netlist; node i of the network is `n{i}`. */
export function netlist({ nodes, links }: NetworkDescription): string {
  const volts = new Map(nodes.map(({ name }, i) => [name, `v(n${i})`]));
  const coldest = Math.min(...nodes.flatMap(({ temperature }) => temperature ?? []));
  const lines = ["thermal network"];
  nodes.forEach(({ temperature, load = 0 }, i) => {
    if (typeof load !== "number") throw new Error("a load that depends on temperature");
    if (temperature !== undefined) {
      lines.push(`V${i} n${i} 0 ${temperature / kelvin}`);
    } else {
      lines.push(`I${i} 0 n${i} ${load / watt}`, `.nodeset v(n${i})=${(1.2 * coldest) / kelvin}`);
    }
  });
  links.forEach(({ from, to, conductor, count = 1 }, i) => {
    if (conductor.powers === undefined) throw new Error("a law that is not a power law");
    const [a, b] = [volts.get(from)!, volts.get(to)!];
    const flow = conductor.powers.map(({ coefficient, exponent }) => {
      const c = (count * coefficient * kelvin ** exponent) / watt;
      return `${c}*(pwr(${a},${exponent})-pwr(${b},${exponent}))`;
    });
    lines.push(`B${i} ${a.slice(2, -1)} ${b.slice(2, -1)} I=${flow.join("+")}`);
  });
  return [...lines, `.options ${options}`, ".op", ".end"].join("\n");
}

/** Temperature of every node [K], by its name, as the simulator finds it. */
export async function simulate(network: NetworkDescription): Promise<Map<string, number>> {
  const simulation = new Simulation();
  await simulation.start();
  simulation.setNetList(netlist(network));
  const { data } = await simulation.runSim();
  const volts = new Map(data.map(({ name, values: [value] }) => [name.toLowerCase(), value]));
  return new Map(
    network.nodes.map(({ name }, i) => {
      const value = volts.get(`v(n${i})`);
      if (typeof value !== "number") throw new Error(`the simulator has no voltage of "${name}"`);
      return [name, value * kelvin];
    }),
  );
}

/**
 * A network of power laws in time as a netlist: a node that stores heat is a capacitor of 1 fed by
 * its heat over its heat capacity, so that its voltage is the temperature and no enthalpy comes in.
 * Time is in units of `second`.
 */
export function netlistInTime(
  { nodes, links }: NetworkDescription,
  start: ReadonlyMap<string, number>,
  { duration, second, steps }: { duration: number; second: number; steps: number },
): string {
  const volts = new Map(nodes.map(({ name }, i) => [name, `v(n${i})`]));
  const lines = ["thermal network in time"];
  nodes.forEach(({ name, temperature, load = 0, store }, i) => {
    if (typeof load !== "number") throw new Error("a load that depends on temperature");
    const initial = `.ic v(n${i})=${(temperature ?? start.get(name)!) / kelvin}`;
    if (temperature !== undefined) {
      lines.push(`V${i} n${i} 0 ${temperature / kelvin}`, initial);
      return;
    }
    const flows = links.flatMap(({ from, to, conductor, count = 1 }) => {
      if (from !== name && to !== name) return [];
      const other = volts.get(from === name ? to : from)!;
      return conductor.powers!.map(({ coefficient, exponent }) => {
        const c = (count * coefficient * kelvin ** exponent) / watt;
        return `-${c}*(pwr(v(n${i}),${exponent})-pwr(${other},${exponent}))`;
      });
    });
    const heat = `${load / watt}${flows.join("")}`;
    if (store === undefined) {
      lines.push(`B${i} 0 n${i} I=${heat}`, initial);
      return;
    }
    const capacity = store.powers!.map(({ coefficient, exponent }) => {
      const c = (coefficient * exponent * kelvin ** exponent) / watt / second;
      return `${c}*pwr(v(n${i}),${exponent - 1})`;
    });
    lines.push(`B${i} 0 n${i} I=(${heat})/(${capacity.join("+")})`, `C${i} n${i} 0 1`, initial);
  });
  const end = duration / second;
  return [
    ...lines,
    ".options reltol=1e-7 abstol=1e-15 vntol=1e-13 chgtol=1e-20 gmin=1e-30 itl4=100",
    `.tran ${end / steps} ${end} 0 ${end / steps} uic`,
    ".end",
  ].join("\n");
}

/** Times [s], and the temperature of every node at them [K], as the simulator finds them. */
export async function simulateInTime(
  network: NetworkDescription,
  start: ReadonlyMap<string, number>,
  run: { duration: number; second: number; steps: number },
): Promise<{ times: number[]; temperatures: Map<string, number[]> }> {
  const simulation = new Simulation();
  await simulation.start();
  simulation.setNetList(netlistInTime(network, start, run));
  const { data } = await simulation.runSim();
  const columns = new Map(data.map(({ name, values }) => [name.toLowerCase(), values as number[]]));
  return {
    times: columns.get("time")!.map((t) => t * run.second),
    temperatures: new Map(
      network.nodes.map(({ name }, i) => [
        name,
        columns.get(`v(n${i})`)!.map((volt) => volt * kelvin),
      ]),
    ),
  };
}
