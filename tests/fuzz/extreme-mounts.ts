/**
 * Mounts that nobody would build, but that a mount may be: sizes, purities, forces, temperatures and loads
 * over many decades, and every kind of holder beside every other.
 */
import fc from "fast-check";
import type { Mount } from "../../src/mount/mount.js";

const logarithmic = (low: number, high: number) =>
  fc.double({ min: Math.log(low), max: Math.log(high), noNaN: true }).map(Math.exp);
const part = fc.double({ min: 0.05, max: 0.95, noNaN: true });
const maybe = <T>(arbitrary: fc.Arbitrary<T>) => fc.option(arbitrary, { nil: undefined, freq: 2 });

const purity = logarithmic(1.01, 1e4);
const coupling = fc.record({
  coefficient: logarithmic(1e7, 1e11),
  exponent: fc.constantFrom(4, 5, 6),
});
const boundary = fc.oneof(
  fc.constant("diffuse mismatch" as const),
  fc.record({ resistance: logarithmic(1e-6, 1e-1) }),
);
/** Superconductors among them, whose electrons have no heat and no conductance far below T_c. */
const metals = ["gold", "copper", "silver", "aluminium", "niobium", "tantalum", "indium"];
const film = fc.record({
  material: fc.constantFrom(...metals),
  thickness: logarithmic(1e-9, 1e-5),
  residualResistivityRatio: purity,
  boundary,
  coupling,
});

const joint = fc.oneof(
  fc.record({
    faces: fc.constantFrom("gold-plated copper on gold-plated copper", "copper on copper"),
    force: logarithmic(0.1, 1e5),
    count: fc.integer({ min: 1, max: 50 }),
  }),
  fc.record({ resistance: logarithmic(1e-10, 1e-1), count: fc.integer({ min: 1, max: 50 }) }),
  fc.record({
    conductance: logarithmic(1e-12, 10),
    at: logarithmic(1e-2, 4),
    exponent: fc.double({ min: 0.5, max: 4, noNaN: true }),
  }),
);
const piece = { material: fc.constantFrom(...metals), residualResistivityRatio: purity };
const path = fc.array(
  fc.oneof(
    fc.record({
      kind: fc.constant("bar"),
      ...piece,
      crossSection: logarithmic(1e-9, 1e-2),
      length: logarithmic(1e-4, 2),
    }),
    fc.record({
      kind: fc.constant("strap"),
      ...piece,
      strands: fc.integer({ min: 1, max: 1e5 }),
      diameter: logarithmic(1e-6, 1e-3),
      length: logarithmic(1e-3, 2),
    }),
    fc.record({
      kind: fc.constant("plate"),
      ...piece,
      thickness: logarithmic(1e-4, 3e-2),
      innerRadius: logarithmic(1e-4, 5e-3),
      outerRadius: logarithmic(6e-3, 0.5),
    }),
    fc.record({ kind: fc.constant("joint"), joint }),
  ),
  { maxLength: 3 },
);

const wire = {
  material: fc.constantFrom(...metals),
  diameter: logarithmic(2e-6, 2e-5),
  length: logarithmic(3e-3, 5e-2),
  residualResistivityRatio: purity,
  footResistance: maybe(logarithmic(1e-9, 10)),
};
/** Parts of the die: a pad's side, and so on, so that what is drawn fits. */
const holders = fc.record({
  pads: maybe(fc.tuple(film, part, part)),
  bonds: fc.record({ ...wire, count: fc.integer({ min: 1, max: 12 }) }),
  groups: maybe(
    fc.array(fc.tuple(film, part, part, fc.integer({ min: 1, max: 4 }), fc.record(wire)), {
      minLength: 1,
      maxLength: 2,
    }),
  ),
  ring: maybe(film),
  glue: maybe(
    fc.record({
      glue: fc.constantFrom("epoxy", "varnish", "fast epoxy"),
      thickness: logarithmic(1e-6, 1e-3),
      count: fc.integer({ min: 1, max: 6 }),
    }),
  ),
  clamps: fc.array(
    fc.record({
      faces: fc.constantFrom("sapphire on copper", "sapphire on silicon"),
      force: logarithmic(1e-3, 1e3),
      count: fc.integer({ min: 1, max: 6 }),
    }),
    { maxLength: 2 },
  ),
  back: maybe(fc.tuple(film, joint)),
  patches: maybe(fc.tuple(film, maybe(joint), part, part)),
});

const load = (coldest: number) =>
  fc.oneof(
    {
      weight: 4,
      arbitrary: fc.record({ kind: fc.constant("given"), power: logarithmic(1e-20, 1e-4) }),
    },
    fc.record({
      kind: fc.constant("given"),
      power: logarithmic(1e-20, 1e-2),
      on: fc.constant("box"),
    }),
    fc.record({
      kind: fc.constant("optical"),
      pixels: fc.integer({ min: 1, max: 1e5 }),
      powerPerPixel: logarithmic(1e-18, 1e-10),
    }),
    fc.record({
      kind: fc.constant("readout"),
      tones: fc.integer({ min: 1, max: 5000 }),
      powerPerTone: logarithmic(1e-18, 1e-9),
      couplingQuality: logarithmic(1e2, 1e7),
      resonator: fc.record({
        superconductor: fc.constant("aluminium"),
        frequency: logarithmic(1e8, 3e10),
        kineticInductanceFraction: fc.double({ min: 1e-4, max: 1, noNaN: true }),
        otherQuality: logarithmic(1e3, 1e9),
      }),
    }),
    fc.record({
      kind: fc.constant("conduction"),
      material: fc.constantFrom("stainless-steel", "nbti"),
      count: fc.integer({ min: 1, max: 100 }),
      length: logarithmic(1e-3, 2),
      diameter: logarithmic(1e-6, 1e-3),
      from: fc.double({ min: 1, max: 4, noNaN: true }).map((times) => times * coldest),
      on: fc.constantFrom("box", "die"),
    }),
  );

const named = <T extends object>(list: readonly T[], of: string) =>
  list.map((each, i) => ({ name: `${of} ${i + 1}`, ...each }));

const die = fc.record({
  material: fc.constantFrom("silicon", "sapphire", "germanium"),
  width: logarithmic(2e-3, 0.15),
  length: logarithmic(2e-3, 0.15),
  thickness: logarithmic(1e-5, 1e-3),
  meanFreePath: maybe(logarithmic(1e-7, 0.1)),
  specularity: maybe(fc.double({ min: 0, max: 0.999, noNaN: true })),
});
const model = fc.constantFrom({ model: "two nodes" }, { model: "one node" });
const resolved = fc.constantFrom({ cells: 32 }, { cells: 64 });

const mounts = (models: fc.Arbitrary<object>, isResolved = false): fc.Arbitrary<Mount> =>
  logarithmic(1e-3, 2).chain((coldest) =>
    fc
      .record({
        die,
        kind: models,
        holders,
        box: fc.record({
          ...piece,
          crossSection: logarithmic(1e-8, 1e-2),
          pathLength: logarithmic(1e-4, 1),
          plating: maybe(
            fc.record({
              material: fc.constantFrom("gold", "copper"),
              thickness: logarithmic(1e-8, 1e-4),
              residualResistivityRatio: purity,
              width: logarithmic(1e-3, 0.1),
            }),
          ),
        }),
        path: maybe(path),
        joint,
        loads: fc.array(load(coldest), { minLength: 1, maxLength: 4 }),
      })
      .map(({ die, kind, holders, box, path, joint, loads }) => {
        const side = Math.min(die.width, die.length);
        return clean({
          name: "extreme",
          die: { ...die, thickness: Math.min(die.thickness, side / 10), ...kind },
          ...heldBy(holders, die.width, die.length, isResolved),
          box,
          path: path && named(path, "piece"),
          joint,
          stage: coldest,
          loads: named(loads, "load"),
          limit: { rise: 0.01 },
        }) as Mount;
      }),
  );

/** Holders that leave room for each other: a frame along the edges for the bonds, the middle for a patch. */
function heldBy(
  parts: typeof holders extends fc.Arbitrary<infer T> ? T : never,
  width: number,
  length: number,
  isResolved: boolean,
): Partial<Record<keyof Mount, unknown>> {
  const { pads, bonds, groups, ring, glue, clamps, back, patches } = parts;
  const side = Math.min(width, length);
  const least = 5e-5;
  // Pads of any sort end at a tenth of the side from the edge, and a patch begins at a fifth.
  const size = (most: number, share: number) => Math.max(least, most * share);
  const held: Partial<Record<keyof Mount, unknown>> = {};
  if (pads) {
    const [own, across, along] = pads;
    const most = side / (bonds.count + 2);
    held.pads = { ...own, width: size(most, across), length: size(side / 10, along) };
    held.bonds = bonds;
  } else if (groups) {
    held.padGroups = groups.map(([own, across, along, count], i) => ({
      ...own,
      name: `group ${i + 1}`,
      edge: i === 0 ? "left" : "right",
      count,
      width: size(side / 6, across),
      length: size(side / 10, along),
    }));
    held.bondGroups = groups.map(([, , , , own], i) => ({ ...own, pads: `group ${i + 1}` }));
  } else if (ring) {
    held.ring = { ...ring, width: size(side, 0.05) };
    held.bonds = bonds;
  }
  if (glue) held.glue = { ...glue, area: (side / 20) ** 2 };
  // On the 2-D die their squares may not lie where pads or glue do.
  const isFree = isResolved ? !(held.pads || held.padGroups || held.ring || glue) : !ring;
  if (clamps.length > 0 && isFree)
    held.clamps = named(isResolved ? clamps.slice(0, 1) : clamps, "clamps");
  // The back is either a film all over, or glue, or a patch.
  if (back && !glue) held.back = { film: back[0], joint: back[1] };
  if (patches) {
    const [own, pressed, across, along] = patches;
    const [w, l] = [0.3 * width * across, 0.3 * length * along];
    held.patches = [
      {
        ...own,
        name: "middle",
        face: back || glue ? "front" : "back",
        left: width / 2 - w,
        right: width / 2 + w,
        bottom: length / 2 - l,
        top: length / 2 + l,
        ...(!back && !glue && pressed && { joint: pressed }),
      },
    ];
  }
  const holds = held.bonds || held.bondGroups || held.glue || held.clamps || held.back;
  if (!holds) held.glue = { glue: "epoxy", thickness: 1e-5, count: 2, area: (side / 20) ** 2 };
  return held;
}

/** Without fields that are undefined, at any depth. */
function clean(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(clean);
  if (typeof value !== "object" || value === null) return value;
  const entries = Object.entries(value).filter(([, each]) => each !== undefined);
  return Object.fromEntries(entries.map(([key, each]) => [key, clean(each)]));
}

/** With one node or two on the die. */
export const extremeMounts = mounts(model);
/** With the 2-D model of the die. */
export const extremeDies = mounts(resolved, true);

/** What happens to a mount: times in parts of the run, energies of hits, loads off and on, a stage that moves. */
export const extremeCourses = fc.record({
  duration: logarithmic(1e-9, 1e6),
  hits: fc.array(fc.tuple(part, logarithmic(1e-20, 1e-6)), { maxLength: 3 }),
  initially: fc.constantFrom(0, 1, 0.5),
  changes: fc.array(fc.tuple(part, fc.constantFrom(0, 1, 3)), { maxLength: 2 }),
  stage: maybe(fc.tuple(part, fc.double({ min: 0.5, max: 3, noNaN: true }))),
  start: maybe(fc.double({ min: 1, max: 5, noNaN: true })),
});
