import { describe, expect, it } from "vitest";
import { type CondensedBody, type Conductor, powerConductor, scaled } from "../../src/conductor.js";
import type { NetworkDescription } from "../../src/network/description.js";
import { SteadyNetwork, solveSteady } from "../../src/network/steady.js";

const law = powerConductor(3e-4, 4);

/** A body whose places are joined two by two, and the links that do the same. */
function joined(n: number, of: Conductor = law) {
  const admittance = new Float64Array(n * n);
  const links: NetworkDescription["links"][number][] = [];
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < i; j++) {
      const share = 0.2 + ((7 * i + 3 * j) % 5);
      admittance[i * n + j] = -share;
      admittance[j * n + i] = -share;
      admittance[i * n + i]! += share;
      admittance[j * n + j]! += share;
      const name = `${i} ${j}`;
      links.push({ name, from: `place ${i}`, to: `place ${j}`, conductor: scaled(of, share) });
    }
  }
  const terminals = Array.from({ length: n }, (_, i) => `place ${i}`);
  const body: CondensedBody = { law: of, admittance, outflow: new Float64Array(n) };
  return { terminals, body, links };
}

/** Places with loads, each bonded to a stage. */
function around(n: number, loads = true) {
  const places = Array.from({ length: n }, (_, i) => `place ${i}`);
  return {
    nodes: [
      ...places.map((name, i) => ({ name, load: loads ? 1e-9 * (i + 1) : 0 })),
      { name: "stage", temperature: 0.1 },
    ],
    links: places.map((name, i) => ({
      name: `bond ${i}`,
      from: name,
      to: "stage",
      conductor: powerConductor(1e-6 * (1 + (i % 3)), 2),
    })),
  };
}

const notPower: Conductor = {
  conductance: (T) => 1e-3 * T ** 3 + 1e-6,
  integral: (T) => 2.5e-4 * T ** 4 + 1e-6 * T + 5e-6,
};
const partlyPower: Conductor = { ...notPower, powers: law.powers!, powersUpTo: 0.1 };

describe("a body in a network", () => {
  // 40 places are more than are eliminated one by one.
  it.each([
    [2, law],
    [5, law],
    [40, law],
    [5, notPower],
    [40, notPower],
    [5, partlyPower],
  ])("of %i places is the links between them", (n, of) => {
    const { terminals, body, links } = joined(n, of);
    const { nodes, links: bonds } = around(n);
    const byBody = solveSteady({ nodes, links: bonds, bodies: [{ name: "die", terminals, body }] });
    const byLinks = solveSteady({ nodes, links: [...bonds, ...links] });
    for (const [name, T] of byLinks.temperatures) {
      expect(byBody.temperatures.get(name)! / T).toBeCloseTo(1, 12);
    }
    expect(byBody.imbalance.relative).toBeLessThan(1e-12);
    expect(byLinks.bodyFlows).toEqual([]);
    for (const { terminal, power } of byBody.bodyFlows) {
      let into = 0;
      for (const flow of byLinks.flows.slice(n)) {
        if (flow.from === terminal) into += flow.power;
        if (flow.to === terminal) into -= flow.power;
      }
      expect(Math.abs(power - into)).toBeLessThan(1e-16 * n);
    }
  });

  it("brings its own load out at its places", () => {
    const { terminals, body } = joined(3);
    const outflow = Float64Array.of(1e-9, 2e-9, 5e-9);
    const { nodes, links } = around(3, false);
    const bodies = [{ name: "die", terminals, body: { ...body, outflow } }];
    const solution = solveSteady({ nodes, links, bodies });
    const out = solution.flows.reduce((sum, flow) => sum + flow.power, 0);
    expect(out / 8e-9).toBeCloseTo(1, 12);
    const total = solution.bodyFlows.reduce((sum, flow) => sum + flow.power, 0);
    expect(total / -8e-9).toBeCloseTo(1, 12);
    expect(solution.bodyFlows.map((flow) => flow.terminal)).toEqual(terminals);
  });

  it("may touch a stage", () => {
    const { terminals, body } = joined(3);
    const nodes = [
      { name: "place 0", temperature: 0.1 },
      { name: "place 1", load: 1e-9 },
      { name: "place 2" },
    ];
    const bodies = [{ name: "die", terminals, body }];
    const { temperatures, bodyFlows } = solveSteady({ nodes, links: [], bodies });
    expect(bodyFlows[0]!.power / -1e-9).toBeCloseTo(1, 12);
    expect(temperatures.get("place 1")).toBeGreaterThan(temperatures.get("place 2")!);
    expect(temperatures.get("place 2")).toBeGreaterThan(0.1);
  });

  it("may have couplings of either sign, if it dissipates", () => {
    // The inverse of (1 4 1)/6 times (−1 2 −1): what equal tiles that take heat evenly give.
    const n = 30;
    const admittance = new Float64Array(n * n);
    for (let k = 0; k < n; k++) {
      const angle = (Math.PI * k) / n;
      const value = (2 - 2 * Math.cos(angle)) / ((2 + Math.cos(angle)) / 3);
      for (let i = 0; i < n; i++) {
        for (let j = 0; j < n; j++) {
          const wave = Math.cos(angle * (i + 0.5)) * Math.cos(angle * (j + 0.5));
          admittance[i * n + j]! += ((k === 0 ? 1 : 2) / n) * value * wave;
        }
      }
    }
    expect(admittance[2]).toBeGreaterThan(0.1 * admittance[0]!);
    const { nodes, links } = around(n);
    const terminals = nodes.slice(0, n).map((node) => node.name);
    const body = { law, admittance, outflow: new Float64Array(n) };
    const solution = solveSteady({ nodes, links, bodies: [{ name: "die", terminals, body }] });
    expect(solution.imbalance.relative).toBeLessThan(1e-12);
    const heat = solution.bodyFlows.map((flow) => flow.power);
    expect(Math.abs(heat.reduce((sum, power) => sum + power, 0))).toBeLessThan(1e-19);
  });

  it("can be replaced, and the network solved again", () => {
    const { terminals, body } = joined(4);
    const { nodes, links } = around(4, false);
    const network = new SteadyNetwork({ nodes, links, bodies: [{ name: "die", terminals, body }] });
    const loaded = { ...body, outflow: Float64Array.of(0, 0, 0, 4e-9) };
    network.setBody(0, loaded);
    expect(network.trySolve()).toBe(true);
    const fresh = solveSteady({ nodes, links, bodies: [{ name: "die", terminals, body: loaded }] });
    terminals.forEach((name, i) => {
      expect(network.temperatures[i]! / fresh.temperatures.get(name)!).toBeCloseTo(1, 12);
    });
    expect(() => network.setBody(0, joined(3).body)).toThrow(
      "die.body.outflow: expected 4 finite numbers in watts, one for each terminal",
    );
    const infinite = { ...body, outflow: Float64Array.of(0, 0, 0, Number.NaN) };
    expect(() => network.setBody(0, infinite)).toThrow("die.body.outflow: expected 4 finite");
  });

  it("is a path to the stage for all it touches", () => {
    const { terminals, body } = joined(3);
    const { nodes, links } = around(3);
    const bodies = [{ name: "die", terminals, body }];
    expect(() => solveSteady({ nodes, links: links.slice(0, 1), bodies })).not.toThrow();
    expect(() => solveSteady({ nodes, links: [], bodies })).toThrow(
      'network: node "place 0", "place 1", "place 2" has no path to a fixed temperature',
    );
  });

  it("whose law has no value is named when the network can't be solved", () => {
    const { terminals, body } = joined(2, { conductance: () => 1, integral: () => Number.NaN });
    const { nodes, links } = around(2);
    expect(() => solveSteady({ nodes, links, bodies: [{ name: "die", terminals, body }] })).toThrow(
      'the heat into body "die" at "place 0" (0.1000 K) is not a finite number',
    );
  });

  it("that is unsound is refused, its field named", () => {
    const { terminals, body } = joined(3);
    const { nodes, links } = around(3);
    const solve = (change: object) => () =>
      solveSteady({ nodes, links, bodies: [{ name: "die", terminals, body, ...change }] });
    expect(solve({ name: "" })).toThrow('bodies[0].name: expected a name, got ""');
    expect(solve({ terminals: [] })).toThrow("die.terminals: expected at least one");
    expect(solve({ terminals: ["place 0", "place 1", "plaice 2"] })).toThrow(
      'die.terminals[2]: node "plaice 2" is not known, did you mean "place 2"?',
    );
    expect(solve({ terminals: ["place 0", "place 1", "place 0"] })).toThrow(
      "die.terminals[2]: expected a node that is not yet a terminal",
    );
    const admittance = Float64Array.from(body.admittance);
    admittance[1]! += 1;
    expect(solve({ body: { ...body, admittance } })).toThrow("die.body.admittance[0]");
    admittance[3]! += 1;
    expect(solve({ body: { ...body, admittance } })).toThrow(
      "die.body.admittance[0]: expected a row that sums to 0",
    );
    const later = Float64Array.from(body.admittance);
    later[5]! += 1;
    expect(solve({ body: { ...body, admittance: later } })).toThrow("die.body.admittance[1][2]");
    expect(solve({ body: { ...body, admittance: new Float64Array(4) } })).toThrow(
      "die.body.admittance: expected 3 × 3 finite numbers",
    );
  });
});
