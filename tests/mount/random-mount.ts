/** Random mounts for property tests: odd but possible ones. */
import fc from "fast-check";
import type { Mount } from "../../src/mount/mount.js";
import type { MountLoad } from "../../src/mount/things/load.js";

const logarithmic = (low: number, high: number) =>
  fc.double({ min: Math.log(low), max: Math.log(high), noNaN: true }).map(Math.exp);

const load: fc.Arbitrary<MountLoad> = fc.oneof(
  fc.record({
    kind: fc.constant("given" as const),
    power: logarithmic(1e-13, 1e-7),
    on: fc.constantFrom("die" as const, "box" as const),
  }),
  fc.record({
    kind: fc.constant("optical" as const),
    pixels: fc.integer({ min: 1, max: 5000 }),
    powerPerPixel: logarithmic(1e-15, 1e-11),
  }),
  fc.record({
    kind: fc.constant("readout" as const),
    tones: fc.integer({ min: 1, max: 2000 }),
    powerPerTone: logarithmic(1e-15, 1e-11),
    internalQuality: logarithmic(1e4, 1e7),
    couplingQuality: logarithmic(1e3, 1e6),
  }),
  fc.record({
    kind: fc.constant("conduction" as const),
    material: fc.constantFrom("stainless-steel", "nbti"),
    count: fc.integer({ min: 1, max: 20 }),
    length: logarithmic(0.05, 1),
    diameter: logarithmic(2e-5, 5e-4),
    from: logarithmic(0.7, 4),
    on: fc.constant("box" as const),
  }),
);

const clamp = fc.record({
  faces: fc.constantFrom("sapphire on copper", "sapphire on silicon"),
  force: logarithmic(0.5, 30),
  count: fc.integer({ min: 1, max: 8 }),
});

/** Mounts with bonds and a two-node die; ranges of temperature and size wider than anyone builds. */
export const randomMount: fc.Arbitrary<Mount> = fc
  .record(
    {
      die: fc.record(
        {
          material: fc.constantFrom("silicon", "sapphire"),
          width: logarithmic(4e-3, 0.1),
          length: logarithmic(4e-3, 0.1),
          thickness: logarithmic(1e-4, 0.99e-3),
          specularity: fc.double({ min: 0, max: 0.9, noNaN: true }),
          model: fc.constantFrom("two nodes" as const, "one node" as const),
        },
        { requiredKeys: ["material", "width", "length", "thickness", "model"] },
      ),
      pads: fc.record({
        material: fc.constantFrom("gold", "copper"),
        width: logarithmic(1e-4, 4e-4),
        length: logarithmic(1e-4, 1e-3),
        thickness: logarithmic(5e-8, 3e-6),
        residualResistivityRatio: logarithmic(1.5, 50),
      }),
      bonds: fc.record(
        {
          material: fc.constantFrom("gold", "copper", "silver"),
          count: fc.integer({ min: 1, max: 1000 }),
          diameter: logarithmic(1e-5, 4.5e-5),
          length: logarithmic(2e-4, 2e-2),
          residualResistivityRatio: logarithmic(2, 500),
          footResistance: logarithmic(1e-6, 1e-1),
          edges: fc.constantFrom(1 as const, 2 as const, 3 as const, 4 as const),
        },
        {
          requiredKeys: ["material", "count", "diameter", "length", "residualResistivityRatio"],
        },
      ),
      clamps: fc.array(clamp, { maxLength: 2 }),
      box: fc.record({
        material: fc.constant("copper"),
        residualResistivityRatio: logarithmic(5, 500),
        crossSection: logarithmic(1e-6, 1e-3),
        pathLength: logarithmic(1e-3, 0.3),
      }),
      joint: fc.record({ resistance: logarithmic(1e-9, 1e-4) }),
      stage: logarithmic(0.02, 0.3),
      loads: fc.array(load, { minLength: 1, maxLength: 4 }),
    },
    { requiredKeys: ["die", "pads", "bonds", "box", "joint", "stage", "loads"] },
  )
  .map((parts) => ({ name: "random", ...parts, limit: { rise: 0.01 } }) as Mount);

const film = fc.record({
  material: fc.constantFrom("gold", "copper"),
  thickness: logarithmic(5e-8, 3e-6),
  residualResistivityRatio: logarithmic(1.5, 50),
});
const readout = fc.record({
  kind: fc.constant("readout" as const),
  tones: fc.integer({ min: 1, max: 2000 }),
  powerPerTone: logarithmic(1e-15, 1e-9),
  couplingQuality: logarithmic(1e3, 1e6),
  resonator: fc.record({
    superconductor: fc.constant("aluminium"),
    frequency: logarithmic(3e8, 1e10),
    kineticInductanceFraction: fc.double({ min: 0.01, max: 1, noNaN: true }),
    otherQuality: logarithmic(1e4, 1e8),
  }),
});
const millimetre = fc.record({
  kind: fc.constant("millimetre" as const),
  pixels: fc.integer({ min: 1, max: 2000 }),
  from: fc.constant(130e9),
  to: logarithmic(140e9, 300e9),
  source: fc.record({ temperature: logarithmic(3, 300) }),
  map: fc.constantFrom(
    { kind: "uniform" } as const,
    { kind: "spot", x: 2e-3, y: 1e-3, radius: 5e-4 } as const,
    {
      kind: "pixels",
      rows: [
        [1, 2],
        [0, 3],
      ],
    } as const,
  ),
});
const stage = fc.oneof(
  logarithmic(0.02, 0.3),
  fc.constant({
    coolingCurve: {
      points: [
        [0.09, 0],
        [0.13, 1e-4],
        [0.5, 1e-2],
      ],
    },
  } as const),
  fc.constant({ dilution: { circulation: "0.3 mmol/s", base: "20 mK" } } as const),
);

/** Mounts whose die is a sheet, held by pads, a ring, a back or glue, with loads that depend on it. */
export const randomSheet: fc.Arbitrary<Mount> = fc
  .tuple(
    randomMount,
    fc.constantFrom("pads" as const, "ring" as const, "back" as const, "glue" as const),
    film,
    fc.array(fc.oneof(readout, millimetre), { minLength: 1, maxLength: 2 }),
    stage,
  )
  .map(([mount, holder, metal, loads, cold]) => {
    const { pads, bonds, die, ...rest } = mount;
    const joint = { faces: "gold-plated copper on gold-plated copper", force: 50 };
    const held = {
      pads: { pads, bonds: { ...bonds!, count: Math.min(bonds!.count, 12) } },
      ring: { ring: { ...metal, width: 3e-4 }, bonds },
      back: { back: { film: metal, joint } },
      glue: { glue: { glue: "epoxy", area: 1e-6, thickness: 3e-5, count: 4 } },
    }[holder];
    const { model, ...plate } = die;
    return { ...rest, ...held, die: { ...plate, cells: 32 }, loads, stage: cold } as Mount;
  });
