/** The first microseconds of a hit, against what follows from their rates by hand. */
import { describe, expect, it } from "vitest";
import { DieBox, type DieBoxOptions } from "../../../src/chip/flights/box.js";
import {
  type Absorber,
  absorbedShare,
  type BurstMedium,
  type BurstStart,
  followBurst,
  stillFlying,
} from "../../../src/chip/flights/burst.js";
import { type FaceContact, lookupOf, tilesOf } from "../../../src/chip/flights/face-contacts.js";
import { random } from "../../../src/numerics/random.js";

/** Rates of silicon from data/materials/silicon.csv; speeds likewise. */
const silicon: BurstMedium = {
  longitudinal: 8970,
  transverse: 5330,
  isotopes: 2.43e-42,
  decay: 7.4e-56,
};

function followed(
  size: DieBoxOptions,
  medium: BurstMedium,
  start: BurstStart,
  contacts: readonly FaceContact[],
  { count = 4000, until = 1e-3, absorber = { transmission: 1 } as Absorber, seed = 1 } = {},
) {
  const box = new DieBox(size);
  const tiles = contacts.length > 0 ? tilesOf(box, contacts) : [];
  const space = { box, medium, lookup: lookupOf(box, tiles), absorbers: tiles.map(() => absorber) };
  return { tiles, ...followBurst(space, start, count, until, random(seed)) };
}

const front = (side: number): FaceContact => ({
  name: "front",
  area: { left: 0, right: side, bottom: 0, top: side },
});
const mean = (values: Iterable<number>) => {
  const all = [...values];
  return all.reduce((sum, each) => sum + each, 0) / all.length;
};

describe("phonons of a hit", () => {
  it("fly straight where nothing scatters them: a sixth to each face of a cube, L and T by their speeds", () => {
    const faces = ["left", "right", "lower", "upper", "back", "front"] as const;
    const contacts = faces.map((face) => ({
      name: face,
      area: { face, left: 0, right: 1e-3, bottom: 0, top: 1e-3 },
    }));
    const free = { ...silicon, isotopes: 0, decay: 0 };
    const cube = { width: 1e-3, length: 1e-3, thickness: 1e-3 };
    const middle = { x: 5e-4, y: 5e-4, z: 5e-4, frequency: 1e12 };
    const { ends, tiles, times } = followed(cube, free, middle, contacts, { count: 20000 });
    for (let contact = 0; contact < 6; contact++) {
      const share = mean([...ends].map((end) => (tiles[end]!.contact === contact ? 1 : 0)));
      // Four standard errors of a share of 1/6 of 20000.
      expect(Math.abs(share - 1 / 6)).toBeLessThan(4 * Math.sqrt(5 / 36 / 20000));
    }
    // None faster than longitudinal phonons straight, none slower than transverse ones into a corner.
    expect(Math.min(...times)).toBeGreaterThanOrEqual(5e-4 / 8970);
    expect(Math.max(...times)).toBeLessThanOrEqual((5e-4 * Math.sqrt(3)) / 5330 + 1e-12);
    // Density of states ∝ c⁻³: a tenth are longitudinal.
    const early = mean([...times].map((t) => (t < 5e-4 / 5330 ? 1 : 0)));
    expect(early).toBeGreaterThan(0.04);
    expect(early).toBeLessThan(0.95 * (8970 ** -3 / (8970 ** -3 + 2 * 5330 ** -3)) + 0.01);
  });

  it("split to lower frequencies as the fifth root of time (quasi-diffusion)", () => {
    // dν/dt ∝ −ν·ν⁵ where isotopes mix longitudinal and transverse phonons faster than they split: ν ∝ t^(−1/5).
    const size = { width: 1e-2, length: 1e-2, thickness: 1e-3, specularity: 1 };
    const at = (until: number) => {
      const start = { x: 5e-3, y: 5e-3, z: 5e-4, frequency: 4e12 };
      const { frequencies } = followed(size, silicon, start, [], { count: 500, until });
      return mean([...frequencies].map(Math.log));
    };
    const slope = (at(2e-4) - at(2e-6)) / Math.log(100);
    expect(slope).toBeGreaterThan(-0.22);
    expect(slope).toBeLessThan(-0.18);
    // Longitudinal phonons are a tenth, so a decay waits for ten lifetimes: ν = (s A t/…)^(−1/5), within a factor.
    const hz = Math.exp(at(1e-5));
    const simple = (0.1 * 7.4e-56 * 1e-5) ** -0.2;
    expect(hz / simple).toBeGreaterThan(0.5);
    expect(hz / simple).toBeLessThan(1.2);
  });

  it("in a millimetre of silicon: a third of those that come within a microsecond are ballistic", () => {
    // Measured with alpha particles at 400 mK: "about 1/3 of the phonon energy striking the back face during
    // the first μsec is ballistic" (Observation of ballistic phonons in silicon crystals induced by α
    // particles, Phys. Rev. Lett. (1990), abstract). Here: those whose path between isotopes exceeds 1 mm.
    const size = { width: 2e-2, length: 2e-2, thickness: 1e-3 };
    for (const frequency of [3e12, 4e12, 6e12]) {
      const start = { x: 1e-2, y: 1e-2, z: 1e-6, frequency };
      const { ends, times, frequencies } = followed(size, silicon, start, [front(2e-2)], {
        until: 5e-6,
      });
      const first = [...ends.keys()].filter((k) => ends[k]! >= 0 && times[k]! < 1e-6);
      const ballistic = first.filter((k) => 5700 / (2.43e-42 * frequencies[k]! ** 4) > 1e-3);
      expect(ballistic.length / first.length).toBeGreaterThan(0.25);
      expect(ballistic.length / first.length).toBeLessThan(0.5);
    }
  });

  it("are taken by a thin film as they break pairs on their way there and back", () => {
    // 100 nm of aluminium: with 0.28 ns and 3.26 km/s a path of 0.91 µm, 20 % straight there and back (from
    // S. B. Kaplan et al., Phys. Rev. B 14, 4854 (1976), table I, its time from memory).
    const film = { threshold: 88e9, depth: (3260 * 0.28e-9) / 100e-9 };
    expect(absorbedShare({ transmission: 1, film }, 88e9, 1)).toBeCloseTo(0.2, 2);
    expect(absorbedShare({ transmission: 0.5, film }, 88e9, 1)).toBeCloseTo(0.1, 2);
    expect(absorbedShare({ transmission: 1, film }, 87e9, 1)).toBe(0);
    expect(absorbedShare({ transmission: 1, film }, 88e9, 0.1)).toBeGreaterThan(0.8);
    expect(absorbedShare({ transmission: 0.7 }, 1e9, 1)).toBe(0.7);
  });

  it("keep all their energy: each packet is taken, or flies on", () => {
    const size = { width: 5e-3, length: 5e-3, thickness: 4e-4 };
    const pad = { name: "pad", area: { left: 0, right: 1e-3, bottom: 0, top: 1e-3 } };
    const start = { x: 4e-3, y: 4e-3, frequency: 3e12 };
    const { ends, times } = followed(size, silicon, start, [pad], { count: 500, until: 1e-5 });
    const flying = [...ends.keys()].filter((k) => ends[k] === stillFlying);
    expect(flying.length).toBeGreaterThan(0);
    expect(flying.length).toBeLessThan(500);
    for (const k of flying) expect(times[k]).toBe(1e-5);
    // The same seed, the same bits.
    const again = followed(size, silicon, start, [pad], { count: 500, until: 1e-5 });
    expect(again.times).toEqual(times);
  });

  it("spread faster along a die with mirrors than with faces that scatter", () => {
    // Measured pulses of 380 µm of silicon are those of faces like mirrors, not of diffuse ones: M. Martinez et
    // al., Phys. Rev. Applied 11 (2019), arXiv:1805.02495, abstract. Its pulses were not read: a sense.
    const start = { x: 1e-2, y: 1e-2, frequency: 3e12 };
    const spread = [0, 0.98].map((specularity) => {
      const size = { width: 2e-2, length: 2e-2, thickness: 2e-4, specularity };
      const { x, y } = followed(size, silicon, start, [], { count: 500, until: 1e-5 });
      return mean([...x].map((own, k) => (own - 1e-2) ** 2 + (y[k]! - 1e-2) ** 2));
    });
    expect(spread[1]! / spread[0]!).toBeGreaterThan(1.5);
  });
});
