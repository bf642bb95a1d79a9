import { describe, expect, it } from "vitest";
import { particleHits } from "../../src/loads/particle-source.js";
import type { Mount } from "../../src/mount/mount.js";
import { particleSources } from "../../src/mount/particle-sources.js";
import { readMount } from "../../src/mount/read.js";
import type { MountLoad } from "../../src/mount/things/load.js";
import { random } from "../../src/numerics/random.js";
import { catalogue } from "../loads/catalogue.js";
import { kolmogorovSmirnov, moments } from "../numerics/statistics.js";
import { exampleMount } from "./example.js";

const keV = 1.602176634e-16;
const withLoads = (...loads: readonly MountLoad[]) =>
  readMount({ ...exampleMount(), loads } satisfies Mount);
const sourcesFor = (...loads: readonly MountLoad[]) =>
  particleSources(withLoads(...loads), catalogue);
const placesOf = (map: NonNullable<Extract<MountLoad, { kind: "background" }>["map"]>) => {
  const [{ source }] = sourcesFor({
    kind: "background",
    rate: 1,
    energy: "1 keV",
    map,
  }) as [ReturnType<typeof sourcesFor>[0]];
  const stream = random(31);
  return Array.from({ length: 5000 }, () => source.draw(stream).place!);
};

const loads = [
  { kind: "muons", tilt: "30 deg", fluctuation: "landau" },
  { kind: "given", power: "1 nW" },
  { kind: "background", rate: 0.02, energy: "200 keV" },
  {
    kind: "background",
    name: "gammas",
    spectrum: { csv: "energy [keV],rate [1/(keV s)]\n40,1e-4\n240,0" },
  },
  {
    kind: "background",
    name: "room",
    powerPerMass: 2.7e-11,
    spectrum: { from: "40 keV", to: "2 MeV" },
  },
  { kind: "background", name: "box", on: "box", rate: 5, energy: "300 keV" },
] as const satisfies readonly MountLoad[];

describe("particles of a mount", () => {
  it("bring as hits the power that the budget has", () => {
    const mount = withLoads(...loads);
    const particles = particleSources(mount, catalogue);
    expect(particles.map(({ source, on, load }) => [source.name, on, load.field])).toEqual([
      ["muons", "die", "loads[0]"],
      ["background", "die", "loads[2]"],
      ["gammas", "die", "loads[3]"],
      ["room", "die", "loads[4]"],
      ["box", "box", "loads[5]"],
    ]);
    for (const { source, load } of particles) {
      const heat = load.heat(mount, catalogue, 0.1);
      expect(heat.name).toBe(source.name);
      expect((source.rate * source.energy) / heat.power).toBeCloseTo(1, 12);
    }
    // A triangle from 40 to 240 keV: 0.01 hits/s of 106.67 keV on average.
    expect(particles[2]!.source.rate).toBeCloseTo(0.01, 12);
    expect(particles[2]!.source.energy / keV).toBeCloseTo(40 + 200 / 3, 9);
    const { energy, place } = particles[4]!.source.draw(random(1));
    expect(energy / keV).toBeCloseTo(300, 9);
    expect(place).toBeUndefined();
  });

  it("fall on the die, in the order of time", () => {
    const { die } = withLoads(...loads);
    const sources = sourcesFor(...loads.slice(0, 4)).map(({ source }) => source);
    const hits = particleHits(sources, { duration: "10 h", seed: 2 });
    expect(hits.length).toBeGreaterThan(500);
    for (const { place } of hits) {
      expect(place!.x > 0 && place!.x < die.width && place!.y > 0 && place!.y < die.length).toBe(
        true,
      );
    }
  });

  it("fall by the load's map", () => {
    const inside = placesOf({
      kind: "rectangle",
      left: "2 mm",
      right: "4 mm",
      bottom: 0,
      top: "1 mm",
    });
    expect(
      kolmogorovSmirnov(
        inside.map(({ x }) => x),
        (x) => (x - 2e-3) / 2e-3,
      ),
    ).toBeLessThan(1.63);
    expect(
      kolmogorovSmirnov(
        inside.map(({ y }) => y),
        (y) => y / 1e-3,
      ),
    ).toBeLessThan(1.63);

    const spot = placesOf({ kind: "spot", x: "8 mm", y: "10 mm", radius: "1 mm" });
    const { mean, variance } = moments(spot.map(({ x }) => x));
    expect(mean).toBeCloseTo(8e-3, 4);
    expect(variance / 1e-6).toBeCloseTo(1, 1);
    // At the rim the half beyond it is left out, as of the map of mean heat.
    const rim = placesOf({ kind: "spot", x: 0, y: "10 mm", radius: "1 mm" });
    expect(Math.min(...rim.map(({ x }) => x))).toBeGreaterThan(0);

    const { die } = withLoads();
    const pixels = placesOf({
      kind: "pixels",
      rows: [
        [0, 1],
        [3, 0],
      ],
    });
    const upper = pixels.filter(({ x, y }) => y > die.length / 2 && x < die.width / 2).length;
    const lower = pixels.filter(({ x, y }) => y < die.length / 2 && x > die.width / 2).length;
    expect(upper + lower).toBe(5000);
    expect(Math.abs(upper - 3750)).toBeLessThan(3 * Math.sqrt(5000 * 0.75 * 0.25));
  });

  it.each([
    [
      { kind: "muons", fluctuation: "moyal" },
      'loads[0].fluctuation: expected "none" or "landau", got "moyal"',
    ],
    [
      { kind: "muons", exponent: -1 },
      "loads[0].exponent: expected a power of the cosine from 0 to 20, got -1",
    ],
    [
      { kind: "background", rate: -1, energy: 1 },
      "loads[0].rate: expected a number in 1/s, greater than 0, got -1",
    ],
    [{ kind: "background", rate: 1 }, "loads[0]: expected an object with one of energy, spectrum"],
    [
      { kind: "background", powerPerMass: 1e-11 },
      "loads[0].spectrum: expected how the heat is shared among hits",
    ],
    [
      { kind: "background", powerPerMass: 1e-11, on: "box" },
      'loads[0].on: expected "die", whose mass it goes by, got "box"',
    ],
    [
      { kind: "background", rate: 1, spectrum: { form: 1 } },
      'loads[0].spectrum.form: field "form" is not known, did you mean "from"?',
    ],
    [
      { kind: "background", rate: 1, spectrum: { csv: "a", points: [] } },
      "loads[0].spectrum: expected only one of points, csv",
    ],
    [
      {
        kind: "background",
        rate: 1,
        spectrum: { csv: "energy [keV],weight\n2,1\n1,1", file: "room.csv" },
      },
      "room.csv:3 energy: expected each energy above the one before it",
    ],
    [
      {
        kind: "background",
        rate: 1,
        energy: 1e-15,
        map: { kind: "rectangle", left: 0, right: 1, bottom: 0, top: 1 },
      },
      "loads[0].map: expected a rectangle on the die",
    ],
    [
      { kind: "background", rate: 1, energy: 1e-15, map: { kind: "spot", x: 1, y: 0, radius: 1 } },
      "loads[0].map: expected a spot whose middle is on the die",
    ],
  ])("refuse %j", (load, message) => {
    expect(() => sourcesFor(load as never)).toThrow(message);
  });
});
