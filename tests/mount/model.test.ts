/** A model that is set again and again gives what a new model of the changed mount gives. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { withField } from "../../src/design/field.js";
import { MountModel } from "../../src/mount/model.js";
import type { Mount, PlainMount } from "../../src/mount/mount.js";
import { numbersOf, readMount } from "../../src/mount/read.js";
import type { DieModel } from "../../src/mount/things/die.js";
import type { MountLoad } from "../../src/mount/things/load.js";
import { SolveError } from "../../src/network/solution.js";
import { randomMount, randomSheet } from "./random-mount.js";
import { catalogue, dieModels, padded, smallest } from "./things/smallest.js";

const runs = { numRuns: 25, seed: 20261129 };

/** All that a model says of its steady state, or how it refuses. */
function stateOf(model: MountModel): unknown {
  try {
    const { reading, chip, stage, loads } = model.point();
    return [
      [...reading.temperatures],
      [...reading.flows],
      chip,
      stage,
      loads.map(({ load }) => load.power),
      model.limit?.(stage),
    ];
  } catch (error) {
    return (error as Error).message;
  }
}

const fresh = (mount: PlainMount, die: DieModel) =>
  stateOf(new MountModel(mount, catalogue, { die }));

/** The fields of a mount that are moved, each by a factor near 1, or by 1. */
function moves(mount: Mount, picks: readonly { readonly at: number; readonly by: number }[]) {
  const fields = [...numbersOf(mount).values()].filter(({ field }) => field !== "die.cells");
  return picks.map(({ at, by }) => {
    const { field, whole, value } = fields[at % fields.length]!;
    return [field, whole ? value + (by > 1 ? 1 : 0) : value * by] as const;
  });
}

const picks = fc.array(
  fc.record({ at: fc.nat(), by: fc.double({ min: 0.9, max: 1.1, noNaN: true }) }),
  { minLength: 2, maxLength: 6 },
);

/** Sets fields one by one, and holds each state against that of a new model. */
function follows(mount: Mount, steps: readonly (readonly [string, number])[], die: DieModel): void {
  // The fewest phonons: what is compared are bits.
  if (die === "flights") mount = { ...mount, die: { ...mount.die, rays: 256 } };
  const model = new MountModel(readMount(mount), catalogue, { die });
  stateOf(model);
  let changed = mount;
  for (const [field, value] of steps) {
    const next = withField(changed, field, value);
    try {
      readMount(next);
    } catch {
      continue;
    }
    changed = next;
    model.set(field, value);
    expect(stateOf(model)).toEqual(fresh(readMount(changed), die));
  }
}

describe("a model of a mount", () => {
  it.each(["one node", "two nodes"] as const)(
    "is to the last digit a new one of the changed mount: %s",
    (die) => {
      fc.assert(
        fc.property(randomMount, picks, (mount, chosen) =>
          follows(mount, moves(mount, chosen), die),
        ),
        runs,
      );
    },
  );

  it("is so on a 2-D die", () => {
    fc.assert(
      fc.property(randomSheet, picks, (mount, chosen) =>
        follows(mount, moves(mount, chosen.slice(0, 2)), "sheet"),
      ),
      { ...runs, numRuns: 8 },
    );
  });

  it("comes to the same state from the one before", () => {
    fc.assert(
      fc.property(randomMount, picks, (mount, chosen) => {
        const [near, cold] = [0, 1].map(
          () => new MountModel(readMount(mount), catalogue, { die: "two nodes" }),
        ) as [MountModel, MountModel];
        near.solve();
        let changed = mount;
        for (const [field, value] of moves(mount, chosen)) {
          changed = withField(changed, field, value);
          try {
            readMount(changed);
          } catch {
            return;
          }
          for (const model of [near, cold]) model.set(field, value);
          near.solve("present");
          cold.solve();
          for (const place of near.places) {
            expect(near.temperature(place) / cold.temperature(place)).toBeCloseTo(1, 13);
          }
        }
      }),
      runs,
    );
  });

  it("starts from the cold where a load rises with temperature", () => {
    const superconductor = { material: "aluminium", criticalTemperature: 1.2 } as const;
    const readout: MountLoad = {
      kind: "readout",
      tones: 100,
      powerPerTone: 1e-12,
      couplingQuality: 4e4,
      resonator: { superconductor, frequency: 5e9, kineticInductanceFraction: 0.1 },
    };
    const plain = readMount(smallest({ ...padded, stage: 0.25, loads: [readout] }));
    const model = new MountModel(plain, catalogue, { die: "two nodes" });
    const bits = (stage: number, start: "cold" | "present") => {
      model.set("stage", stage);
      model.solve(start);
      return model.temperature(model.chip);
    };
    for (const stage of [0.25, 0.2501, 0.2504, 0.21]) {
      const near = bits(stage, "present");
      bits(0.1, "cold");
      expect(bits(stage, "cold")).toBe(near);
    }
  });

  it("knows the values of a field that goes to and fro", () => {
    fc.assert(
      fc.property(randomMount, picks, (mount, chosen) => {
        const plain = readMount(mount);
        const model = new MountModel(plain, catalogue, { die: "two nodes" });
        const [[field, other]] = moves(mount, chosen) as [readonly [string, number]];
        model.vary(field);
        const before = stateOf(model);
        const changed = withField(mount, field, other);
        try {
          readMount(changed);
        } catch {
          return;
        }
        model.set(field, other);
        const there = stateOf(model);
        expect(there).toEqual(fresh(readMount(changed), "two nodes"));
        model.set(field, new MountModel(plain, catalogue).value(field));
        expect(stateOf(model)).toEqual(before);
        model.set(field, other);
        expect(stateOf(model)).toEqual(there);
      }),
      runs,
    );
  });

  it("takes the numbers of another mount, and forgets what it knew", () => {
    fc.assert(
      fc.property(randomMount, picks, (mount, chosen) => {
        const model = new MountModel(readMount(mount), catalogue, { die: "one node" });
        const [[field, other]] = moves(mount, chosen) as [readonly [string, number]];
        model.set(field, model.value(field));
        stateOf(model);
        const next = withField(mount, field, other);
        try {
          readMount(next);
        } catch {
          return;
        }
        model.take(readMount(next), catalogue);
        expect(stateOf(model)).toEqual(fresh(readMount(next), "one node"));
      }),
      runs,
    );
  });

  const twelve = smallest({
    pads: { ...padded.pads, width: 1e-4 },
    bonds: { ...padded.bonds, count: 12, perPad: 1, pitch: 2e-4, edges: 4, footRadius: 2.5e-5 },
  });
  const { pads: _, ...bare } = twelve;
  const onRing: Mount = {
    ...bare,
    ring: { material: "gold", width: 3e-4, thickness: 1e-6, residualResistivityRatio: 5 },
  };
  const clamped = smallest({
    clamps: [1, 2].map((count) => ({ faces: "sapphire on silicon", force: 3, count })),
  });
  const branching: readonly (readonly [
    name: string,
    mount: Mount,
    steps: readonly (readonly [string, number])[],
  ])[] = [
    [
      "bonds to a pad",
      twelve,
      [
        ["bonds.perPad", 3],
        ["bonds.count", 11],
        ["bonds.perPad", 2],
        ["bonds.count", 12],
      ],
    ],
    [
      "edges with bonds",
      twelve,
      [
        ["bonds.edges", 2],
        ["die.length", 5e-3],
        ["bonds.edges", 1],
        ["die.width", 5e-3],
      ],
    ],
    [
      "radius of a foot",
      twelve,
      [
        ["bonds.footRadius", 4e-5],
        ["bonds.diameter", 2e-5],
        ["bonds.footRadius", 3e-5],
      ],
    ],
    [
      "a pitch",
      twelve,
      [
        ["bonds.pitch", 3e-4],
        ["pads.width", 1.5e-4],
        ["bonds.pitch", 2.5e-4],
      ],
    ],
    // Clamps without places stand one after the other.
    [
      "clamps before others",
      clamped,
      [
        ["die.width", 5e-3],
        ["clamps.0.count", 2],
        ["clamps.0.force", 4],
      ],
    ],
    // From half of the die on, feet on a ring crowd: their film is counted by another rule.
    [
      "feet that crowd a ring",
      onRing,
      [
        ["bonds.count", 400],
        ["ring.width", 2e-4],
        ["bonds.count", 12],
        ["ring.width", 4e-4],
      ],
    ],
  ];
  it.each(branching.flatMap((each) => dieModels.map((die) => [...each, die] as const)))(
    "makes nothing of stale numbers: %s",
    (_name, mount, steps, die) => follows(mount, steps, die),
  );

  it("leaves the mount that it was made of as it is", () => {
    const plain = readMount(twelve);
    const copy = structuredClone(plain);
    const model = new MountModel(plain, catalogue);
    model.set("bonds.length", 1e-3);
    expect(plain).toEqual(copy);
    expect(model.mount.bonds!.length).toBe(1e-3);
    expect(model.value("bonds.length")).toBe(1e-3);
  });

  it.each(dieModels)("leaves a result as it was when numbers are set later: %s", (die) => {
    const model = new MountModel(readMount(twelve), catalogue, { die });
    const point = model.point();
    const said = () => [
      [...point.reading.temperatures],
      [...point.reading.flows],
      [...point.solution.temperatures],
      point.chip,
      point.stage,
      [...point.conductors].map(([name, { integral }]) => [name, integral(0.2)]),
      point.network.nodes.map(({ name, temperature }) => [name, temperature]),
    ];
    const before = said();
    model.set("bonds.length", 4e-3);
    model.set("stage", 0.2);
    model.solve();
    expect(said()).toEqual(before);
    expect(model.point().stage).toBeCloseTo(0.2, 12);
  });

  it.each(["one node", "two nodes"] as const)(
    "carries what it had found in its error: %s",
    (die) => {
      const nothing: MountLoad = { kind: "given", power: 0 };
      const hot: MountLoad = { kind: "given", power: 1e40 };
      const model = (load: MountLoad) =>
        new MountModel(readMount({ ...twelve, loads: [load] }), catalogue, { die });
      expect(model(nothing).point().chip).toBeCloseTo(0.1, 9);
      let caught: unknown;
      try {
        model(hot).point();
      } catch (error) {
        caught = error;
      }
      expect(caught).toBeInstanceOf(SolveError);
      expect((caught as SolveError).solution).toMatchObject({ status: "not converged" });
    },
  );

  it("reads every place into an array, and widens its extent", () => {
    const model = new MountModel(readMount(twelve), catalogue, { die: "one node" });
    const size = model.places.length;
    const [low, high] = [new Float64Array(size).fill(9), new Float64Array(size)];
    const { places } = model;
    const all = new Float64Array(2 * size);
    model.solve();
    model.readInto(all, 0);
    model.widen(places, low, high);
    const cold = all.slice(0, size);
    model.set("stage", 0.2);
    model.solve();
    model.readInto(all, size);
    model.widen(places, low, high);
    expect([...low]).toEqual([...cold]);
    expect([...high]).toEqual([...all.slice(size)]);
    model.places.forEach((place, i) => {
      expect(all[size + i]).toBe(model.temperature(place));
    });
  });
});
