import { describe, expect, it } from "vitest";
import { background, backgroundHits } from "../../src/loads/background.js";
import { muonHits, muons } from "../../src/loads/muons.js";
import { particleHits } from "../../src/loads/particle-source.js";
import { random } from "../../src/numerics/random.js";
import { kolmogorovSmirnov, moments } from "../numerics/statistics.js";
import { catalogue } from "./catalogue.js";

const keV = 1.602176634e-16;
const chip = { material: "silicon", width: "5 mm", length: "5 mm", thickness: "0.5 mm" } as const;
const plate = { material: "silicon", width: 10, length: 10, thickness: 1e-4 } as const;

const hitsOf = (source: ReturnType<typeof muonHits>, count: number, seed = 1) => {
  const stream = random(seed);
  return Array.from({ length: count }, () => source.draw(stream));
};

describe("muons as hits", () => {
  it.each([0, 0.5, Math.PI / 2])(
    "bring the power of muons(), at a tilt of %d rad, for every law of angles",
    (tilt) => {
      for (const exponent of [0, 2, 3.5]) {
        const options = { ...chip, tilt, exponent };
        const source = muonHits(options, catalogue);
        expect(source.rate * source.energy).toBeCloseTo(muons(options, catalogue).power, 25);
        const n = 20_000;
        const { mean, variance } = moments(hitsOf(source, n).map(({ energy }) => energy));
        expect(Math.abs(mean - source.energy)).toBeLessThan(3 * Math.sqrt(variance / n));
      }
    },
  );

  it("cross a wide plate at sec θ, of which a share s^−(n+2) lies above s", () => {
    // Of cosⁿθ · cosθ dΩ, with c = cosθ: P(c < 1/s) = s^−(n+2).
    for (const exponent of [0, 2, 4]) {
      const secants = hitsOf(muonHits({ ...plate, exponent, flux: 100 }, catalogue), 20_000, 5).map(
        ({ path }) => path! / 1e-4,
      );
      expect(kolmogorovSmirnov(secants, (s) => 1 - Math.max(1, s) ** -(exponent + 2))).toBeLessThan(
        1.63,
      );
    }
  });

  it("take 4/3 of a thin plate's thickness on average under cos², and twice it where all is alike", () => {
    // Mean of sec θ is (n + 2)/(n + 1); a plate is 5 orders wider than thick.
    const mean = (exponent: number) => {
      const source = muonHits({ ...plate, exponent, flux: 1 }, catalogue);
      return source.energy / muonHits({ ...plate, exponent: 20, flux: 1 }, catalogue).energy;
    };
    expect(mean(2) / (4 / 3 / (22 / 21))).toBeCloseTo(1, 4);
    expect(mean(0) / (2 / (22 / 21))).toBeCloseTo(1, 4);
  });

  it("take 4V/S on average through any box where all directions are alike, as Cauchy found", () => {
    for (const [width, length, thickness] of [
      [1, 1, 1],
      [3e-3, 2e-3, 1e-3],
      [10e-3, 4e-3, 0.35e-3],
    ] as const) {
      const box = { material: "silicon", width, length, thickness, exponent: 0, flux: 5e4 };
      const expected =
        (4 * width * length * thickness) /
        (2 * (width * length + width * thickness + length * thickness));
      const heat = muons(box, catalogue);
      expect(heat.details["mean path [m]"]! / expected).toBeCloseTo(1, 6);
      const n = 20_000;
      const { mean, variance } = moments(hitsOf(muonHits(box, catalogue), n).map((h) => h.path!));
      expect(Math.abs(mean - expected)).toBeLessThan(3 * Math.sqrt(variance / n));
      // Isotropic: flux is 2πI through a face from both sides, and the rate πI S = flux S/2.
      expect(
        heat.details["rate [1/s]"]! / ((5e4 * 2 * width * length * thickness) / expected),
      ).toBeCloseTo(1, 6);
    }
  });

  it("leave a die hit in space the energy at which its glitches set in", () => {
    // Planck Collaboration, Planck 2013 results X, Astron. Astrophys. 571, A10 (2014), figure 24: a break at
    // about 140 keV. A particle of least ionisation straight through 350 µm of silicon (thickness from
    // memory): 2.329 g/cm³ × 1.664 MeV cm²/g × 350 µm = 135.6 keV, the least that any leaves.
    const die = {
      material: "silicon",
      width: "10 mm",
      length: "10 mm",
      thickness: "350 um",
    } as const;
    const space = muonHits({ ...die, exponent: 0, flux: 2.5e4 }, catalogue);
    const through = hitsOf(space, 20_000).filter(({ path }) => path! >= 350e-6);
    const least = Math.min(...through.map(({ energy }) => energy));
    expect(least / (135.6 * keV)).toBeGreaterThan(0.999);
    expect(least / (140 * keV)).toBeLessThan(1.05);
    expect(Math.abs(least / (140 * keV) - 1)).toBeLessThan(0.05);
    // Nearly all go from face to face; only those by the rim leave less.
    expect(through.length / 20_000).toBeGreaterThan(0.9);
  });

  it("fall evenly on a wide die, and on both of its halves alike at a tilt", () => {
    const places = hitsOf(muonHits({ ...plate }, catalogue), 20_000, 3).map(({ place }) => place!);
    expect(
      kolmogorovSmirnov(
        places.map(({ x }) => x / 10),
        (u) => u,
      ),
    ).toBeLessThan(1.63);
    expect(
      kolmogorovSmirnov(
        places.map(({ y }) => y / 10),
        (u) => u,
      ),
    ).toBeLessThan(1.63);
    const tilted = hitsOf(muonHits({ ...chip, tilt: 0.7 }, catalogue), 20_000, 4);
    for (const axis of ["x", "y"] as const) {
      const values = tilted.map(({ place }) => place![axis]);
      expect(Math.min(...values)).toBeGreaterThan(0);
      expect(Math.max(...values)).toBeLessThan(5e-3);
      const { mean, variance } = moments(values);
      expect(Math.abs(mean - 2.5e-3)).toBeLessThan(3 * Math.sqrt(variance / 20_000));
    }
  });

  it("are a fifth of what an unshielded chip was measured to receive, and a third at its altitude", () => {
    // J. W. Fowler et al., PRX Quantum 5, 040323 (2024), abstract: 0.023 hits/s above 40 keV and 4.9 keV/s in
    // 25 mm² × 0.5 mm of silicon. Sea level: 106 /(m² s sr).
    const source = muonHits(chip, catalogue);
    const above = hitsOf(source, 20_000).filter(({ energy }) => energy > 40 * keV).length / 20_000;
    const hits = (source.rate * above) / 0.023;
    const power = (source.rate * source.energy) / (4.9 * keV);
    expect(above).toBeGreaterThan(0.93);
    expect(hits).toBeCloseTo(0.194, 2);
    expect(power).toBeCloseTo(0.219, 2);
    // Twice as many at 2 km (Particle Data Group, from memory), so 1.77 times at 1650 m: still a minority.
    const flux = 2 ** (1650 / 2000) * 106 * (Math.PI / 2);
    const high = muonHits({ ...chip, flux }, catalogue);
    expect((high.rate * above) / 0.023).toBeCloseTo(0.343, 2);
    expect((high.rate * high.energy) / (4.9 * keV)).toBeCloseTo(0.388, 2);
  });

  it("keep their mean energy when it fluctuates, while most leave less", () => {
    const options = { ...plate, exponent: 20, flux: 1, thickness: 5e-4 } as const;
    const steady = muonHits(options, catalogue);
    const source = muonHits({ ...options, fluctuation: "landau" }, catalogue);
    expect(source.energy).toBe(steady.energy);
    const n = 200_000;
    const energies = hitsOf(source, n).map(({ energy }) => energy);
    const { mean, variance } = moments(energies);
    expect(Math.abs(mean - source.energy)).toBeLessThan(3 * Math.sqrt(variance / n));
    expect((3 * Math.sqrt(variance / n)) / source.energy).toBeLessThan(0.01);
    const middle = energies.sort((a, b) => a - b)[n / 2]!;
    expect(middle / source.energy).toBeLessThan(0.82);
  });

  it.each([
    [
      { ...chip, fluctuation: "gauss" },
      'sky.fluctuation: expected "none" or "landau", got "gauss"',
    ],
    [{ ...chip, flux: -1 }, "sky.flux: expected a number in 1/(m^2 s), greater than 0, got -1"],
    [{ material: "silicon", area: 1, thickness: 1 }, 'sky.area: field "area" is not known'],
    [{ ...chip, tilt: "3 K" }, 'sky.tilt: expected an angle such as "30 deg"'],
  ])("refuse %j", (options, message) => {
    expect(() => muonHits(options as never, catalogue, "sky")).toThrow(message);
  });
});

describe("background as hits", () => {
  const die = { width: "4 mm", length: "8 mm" } as const;

  it("brings the power of background(), evenly over the die", () => {
    const options = {
      material: "silicon",
      area: "32 mm^2",
      thickness: "0.5 mm",
      spectrum: { from: "40 keV", to: "1 MeV" },
      die,
    } as const;
    const source = backgroundHits(options, catalogue);
    expect(source.energy / (520 * keV)).toBeCloseTo(1, 12);
    const { die: _, ...mean } = options;
    expect((source.rate * source.energy) / background(mean, catalogue).power).toBeCloseTo(1, 12);
    const hits = hitsOf(source, 20_000);
    expect(
      kolmogorovSmirnov(
        hits.map(({ place }) => place!.x / 4e-3),
        (u) => u,
      ),
    ).toBeLessThan(1.63);
    expect(
      kolmogorovSmirnov(
        hits.map(({ place }) => place!.y / 8e-3),
        (u) => u,
      ),
    ).toBeLessThan(1.63);
    expect(
      kolmogorovSmirnov(
        hits.map(({ energy }) => energy / keV),
        (e) => (e - 40) / 960,
      ),
    ).toBeLessThan(1.63);
  });

  it("has one energy when only that is given, and no place without a die", () => {
    const hit = backgroundHits({ rate: 0.02, energy: "200 keV" }).draw(random(1));
    expect(hit.energy / (200 * keV)).toBeCloseTo(1, 12);
    expect(hit).not.toHaveProperty("place");
  });

  it.each([
    [{ mass: 1e-3 }, "cave.spectrum: expected how the heat is shared among hits, got undefined"],
    [
      { rate: -1, spectrum: { from: 1e-15, to: 2e-15 } },
      "cave.rate: expected a number in 1/s, greater than 0",
    ],
    [
      { spectrum: { from: 1e-15, to: 2e-15 } },
      "cave.rate: expected hits a second, or a spectrum with a rate of its own",
    ],
    [
      { rate: 2, spectrum: { lines: [{ energy: "1 keV", rate: 1 }] } },
      'cave.rate: expected no rate, since the spectrum has its own, got "2 1/s"',
    ],
    [
      { mass: 2, spectrum: { lines: [{ energy: "1 keV", rate: 1 }] } },
      "cave.spectrum: expected shares or weights, since powerPerMass tells",
    ],
    [{ rate: 1, energy: 0 }, "cave.energy: expected an energy"],
    [
      { rate: 1, energy: "1 keV", spectrum: { from: 1e-15, to: 2e-15 } },
      'cave: expected only one of energy, spectrum, got "energy and spectrum"',
    ],
    [{}, "cave: expected an object with one of energy, spectrum"],
    [
      { rate: 1, energy: "1 keV", die: { width: 0, length: 1 } },
      "cave.die.width: expected a length",
    ],
  ])("refuses %j", (options, message) => {
    expect(() => backgroundHits(options as never, catalogue, "cave")).toThrow(message);
  });
});

describe("hits of several sources", () => {
  const fast = backgroundHits({ name: "fast", rate: 3, energy: "100 keV" });
  const slow = backgroundHits({ name: "slow", rate: 1, energy: "1 MeV" });
  const hits = particleHits([fast, slow], { duration: "5000 s", seed: 8 });

  it("come in time's order, as a Poisson process of the summed rate", () => {
    const gaps = hits.map(({ time }, i) => time - (hits[i - 1]?.time ?? 0));
    expect(Math.min(...gaps)).toBeGreaterThanOrEqual(0);
    expect(kolmogorovSmirnov(gaps, (t) => 1 - Math.exp(-4 * t))).toBeLessThan(1.63);
    // 20000 on average, with a standard deviation of √20000.
    expect(Math.abs(hits.length - 20_000)).toBeLessThan(3 * Math.sqrt(20_000));
    const ofSlow = hits.filter(({ source }) => source === "slow").length;
    expect(Math.abs(ofSlow - 5000)).toBeLessThan(3 * Math.sqrt(5000));
    // Counts of a second: variance as large as their mean.
    const counts = new Array<number>(5000).fill(0);
    for (const { time } of hits) counts[Math.floor(time)]!++;
    const { mean, variance } = moments(counts);
    expect(Math.abs(variance / mean - 1)).toBeLessThan(3 * Math.sqrt(2 / 5000));
  });

  it("bring the mean power within the scatter of a count", () => {
    const power = hits.reduce((sum, { energy }) => sum + energy, 0) / 5000;
    const mean = fast.rate * fast.energy + slow.rate * slow.energy;
    // Variance of a compound Poisson process: Σ rate × energy² over the time.
    const error = Math.sqrt((fast.rate * fast.energy ** 2 + slow.rate * slow.energy ** 2) / 5000);
    expect(Math.abs(power - mean)).toBeLessThan(3 * error);
  });

  it("are the same for the same seed, and stay when a source is added behind", () => {
    expect(particleHits([fast, slow], { duration: 5000, seed: 8 })).toEqual(hits);
    const first = particleHits([fast], { duration: 5000, seed: 8 });
    expect(hits.filter(({ source }) => source === "fast")).toEqual(first);
    expect(particleHits([fast], { duration: 5000, seed: 9 })).not.toEqual(first);
  });

  it("are refused when there are too many, with how long one may ask for", () => {
    expect(() => particleHits([fast, slow], { duration: "1 day", seed: 1 })).toThrow(
      'hits.duration: expected at most 25.0 ks, in which 100000 hits come on average (raise `most` for more), got "1 day"',
    );
    expect(() => particleHits([fast], { duration: 0, seed: 1 })).toThrow(
      "hits.duration: expected a time",
    );
    expect(() => particleHits([fast], { duration: 1, seed: -1 })).toThrow(
      "seed: expected a whole number",
    );
    expect(particleHits([], { duration: 1, seed: 1 })).toEqual([]);
  });
});
