import fc from "fast-check";
import { expect, test } from "vitest";
import { Elimination } from "../../src/network/elimination.js";

/** Dense elimination with exchange of rows. */
function denseSolve(matrix: readonly (readonly number[])[], right: readonly number[]): number[] {
  const rows = matrix.map((row, i) => [...row, right[i]!]);
  const n = rows.length;
  for (let k = 0; k < n; k++) {
    let best = k;
    for (let i = k; i < n; i++) if (Math.abs(rows[i]![k]!) > Math.abs(rows[best]![k]!)) best = i;
    [rows[k], rows[best]] = [rows[best]!, rows[k]!];
    for (let i = k + 1; i < n; i++) {
      const factor = rows[i]![k]! / rows[k]![k]!;
      for (let j = k; j <= n; j++) rows[i]![j]! -= factor * rows[k]![j]!;
    }
  }
  const x = new Array<number>(n).fill(0);
  for (let k = n - 1; k >= 0; k--) {
    let sum = rows[k]![n]!;
    for (let j = k + 1; j < n; j++) sum -= rows[k]![j]! * x[j]!;
    x[k] = sum / rows[k]![k]!;
  }
  return x;
}

/** Lays couplings and column sums out in an array of numbers and solves. */
function sparseSolve(
  size: number,
  couplings: readonly (readonly [row: number, column: number, value: number])[],
  sums: readonly number[],
  right: readonly number[],
  pattern: {
    readonly links: readonly (readonly [number, number])[];
    readonly cliques: readonly (readonly number[])[];
  } = { links: couplings.map(([row, column]) => [row, column] as const), cliques: [] },
) {
  const { links, cliques } = pattern;
  const elimination = new Elimination(size, links, size, 2 * size, 0, cliques);
  const numbers = new Float64Array(2 * size + elimination.couplings);
  numbers.set(right);
  numbers.set(sums, size);
  for (const [row, column, value] of couplings) {
    numbers[elimination.position(row, column)]! += value;
  }
  const failed = elimination.solve(numbers);
  return { failed, x: [...numbers.subarray(0, size)], couplings: elimination.couplings };
}

test("Elimination agrees with dense elimination on random networks.", () => {
  const positive = fc.double({ min: 0.01, max: 1, noNaN: true });
  const cases = fc.integer({ min: 2, max: 12 }).chain((size) =>
    fc.record({
      size: fc.constant(size),
      couplings: fc.array(
        fc
          .tuple(fc.nat(size - 1), fc.nat(size), positive)
          .map(
            ([row, away, value]) => [row, (row + 1 + (away % (size - 1))) % size, value] as const,
          ),
        { maxLength: 30 },
      ),
      sums: fc.array(positive, { minLength: size, maxLength: size }),
      right: fc.array(fc.double({ min: -1, max: 1, noNaN: true }), {
        minLength: size,
        maxLength: size,
      }),
    }),
  );
  fc.assert(
    fc.property(cases, ({ size, couplings, sums, right }) => {
      const matrix = Array.from({ length: size }, () => new Array<number>(size).fill(0));
      sums.forEach((sum, i) => {
        matrix[i]![i]! += sum;
      });
      for (const [row, column, value] of couplings) {
        matrix[row]![column]! -= value;
        matrix[column]![column]! += value;
      }
      const { failed, x } = sparseSolve(size, couplings, sums, right);
      expect(failed).toBe(-1);
      denseSolve(matrix, right).forEach((expected, i) => {
        expect(Math.abs(x[i]! - expected)).toBeLessThan(1e-10);
      });
    }),
    { seed: 7, numRuns: 1000 },
  );
});

test("Forty nodes that all but a few touch each other agree too: their rest is kept dense.", () => {
  // Pseudo-random by a linear congruence, so that the case is the same every time.
  let state = 12345;
  const next = () => {
    state = (1103515245 * state + 12345) % 2 ** 31;
    return state / 2 ** 31;
  };
  for (const density of [0.5, 0.8, 1]) {
    const size = 41;
    const couplings: [number, number, number][] = [];
    for (let a = 0; a < size; a++) {
      for (let b = 0; b < a; b++) {
        if (next() < density) couplings.push([a, b, next()], [b, a, next()]);
      }
    }
    const sums = Array.from({ length: size }, () => 0.01 + next());
    const right = Array.from({ length: size }, () => next() - 0.5);
    const matrix = Array.from({ length: size }, () => new Array<number>(size).fill(0));
    sums.forEach((sum, i) => {
      matrix[i]![i]! += sum;
    });
    for (const [row, column, value] of couplings) {
      matrix[row]![column]! -= value;
      matrix[column]![column]! += value;
    }
    const { failed, x } = sparseSolve(size, couplings, sums, right);
    expect(failed).toBe(-1);
    denseSolve(matrix, right).forEach((expected, i) => {
      expect(Math.abs(x[i]! - expected)).toBeLessThan(1e-11);
    });
  }
});

test("A clique is all its pairs, in whatever order they are eliminated, overlapping others or not.", () => {
  const unknowns = (size: number) => fc.uniqueArray(fc.nat(size - 1), { maxLength: size });
  const cases = fc.integer({ min: 2, max: 40 }).chain((size) =>
    fc.record({
      size: fc.constant(size),
      cliques: fc.array(unknowns(size), { minLength: 1, maxLength: 4 }),
      chain: fc.boolean(),
    }),
  );
  fc.assert(
    fc.property(cases, ({ size, cliques, chain }) => {
      const links = Array.from({ length: chain ? size - 1 : 0 }, (_, i) => [i, i + 1] as const);
      const within = cliques.flatMap((nodes) =>
        nodes.flatMap((a, i) => nodes.slice(i + 1).map((b) => [a, b] as const)),
      );
      const couplings = [...links, ...within].flatMap(([a, b], k) => [
        [a, b, 0.1 + ((7 * k) % 11)] as const,
        [b, a, 0.1 + ((5 * k) % 13)] as const,
      ]);
      const sums = Array.from({ length: size }, (_, i) => 0.01 + (i % 3));
      const right = Array.from({ length: size }, (_, i) => Math.sin(i));
      const byPairs = sparseSolve(size, couplings, sums, right);
      const byCliques = sparseSolve(size, couplings, sums, right, { links, cliques });
      expect([byPairs.failed, byCliques.failed]).toEqual([-1, -1]);
      byPairs.x.forEach((x, i) => {
        expect(Math.abs(byCliques.x[i]! - x)).toBeLessThan(1e-10);
      });
    }),
    { seed: 11, numRuns: 400 },
  );
});

test("A body's symmetric columns, and nodes that come before it, agree with dense elimination.", () => {
  const cases = fc.integer({ min: 17, max: 30 }).chain((contacts) =>
    fc.record({
      contacts: fc.constant(contacts),
      // Nodes outside the body, each linked to some of its contacts and to the box.
      outside: fc.array(fc.uniqueArray(fc.nat(contacts - 1), { maxLength: 4 }), { maxLength: 6 }),
      linked: fc.array(fc.tuple(fc.nat(contacts - 1), fc.nat(contacts - 1)), { maxLength: 3 }),
      shuffle: fc.nat(1000),
    }),
  );
  fc.assert(
    fc.property(cases, ({ contacts, outside, linked, shuffle }) => {
      const size = contacts + outside.length + 1;
      // Nodes in an order of their own, so that contacts are neither first nor last.
      const names = Array.from({ length: size }, (_, i) => i).sort(
        (a, b) => ((a * 7919 + shuffle) % 104729) - ((b * 7919 + shuffle) % 104729),
      );
      const box = size - 1;
      const slope = (i: number) => 0.2 + ((5 * i) % 9);
      const couplings: (readonly [number, number, number])[] = [];
      for (let i = 0; i < contacts; i++) {
        for (let j = 0; j < i; j++) {
          const entry = 0.1 + ((i * j) % 7);
          couplings.push([i, j, entry * slope(j)], [j, i, entry * slope(i)]);
        }
        couplings.push([box, i, 1 + (i % 3)], [i, box, 2 - (i % 2)]);
      }
      const pairs = linked.filter(([a, b]) => a !== b).map(([a, b]) => [a, b] as const);
      outside.forEach((these, k) => {
        for (const node of [...these, box]) pairs.push([contacts + k, node]);
      });
      for (const [a, b] of pairs) couplings.push([a, b, 0.3 + (a % 4)], [b, a, 0.7 + (b % 5)]);
      for (let i = 0; i < contacts; i++) pairs.push([i, box]);
      const sums = Array.from({ length: size }, (_, i) => (i === box ? 2 : 0.01 * (i % 4)));
      const right = Array.from({ length: size }, (_, i) => Math.sin(i));
      const matrix = Array.from({ length: size }, () => new Array<number>(size).fill(0));
      for (const [i, sum] of sums.entries()) matrix[i]![i]! += sum;
      for (const [row, column, value] of couplings) {
        matrix[row]![column]! -= value;
        matrix[column]![column]! += value;
      }
      const at = (i: number) => names[i]!;
      const elimination = new Elimination(
        size,
        pairs.map(([a, b]) => [at(a), at(b)]),
        size,
        2 * size,
        0,
        [Array.from({ length: contacts }, (_, i) => at(i))],
      );
      const numbers = new Float64Array(2 * size + elimination.couplings);
      for (let i = 0; i < size; i++) {
        numbers[at(i)] = right[i]!;
        numbers[size + at(i)] = sums[i]!;
        if (i < contacts) elimination.scales[at(i)] = slope(i);
      }
      for (const [row, column, value] of couplings) {
        numbers[elimination.position(at(row), at(column))]! += value;
      }
      expect(elimination.solve(numbers)).toBe(-1);
      const expectSolved = (expected: readonly number[]) => {
        for (const [i, x] of expected.entries()) {
          expect(Math.abs(numbers[at(i)]! - x)).toBeLessThan(1e-9 * (1 + Math.abs(x)));
        }
      };
      expectSolved(denseSolve(matrix, right));
      for (const transposed of [false, true]) {
        right.forEach((value, i) => {
          numbers[at(i)] = value - 0.2;
        });
        elimination.solveAgain(numbers, transposed);
        const other = transposed ? matrix[0]!.map((_, j) => matrix.map((row) => row[j]!)) : matrix;
        expectSolved(
          denseSolve(
            other,
            right.map((value) => value - 0.2),
          ),
        );
      }
    }),
    { seed: 3, numRuns: 300 },
  );
});

test("Two nodes coupled 1e30 times more strongly than they are held keep all their digits.", () => {
  // Both rise by the load over what leads out: 1 W over 1 W/K.
  const { x } = sparseSolve(
    2,
    [
      [0, 1, 1e30],
      [1, 0, 1e30],
    ],
    [0, 1],
    [1, 0],
  );
  expect(x[0]).toBeCloseTo(1, 15);
  expect(x[1]).toBeCloseTo(1, 15);
});

test("A pivot that is not positive is reported by its node.", () => {
  expect(sparseSolve(2, [], [1, 0], [1, 1]).failed).toBe(1);
  expect(sparseSolve(2, [], [-1, 1], [1, 1]).failed).toBe(0);
  expect(sparseSolve(1, [], [Number.NaN], [1]).failed).toBe(0);
  expect(sparseSolve(1, [], [Number.POSITIVE_INFINITY], [1]).failed).toBe(0);
});

test("A tree of nodes is eliminated without fill, a ring of n with n - 3 pairs of it.", () => {
  const chain = Array.from({ length: 19 }, (_, i) => [i, i + 1, 1] as const);
  const both = (list: typeof chain) =>
    list.flatMap(([a, b, g]) => [[a, b, g] as const, [b, a, g] as const]);
  const ones = new Array<number>(20).fill(1);
  expect(sparseSolve(20, both(chain), ones, ones).couplings).toBe(2 * 19);
  const ring = [...chain, [19, 0, 1] as const];
  expect(sparseSolve(20, both(ring), ones, ones).couplings).toBe(2 * (20 + 17));
});

test("What isn't coupled has no position.", () => {
  const elimination = new Elimination(3, [[0, 1]], 3, 6, 0);
  expect(elimination.position(0, 2)).toBe(-1);
  expect(elimination.position(2, 2)).toBe(5);
});

test("The factors solve the transposed too, with chains, fill and a dense rest.", () => {
  // 40 nodes of which 24 are all coupled, with a chain from each of 16 of them; nothing symmetric.
  const size = 40;
  const dense = 24;
  const value = (i: number, j: number) => 0.1 + ((7 * i + 13 * j + 3 * i * j) % 17) / 17;
  const pairs: [number, number][] = [];
  for (let i = 0; i < dense; i++) for (let j = 0; j < i; j++) pairs.push([i, j]);
  for (let k = 0; k < size - dense; k++) pairs.push([dense + k, k], [dense + k, (k + 5) % dense]);
  const elimination = new Elimination(size, pairs, size, 2 * size, 0);
  const numbers = new Float64Array(2 * size + elimination.couplings);
  const matrix = Array.from({ length: size }, () => new Array<number>(size).fill(0));
  for (let i = 0; i < size; i++) {
    numbers[size + i] = value(i, i) / 9;
    matrix[i]![i]! += value(i, i) / 9;
  }
  for (const [a, b] of pairs) {
    for (const [row, column] of [
      [a, b],
      [b, a],
    ] as const) {
      numbers[elimination.position(row, column)]! += value(row, column);
      matrix[row]![column]! -= value(row, column);
      matrix[column]![column]! += value(row, column);
    }
  }
  const transposed = matrix.map((_, i) => matrix.map((row) => row[i]!));
  expect(elimination.solve(numbers)).toBe(-1);
  for (let trial = 0; trial < 2; trial++) {
    const right = matrix.map((_, i) => ((5 * i + 3 + trial) % 11) / 11);
    numbers.set(right);
    elimination.solveAgain(numbers, true);
    denseSolve(transposed, right).forEach((x, i) => {
      expect(Math.abs(numbers[i]! / x - 1)).toBeLessThan(1e-12);
    });
  }
});

test("Another right-hand side is solved by the factors, as by a new elimination; grids and dense rests.", () => {
  for (const n of [3, 12, 30]) {
    const place = (i: number, j: number) => i * n + j;
    const pairs: (readonly [number, number])[] = [];
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < n; j++) {
        if (i + 1 < n) pairs.push([place(i, j), place(i + 1, j)]);
        if (j + 1 < n) pairs.push([place(i, j), place(i, j + 1)]);
      }
    }
    const couplings = pairs.flatMap(([a, b], k): (readonly [number, number, number])[] => [
      [a, b, 1 + (k % 7)],
      [b, a, 2 + (k % 5)],
    ]);
    const size = n * n;
    const sums = Array.from({ length: size }, (_, i) => (i % 11 === 0 ? 0.5 : 0));
    const right = (shift: number) =>
      Array.from({ length: size }, (_, i) => Math.sin(3 * i + shift));
    const elimination = new Elimination(size, pairs, size, 2 * size, 0);
    const numbers = new Float64Array(2 * size + elimination.couplings);
    numbers.set(right(0));
    numbers.set(sums, size);
    for (const [row, column, value] of couplings) {
      numbers[elimination.position(row, column)]! += value;
    }
    expect(elimination.solve(numbers)).toBe(-1);
    numbers.set(right(1));
    elimination.solveAgain(numbers);
    const { x } = sparseSolve(size, couplings, sums, right(1));
    x.forEach((value, i) => {
      expect(Math.abs(numbers[i]! / value - 1)).toBeLessThan(1e-9);
    });
    // The residual, from the couplings themselves.
    const residual = right(1).map((value, i) => value - sums[i]! * x[i]!);
    for (const [row, column, value] of couplings) {
      residual[row]! += value * x[column]!;
      residual[column]! -= value * x[column]!;
    }
    expect(Math.max(...residual.map(Math.abs))).toBeLessThan(1e-9);
  }
});

test("A grid of 10,000 nodes is ordered so that it fills with fewer than 40 couplings a node.", () => {
  // Nested dissection, the best order known, would fill a grid of n nodes with about (31/4) n log₂ n of
  // entries below the diagonal (George, SIAM J. Numer. Anal. 10, 345 (1973)): 103 a node here.
  const n = 100;
  const pairs: (readonly [number, number])[] = [];
  for (let i = 0; i < n * n; i++) {
    if (i % n < n - 1) pairs.push([i, i + 1]);
    if (i + n < n * n) pairs.push([i, i + n]);
  }
  const { couplings } = new Elimination(n * n, pairs, 0, 0, 0);
  expect(couplings / 2 / (n * n)).toBeLessThan(40);
});

test("A rest kept dense names the unknown whose pivot is not positive, or not finite.", () => {
  const size = 40;
  const couplings = Array.from({ length: size }, (_, i) => i).flatMap((i) =>
    Array.from({ length: size }, (_, j) => [i, j, i === j ? 0 : 1] as const).filter(
      ([, , value]) => value > 0,
    ),
  );
  const right = new Array<number>(size).fill(1);
  const none = new Array<number>(size).fill(0);
  // Nothing is lost to fixed temperatures: what is left for the last pivot is 0.
  expect(sparseSolve(size, couplings, none, right).failed).toBeGreaterThanOrEqual(0);
  // One that is lost is a way out for all; all then carry their watt there: x of the lost one is the sum.
  const one = sparseSolve(
    size,
    couplings,
    none.map((_, i) => +(i === 7)),
    right,
  );
  expect(one.failed).toBe(-1);
  expect(one.x[7]! / size).toBeCloseTo(1, 12);
  for (const [node, sum] of [
    [7, Number.POSITIVE_INFINITY],
    [8, Number.NaN],
    [9, -1e3],
  ] as const) {
    const sums = none.map((_, i) => (i === node ? sum : 1));
    expect(sparseSolve(size, couplings, sums, right).failed).toBe(node);
  }
});
