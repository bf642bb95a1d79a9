/**
 * What holds of every run in time. Networks, stores, pulses and loads at random; seeds are fixed.
 * @module
 */
import fc from "fast-check";
import { expect, test } from "vitest";
import type { NetworkDescription } from "../../src/network/description.js";
import { runInTime } from "../../src/network/transient.js";
import { described, randomNetworks } from "./networks.js";
import { powerStore } from "./stores.js";

const logarithmic = (low: number, high: number) =>
  fc
    .double({ min: Math.log10(low), max: Math.log10(high), noNaN: true })
    .map((exponent) => 10 ** exponent);

/** A random network in which most nodes store heat, c over ten decades, and pulses that warm it. */
const randomRuns = randomNetworks.chain((random) => {
  const n = random.loads.length;
  return fc.record({
    random: fc.constant(random),
    stores: fc.array(
      fc.option(
        fc.record({
          coefficient: logarithmic(1e-14, 1e-4),
          exponent: fc.oneof(fc.constantFrom(1, 2, 4), fc.double({ min: 1, max: 4, noNaN: true })),
        }),
        { freq: 4 },
      ),
      { minLength: n, maxLength: n },
    ),
    duration: logarithmic(1e-6, 1e4),
    // Node and time as parts, energy in parts of what is stored there at 0.1 K.
    pulses: fc.array(
      fc.record({
        node: fc.double({ min: 0, max: 0.999, noNaN: true }),
        time: fc.double({ min: 0, max: 0.999, noNaN: true }),
        part: logarithmic(1e-3, 1e3),
      }),
      { minLength: 1, maxLength: 3 },
    ),
    swing: fc.double({ min: 0, max: 1, noNaN: true }),
  });
});

type RandomRun = typeof randomRuns extends fc.Arbitrary<infer T> ? T : never;

function prepared({ random, stores, duration, pulses, swing }: RandomRun) {
  const bare = described(random);
  const description: NetworkDescription = {
    ...bare,
    nodes: bare.nodes.map((node, i) => {
      // The first always stores some, so that there is a run.
      const store = stores[i] ?? (i === 0 ? { coefficient: 1e-9, exponent: 2 } : undefined);
      return store ? { ...node, store: powerStore(store.coefficient, store.exponent) } : node;
    }),
  };
  const storing = description.nodes.filter((node) => node.store && node.temperature === undefined);
  return {
    description,
    options: {
      duration,
      pulses: pulses
        .map(({ node, time, part }) => {
          const { name, store } = storing[Math.floor(node * storing.length)]!;
          return { time: time * duration, node: name, energy: part * store!.enthalpy(0.1) };
        })
        .sort((a, b) => a.time - b.time),
      loads: [
        {
          node: storing[0]!.name,
          power: (t: number) => 1e-10 * swing * (1 + Math.sin((20 * t) / duration)),
        },
      ],
    },
  };
}

test("Heat given is heat gone and heat stored, no temperature is below the coldest stage, and none is NaN.", () => {
  let steps = 0;
  fc.assert(
    fc.property(randomRuns, (run) => {
      const { description, options } = prepared(run);
      const solution = runInTime(description, options);
      steps += solution.steps;
      expect(Math.abs(solution.energy.imbalance)).toBeLessThan(1e-7);
      const half = solution.energyAt(options.duration / 2);
      expect(Math.abs(half.imbalance)).toBeLessThan(1e-7);
      const coldest = Math.min(...run.random.fixed);
      for (const node of solution.nodes) {
        const series = solution.temperatures(node);
        expect(series.every((T) => T > coldest * (1 - 1e-5) && T < 1e6)).toBe(true);
      }
    }),
    { seed: 11, numRuns: 300, endOnFailure: true },
  );
  expect(steps).toBeGreaterThan(300 * 30);
}, 30_000);

test("A tighter tolerance changes no temperature by more than the looser one allows, times ten.", () => {
  fc.assert(
    fc.property(randomRuns, (run) => {
      const { description, options } = prepared(run);
      const loose = runInTime(description, { ...options, relativeTolerance: 1e-5 });
      const tight = runInTime(description, { ...options, relativeTolerance: 1e-8 });
      for (const part of [0.1, 0.5, 0.9, 1]) {
        for (const [node, T] of tight.at(part * options.duration)) {
          const ratio = loose.temperature(node, part * options.duration) / T;
          expect(Math.abs(ratio - 1)).toBeLessThan(1e-4);
        }
      }
    }),
    { seed: 12, numRuns: 100, endOnFailure: true },
  );
});
