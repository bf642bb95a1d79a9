/** Runs in time against closed forms. Each law is written beside its solution; all are textbook integrals. */
import { describe, expect, it } from "vitest";
import { powerConductor } from "../../src/conductor.js";
import type { NetworkDescription } from "../../src/network/description.js";
import { runInTime, TransientNetwork } from "../../src/network/transient.js";
import { plainStore, powerStore, storing } from "../network/stores.js";

/** Largest relative difference of a node's temperature from T(t) at 200 times. */
function farthest(
  solution: ReturnType<typeof runInTime>,
  node: string,
  duration: number,
  expected: (time: number) => number,
): number {
  let largest = 0;
  for (let i = 0; i <= 200; i++) {
    const time = (duration * i) / 200;
    largest = Math.max(largest, Math.abs(solution.temperature(node, time) / expected(time) - 1));
  }
  return largest;
}

/** Time at which a temperature is reached, by the nodes of the run. */
function timesOff(
  solution: ReturnType<typeof runInTime>,
  node: string,
  timeOf: (temperature: number) => number,
): number {
  const temperatures = solution.temperatures(node);
  const start = timeOf(temperatures[0]!);
  return Math.max(
    ...Array.from(solution.times, (time, i) => Math.abs(timeOf(temperatures[i]!) - start - time)),
  );
}

describe("one node", () => {
  // C T′ = −G (T − T₀): T = T₀ + (E/C) e^(−t/τ), τ = C/G
  const linear = storing({ stage: 0.1 }, {}, { chip: [1e-9, 1] }, [["chip", "stage", 1e-6, 1]]);
  const pulse = { time: 0, node: "chip", energy: 1e-10 };

  it.each([1e-4, 1e-6, 1e-8, 1e-10])("decays exponentially, to a tolerance of %g.", (tolerance) => {
    const solution = runInTime(linear, {
      duration: 0.02,
      pulses: [pulse],
      relativeTolerance: tolerance,
    });
    const exact = (t: number) => 0.1 + 0.1 * Math.exp(-t / 1e-3);
    expect(farthest(solution, "chip", 0.02, exact)).toBeLessThan(tolerance);
    expect(solution.temperatures("chip")[0]).toBeCloseTo(0.1, 15);
    expect(solution.energy.given).toBe(1e-10);
    expect(solution.energy.out / (1e-10 * (1 - Math.exp(-20)))).toBeCloseTo(1, 6);
  });

  it("is heated by a pulse to where ∫C dT is the energy.", () => {
    // H = c T⁴ from 0.1 K: T = (T₀⁴ + E/c)^¼
    const description = storing({ stage: 0.1 }, {}, { chip: [1e-9, 4] }, [
      ["chip", "stage", 1e-9, 4],
    ]);
    const solution = runInTime(description, { duration: 1, pulses: [pulse] });
    expect(solution.temperature("chip", 0)).toBeCloseTo((0.1 ** 4 + 0.1) ** 0.25, 14);
  });

  it("with C ∝ T and flow ∝ T⁴ follows a hyperbolic cotangent.", () => {
    // u = T²: a u′ = −c (u² − u₀²), u = u₀ coth(u₀ c t / a + arcoth(u₁/u₀))
    const description = storing({ stage: 0.1 }, {}, { chip: [1e-9, 2] }, [
      ["chip", "stage", 1e-6, 4],
    ]);
    const [u0, u1] = [0.1 ** 2, 0.5 ** 2];
    const exact = (t: number) =>
      Math.sqrt(u0 / Math.tanh((u0 * 1e-6 * t) / 1e-9 + Math.atanh(u0 / u1)));
    const solution = runInTime(description, { duration: 0.5, start: new Map([["chip", 0.5]]) });
    expect(farthest(solution, "chip", 0.5, exact)).toBeLessThan(1e-6);
  });

  it("of constant C with flow ∝ T³ takes the time of its partial fractions.", () => {
    // C T′ = −c (T³ − T₀³); ∫ dT/(T³ − b³) = [ln(T − b) − ½ ln(T² + bT + b²) − √3 atan((2T + b)/(√3 b))]/(3b²)
    const description = storing({ stage: 0.1 }, {}, { chip: [1e-9, 1] }, [
      ["chip", "stage", 1e-6, 3],
    ]);
    const b = 0.1;
    const timeOf = (T: number) =>
      (-1e-3 *
        (Math.log(T - b) -
          0.5 * Math.log(T * T + b * T + b * b) -
          Math.sqrt(3) * Math.atan((2 * T + b) / (Math.sqrt(3) * b)))) /
      (3 * b * b);
    const solution = runInTime(description, { duration: 0.1, start: new Map([["chip", 1]]) });
    expect(solution.temperature("chip", 0.1)).toBeLessThan(0.11);
    // An error δT of the temperature is one of δT/|T′| of the time, here up to 1e-7 K over 0.03 K/s.
    expect(timesOff(solution, "chip", timeOf)).toBeLessThan(3e-6);
  });

  it("of constant C with flow ∝ T⁴, as radiation, takes the time of its partial fractions.", () => {
    // C T′ = −c (T⁴ − b⁴); ∫ dT/(T⁴ − b⁴) = [½ ln((T − b)/(T + b)) − atan(T/b)]/(2b³)
    const store = plainStore(1e-9, 1);
    const description = storing({ stage: 0.1 }, {}, { chip: store }, [["chip", "stage", 1e-6, 4]]);
    const b = 0.1;
    const timeOf = (T: number) =>
      (-1e-3 * (0.5 * Math.log((T - b) / (T + b)) - Math.atan(T / b))) / (2 * b ** 3);
    const solution = runInTime(description, { duration: 0.5, start: new Map([["chip", 1]]) });
    expect(timesOff(solution, "chip", timeOf)).toBeLessThan(1e-5);
  });

  it("follows a load that swings, and the steady state of its start.", () => {
    // C T′ = P (1 + sin ωt) − G (T − T₀)
    const [C, G, P, w] = [1e-9, 1e-6, 1e-8, 3e3];
    const tau = C / G;
    const exact = (t: number) => {
      const swing = Math.sin(w * t) - w * tau * (Math.cos(w * t) - Math.exp(-t / tau));
      return 0.1 + (P / G) * (1 + swing / (1 + (w * tau) ** 2));
    };
    const solution = runInTime(linear, {
      duration: 0.02,
      loads: [{ node: "chip", power: (t) => P * (1 + Math.sin(w * t)) }],
    });
    expect(farthest(solution, "chip", 0.02, exact)).toBeLessThan(1e-6);
    // ∫P(1 + sin ωt) dt
    const given = P * (0.02 + (1 - Math.cos(w * 0.02)) / w);
    expect(Math.abs(solution.energy.given / given - 1)).toBeLessThan(1e-6);
  });

  it("follows a load that is switched on and off, at its breaks, whichever side they belong to.", () => {
    const [C, G, P] = [1e-9, 1e-6, 1e-7];
    const tau = C / G;
    const on = (t: number) => (t < 0.004 ? 0 : 1 - Math.exp(-(t - 0.004) / tau));
    const exact = (t: number) => 0.1 + (P / G) * (on(t) - (t < 0.0123 ? 0 : on(t - 0.0083)));
    for (const power of [
      (t: number) => (t >= 0.004 && t < 0.0123 ? P : 0),
      (t: number) => (t > 0.004 && t <= 0.0123 ? P : 0),
    ]) {
      const solution = runInTime(linear, {
        duration: 0.02,
        loads: [{ node: "chip", power, breaks: [0.004, 0.0123] }],
      });
      expect(farthest(solution, "chip", 0.02, exact)).toBeLessThan(1e-6);
      expect(Math.abs(solution.energy.given / (P * 0.0083) - 1)).toBeLessThan(1e-12);
    }
  });

  it("lags behind a stage whose temperature rises evenly.", () => {
    // C T′ = −G (T − T₀ − rt): T = T₀ + r (t − τ (1 − e^(−t/τ)))
    const solution = runInTime(linear, {
      duration: 0.02,
      temperatures: [{ node: "stage", temperature: (t) => 0.1 + 10 * t }],
    });
    const exact = (t: number) => 0.1 + 10 * (t - 1e-3 * (1 - Math.exp(-t / 1e-3)));
    expect(farthest(solution, "chip", 0.02, exact)).toBeLessThan(1e-6);
    expect(solution.temperature("stage", 0.01)).toBeCloseTo(0.2, 14);
  });

  it("under a load that falls as it warms settles sooner.", () => {
    // C T′ = −(G + g)(T − T₀)
    for (const slope of [undefined, () => -1e-6]) {
      const solution = runInTime(linear, {
        duration: 0.01,
        pulses: [pulse],
        loads: [{ node: "chip", power: (_, T) => -1e-6 * (T - 0.1), ...(slope && { slope }) }],
      });
      const exact = (t: number) => 0.1 + 0.1 * Math.exp(-t / 0.5e-3);
      expect(farthest(solution, "chip", 0.01, exact)).toBeLessThan(1e-6);
      // Half of the pulse leaves by the load.
      expect(solution.energy.given / (0.5e-10 * (1 + Math.exp(-20)))).toBeCloseTo(1, 6);
      expect(solution.energy.out / 0.5e-10).toBeCloseTo(1, 6);
    }
  });

  it("crosses a threshold when the closed form says.", () => {
    const solution = runInTime(linear, {
      duration: 0.02,
      pulses: [{ ...pulse, time: 0.001 }],
      crossings: [{ node: "chip", temperature: 0.15 }],
      relativeTolerance: 1e-9,
    });
    expect(solution.crossings).toHaveLength(2);
    expect(solution.crossings[0]).toEqual({
      node: "chip",
      temperature: 0.15,
      time: 0.001,
      rising: true,
    });
    expect(solution.crossings[1]!.rising).toBe(false);
    expect(solution.crossings[1]!.time).toBeCloseTo(0.001 + 1e-3 * Math.LN2, 10);
  });
});

describe("two nodes", () => {
  it("of which one stores nothing: it stands between its neighbours all the time.", () => {
    // u = T²: a u′ = −c (u − u₀), c = c₁c₂/(c₁ + c₂); the joint has (c₁u + c₂u₀)/(c₁ + c₂)
    const description = storing({ stage: 0.1 }, {}, { chip: [1e-9, 2] }, [
      ["chip", "joint", 2e-6, 2],
      ["joint", "stage", 3e-6, 2],
    ]);
    const solution = runInTime(description, {
      duration: 0.01,
      pulses: [{ time: 0, node: "chip", energy: 1e-10 }],
    });
    const u = (t: number) => 0.01 + 0.1 * Math.exp((-t * 1.2e-6) / 1e-9);
    expect(farthest(solution, "chip", 0.01, (t) => Math.sqrt(u(t)))).toBeLessThan(1e-6);
    const joint = (t: number) => Math.sqrt((2 * u(t) + 3 * 0.01) / 5);
    expect(farthest(solution, "joint", 0.01, joint)).toBeLessThan(2e-6);
    // Consistent from the first moment on.
    expect(solution.temperature("joint", 0)).toBeCloseTo(joint(0), 13);
  });

  it("with times of 1 ns and 1e5 s are both right in one run.", () => {
    // Linear: film on a block of 1e5 s. τ₁ = c/g = 1 ns, τ₂ = C/G; the film's capacity is 1e-14 of the block's.
    const description = storing({ stage: 0.1 }, {}, { film: [1e-15, 1], block: [1e-1, 1] }, [
      ["film", "block", 1e-6, 1],
      ["block", "stage", 1e-6, 1],
    ]);
    const solution = runInTime(description, {
      duration: 1e5,
      start: new Map([
        ["film", 0.3],
        ["block", 0.2],
      ]),
    });
    // The film's heat warms the block by 1e-15 K; its own time is shorter by g/(g + …) = 1 − 1e-14.
    const film = (t: number) => 0.1 * Math.exp(-t / 1e-9);
    const block = (t: number) => 0.1 + 0.1 * Math.exp(-t / 1e5);
    for (const t of [0, 3e-10, 1e-9, 5e-9, 1e-7, 1, 1e3, 5e4, 1e5]) {
      expect(Math.abs(solution.temperature("block", t) / block(t) - 1)).toBeLessThan(1e-6);
      expect(Math.abs(solution.temperature("film", t) / (block(t) + film(t)) - 1)).toBeLessThan(
        1e-6,
      );
    }
    expect(solution.steps).toBeLessThan(200);
  });

  it("resolve a nanosecond after a day.", () => {
    const description = storing({ stage: 0.1 }, {}, { chip: [1e-15, 1] }, [
      ["chip", "stage", 1e-6, 1],
    ]);
    const solution = runInTime(description, {
      duration: 1e5,
      pulses: [{ time: 86400, node: "chip", energy: 1e-16 }],
      crossings: [{ node: "chip", temperature: 0.15 }],
    });
    expect(solution.energy.out / 1e-16).toBeCloseTo(1, 6);
    expect(solution.crossings.map((c) => c.rising)).toEqual([true, false]);
    expect(solution.temperature("chip", 86400)).toBeCloseTo(0.2, 12);
  });
});

describe("errors", () => {
  const description = storing({ stage: 0.1 }, {}, { chip: [1e-9, 2], film: [3e-10, 1] }, [
    ["chip", "joint", 1e-6, 4],
    ["joint", "film", 1e-6, 3],
    ["film", "stage", 1e-7, 2],
  ]);
  const network = new TransientNetwork(description);
  const start = new Map([
    ["chip", 0.4],
    ["film", 0.3],
  ]);
  const run = (fixedStep: number | undefined) =>
    network.run({
      duration: 1e-2,
      start,
      loads: [{ node: "film", power: (t) => 1e-9 * Math.cos(400 * t) }],
      ...(fixedStep === undefined ? { relativeTolerance: 1e-13 } : { fixedStep }),
    });
  const tight = run(undefined);

  it("fall with the fifth power of the step, at nodes with a store and without.", () => {
    for (const node of ["chip", "joint", "film"]) {
      const [one, two] = [64, 128].map((n) =>
        Math.abs(run(1e-2 / n).temperature(node, 1e-2) - tight.temperature(node, 1e-2)),
      );
      expect(Math.log2(one! / two!), node).toBeGreaterThan(4.8);
    }
  });

  it("fall with the fourth power within steps, and with the third where nothing is stored.", () => {
    for (const [node, order] of [
      ["chip", 4],
      ["joint", 3],
      ["film", 4],
    ] as const) {
      // From where the first, fastest change is over.
      const [one, two] = [32, 64].map((n) => {
        const solution = run(1e-2 / n);
        let largest = 0;
        for (let time = 2e-3; time < 1e-2; time += 1.7e-5) {
          const error = solution.temperature(node, time) - tight.temperature(node, time);
          largest = Math.max(largest, Math.abs(error));
        }
        return largest;
      });
      expect(Math.log2(one! / two!), node).toBeGreaterThan(order - 0.2);
    }
  });

  it("stay near the tolerance, which is that of a step.", () => {
    for (const relativeTolerance of [1e-4, 1e-6, 1e-8]) {
      const solution = network.run({
        duration: 1e-2,
        start,
        loads: [{ node: "film", power: (t) => 1e-9 * Math.cos(400 * t) }],
        relativeTolerance,
      });
      for (const node of ["chip", "joint", "film"]) {
        const exact = (t: number) => tight.temperature(node, t);
        expect(farthest(solution, node, 1e-2, exact)).toBeLessThan(5 * relativeTolerance);
      }
    }
  });
});

describe("a die that is reduced to its contacts", () => {
  it("runs without heat of its own, as a star of the same conductances does.", () => {
    // Three contacts with Y of a star of conductances 1, 2, 3: Yᵢⱼ = gᵢgⱼ/Σg off the diagonal
    const g = [1, 2, 3];
    const admittance = Float64Array.from(
      g.flatMap((a, i) => g.map((b, j) => (i === j ? a : 0) - (a * b) / 6)),
    );
    const law = powerConductor(1e-7, 3);
    const ends: NetworkDescription = {
      nodes: [
        { name: "a", store: powerStore(1e-9, 2) },
        { name: "b", store: powerStore(2e-9, 4) },
        { name: "stage", temperature: 0.1 },
      ],
      links: [],
    };
    const body: NetworkDescription = {
      ...ends,
      bodies: [
        {
          name: "die",
          terminals: ["a", "b", "stage"],
          body: {
            law,
            admittance,
            // What falls on the middle of the star leaves in proportion to its arms.
            outflow: Float64Array.from(g, (x) => (6e-10 * x) / 6),
          },
        },
      ],
    };
    const star: NetworkDescription = {
      nodes: [...ends.nodes, { name: "middle", load: 6e-10 }],
      links: ["a", "b", "stage"].map((name, i) => ({
        name,
        from: name,
        to: "middle",
        conductor: law,
        count: g[i]!,
      })),
    };
    const options = { duration: 1, pulses: [{ time: 0.1, node: "a", energy: 1e-10 }] };
    const [one, other] = [runInTime(body, options), runInTime(star, options)];
    for (const time of [0, 0.1, 0.10001, 0.11, 0.2, 0.5, 1]) {
      for (const node of ["a", "b"]) {
        const ratio = one.temperature(node, time) / other.temperature(node, time);
        expect(Math.abs(ratio - 1)).toBeLessThan(1e-6);
      }
    }
    expect(one.energy.given / other.energy.given).toBeCloseTo(1, 12);
    expect(Math.abs(one.energy.imbalance)).toBeLessThan(1e-12);
  });
});
