import { describe, expect, it } from "vitest";
import type { HeatStore } from "../../src/conductor.js";
import { SolveError } from "../../src/network/solution.js";
import { solveSteady } from "../../src/network/steady.js";
import type { TransientOptions } from "../../src/network/timeline.js";
import { runInTime, TransientNetwork } from "../../src/network/transient.js";
import { network } from "./networks.js";
import { hitDie, linearLoad, plainStore, powerStore, storing } from "./stores.js";

const simple = storing({ stage: 0.1 }, { chip: 1e-9 }, { chip: [1e-9, 2] }, [
  ["chip", "joint", 1e-6, 2],
  ["joint", "stage", 1e-6, 2],
]);
const run = (options: Partial<TransientOptions>) => () =>
  runInTime(simple, { duration: 1, ...options });

describe("wrong input is named", () => {
  const pulse = { time: 0.5, node: "chip", energy: 1e-12 };

  it.each<[string, () => unknown, string]>([
    ["no duration", run({ duration: 0 }), "duration: expected a number greater than 0 in s, got 0"],
    [
      "a pulse after the end",
      run({ pulses: [{ ...pulse, time: 1 }] }),
      "pulses[0].time: expected a time in s from 0, before 1, got 1",
    ],
    [
      "a pulse before the start",
      run({ pulses: [{ ...pulse, time: -1 }] }),
      "pulses[0].time: expected a time in s from 0, before 1, got -1",
    ],
    [
      "pulses out of order",
      run({ pulses: [pulse, { ...pulse, time: 0.2 }] }),
      "pulses[1].time: expected no time before that of the pulse before, 0.5, got 0.2",
    ],
    [
      "a pulse without energy",
      run({ pulses: [{ ...pulse, energy: -1e-12 }] }),
      "pulses[0].energy: expected a number greater than 0 in J, got -1e-12",
    ],
    [
      "a pulse into a node that stores nothing",
      run({ pulses: [{ ...pulse, node: "joint" }] }),
      'pulses[0].node: expected a node that stores heat, got "joint"',
    ],
    [
      "a pulse into the stage",
      run({ pulses: [{ ...pulse, node: "stage" }] }),
      'pulses[0].node: expected a free node, got "stage"',
    ],
    [
      "an unknown node",
      run({ pulses: [{ ...pulse, node: "chop" }] }),
      'pulses[0].node: node "chop" is not known, did you mean "chip"?',
    ],
    [
      "a load on the stage",
      run({ loads: [{ node: "stage", power: () => 0 }] }),
      'loads[0].node: expected a free node, got "stage"',
    ],
    [
      "breaks that do not rise",
      run({ loads: [{ node: "chip", power: () => 0, breaks: [0.1, 0.1] }] }),
      "loads[0].breaks[1]: expected a time in s after the one before, got 0.1",
    ],
    [
      "a timed temperature of a free node",
      run({ temperatures: [{ node: "chip", temperature: () => 1 }] }),
      'temperatures[0].node: expected a node of fixed temperature, got "chip"',
    ],
    [
      "a stage below zero",
      run({ temperatures: [{ node: "stage", temperature: () => -1 }] }),
      "temperature of stage at 0 s: expected a number greater than 0 in K, got -1",
    ],
    [
      "a threshold at the stage",
      run({ crossings: [{ node: "stage", temperature: 0.2 }] }),
      'crossings[0].node: expected a free node, got "stage"',
    ],
    [
      "a threshold below zero",
      run({ crossings: [{ node: "chip", temperature: 0 }] }),
      "crossings[0].temperature: expected a number greater than 0 in K, got 0",
    ],
    [
      "a start without a node",
      run({ start: new Map([["joint", 0.1]]) }),
      "start.chip: expected a number greater than 0 in K, got undefined",
    ],
    [
      "a start with an unknown node",
      run({ start: new Map([["chop", 0.1]]) }),
      'start: node "chop" is not known, did you mean "chip"?',
    ],
    [
      "no tolerance",
      run({ relativeTolerance: 0 }),
      "relativeTolerance: expected a number greater than 0, got 0",
    ],
    [
      "a tolerance below zero",
      run({ absoluteTolerance: -1 }),
      "absoluteTolerance: expected a number in K, not negative, got -1",
    ],
    [
      "no node that stores heat",
      () => new TransientNetwork(network({ stage: 0.1 }, {}, [["chip", "stage", 1, 2]])),
      'nodes.store: expected a free node that stores heat, got "none"',
    ],
    [
      "a store of negative heat capacity",
      () =>
        new TransientNetwork(
          storing({ stage: 0.1 }, {}, { chip: [-1, 2] }, [["chip", "stage", 1, 2]]),
        ),
      "chip.store.coefficient: expected a finite number, not negative, got -1",
    ],
    [
      "a store given to a node that had none",
      () => new TransientNetwork(simple).setStore(1, powerStore(1, 1)),
      'joint.store: expected a node that was compiled with a store, got "joint"',
    ],
    [
      "a time after the end",
      () => run({})().temperature("chip", 2),
      "time: expected a time of the run, 0 to 1 s, got 2",
    ],
    [
      "a node unknown to the answer",
      () => run({})().temperatures("chop"),
      'node "chop" is not known',
    ],
  ])("%s", (_, act, message) => {
    expect(act).toThrow(message);
  });
});

describe("heat far smaller than what a body stores", () => {
  it("is not lost by rounding in a thousand steps", () => {
    // 30 J stored, of which a step moves 0.1 fJ: less than half a unit in its last place.
    const warm = storing({ stage: 1 }, { block: 0 }, { block: [15, 1] }, [
      ["block", "stage", 1e-8, 1],
    ]);
    const start = new Map([["block", 2]]);
    const step = 1e-8;
    const solution = runInTime(warm, { duration: 1000 * step, start, fixedStep: step });
    const { out, stored } = solution.energy;
    expect(out).toBeGreaterThan(5e-14);
    expect(Math.abs(stored + out)).toBeLessThanOrEqual(30 * Number.EPSILON);
  });
});

describe("a run that stops short", () => {
  it("says when, where and what to try, and keeps what it reached.", () => {
    const options = {
      duration: 1,
      pulses: [{ time: 0.25, node: "chip", energy: 1e-10 }],
      maxSteps: 8,
    };
    const stopped = () => runInTime(simple, options);
    expect(stopped).toThrow(SolveError);
    try {
      stopped();
      expect.unreachable();
    } catch (error) {
      const { temperatures, imbalance, steps } = error as SolveError;
      expect(temperatures.get("chip")).toBeGreaterThan(0.1);
      expect(temperatures.get("stage")).toBe(0.1);
      expect(Math.abs(imbalance)).toBeLessThan(1e-9);
      expect(steps).toBeLessThanOrEqual(8);
    }
    expect(stopped).toThrow(
      /^transient: stopped at 0\.25\d* s after \d steps: 8 steps did not suffice; the shortest are for node "(chip|joint)" \(T = 0\.\d+ K\)\. Raise maxSteps or relativeTolerance\.$/,
    );
    const solution = runInTime(simple, { ...options, throw: false });
    expect(solution.status).toBe("stopped");
    const end = solution.times[solution.times.length - 1]!;
    expect(end).toBeGreaterThanOrEqual(0.25);
    expect(end).toBeLessThan(1);
    expect(solution.temperature("chip", end)).toBeGreaterThan(0.1);
    expect(Math.abs(solution.energy.imbalance)).toBeLessThan(1e-9);
  });

  it("for want of a steady state, says so.", () => {
    const runaway = storing({ stage: 0.1 }, {}, { chip: [1e-9, 1] }, [["chip", "stage", 1e-6, 1]]);
    const nodes = runaway.nodes.map((node) =>
      node.name === "chip" ? { ...node, load: linearLoad(1e-9, 2e-6, 0.1) } : node,
    );
    expect(() => runInTime({ ...runaway, nodes }, { duration: 1 })).toThrow(
      /^transient: stopped at 0\.000 s after 0 steps: no steady state to start from, .*Give the temperatures at the start\.$/,
    );
    // From given temperatures it runs away as e^(t/τ) with 1/τ = (2e-6 − 1e-6)/1e-9.
    const start = new Map([["chip", 0.1]]);
    const solution = runInTime({ ...runaway, nodes }, { duration: 5e-3, start });
    expect(solution.temperature("chip", 5e-3)).toBeCloseTo(0.1 + 1e-3 * (Math.exp(5) - 1), 5);
  });

  it("at a law that is not finite, names the node.", () => {
    const holed: HeatStore = {
      heatCapacity: (T) => (T > 0.2 ? Number.NaN : 1e-9),
      enthalpy: (T) => (T > 0.2 ? Number.NaN : 1e-9 * T),
    };
    const description = storing({ stage: 0.1 }, { chip: 1e-9 }, { chip: holed }, [
      ["chip", "stage", 1e-9, 1],
    ]);
    const start = new Map([["chip", 0.1]]);
    expect(() => runInTime(description, { duration: 5, start })).toThrow(
      /no step is short enough, .* s was too long for node "chip" \(T = 0\.2000 K\)\. Check the laws there/,
    );
    const pulses = [{ time: 0, node: "chip", energy: 1e-9 }];
    expect(() => runInTime(description, { duration: 5, start, pulses })).toThrow(
      'no temperature stores the heat of node "chip"',
    );
  });
});

describe("a run", () => {
  it("keeps the time of a jump twice, before and after it.", () => {
    const { times, temperatures, temperature } = runInTime(simple, {
      duration: 1,
      pulses: [
        { time: 0, node: "chip", energy: 1e-11 },
        { time: 0.5, node: "chip", energy: 1e-11 },
        { time: 0.5, node: "chip", energy: 1e-11 },
      ],
    });
    const chip = temperatures("chip");
    expect([times[0], times[1]]).toEqual([0, 0]);
    expect(chip[1]).toBeGreaterThan(chip[0]!);
    const at = times.indexOf(0.5);
    expect(times[at + 1]).toBe(0.5);
    expect(times[at + 2]).toBeGreaterThan(0.5);
    // H = 1e-9 T²
    expect(chip[at + 1]! ** 2 - chip[at]! ** 2).toBeCloseTo(0.02, 12);
    expect(temperature("chip", 0.5)).toBeCloseTo(chip[at + 1]!, 14);
    expect(times[times.length - 1]).toBe(1);
    for (let i = 1; i < times.length; i++) expect(times[i]).toBeGreaterThanOrEqual(times[i - 1]!);
  });

  it("gives all nodes at a time, the fixed ones too, and its series agree with it.", () => {
    const solution = runInTime(hitDie, {
      duration: 1,
      pulses: [{ time: 0.5, node: "hit", energy: 1e-13 }],
    });
    for (const i of [0, 3, 20, solution.times.length - 1]) {
      const all = solution.at(solution.times[i]!);
      expect([...all.keys()].sort()).toEqual(hitDie.nodes.map((n) => n.name).sort());
      expect(all.get("stage")).toBe(0.1);
      for (const [node, T] of all) expect(solution.temperatures(node)[i]).toBeCloseTo(T, 13);
    }
  });

  it("starts at rest in the steady state, and stays there.", () => {
    const solution = runInTime(hitDie, { duration: 1e5 });
    const steady = solveSteady(hitDie).temperatures;
    for (const [node, T] of solution.at(1e5)) {
      expect(Math.abs(T / steady.get(node)! - 1)).toBeLessThan(1e-9);
    }
    expect(solution.steps).toBeLessThan(20);
  });

  it("goes on from where another ended.", () => {
    const pulses = [{ time: 0, node: "hit", energy: 1e-13 }];
    const whole = runInTime(hitDie, { duration: 2e-3, pulses });
    const first = runInTime(hitDie, { duration: 1e-3, pulses });
    const second = runInTime(hitDie, { duration: 1e-3, start: first.at(1e-3) });
    for (const [node, T] of second.at(1e-3)) {
      expect(Math.abs(T / whole.temperature(node, 2e-3) - 1)).toBeLessThan(1e-6);
    }
  });

  it("does not remember the run before, nor its loads and stage.", () => {
    const transient = new TransientNetwork(simple);
    const options = { duration: 1, pulses: [{ time: 0.1, node: "chip", energy: 1e-10 }] };
    const before = transient.run(options);
    transient.run({
      ...options,
      loads: [{ node: "chip", power: (t) => 1e-9 * t }],
      temperatures: [{ node: "stage", temperature: (t) => 0.1 + t }],
    });
    const after = transient.run(options);
    expect(after.times).toEqual(before.times);
    expect(after.temperatures("joint")).toEqual(before.temperatures("joint"));
    expect(transient.steady.solve().temperatures).toEqual(solveSteady(simple).temperatures);
  });

  it("takes a changed store, conductor, count and load.", () => {
    const transient = new TransientNetwork(simple);
    transient.setStore(0, powerStore(2e-9, 2));
    transient.steady.setCount(0, 2);
    transient.steady.setCount(1, 2);
    transient.steady.setLoad(0, 2e-9);
    const options = { duration: 1e-3, pulses: [{ time: 0, node: "chip", energy: 1e-10 }] };
    const changed = transient.run({
      ...options,
      pulses: [{ ...options.pulses[0]!, energy: 2e-10 }],
    });
    const before = runInTime(simple, options);
    // All twice as large: the same temperatures.
    expect(changed.temperature("chip", 5e-4)).toBeCloseTo(before.temperature("chip", 5e-4), 12);
  });

  it("takes another description's stores, but not where other nodes have them.", () => {
    const rows = [
      ["chip", "joint", 2e-6, 2],
      ["joint", "stage", 3e-6, 2],
    ] as const;
    const twice = storing({ stage: 0.2 }, { chip: 2e-9 }, { chip: [2e-9, 4] }, rows);
    const both = storing({ stage: 0.1 }, {}, { chip: [1e-9, 2], joint: [1e-9, 2] }, rows);
    const options = { duration: 1e-3, pulses: [{ time: 0, node: "chip", energy: 1e-10 }] };
    const transient = new TransientNetwork(simple);
    expect(transient.updateValues(both)).toBe(false);
    expect(transient.steady.solve()).toEqual(solveSteady(simple));
    expect(transient.updateValues(twice)).toBe(true);
    const { times, energy } = runInTime(twice, options);
    expect(transient.run(options)).toMatchObject({ times, energy });
  });

  it("reads a store by its functions where its powers end, whatever constant they have.", () => {
    const both: HeatStore = {
      ...plainStore(1e-9, 4),
      powers: powerStore(1e-9, 4).powers!,
      powersUpTo: 0.2,
    };
    const rows = [["chip", "stage", 1e-6, 2]] as const;
    const pulses = [{ time: 0, node: "chip", energy: 1e-9 }];
    const [one, other] = [both, powerStore(1e-9, 4)].map((store) =>
      runInTime(storing({ stage: 0.1 }, {}, { chip: store }, rows), { duration: 0.1, pulses }),
    );
    for (const time of [0, 1e-3, 0.02, 0.1]) {
      const ratio = one!.temperature("chip", time) / other!.temperature("chip", time);
      expect(Math.abs(ratio - 1)).toBeLessThan(1e-7);
    }
  });

  it("goes through a jump of the heat capacity, as at a superconductor's transition.", () => {
    // H has a kink at 0.2 K, C twice as large above it; linear on either side.
    const kinked: HeatStore = {
      heatCapacity: (T) => (T > 0.2 ? 2e-9 : 1e-9),
      enthalpy: (T) => (T > 0.2 ? 2e-9 * (T - 0.2) + 2e-10 : 1e-9 * T),
    };
    const solution = runInTime(
      storing({ stage: 0.1 }, {}, { chip: kinked }, [["chip", "stage", 1e-6, 1]]),
      { duration: 0.01, start: new Map([["chip", 0.4]]) },
    );
    // 0.1 + 0.3 e^(−t/2ms) down to 0.2 K at t = 2 ms ln 3, then 0.1 + 0.1 e^(−t/1ms)
    const turn = 2e-3 * Math.log(3);
    // The kink falls within a step, whose dense output rounds it off a little.
    expect(solution.temperature("chip", turn)).toBeCloseTo(0.2, 5);
    const exact = 0.1 + 0.1 * Math.exp(-(0.006 - turn) / 1e-3);
    expect(Math.abs(solution.temperature("chip", 0.006) / exact - 1)).toBeLessThan(1e-5);
  });
});
