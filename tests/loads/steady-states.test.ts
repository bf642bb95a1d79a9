import { describe, expect, test } from "vitest";
import { heatFlow, powerConductor } from "../../src/conductor.js";
import { readoutLaw } from "../../src/loads/readout.js";
import { steadyStates } from "../../src/loads/steady-states.js";
import { solveSteady } from "../../src/network/steady.js";

const cubic = (a: number, b: number, c: number) => (T: number) => (T - a) * (T - b) * (T - c);
const between = { from: "0.1 K", to: "1 K" } as const;

describe("steadyStates", () => {
  test("finds the one where cooling meets a fixed load", () => {
    const result = steadyStates({ power: () => 3e-6 }, (T) => 1e-4 * (T ** 2 - 0.01), between);
    expect(result.found).toBe("one");
    expect(result.states[0]).toMatchObject({ power: 3e-6, stable: true });
    expect(result.states[0]!.temperature).toBeCloseTo(0.2, 12);
    expect(result.message).toBe("One steady state between 100 mK and 1.00 K: 200 mK (stable).");
  });

  test("finds several, every second one unstable", () => {
    const taken = cubic(0.2, 0.35, 0.8);
    const result = steadyStates({ power: () => 0 }, taken, between);
    expect(result.found).toBe("several");
    expect(result.states.map(({ temperature }) => Number(temperature.toFixed(10)))).toEqual([
      0.2, 0.35, 0.8,
    ]);
    expect(result.states.map(({ stable }) => stable)).toEqual([true, false, true]);
    expect(result.message).toBe(
      "3 steady states between 100 mK and 1.00 K: 200 mK (stable), 350 mK (unstable), 800 mK (stable). " +
        "From the cold it reaches a steady state at 200 mK.",
    );
  });

  test("finds two that lie closer than the places it looks at", () => {
    const pair = cubic(0.5, 0.500001, 2);
    const result = steadyStates({ power: () => 0 }, (T) => -pair(T), between);
    expect(result.states.map(({ stable }) => stable)).toEqual([false, true]);
    expect(result.states[0]!.temperature).toBeCloseTo(0.5, 9);
    expect(result.states[1]!.temperature).toBeCloseTo(0.500001, 9);
  });

  test("says when there is none, and which is the larger", () => {
    const much = steadyStates({ power: () => 1 }, (T) => T * 0.1, between);
    expect(much).toMatchObject({ found: "none", states: [] });
    expect(much.message).toBe(
      "No steady state between 100 mK and 1.00 K: the load is more than the cooling takes everywhere. Lower the load or improve the path.",
    );
    const little = steadyStates({ power: () => 0 }, (T) => T, between);
    expect(little.message).toMatch(/the cooling takes more than the load everywhere/);
  });

  test("counts a load of nothing as at rest at the coldest point", () => {
    const result = steadyStates({ power: () => 0 }, (T) => T - 0.1, between);
    expect(result.states).toEqual([{ temperature: 0.1, power: 0, stable: true }]);
  });

  test("refuses a range that is none, and what is not finite", () => {
    const load = { power: () => 1 };
    expect(() => steadyStates(load, (T) => T, { from: 1, to: "1 K" })).toThrow(
      'between.to: expected a temperature above 1.00 K, got "1 K"',
    );
    expect(() => steadyStates(load, () => Number.NaN, between)).toThrow(
      "steadyStates: load or cooling is not finite at 100 mK",
    );
  });
});

describe("a readout whose resonators lose quality as the chip warms", () => {
  /** Quasiparticles of a superconductor with a critical temperature of 1 K, over other losses. */
  const internalQuality = (T: number) => 1 / (1e-7 + 0.02 * Math.exp(-1.764 / T));
  const law = (powerPerTone: number) =>
    readoutLaw({ tones: 1000, powerPerTone, couplingQuality: 2e4, internalQuality });
  const path = powerConductor(4e-10, 2);
  const taken = (T: number) => heatFlow(path, T, 0.1);

  test("has one state of rest in the cold, three in between, and one in the warm", () => {
    const found = [3e-14, 1.5e-13, 3e-12].map((power) =>
      steadyStates(law(power), taken, { from: 0.1, to: 3 }),
    );
    expect(found.map(({ states }) => states.length)).toEqual([1, 3, 1]);
    expect(found[0]!.states[0]!.temperature).toBeLessThan(0.12);
    expect(found[2]!.states[0]!.temperature).toBeGreaterThan(0.4);
  });

  test("is solved by the network to the coldest stable state", () => {
    for (const power of [3e-14, 1.5e-13, 3e-12]) {
      const { states } = steadyStates(law(power), taken, { from: 0.1, to: 3 });
      const solution = solveSteady({
        nodes: [
          { name: "chip", load: law(power) },
          { name: "stage", temperature: 0.1 },
        ],
        links: [{ name: "path", from: "chip", to: "stage", conductor: path }],
      });
      expect(solution.temperatures.get("chip")).toBeCloseTo(states[0]!.temperature, 8);
    }
  });
});
