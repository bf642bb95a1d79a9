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
const kelvin = 0.1;
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
