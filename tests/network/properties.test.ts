import fc from "fast-check";
import { expect, test } from "vitest";
import { powerConductor } from "../../src/conductor.js";
import type { NetworkDescription } from "../../src/network/description.js";
import { SolveError } from "../../src/network/solution.js";
import { SteadyNetwork, solveSteady } from "../../src/network/steady.js";
import { FieldError, UnknownNameError } from "../../src/units/errors.js";
import { cases } from "../slowly.js";
import { described, type RandomNetwork, randomNetworks } from "./networks.js";

const runs = { seed: 20240611, numRuns: cases(400) };

/** Temperatures of the free nodes, by number. */
const solved = (random: RandomNetwork) => {
  const { temperatures } = solveSteady(described(random));
  return random.loads.map((_, i) => temperatures.get(`${i}`)!);
};

const largestDifference = (a: readonly number[], b: readonly number[]) =>
  Math.max(...a.map((x, i) => Math.abs(x / b[i]! - 1)));

test("At every free node what flows out is the load, to 1e-10 of the largest heat that crosses one.", () => {
  fc.assert(
    fc.property(randomNetworks, (random) => {
      const { flows, imbalance } = solveSteady(described(random));
      const n = random.loads.length;
      const out = new Float64Array(n + 2);
      const crossing = new Float64Array(n + 2);
      for (const { from, to, power } of flows) {
        out[+from]! += power;
        out[+to]! -= power;
        crossing[+from]! += Math.abs(power);
        crossing[+to]! += Math.abs(power);
      }
      // Where nothing flows, what is left of rounding is nothing, too.
      const largest = Math.max(...crossing, ...random.loads, 1e-20);
      for (let i = 0; i < n; i++) {
        expect(Math.abs(out[i]! - random.loads[i]!)).toBeLessThanOrEqual(1e-10 * largest);
      }
      expect(imbalance.relative).toBeLessThan(1e-10);
    }),
    runs,
  );
});

test("Flows agree with the laws of the links at the temperatures found.", () => {
  fc.assert(
    fc.property(randomNetworks, (random) => {
      const { flows, temperatures } = solveSteady(described(random));
      random.links.forEach(({ from, to, coefficient, exponent }, i) => {
        const [hot, cold] = [temperatures.get(`${from}`)!, temperatures.get(`${to}`)!];
        const [a, b] = [coefficient * hot ** exponent, coefficient * cold ** exponent];
        // A temperature is known to its last digit, and Θ to `exponent` times that.
        expect(Math.abs(flows[i]!.power - (a - b))).toBeLessThanOrEqual(
          20 * exponent * Number.EPSILON * Math.max(a, b),
        );
      });
    }),
    runs,
  );
});

test("No free node is colder than the coldest fixed one, nor hotter without load than the hottest.", () => {
  fc.assert(
    fc.property(randomNetworks, (random) => {
      const loaded = Math.min(...solved(random));
      expect(loaded).toBeGreaterThanOrEqual(Math.min(...random.fixed) * (1 - 1e-14));
      const idle = solved({ ...random, loads: random.loads.map(() => 0) });
      expect(Math.max(...idle)).toBeLessThanOrEqual(Math.max(...random.fixed) * (1 + 1e-14));
    }),
    runs,
  );
});

test("Conductors and loads a thousandfold leave every temperature the same.", () => {
  fc.assert(
    fc.property(randomNetworks, fc.constantFrom(1e-3, 7, 1e3), (random, factor) => {
      const scaled = {
        ...random,
        loads: random.loads.map((load) => factor * load),
        links: random.links.map((l) => ({ ...l, coefficient: factor * l.coefficient })),
      };
      expect(largestDifference(solved(scaled), solved(random))).toBeLessThan(1e-12);
    }),
    runs,
  );
});

test("The order of declaration changes no temperature beyond rounding.", () => {
  fc.assert(
    fc.property(randomNetworks, fc.infiniteStream(fc.nat()), (random, numbers) => {
      const { nodes, links } = described(random);
      const shuffled = <T>(list: readonly T[]) =>
        list
          .map((item) => ({ item, key: numbers.next().value as number }))
          .sort((a, b) => a.key - b.key)
          .map(({ item }) => item);
      const turned = shuffled(links).map((l, i) => (i % 2 ? l : { ...l, from: l.to, to: l.from }));
      const { temperatures } = solveSteady({ nodes: shuffled(nodes), links: turned });
      const other = random.loads.map((_, i) => temperatures.get(`${i}`)!);
      expect(largestDifference(other, solved(random))).toBeLessThan(1e-12);
    }),
    runs,
  );
});

test("More load on one node cools none.", () => {
  fc.assert(
    fc.property(
      randomNetworks,
      fc.nat(),
      fc.double({ min: 1e-15, max: 1e-9, noNaN: true }),
      (random, at, more) => {
        const node = at % random.loads.length;
        const loads = random.loads.map((load, i) => (i === node ? load + more : load));
        const before = solved(random);
        solved({ ...random, loads }).forEach((T, i) => {
          expect(T).toBeGreaterThanOrEqual(before[i]! * (1 - 1e-13));
        });
      },
    ),
    runs,
  );
});

test("Where all heat leaves by one route, a better conductor in it heats no node.", () => {
  fc.assert(
    fc.property(randomNetworks, fc.nat(), (random, at) => {
      const n = random.loads.length;
      // A chain from node 0 to the first fixed one, each link with the law of the tree's.
      const links = random.links.slice(0, n).map((l, i) => ({ ...l, from: i, to: i + 1 }));
      const better = links.map((l, i) =>
        i === at % n ? { ...l, coefficient: 2 * l.coefficient } : l,
      );
      const before = solved({ ...random, links });
      solved({ ...random, links: better }).forEach((T, i) => {
        expect(T).toBeLessThanOrEqual(before[i]! * (1 + 1e-13));
      });
    }),
    runs,
  );
});

test("A link of two side by side is two links.", () => {
  fc.assert(
    fc.property(randomNetworks, (random) => {
      const twice = solved({ ...random, links: [...random.links, ...random.links] });
      const { nodes, links } = described(random);
      const { temperatures } = solveSteady({
        nodes,
        links: links.map((l) => ({ ...l, count: 2 })),
      });
      const counted = random.loads.map((_, i) => temperatures.get(`${i}`)!);
      expect(largestDifference(twice, counted)).toBeLessThan(1e-12);
    }),
    runs,
  );
});

test("A warm start, and a solve after any other, end at the temperatures of a cold start.", () => {
  fc.assert(
    fc.property(
      randomNetworks,
      fc.double({ min: 0.01, max: 20, noNaN: true }),
      (random, factor) => {
        const cold = solved(random);
        const network = new SteadyNetwork(described(random));
        random.loads.forEach((load, i) => {
          network.setLoad(i, factor * load);
        });
        expect(network.trySolve()).toBe(true);
        random.loads.forEach((load, i) => {
          network.setLoad(i, load);
        });
        expect(network.trySolve(200, "present")).toBe(true);
        const warm = random.loads.map((_, i) => network.temperatures[i]!);
        expect(largestDifference(warm, cold)).toBeLessThan(1e-12);
      },
    ),
    runs,
  );
});

/** Whatever may be written in a field of a network. */
const odd = fc.oneof(
  fc.constantFrom(0, -0, -1, Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY),
  fc.constantFrom(1e-300, 1e300, 5e-324, Number.MAX_VALUE, 1, 0.1),
  fc.double(),
);
const oddNetworks: fc.Arbitrary<NetworkDescription> = fc.record({
  nodes: fc.array(
    fc.record(
      {
        name: fc.constantFrom("a", "b", "c", "d", "e", ""),
        load: fc.oneof(
          odd,
          fc.record({ p: odd, q: odd }).map(({ p, q }) => ({ power: () => p, slope: () => q })),
        ),
        temperature: odd,
      },
      { requiredKeys: ["name"] },
    ),
    { maxLength: 6 },
  ),
  links: fc.array(
    fc.record(
      {
        name: fc.string({ maxLength: 3 }),
        from: fc.constantFrom("a", "b", "c", "d", "e", "f"),
        to: fc.constantFrom("a", "b", "c", "d", "e", "f"),
        conductor: fc.oneof(
          fc.tuple(odd, odd).map(([c, p]) => powerConductor(c, p)),
          fc.tuple(odd, odd).map(([G, Θ]) => ({ conductance: () => G, integral: () => Θ })),
        ),
        count: odd,
      },
      { requiredKeys: ["name", "from", "to", "conductor"] },
    ),
    { maxLength: 8 },
  ),
});

/** Solves, or throws an error that says something; never returns what is not a number. */
function answersOrComplains(description: NetworkDescription): "answer" | "complaint" {
  try {
    const { temperatures, flows, imbalance } = solveSteady(description);
    for (const T of temperatures.values()) expect(T).toBeGreaterThan(0);
    for (const T of temperatures.values()) expect(T).toBeLessThan(Number.POSITIVE_INFINITY);
    for (const { power } of flows) expect(power).not.toBeNaN();
    expect(imbalance.relative).toBeLessThan(1e-6);
    return "answer";
  } catch (error) {
    if (error instanceof SolveError) {
      expect(error.message).toMatch(/^steady: /);
    } else if (!(error instanceof FieldError) && !(error instanceof UnknownNameError)) {
      expect((error as Error).message).toMatch(/^network: (node|no node)/);
    }
    return "complaint";
  }
}

test("Odd input gives an answer or a complaint, and neither NaN nor an endless loop.", () => {
  fc.assert(
    fc.property(oddNetworks, (description) => {
      answersOrComplains(description);
    }),
    { ...runs, numRuns: cases(5000) },
  );
});

test("Sound networks with extreme numbers give an answer or a complaint.", () => {
  const extreme = fc.double({ min: -300, max: 300, noNaN: true }).map((exponent) => 10 ** exponent);
  const seen = { answer: 0, complaint: 0 };
  fc.assert(
    fc.property(
      randomNetworks,
      fc.infiniteStream(extreme),
      fc.boolean(),
      (random, numbers, all) => {
        const next = () => numbers.next().value as number;
        const links = random.links.map((l) => ({
          ...l,
          coefficient: all ? next() : l.coefficient,
        }));
        const loads = random.loads.map(() => next());
        seen[answersOrComplains(described({ ...random, links, loads }))]++;
      },
    ),
    { ...runs, numRuns: cases(2000) },
  );
  expect(seen.answer).toBeGreaterThan(0);
  expect(seen.complaint).toBeGreaterThan(0);
});
