import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type CondensedBody, type Conductor, powerConductor, scaled } from "../../src/conductor.js";
import { Adjoint, temperatureGradient } from "../../src/network/adjoint.js";
import type { NetworkDescription } from "../../src/network/description.js";
import { SolveError } from "../../src/network/solution.js";
import { SteadyNetwork, solveSteady } from "../../src/network/steady.js";
import { logarithmicDerivative } from "./derivative.js";
import { described, network, randomNetworks } from "./networks.js";

/** The description with one number of it multiplied. */
const withLink = (d: NetworkDescription, l: number, factor: number): NetworkDescription => ({
  ...d,
  links: d.links.map((link, i) => (i === l ? { ...link, count: factor } : link)),
});
const withLoad = (d: NetworkDescription, name: string, load: number): NetworkDescription => ({
  ...d,
  nodes: d.nodes.map((n) => (n.name === name ? { ...n, load } : n)),
});
const withHeld = (
  d: NetworkDescription,
  name: string,
  temperature: number,
): NetworkDescription => ({
  ...d,
  nodes: d.nodes.map((n) => (n.name === name ? { name, temperature } : n)),
});

describe("the gradient of one node behind one conductor", () => {
  // Θ = c Tᵖ: T = (T₀ᵖ + P/c)^(1/p), so dT/dP = 1/G(T), dT/d ln c = −P/G(T), dT/dT₀ = G(T₀)/G(T).
  it.each([1, 2, 3.4, 4])("is its closed form, exponent %s", (p) => {
    const [c, T0, P] = [2e-7, 0.11, 7e-9];
    const T = (T0 ** p + P / c) ** (1 / p);
    const G = (x: number) => c * p * x ** (p - 1);
    const solved = new SteadyNetwork(
      network({ stage: T0 }, { chip: P }, [["chip", "stage", c, p]]),
    );
    const gradient = temperatureGradient(solved, "chip");
    expect(solved.nodeNames).toEqual(["chip", "stage"]);
    expect(gradient.loads[0]! * G(T)).toBeCloseTo(1, 13);
    expect(gradient.links[0]! / (-P / G(T))).toBeCloseTo(1, 12);
    expect(gradient.held[1]! / (G(T0) / G(T))).toBeCloseTo(1, 13);
    expect([gradient.loads[1], gradient.held[0]]).toEqual([0, 0]);
  });

  it("counts a load that rises with the temperature: dT/dP = 1/(G − dP/dT)", () => {
    const load = { power: (T: number) => 1e-9 + 2e-8 * T, slope: () => 2e-8 };
    const d = network({ stage: 0.1 }, {}, [["chip", "stage", 1e-6, 2]]);
    const nodes = d.nodes.map((n) => (n.name === "chip" ? { name: "chip", load } : n));
    const solved = new SteadyNetwork({ ...d, nodes });
    const { loads } = temperatureGradient(solved, "chip");
    expect(loads[0]! * (2e-6 * solved.temperatures[0]! - 2e-8)).toBeCloseTo(1, 12);
  });
});

describe("the gradient of a random network", () => {
  it("agrees with eighth-order differences of whole solves within 1e-8", () => {
    fc.assert(
      fc.property(randomNetworks, fc.nat(), (random, pick) => {
        const d = described(random);
        const name = `${pick % random.loads.length}`;
        const solved = new SteadyNetwork(d);
        const gradient = temperatureGradient(solved, name);
        const T = (changed: NetworkDescription) => solveSteady(changed).temperatures.get(name)!;
        const at = (node: string) => solved.nodeNames.indexOf(node);
        const pairs = [
          ...d.links.map((_, l) => [
            gradient.links[l]!,
            logarithmicDerivative((factor) => T(withLink(d, l, factor)), 1),
          ]),
          ...random.loads.map((load, i) => [
            load * gradient.loads[at(`${i}`)]!,
            load && logarithmicDerivative((x) => T(withLoad(d, `${i}`, x)), load),
          ]),
          ...random.fixed.map((held, i) => {
            const node = `${random.loads.length + i}`;
            const slope = logarithmicDerivative((x) => T(withHeld(d, node, x)), held);
            return [held * gradient.held[at(node)]!, slope];
          }),
        ] as [number, number][];
        const largest = Math.max(...pairs.map(([, slope]) => Math.abs(slope)));
        for (const [exact, slope] of pairs) {
          expect(Math.abs(exact - slope)).toBeLessThanOrEqual(1e-8 * largest);
        }
      }),
      { seed: 20260501, numRuns: 60 },
    );
  });

  it("has influences that are nowhere negative and sum up as the superposition of watts", () => {
    fc.assert(
      fc.property(randomNetworks, (random) => {
        const solved = new SteadyNetwork(described(random));
        solved.solve();
        const ones = solved.nodeNames.map(() => 1);
        const all = new Adjoint(solved).influence(ones);
        const each = solved.nodeNames.map((_, k) =>
          new Adjoint(solved).influence(ones.map((_, i) => +(i === k))),
        );
        all.forEach((sum, i) => {
          const added = each.reduce((total, one) => total + one[i]!, 0);
          expect(Math.min(...each.map((one) => one[i]!))).toBeGreaterThanOrEqual(0);
          expect(Math.abs(added - sum)).toBeLessThanOrEqual(1e-12 * sum);
        });
      }),
      { seed: 20260502, numRuns: 100 },
    );
  });

  it("scales: conductances and loads together change nothing, held temperatures alone set the scale", () => {
    fc.assert(
      fc.property(randomNetworks, (random) => {
        // Exponents all 2: T ∝ held temperatures and the root of the loads (Euler's theorem).
        const links = random.links.map((l) => ({ ...l, exponent: 2 }));
        const solved = new SteadyNetwork(described({ ...random, links }));
        const { loads, links: byLink, held } = temperatureGradient(solved, "0");
        const T = solved.temperatures[solved.nodeNames.indexOf("0")]!;
        const load = solved.nodeNames.reduce(
          (sum, _, i) => sum + loads[i]! * solved.balance.loadOf(i),
          0,
        );
        const byHeld = held.reduce((sum, slope, i) => sum + slope * solved.temperatures[i]!, 0);
        const byLinks = byLink.reduce((sum, slope) => sum + slope, 0);
        expect(Math.abs(load + byLinks)).toBeLessThan(1e-10 * T);
        expect(Math.abs(2 * load + byHeld - T)).toBeLessThan(1e-10 * T);
      }),
      { seed: 20260503, numRuns: 100 },
    );
  });
});

describe("the gradient of a network with a body", () => {
  const n = 6;
  const laws: Record<string, Conductor> = {
    "one power": powerConductor(3e-4, 4),
    functions: {
      conductance: (T) => 1e-3 * T ** 3 + 1e-6,
      integral: (T) => 2.5e-4 * T ** 4 + 1e-6 * T + 5e-6,
    },
  };
  const admittance = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < i; j++) {
      const share = 0.05 + ((7 * i + 3 * j) % 5) / 9;
      admittance[i * n + j] = -share;
      admittance[j * n + i] = -share;
      admittance[i * n + i]! += share;
      admittance[j * n + j]! += share;
    }
  }
  const outflow = Float64Array.from({ length: n }, (_, i) => 1e-10 * (i + 1));
  const describeBody = (
    body: CondensedBody,
    count = 1,
    stage = 0.1,
    held = 0.14,
  ): NetworkDescription => ({
    nodes: [
      ...Array.from({ length: n - 1 }, (_, i) => ({ name: `place ${i}`, load: 1e-10 * i })),
      { name: "foot", load: 2e-10 },
      { name: `place ${n - 1}`, temperature: held },
      { name: "stage", temperature: stage },
    ],
    links: [
      ...Array.from({ length: n - 1 }, (_, i) => ({
        name: `bond ${i}`,
        from: `place ${i}`,
        to: "foot",
        conductor: powerConductor(1e-6 * (1 + (i % 3)), 2),
      })),
      { name: "joint", from: "foot", to: "stage", conductor: powerConductor(4e-6, 2), count },
    ],
    bodies: [{ name: "die", terminals: Array.from({ length: n }, (_, i) => `place ${i}`), body }],
  });

  it.each(Object.entries(laws))(
    "agrees with differences of whole solves: a law of %s",
    (_, law) => {
      const body: CondensedBody = { law, admittance, outflow };
      const solved = new SteadyNetwork(describeBody(body));
      const gradient = temperatureGradient(solved, "place 2");
      const T = (d: NetworkDescription) => solveSteady(d).temperatures.get("place 2")!;
      const at = (node: string) => solved.nodeNames.indexOf(node);
      const close = (exact: number, slope: number) =>
        expect(Math.abs(exact - slope)).toBeLessThanOrEqual(1e-9 * Math.abs(slope));
      close(
        gradient.bodies[0]!,
        logarithmicDerivative((x) => T(describeBody({ ...body, law: scaled(law, x) })), 1),
      );
      for (const t of [0, 2, n - 1]) {
        const outflowOf = (x: number) => outflow.map((s, i) => (i === t ? x : s));
        close(
          outflow[t]! * gradient.outflows[0]![t]!,
          // A held node takes up what comes out there.
          t === n - 1
            ? 0
            : logarithmicDerivative(
                (x) => T(describeBody({ ...body, outflow: outflowOf(x) })),
                outflow[t]!,
              ),
        );
      }
      close(
        gradient.links[n - 1]!,
        logarithmicDerivative((x) => T(describeBody(body, x)), 1),
      );
      close(
        0.1 * gradient.held[at("stage")]!,
        logarithmicDerivative((x) => T(describeBody(body, 1, x)), 0.1),
      );
      close(
        0.14 * gradient.held[at(`place ${n - 1}`)]!,
        logarithmicDerivative((x) => T(describeBody(body, 1, 0.1, x)), 0.14),
      );
    },
  );

  it("is the slope of the virtual rise, whose temperatures stay", () => {
    const body: CondensedBody = { law: laws["one power"]!, admittance, outflow };
    const solved = new SteadyNetwork(describeBody(body));
    const gradient = temperatureGradient(solved, "place 2");
    const rise = (d: NetworkDescription) => {
      const changed = new SteadyNetwork(d);
      changed.temperatures.set(solved.temperatures.subarray(0, solved.freeCount));
      return new Adjoint(changed).virtualRise(gradient.loads);
    };
    const slope = (of: (x: number) => NetworkDescription, x: number) =>
      logarithmicDerivative((value) => rise(of(value)), x);
    const law = (x: number) => describeBody({ ...body, law: scaled(body.law, x) });
    expect(slope(law, 1) / gradient.bodies[0]!).toBeCloseTo(1, 9);
    expect(slope((x) => describeBody(body, x), 1) / gradient.links[n - 1]!).toBeCloseTo(1, 9);
    const held = 0.1 * gradient.held[solved.nodeNames.indexOf("stage")]!;
    expect(slope((x) => describeBody(body, 1, x), 0.1) / held).toBeCloseTo(1, 9);
  });
});

describe("the virtual rise", () => {
  // In a linear network θ = λ·P is exact, so a change of loads moves both by λ·δ; a body's own heat counts.
  it("counts what falls on a body itself, with the weight of the node where it comes out", () => {
    const admittance = Float64Array.of(2, -2, -2, 2);
    const of = (outflow: readonly number[]) =>
      new SteadyNetwork({
        nodes: [{ name: "left" }, { name: "right" }, { name: "stage", temperature: 0.1 }],
        links: [{ name: "joint", from: "right", to: "stage", conductor: powerConductor(5e-8, 1) }],
        bodies: [
          {
            name: "die",
            terminals: ["left", "right"],
            body: { law: powerConductor(1e-8, 1), admittance, outflow: Float64Array.from(outflow) },
          },
        ],
      });
    const cold = of([0, 0]);
    cold.solve();
    const weights = [1, 0, 0];
    const influence = new Adjoint(cold).influence(weights);
    // A watt at the left passes 1/(2e-8) and 1/(5e-8) K/W, one at the right the second alone.
    expect(influence[0]! / (1 / 2e-8 + 1 / 5e-8)).toBeCloseTo(1, 12);
    expect(influence[1]! / (1 / 5e-8)).toBeCloseTo(1, 12);
    expect(influence[2]).toBe(0);
    const warm = of([3e-10, 2e-10]);
    warm.temperatures.set(cold.temperatures.subarray(0, cold.freeCount));
    const wanted = 3e-10 * influence[0]! + 2e-10 * influence[1]!;
    expect(new Adjoint(warm).virtualRise(influence) / wanted).toBeCloseTo(1, 12);
    warm.solve();
    expect((warm.temperatures[0]! - 0.1) / wanted).toBeCloseTo(1, 9);
  });

  it("weighs no node of fixed temperature, and gives numbers of its own each time", () => {
    const solved = new SteadyNetwork(
      network({ stage: 0.1 }, { chip: 1e-9 }, [["chip", "stage", 1e-6, 2]]),
    );
    solved.solve();
    const first = new Adjoint(solved).influence([1, 5]);
    const kept = first.slice();
    expect(new Adjoint(solved).influence([2, 0])[0]! / first[0]!).toBeCloseTo(2, 12);
    expect(first).toEqual(kept);
    expect(first[1]).toBe(0);
  });
});

describe("what is not asked rightly", () => {
  const d = network({ stage: 0.1 }, { chip: 1e-9 }, [["chip", "stage", 1e-6, 2]]);
  it("is told by its field", () => {
    const solved = new SteadyNetwork(d);
    expect(() => temperatureGradient(solved, "chips")).toThrow(
      'node: expected the name of a node of the network, got "chips"',
    );
    expect(() => new Adjoint(solved).gradient([1])).toThrow(
      "weights: expected 2 finite numbers, one a node, got [1]",
    );
  });

  it("is told when the state would run away", () => {
    const load = { power: (T: number) => 2e-6 * T * T, slope: (T: number) => 4e-6 * T };
    const nodes = d.nodes.map((n) => (n.name === "chip" ? { name: "chip", load } : n));
    const unstable = new SteadyNetwork({ ...d, nodes });
    unstable.temperatures[0] = 0.2;
    const asked = () => new Adjoint(unstable).influence([1, 0]);
    expect(asked).toThrow(SolveError);
    expect(asked).toThrow(/adjoint: at node "chip" \(T = 0.2000 K\)/);
  });
});
