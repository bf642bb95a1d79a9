import { describe, expect, test } from "vitest";
import { powerConductor } from "../../src/conductor.js";
import { SolveError } from "../../src/network/solution.js";
import { SteadyNetwork, solveSteady } from "../../src/network/steady.js";
import { network, type Row } from "../network/networks.js";

/** Expects two numbers to agree to parts of the second. */
function expectAgree(actual: number | undefined, expected: number, within = 1e-12) {
  expect(Math.abs(actual! / expected - 1)).toBeLessThan(within);
}

describe("One link: T = (T₀ⁿ + P/c)^(1/n)", () => {
  for (const n of [1, 2, 3, 3.1, 4, 5, 6]) {
    test(`n = ${n}, loads over many decades`, () => {
      for (const ratio of n < 2 ? [1e-6, 1e-3, 1, 1e3] : [1e-6, 1e-3, 1, 1e3, 1e6]) {
        const c = 3e-6;
        const P = ratio * c * 0.1 ** n;
        const T = solveSteady(
          network({ stage: 0.1 }, { chip: P }, [["chip", "stage", c, n]]),
        ).temperatures.get("chip");
        expectAgree(T, (0.1 ** n + P / c) ** (1 / n));
      }
    });
  }
});

test("A chain of different powers: each node from the one below it.", () => {
  const rows: Row[] = [
    ["chip", "pad", 3e-4, 4],
    ["pad", "electrons", 2e-2, 5],
    ["electrons", "foot", 2e-5, 2],
    ["foot", "box", 1e-4, 3],
    ["box", "plate", 1e-6, 1],
    ["plate", "stage", 5e-3, 6],
  ];
  const loads = { chip: 7e-9, foot: 1e-9, box: 2e-9 };
  const { temperatures } = solveSteady(network({ stage: 0.1 }, loads, rows));
  let below = 0.1;
  let power = 0;
  const through = [7e-9, 7e-9, 7e-9, 8e-9, 10e-9, 10e-9];
  for (let i = rows.length - 1; i >= 0; i--) {
    const [from, , c, n] = rows[i]!;
    power = through[i]!;
    below = (below ** n + power / c) ** (1 / n);
    expectAgree(temperatures.get(from), below);
  }
});

test("A chain of 200 nodes, every one loaded.", () => {
  const n = 200;
  const exponent = (i: number) => 1 + ((7 * i) % 11) / 2;
  const coefficient = (i: number) => 1e-5 * (1 + (i % 5));
  const rows: Row[] = Array.from({ length: n }, (_, i) => [
    `${i}`,
    i === 0 ? "stage" : `${i - 1}`,
    coefficient(i),
    exponent(i),
  ]);
  const loads = Object.fromEntries(rows.map(([name], i) => [name, 1e-10 * (1 + (i % 3))]));
  const { temperatures, imbalance } = solveSteady(network({ stage: 0.1 }, loads, rows));
  let below = 0.1;
  for (let i = 0; i < n; i++) {
    let power = 0;
    for (let j = i; j < n; j++) power += loads[`${j}`]!;
    below = (below ** exponent(i) + power / coefficient(i)) ** (1 / exponent(i));
    expectAgree(temperatures.get(`${i}`), below);
  }
  expect(imbalance.relative).toBeLessThan(1e-12);
});

test("Two links of powers 2 and 4 side by side: a quadratic in T².", () => {
  const [c2, c4, P] = [1e-6, 3e-5, 7e-9];
  const { temperatures, flows } = solveSteady(
    network({ stage: 0.1 }, { chip: P }, [
      ["chip", "stage", c2, 2],
      ["chip", "stage", c4, 4],
    ]),
  );
  // c4 x² + c2 x = P + c4 T0⁴ + c2 T0² with x = T²
  const right = P + c4 * 1e-4 + c2 * 1e-2;
  const x = (-c2 + Math.sqrt(c2 ** 2 + 4 * c4 * right)) / (2 * c4);
  expectAgree(temperatures.get("chip"), Math.sqrt(x));
  expectAgree(flows[0]!.power, c2 * (x - 0.01), 1e-11);
});

test("A balanced Wheatstone bridge: nothing flows across it, whatever its law.", () => {
  // Arms in proportion 1 : 3 on both sides, so left and right are at one temperature.
  for (const across of [1e-3, 1, 1e3]) {
    const { temperatures, flows } = solveSteady(
      network({ stage: 0.1 }, { chip: 7e-9 }, [
        ["chip", "left", 1e-6, 2],
        ["left", "stage", 3e-6, 2],
        ["chip", "right", 2e-6, 2],
        ["right", "stage", 6e-6, 2],
        ["left", "right", across, 5],
      ]),
    );
    const arm = Math.sqrt(0.01 + 7e-9 / 9e-6);
    expectAgree(temperatures.get("left"), arm);
    expectAgree(temperatures.get("right"), arm);
    expectAgree(temperatures.get("chip"), Math.sqrt(arm ** 2 + 7e-9 / 3e-6));
    expect(Math.abs(flows[4]!.power)).toBeLessThan(1e-12 * 7e-9);
  }
});

test("Equal powers are linear in Tⁿ: a triangle on two stages, solved by hand.", () => {
  // x = Tⁿ; at a: 2(x−x1) + 1(x−y) = 4, at b: 3(y−x2) + 1(y−x) = 5, in units of c and c·Kⁿ:
  // 3x − y = 4 + 2 x1, −x + 4y = 5 + 3 x2, so 11 x = 21 + 8 x1 + 3 x2 and 11 y = 19 + 2 x1 + 9 x2.
  for (const n of [1, 2, 3.1, 4, 5, 6]) {
    const [x1, x2] = [0.1 ** n, 0.3 ** n];
    const c = 1e-6;
    const unit = 1e-3 * x2;
    const { temperatures } = solveSteady(
      network({ cold: 0.1, warm: 0.3 }, { a: 4 * c * unit, b: 5 * c * unit }, [
        ["a", "cold", 2 * c, n],
        ["a", "b", c, n],
        ["b", "warm", 3 * c, n],
      ]),
    );
    expectAgree(temperatures.get("a"), ((21 * unit + 8 * x1 + 3 * x2) / 11) ** (1 / n));
    expectAgree(temperatures.get("b"), ((19 * unit + 2 * x1 + 9 * x2) / 11) ** (1 / n));
  }
});

test("A grid of 20 × 20 with one power on all links has the eigenfunctions of the grid in Tⁿ.", () => {
  // Tⁿ − T₀ⁿ = A sin(iπ/21) sin(jπ/21) on a grid whose rim is held, when the load is as the sine times
  // 4 c A (1 − cos(π/21)): the sine is an eigenfunction of the five-point difference.
  for (const n of [2, 3.1, 4]) {
    const size = 20;
    const [c, T0] = [1e-6, 0.1];
    const A = 5 * T0 ** n;
    const sine = (i: number, j: number) =>
      Math.sin((i * Math.PI) / (size + 1)) * Math.sin((j * Math.PI) / (size + 1));
    const inside = (i: number, j: number) => i >= 1 && j >= 1 && i <= size && j <= size;
    const name = (i: number, j: number) => (inside(i, j) ? `${i},${j}` : "rim");
    const loads: Record<string, number> = {};
    const rows: Row[] = [];
    for (let i = 0; i <= size; i++) {
      for (let j = 0; j <= size; j++) {
        if (inside(i, j)) {
          loads[name(i, j)] = 4 * c * A * (1 - Math.cos(Math.PI / (size + 1))) * sine(i, j);
        }
        if (j > 0) rows.push([name(i, j), name(i + 1, j), c, n]);
        if (i > 0) rows.push([name(i, j), name(i, j + 1), c, n]);
      }
    }
    const { temperatures, imbalance } = solveSteady(network({ rim: T0 }, loads, rows));
    for (let i = 1; i <= size; i++) {
      for (let j = 1; j <= size; j++) {
        expectAgree(temperatures.get(name(i, j)), (T0 ** n + A * sine(i, j)) ** (1 / n));
      }
    }
    expect(imbalance.relative).toBeLessThan(1e-12);
  }
});

describe("Loads that depend on temperature", () => {
  const onStage = (load: { power(T: number): number; slope(T: number): number }, c = 1e-5) => ({
    nodes: [
      { name: "chip", load },
      { name: "stage", temperature: 0.1 },
    ],
    links: [{ name: "glue", from: "chip", to: "stage", conductor: powerConductor(c, 4) }],
  });
  const power = (a: number, m: number) => ({
    power: (T: number) => a * T ** m,
    slope: (T: number) => a * m * T ** (m - 1),
  });

  test("P = aT² into T⁴: T² = (a + √(a² + 4 c² T₀⁴))/2c, and a may be anything.", () => {
    for (const a of [1e-10, 1e-8, 1e-6, 1e-4]) {
      const { temperatures } = solveSteady(onStage(power(a, 2)));
      const square = (a + Math.sqrt(a ** 2 + 4 * 1e-10 * 1e-4)) / 2e-5;
      expectAgree(temperatures.get("chip"), Math.sqrt(square));
    }
  });

  test("P = aT³ into T⁴ has T = a/c (1 + …) far above the stage, where Newton from the cold points away.", () => {
    // At the start c·4T³ < a·3T²: the load rises faster than the link can carry, until 3a/4c.
    for (const a of [2e-6, 1e-5, 1e-4]) {
      const { temperatures } = solveSteady(onStage(power(a, 3)));
      const T = temperatures.get("chip")!;
      // c T⁴ − a T³ − c T₀⁴ = 0 exactly; its largest root found by fixed point T = a/c + T₀⁴/T³.
      let root = a / 1e-5;
      for (let i = 0; i < 200; i++) root = a / 1e-5 + 1e-4 / root ** 3;
      expectAgree(T, root);
    }
  });

  test("A load that takes exactly what the link's conductance gives at the start still settles.", () => {
    // P = P₀ + g (T − T₀) with g = G(T₀): the Jacobian at the cold start is zero.
    const g = 4e-5 * 0.1 ** 3;
    const load = { power: (T: number) => 1e-9 + g * (T - 0.1), slope: () => g };
    const { temperatures } = solveSteady(onStage(load));
    const T = temperatures.get("chip")!;
    // With r = T/T₀: c T₀⁴ (r⁴ − 1) − 4 c T₀⁴ (r − 1) = P₀, that is (r − 1)² (r² + 2r + 3) = P₀/(c T₀⁴) = 1.
    const r = T / 0.1;
    expectAgree((r - 1) ** 2 * (r ** 2 + 2 * r + 3), 1);
    expect(T).toBeGreaterThan(0.1);
  });

  test("A load that outruns the link at every temperature is an error that says so.", () => {
    const runaway = onStage(power(1e-4, 4));
    expect(() => solveSteady(runaway)).toThrow(SolveError);
    expect(() => solveSteady(runaway)).toThrow(/^steady: no balance below 5000 K; .* "chip"/);
  });

  test("Of three states the answer is one that does not run away.", () => {
    // A step in the load: 0.1 nW cold, 50 nW more above 0.2 K; a cold state, a warm one, and between
    // them one where the load rises faster than the link can carry.
    const load = {
      power: (T: number) => 1e-10 + 5e-8 / (1 + Math.exp((0.2 - T) / 0.005)),
      slope: (T: number) => {
        const e = Math.exp((0.2 - T) / 0.005);
        return (5e-8 / 0.005) * (e / (1 + e) ** 2);
      },
    };
    const T = solveSteady(onStage(load)).temperatures.get("chip")!;
    const excess = (x: number) => load.power(x) - 1e-5 * (x ** 4 - 1e-4);
    expect(Math.abs(excess(T))).toBeLessThan(1e-12 * 1e-5 * T ** 4 + 1e-22);
    // Heat left over above the answer would heat it further.
    expect(excess(T * 1.001)).toBeLessThan(0);
    expect(excess(T / 1.001)).toBeGreaterThan(0);
  });
});

test("Half a million solves leave the heap as it was.", () => {
  const steady = new SteadyNetwork(
    network({ stage: 0.1 }, { chip: 7e-9 }, [
      ["chip", "pad", 3e-4, 4],
      ["pad", "stage", 2e-5, 2.5],
    ]),
  );
  const solve = (times: number) => {
    for (let i = 0; i < times; i++) {
      steady.setCount(1, 1 + (i % 100) / 100);
      steady.setLoad(0, 1e-9 * (1 + (i % 7)));
      steady.trySolve();
    }
  };
  // No time is measured; a number of 16 bytes kept for each solve would show as 8 MB.
  solve(10_000);
  const before = process.memoryUsage().heapUsed;
  solve(500_000);
  expect(process.memoryUsage().heapUsed - before).toBeLessThan(8e6);
});
