import { describe, expect, it, test, vi } from "vitest";
import { type Conductor, type Load, powerConductor } from "../../src/conductor.js";
import type {
  LinkDescription,
  NetworkDescription,
  NodeDescription,
} from "../../src/network/description.js";
import { Elimination } from "../../src/network/elimination.js";
import { SolveError } from "../../src/network/solution.js";
import { SteadyNetwork, solveSteady } from "../../src/network/steady.js";
import { random } from "../../src/numerics/random.js";
import { FieldError } from "../../src/units/errors.js";
import { tightTemperatures } from "../reference/tight.js";
import { network, type Row } from "./networks.js";

const bonds = powerConductor(1e-6, 2);
const stage = { name: "stage", temperature: 0.1 };
const chip = { name: "chip", load: 7e-9 };
const bonded = { name: "bonds", from: "chip", to: "stage", conductor: bonds };
const simple: NetworkDescription = { nodes: [chip, stage], links: [bonded] };
const caught = (act: () => unknown) => {
  try {
    return act();
  } catch (error) {
    return error;
  }
};
const withChip = (change: object) => () =>
  solveSteady({ ...simple, nodes: [{ ...chip, ...change }, stage] });
const withBonds = (change: object) => () =>
  solveSteady({ ...simple, links: [{ ...bonded, ...change }] });

test("A wrong field is named, with what came and what was wanted.", () => {
  expect(withChip({ name: "" })).toThrow('nodes[0].name: expected a name, got ""');
  expect(withChip({ name: "stage" })).toThrow(
    'nodes[1].name: expected a name used once, got "stage"',
  );
  expect(withChip({ load: Number.NaN })).toThrow(
    "chip.load: expected a finite number in watts, got NaN",
  );
  expect(withChip({ temperature: 0.2 })).toThrow(
    "chip.load: expected no load on a node of fixed temperature, got 7e-9",
  );
  expect(() =>
    solveSteady({ ...simple, nodes: [chip, { name: "stage", temperature: -1 }] }),
  ).toThrow("stage.temperature: expected a number greater than 0 in K, got -1");
  expect(withBonds({ name: "" })).toThrow('links[0].name: expected a name, got ""');
  expect(() => solveSteady({ ...simple, links: [bonded, bonded] })).toThrow(
    'links[1].name: expected a name used once, got "bonds"',
  );
  expect(withBonds({ from: "chop" })).toThrow(
    'bonds.from: node "chop" is not known, did you mean "chip"? Known: chip, stage',
  );
  expect(withBonds({ to: "chip" })).toThrow(
    'bonds.to: expected another node than `from`, got "chip"',
  );
  expect(withBonds({ count: 0 })).toThrow("bonds.count: expected a number greater than 0, got 0");
});

test("A conductor whose power laws make no conductor is refused.", () => {
  const law = (coefficient: number, exponent: number, powersUpTo = 1) =>
    withBonds({ conductor: { ...powerConductor(coefficient, exponent), powersUpTo } });
  expect(law(-1, 2)).toThrow("bonds.conductor.coefficient: expected a finite number");
  expect(law(Number.NaN, 2)).toThrow("bonds.conductor.coefficient: expected a finite number");
  expect(law(0, 2)).toThrow("bonds.conductor.coefficient: expected a number greater than 0, got 0");
  expect(law(1, 0)).toThrow("bonds.conductor.exponent: expected a number greater than 0, got 0");
  expect(law(1, 2, Number.NaN)).toThrow(
    "bonds.conductor.powersUpTo: expected a temperature greater than 0 in K, got NaN",
  );
});

test("Nodes without a path to a fixed temperature are named.", () => {
  expect(() => solveSteady({ nodes: [], links: [] })).toThrow(
    "network: no node has a fixed temperature. Fix one, for example the stage.",
  );
  const islands = network({ stage: 0.1 }, { lid: 0 }, [
    ["chip", "stage", 1e-6, 2],
    ["pad", "film", 1e-6, 2],
  ]);
  expect(() => solveSteady(islands)).toThrow(
    'network: node "lid", "pad", "film" has no path to a fixed temperature. ' +
      "Add a link from it, or fix its temperature.",
  );
});

test("Setters refuse what the description would, and accept the numbers that come next.", () => {
  const steady = new SteadyNetwork(simple);
  expect(() => steady.setCount(0, 0)).toThrow("bonds.count: expected a number greater than 0");
  expect(() => steady.setCount(0, Number.POSITIVE_INFINITY)).toThrow("bonds.count: expected");
  expect(() => steady.setLoad(0, Number.NaN)).toThrow("chip.load: expected a finite number");
  expect(() => steady.setTemperature(1, 0)).toThrow("stage.temperature: expected a number");
  expect(() => steady.setTemperature(0, 1)).toThrow(
    'chip: expected a node of fixed temperature, got "a free node"',
  );
  expect(() => steady.setConductor(0, powerConductor(1, -1))).toThrow("bonds.conductor.exponent");
});

test("Changed counts, loads, conductors and temperatures act as if compiled with them.", () => {
  const steady = new SteadyNetwork(simple);
  const chipTemperature = () => steady.solve().temperatures.get("chip")!;
  // T² = T₀² + P/(n c)
  expect(chipTemperature()).toBeCloseTo(Math.sqrt(0.01 + 7e-9 / 1e-6), 14);
  steady.setCount(0, 4);
  expect(chipTemperature()).toBeCloseTo(Math.sqrt(0.01 + 7e-9 / 4e-6), 14);
  steady.setLoad(0, 3e-9);
  expect(chipTemperature()).toBeCloseTo(Math.sqrt(0.01 + 3e-9 / 4e-6), 14);
  steady.setTemperature(1, 0.2);
  expect(chipTemperature()).toBeCloseTo(Math.sqrt(0.04 + 3e-9 / 4e-6), 14);
  steady.setConductor(0, powerConductor(1e-5, 4));
  expect(chipTemperature()).toBeCloseTo((0.0016 + 3e-9 / 4e-5) ** 0.25, 14);
  steady.setConductor(0, powerConductor(1e-5, 3.1), 1);
  expect(chipTemperature()).toBeCloseTo((0.2 ** 3.1 + 3e-9 / 1e-5) ** (1 / 3.1), 14);
  steady.setLoad(0, { power: (T) => 1e-8 * T, slope: () => 1e-8 });
  steady.setLoad(0, 0);
  expect(chipTemperature()).toBeCloseTo(0.2, 14);
});

test("The values of another description of the same network replace its own, and act as if compiled.", () => {
  const rows: Row[] = [
    ["chip", "pad", 1e-4, 4],
    ["pad", "stage", 1e-6, 2],
    ["warm", "chip", 1e-9, 1],
  ];
  const heated = { power: (T: number) => 1e-9 + 1e-9 * T, slope: () => 1e-9 };
  const first = network({ stage: 0.1, warm: 1 }, { chip: 7e-9 }, rows);
  const second = network({ stage: 0.15, warm: 4 }, { chip: 0, pad: 3e-9 }, [
    ["chip", "pad", 3e-5, 4.5],
    ["pad", "stage", 2e-6, 2],
    ["warm", "chip", 4e-9, 1],
  ]);
  const links = second.links.map((link, l) => ({
    ...link,
    name: first.links[l]!.name,
    count: l + 1,
  }));
  const nodes = second.nodes.map((node) =>
    node.name === "pad" ? { ...node, load: heated } : node,
  );
  const steady = new SteadyNetwork(first);
  const before = steady.solve();
  expect(steady.updateValues({ nodes, links })).toBe(true);
  expect(steady.solve()).toEqual(solveSteady({ nodes, links }));
  expect(steady.updateValues(first)).toBe(true);
  expect(steady.solve()).toEqual(before);
});

test("Values of a network that differs in more than numbers are refused, and nothing changes.", () => {
  const rows: Row[] = [
    ["chip", "pad", 1e-4, 4],
    ["pad", "stage", 1e-6, 2],
  ];
  const given = network({ stage: 0.1 }, { chip: 7e-9 }, rows);
  const [one, two] = given.links as [LinkDescription, LinkDescription];
  const [die, pad, cold] = given.nodes as [NodeDescription, NodeDescription, NodeDescription];
  const square = {
    name: "die",
    terminals: ["chip", "pad"],
    body: {
      law: powerConductor(1e-5, 4),
      admittance: Float64Array.of(1, -1, -1, 1),
      outflow: Float64Array.of(0, 0),
    },
  };
  const others: NetworkDescription[] = [
    { ...given, links: [one, { ...two, name: "bonds" }] },
    { ...given, links: [two, one] },
    { ...given, links: [one, { ...two, from: "chip" }] },
    { ...given, links: [one, { ...two, to: "chip" }] },
    { ...given, links: [one, two, { ...two, name: "more" }] },
    { ...given, links: [two] },
    { ...given, nodes: [pad, die, cold] },
    { ...given, nodes: [die, { name: "pad", temperature: 0.2 }, cold] },
    { ...given, nodes: [die, pad, cold, { name: "warm", temperature: 4 }] },
    { ...given, nodes: [die, { ...pad, name: "film" }, cold] },
    { ...given, nodes: [die, pad, { ...cold, load: 1e-9 }] },
    { ...given, nodes: [die, pad, cold].map((node) => ({ ...node, temperature: 0.1 })) },
    { ...given, bodies: [square] },
  ];
  const steady = new SteadyNetwork(given);
  const before = steady.solve();
  for (const other of others) {
    expect(steady.updateValues(other)).toBe(false);
    expect(steady.solve()).toEqual(before);
  }
  const warm = { name: "warm", temperature: 4 };
  const warmed = new SteadyNetwork({ ...given, nodes: [...given.nodes, warm] });
  expect(warmed.updateValues({ ...given, nodes: [...given.nodes, { ...warm, load: 1e-9 }] })).toBe(
    false,
  );
  const joined = new SteadyNetwork({ ...given, bodies: [square] });
  for (const wrong of [{ name: "film" }, { terminals: ["pad", "chip"] }, { terminals: ["chip"] }]) {
    expect(joined.updateValues({ ...given, bodies: [{ ...square, ...wrong }] })).toBe(false);
  }
  const warmer = { ...square, body: { ...square.body, outflow: Float64Array.of(2e-9, 3e-9) } };
  expect(joined.updateValues({ ...given, bodies: [warmer] })).toBe(true);
  expect(joined.solve()).toEqual(solveSteady({ ...given, bodies: [warmer] }));
});

test("Values are not updated from what is no network.", () => {
  const steady = new SteadyNetwork(simple);
  expect(() => steady.updateValues(undefined as unknown as NetworkDescription)).toThrow(
    "network: expected",
  );
  const broken = [{}, { ...simple, links: undefined }, { ...simple, nodes: [null, stage] }];
  for (const description of broken) {
    expect(steady.updateValues(description as unknown as NetworkDescription)).toBe(false);
  }
});

test("A wrong value of an update is named as it is when compiled.", () => {
  const steady = new SteadyNetwork(simple);
  const [link] = simple.links as [LinkDescription];
  const wrong: NetworkDescription[] = [
    { ...simple, links: [{ ...link, count: -1 }] },
    { ...simple, links: [{ ...link, conductor: powerConductor(1, 2), count: Number.NaN }] },
    { ...simple, nodes: [{ ...chip, load: Number.NaN }, stage] },
    { ...simple, nodes: [{ ...chip, load: {} as Load }, stage] },
    { ...simple, nodes: [chip, { ...stage, temperature: 0 }] },
  ];
  for (const description of wrong) {
    const complaint = caught(() => new SteadyNetwork(description));
    expect(complaint).toBeInstanceOf(FieldError);
    expect(caught(() => steady.updateValues(description))).toEqual(complaint);
  }
});

/** Forty nodes, each joined to all others and to the stage, with random laws and loads. */
function crowd(stageTemperature: number, exponent: (i: number, j: number) => number) {
  const size = 40;
  const { uniform } = random(7);
  const rows: Row[] = [];
  for (let i = 0; i < size; i++) {
    rows.push([`n${i}`, "stage", 1e-7 * (1 + uniform()), exponent(i, i)]);
    for (let j = 0; j < i; j++) {
      rows.push([`n${i}`, `n${j}`, 10 ** (-6 + 3 * uniform()), exponent(i, j)]);
    }
  }
  const loads = Object.fromEntries(
    Array.from({ length: size }, (_, i) => [`n${i}`, 2e-9 * uniform()]),
  );
  return network({ stage: stageTemperature }, loads, rows);
}

function farFromTight(steady: SteadyNetwork, description: NetworkDescription): number {
  const found = [...steady.temperatures];
  const tight: readonly number[] = tightTemperatures(description, found);
  return Math.max(...tight.map((T, i) => Math.abs(found[i]! / T - 1)));
}

test("Where each node meets many, the last steps use the factors of one before and end at the same digits.", () => {
  const description = crowd(0.1, (i, j) => 2 + ((i * j) % 4));
  const steady = new SteadyNetwork(description);
  const factored = vi.spyOn(Elimination.prototype, "solve");
  expect(steady.trySolve()).toBe(true);
  expect(factored.mock.calls.length).toBeLessThan(steady.steps - 1);
  factored.mockRestore();
  expect(farFromTight(steady, description)).toBeLessThanOrEqual(4 * Number.EPSILON);
  const { steps } = steady;
  expect(steady.trySolve(steps)).toBe(true);
  expect(steady.trySolve(steps - 1)).toBe(false);
  expect(steady.failure).toBe(`no balance after ${steps - 1} steps`);
});

test("Where laws are so steep that the factors soon serve no more, new ones lead to the same digits.", () => {
  const description = crowd(1, () => 60);
  const heated: NetworkDescription = {
    ...description,
    nodes: description.nodes.map((node) =>
      typeof node.load === "number" ? { ...node, load: 3000 * node.load } : node,
    ),
  };
  const steady = new SteadyNetwork(heated);
  expect(steady.trySolve()).toBe(true);
  expect(farFromTight(steady, heated)).toBeLessThanOrEqual(4 * Number.EPSILON);
});

test("Free nodes come first in the arrays, temperatures by name in the order of declaration.", () => {
  const steady = new SteadyNetwork({ ...simple, nodes: [stage, chip] });
  expect(steady.nodeNames).toEqual(["chip", "stage"]);
  expect([...steady.solve().temperatures.keys()]).toEqual(["stage", "chip"]);
  expect(steady.temperatures[1]).toBe(0.1);
});

test("A warm start takes fewer steps and ends at the same temperature.", () => {
  const steady = new SteadyNetwork(
    network({ stage: 0.1 }, { chip: 1e-6 }, [
      ["chip", "pad", 1e-3, 4],
      ["pad", "stage", 1e-2, 5],
    ]),
  );
  expect(steady.trySolve()).toBe(true);
  const [cold, steps] = [steady.temperatures[0]!, steady.steps];
  expect(steady.trySolve(200, "present")).toBe(true);
  expect(steady.steps).toBeLessThan(steps);
  expect(Math.abs(steady.temperatures[0]! / cold - 1)).toBeLessThan(1e-14);
});

test("A warm start without a solve before it is a cold one.", () => {
  const steady = new SteadyNetwork(simple);
  expect(steady.trySolve(200, "present")).toBe(true);
});

test("A network of fixed nodes only has flows and nothing to solve.", () => {
  const { flows, imbalance } = solveSteady(
    network({ warm: 0.2, stage: 0.1 }, {}, [["warm", "stage", 1e-6, 2]]),
  );
  expect(flows[0]!.power).toBeCloseTo(1e-6 * (0.04 - 0.01), 20);
  expect(imbalance).toEqual({ node: "", power: 0, relative: 0 });
});

test("A law above its power laws' range is read from its functions at both ends.", () => {
  // The functions' integral has another constant than the powers'; only differences mean anything.
  const conductor: Conductor = {
    conductance: (T) => 2e-6 * T,
    integral: (T) => 1e-6 * T ** 2 + 5,
    powers: [{ coefficient: 1e-6, exponent: 2 }],
    powersUpTo: 0.12,
  };
  const { temperatures, flows } = withBonds({ conductor })();
  // Θ of 5 W is rounded to 1e-15 W, which G takes to some nanokelvin.
  expect(temperatures.get("chip")).toBeCloseTo(Math.sqrt(0.01 + 7e-3), 8);
  expect(flows[0]!.power).toBeCloseTo(7e-9, 20);
});

test("A sum of power laws is the links side by side.", () => {
  const sum: Conductor = {
    ...bonds,
    powers: [
      { coefficient: 1e-6, exponent: 2 },
      { coefficient: 3e-5, exponent: 4 },
    ],
  };
  const both = network({ stage: 0.1 }, { chip: 7e-9 }, [
    ["chip", "stage", 1e-6, 2],
    ["chip", "stage", 3e-5, 4],
  ]);
  expect(withBonds({ conductor: sum })().temperatures.get("chip")).toBeCloseTo(
    solveSteady(both).temperatures.get("chip")!,
    14,
  );
});

test("Heat taken out cools a node below the stage, and more than the paths bring is an error.", () => {
  expect(withChip({ load: -3e-9 })().temperatures.get("chip")).toBeCloseTo(
    Math.sqrt(0.01 - 3e-3),
    14,
  );
  expect(withChip({ load: -2e-8 })).toThrow(/^steady: no balance above 1e-9 K; .* node "chip"/);
});

test("What isn't a finite number in a law is named when it is met.", () => {
  const infinite = { conductance: () => Number.POSITIVE_INFINITY, integral: () => Number.NaN };
  expect(withBonds({ conductor: infinite })).toThrow(
    'steady: the heat through link "bonds" between 0.1000 K and 0.1000 K is not a finite number',
  );
  expect(withChip({ load: { power: () => Number.NaN, slope: () => 0 } })).toThrow(
    'steady: the load of node "chip" at 0.1000 K is not a finite number',
  );
  expect(withBonds({ conductor: powerConductor(1e300, 1), count: 1e300 })).toThrow(
    'steady: the heat through link "bonds" between 0.1000 K and 0.1000 K is not a finite number',
  );
});

test("Paths that carry nothing, and heats too far apart for double precision, are said to be so.", () => {
  expect(withBonds({ conductor: powerConductor(1e-320, 6) })).toThrow(
    'steady: the paths from node "chip" carry nothing',
  );
  const apart = network({ stage: 0.1 }, { chip: 7e-9 }, [
    ["chip", "pad", 1e300, 2],
    ["chip", "pad", 1e290, 3],
    ["pad", "stage", 1e-6, 2],
  ]);
  try {
    // Either is honest: the balance, or that there is none.
    expect(solveSteady(apart).imbalance.relative).toBeLessThan(1e-6);
  } catch (error) {
    expect((error as Error).message).toMatch(/double precision/);
  }
});

test("A network that heats without end says so and names the node.", () => {
  expect(withChip({ load: 1e6 })).toThrow(
    /^steady: no balance below 5000 K; largest imbalance .* W at node "chip" \(T = .* K\)\. Check the loads/,
  );
});

test("Too few steps are an error that carries the state, or a state marked so.", () => {
  expect(() => solveSteady(simple, { maxSteps: 1 })).toThrow("steady: no balance after 1 steps");
  try {
    solveSteady(simple, { maxSteps: 1 });
    expect.unreachable();
  } catch (error) {
    expect(error).toBeInstanceOf(SolveError);
    const { solution, temperatures, imbalance, steps } = error as SolveError;
    expect(solution.status).toBe("not converged");
    expect(temperatures.get("chip")).toBeGreaterThan(0.1);
    expect(imbalance).toBeGreaterThan(1e-6);
    expect(steps).toBe(1);
  }
  const state = solveSteady(simple, { maxSteps: 1, throw: false });
  expect(state.status).toBe("not converged");
  expect(state.temperatures.get("chip")).toBeGreaterThan(0.1);
  expect(state.imbalance.node).toBe("chip");
  const steady = new SteadyNetwork(simple);
  expect(steady.trySolve(1)).toBe(false);
  expect(steady.failure).toBe("no balance after 1 steps");
  expect(steady.trySolve()).toBe(true);
  expect(steady.failure).toBe("");
});

describe("a conductor whose powers end at a temperature", () => {
  // Below 0.2 K a square law; above, the same integral goes on linearly: P = c(0.04 + 0.4 (T − 0.2) − T₀²).
  const c = 1e-6;
  const end = 0.2;
  const conductor = {
    conductance: (T: number) => (T <= end ? 2 * c * T : 2 * c * end),
    integral: (T: number) => (T <= end ? c * T ** 2 : c * (end ** 2 + 2 * end * (T - end))),
    powers: [{ coefficient: c, exponent: 2 }],
    powersUpTo: end,
  };
  it.each([
    ["the warm end above it", 0.1, { from: "chip", to: "stage" }],
    ["the warm end above it, named last", 0.1, { from: "stage", to: "chip" }],
    ["both ends above it", 0.25, { from: "chip", to: "stage" }],
  ])("is taken by its integral with %s", (_, stage, ends) => {
    const power = 5e-8;
    const theta = (T: number) => conductor.integral(T);
    const expected = end + ((theta(stage) + power) / c - end ** 2) / (2 * end);
    const { temperatures } = solveSteady({
      nodes: [
        { name: "chip", load: power },
        { name: "stage", temperature: stage },
      ],
      links: [{ name: "path", ...ends, conductor }],
    });
    expect(temperatures.get("chip")! / expected).toBeCloseTo(1, 12);
  });
});

test("Where paths carry nothing at the coldest temperature, heat comes out once they do.", () => {
  // A superconductor in short: G = 0 up to 50 mK, then c (T − 50 mK).
  const above = (T: number) => Math.max(0, T - 0.05);
  const conductor = {
    conductance: (T: number) => 1e-5 * above(T),
    integral: (T: number) => 5e-6 * above(T) ** 2,
  };
  const cold = solveSteady({
    nodes: [{ name: "chip", load: 7e-9 }, { name: "box" }, { name: "stage", temperature: 1e-3 }],
    links: [
      { name: "bonds", from: "chip", to: "box", conductor: powerConductor(1e-5, 2) },
      { name: "wall", from: "box", to: "stage", conductor },
    ],
  });
  const box = 0.05 + Math.sqrt(7e-9 / 5e-6);
  expect(cold.temperatures.get("box")! / box).toBeCloseTo(1, 9);
  expect(cold.temperatures.get("chip")! / Math.sqrt(box ** 2 + 7e-4)).toBeCloseTo(1, 9);
});
