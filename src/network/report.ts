/**
 * The temperatures and flows of a balance, and what is said of it where there is none.
 * @module
 */
import type { HeatBalance } from "./heat-balance.js";
import type { BodyFlow, Flow, SteadySolution } from "./solution.js";

/** Names of the nodes and links of a balance, by their numbers. */
export interface Names {
  readonly nodeNames: readonly string[];
  readonly linkNames: readonly string[];
}

/** A temperature as messages show it. */
export function kelvin(T: number): string {
  return `${T.toPrecision(4)} K`;
}

/** Which link, body or load has a heat that is not a finite number, in words. */
export function notFinite(balance: HeatBalance, { nodeNames, linkNames }: Names): string {
  const { temperatures, bodies } = balance;
  for (const [l, name] of linkNames.entries()) {
    if (Number.isFinite(balance.flow(l))) continue;
    const [from, to] = balance.ends(l).map((node) => kelvin(temperatures[node]!));
    return `the heat through link "${name}" between ${from} and ${to} is not a finite number`;
  }
  for (const [b, { name, nodes }] of bodies.entries()) {
    const heats = balance.heatsInto(b);
    const node = nodes.find((_, t) => !Number.isFinite(heats[t]!));
    if (node === undefined) continue;
    const T = kelvin(temperatures[node]!);
    return `the heat into body "${name}" at "${nodeNames[node]}" (${T}) is not a finite number`;
  }
  const node = nodeNames.findIndex((_, n) => !Number.isFinite(balance.loadOf(n)));
  if (node < 0) return "heats and conductances are beyond the range of numbers";
  const T = kelvin(temperatures[node]!);
  return `the load of node "${nodeNames[node]}" at ${T} is not a finite number`;
}

/** Heat left over, in parts of the largest that flows, that no further factorisation would improve. */
const goodBalance = 1e-13;

/**
 * Temperatures, flows and largest imbalance at the present temperatures. Flows are differences of Θ, so
 * rounding of a temperature's last digit shows in them. Of a converged state one more Newton step, kept
 * apart from the temperatures because it is smaller than that digit, gives flows that balance to the
 * rounding of the loads.
 */
export function report(
  balance: HeatBalance,
  { nodeNames, linkNames }: Names,
  converged: boolean,
): Reported {
  if (converged && balance.hasFactors) {
    // Factors of a state nearby serve where the step is rounding beside the flows.
    balance.evaluate(false);
    balance.elimination.solveAgain(balance.numbers);
    const found = reportOf(balance, { nodeNames, linkNames }, true);
    const { power, relative } = found.imbalance;
    if (power === 0 || (relative > 0 && relative < goodBalance)) return found;
  }
  balance.evaluate();
  return reportOf(balance, { nodeNames, linkNames }, converged && balance.findStep() < 0);
}

type Reported = Pick<SteadySolution, "temperatures" | "flows" | "bodyFlows" | "imbalance">;

/** @param corrected - whether a step stands in place of the imbalance */
function reportOf(
  balance: HeatBalance,
  { nodeNames, linkNames }: Names,
  corrected: boolean,
): Reported {
  const left = new Float64Array(nodeNames.length);
  const crossing = new Float64Array(nodeNames.length);
  const count = (node: number, power: number) => {
    left[node]! += power;
    crossing[node]! += Math.abs(power);
  };
  const flows: Flow[] = linkNames.map((link, l) => {
    const [from, to] = balance.ends(l);
    const power = balance.flow(l, corrected);
    count(from, power);
    count(to, -power);
    return { link, from: nodeNames[from]!, to: nodeNames[to]!, power };
  });
  const bodyFlows: BodyFlow[] = balance.bodies.flatMap(({ name, nodes }, b) => {
    const heats = balance.heatsInto(b, corrected);
    return Array.from(nodes, (node, t) => {
      const power = heats[t]!;
      count(node, power);
      return { body: name, terminal: nodeNames[node]!, power };
    });
  });
  let worst = -1;
  let largestLoad = 0;
  let largestCrossing = 0;
  for (let node = 0; node < balance.freeCount; node++) {
    const load = balance.loadOf(node);
    left[node]! -= load;
    largestLoad = Math.max(largestLoad, Math.abs(load));
    largestCrossing = Math.max(largestCrossing, crossing[node]!, Math.abs(load));
    if (worst < 0 || !(Math.abs(left[node]!) <= Math.abs(left[worst]!))) worst = node;
  }
  const power = worst < 0 ? 0 : Math.abs(left[worst]!);
  // Without loads, and with all flows below rounding, nothing flows and nothing is left over.
  const still = largestLoad === 0 && largestCrossing <= 16 * Number.EPSILON * balance.roundingScale;
  return {
    temperatures: new Map(nodeNames.map((name, i) => [name, balance.temperatures[i]!])),
    flows,
    bodyFlows,
    imbalance: {
      node: worst < 0 ? "" : nodeNames[worst]!,
      power,
      relative: power === 0 || still ? 0 : power / largestCrossing,
    },
  };
}
