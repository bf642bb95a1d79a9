import { describe, expect, it } from "vitest";
import { landauLoss, mostProbableLoss } from "../../src/loads/energy-loss.js";
import { landau, landauAbove, landauCut, landauMeanBelow } from "../../src/loads/landau.js";
import { ionisation, leastLossMomentum, stoppingPower } from "../../src/loads/stopping-power.js";
import { integrate } from "../../src/numerics/quadrature.js";
import { random } from "../../src/numerics/random.js";
import { kolmogorovSmirnov, moments } from "../numerics/statistics.js";
import { catalogue } from "./catalogue.js";

const keV = 1.602176634e-16;
const muon = 105.6583755e3 * keV;

/** Landau's density by its integral, up to where it leaves nothing for λ above −3.3. */
const fine = 0.01;
const weights = Array.from({ length: 5000 }, (_, i) => {
  const t = (i + 0.5) * fine;
  return (Math.exp(-t * Math.log(t)) * Math.sin(Math.PI * t) * fine) / Math.PI;
});
function density(lambda: number): number {
  return weights.reduce((sum, w, i) => sum + w * Math.exp(-lambda * (i + 0.5) * fine), 0);
}

describe("Landau's law", () => {
  it("is drawn as its integral says", () => {
    // Cumulative share from the density on a fine grid up to 6.7, from there by landauAbove.
    const stream = random(21);
    const sample = Array.from({ length: 20_000 }, () => landau(stream));
    const low = -3.3;
    const step = 0.02;
    const share = [0];
    for (let i = 1; i <= 500; i++) {
      share.push(share[i - 1]! + step * density(low + (i - 0.5) * step));
    }
    const cumulative = (x: number) => {
      if (x <= low) return 0;
      const at = (x - low) / step;
      if (at >= 500) return 1 - landauAbove(x);
      const i = Math.floor(at);
      return share[i]! + (at - i) * (share[i + 1]! - share[i]!);
    };
    expect(kolmogorovSmirnov(sample, cumulative)).toBeLessThan(1.63);
    expect(1 - landauAbove(low + 500 * step)).toBeCloseTo(share[500]!, 4);
  });

  it("has its mode, its height there and its median where the literature has them", () => {
    // K. S. Kölbig and B. Schorr, Comput. Phys. Commun. 31, 97 (1984); values from memory.
    expect(density(-0.22278)).toBeCloseTo(0.18065, 4);
    expect(density(-0.22278)).toBeGreaterThan(density(-0.21));
    expect(density(-0.22278)).toBeGreaterThan(density(-0.235));
    expect(landauAbove(1.35578)).toBeCloseTo(0.5, 5);
  });

  it("has a mean below a cut that tends to ln(cut) − 1 + γ", () => {
    // SciPy, quad over the same law: 1.608096 below 10 and 6.477468 below 1000.
    expect(landauMeanBelow(10)).toBeCloseTo(1.608096, 5);
    expect(landauMeanBelow(1000)).toBeCloseTo(6.477468, 5);
    expect(landauMeanBelow(1e8) - Math.log(1e8)).toBeCloseTo(-1 + 0.5772157, 5);
    for (const mean of [0.01, 1, 5.8, 12, 20]) {
      expect(landauMeanBelow(landauCut(mean))).toBeCloseTo(mean, 3);
    }
    // E[(1 − λ)₊] = (1/2πi) ∫ e^(s ln s + s) ds/s² up a line at Re s = ½.
    const shortOfOne = integrate(
      (y) => {
        const [logarithm, angle] = [Math.log(Math.hypot(0.5, y)), Math.atan2(y, 0.5)];
        const size = Math.exp(0.5 - 1.5 * logarithm - y * angle);
        return (size * Math.cos(y * logarithm - 1.5 * angle + y)) / Math.PI;
      },
      0,
      40,
    );
    expect(landauMeanBelow(1)).toBeCloseTo(1 - shortOfOne / (1 - landauAbove(1)), 9);
  });
});

describe("the energy that a muon loses", () => {
  const silicon = (momentum: number) => ({
    terms: ionisation("silicon", momentum, catalogue),
    stopping: stoppingPower("silicon", momentum, catalogue).value,
  });

  it("is likeliest where the formula of the Particle Data Group says", () => {
    for (const betaGamma of [3.5, 38]) {
      const { terms, stopping } = silicon(betaGamma * muon);
      const likeliest = landauLoss(2329, stopping, terms).mostProbable(5e-4);
      const formula = mostProbableLoss(
        { material: "silicon", thickness: "0.5 mm", momentum: betaGamma * muon },
        catalogue,
      ).value;
      // The two differ only in W, exact here and 2mβ²γ² in the formula: 0.1 % in the mean.
      expect(likeliest / formula).toBeCloseTo(1, 2);
    }
  });

  it("is drawn with the mean of Bethe and most often at the likeliest", () => {
    const { terms, stopping } = silicon(3.5 * muon);
    const loss = landauLoss(2329, stopping, terms);
    const stream = random(22);
    const n = 400_000;
    const energies = Array.from({ length: n }, () => loss.draw(5e-4, stream) / keV);
    const { mean, variance } = moments(energies);
    expect(Math.abs(mean - loss.mean(5e-4) / keV)).toBeLessThan(3 * Math.sqrt(variance / n));
    // Mode: the fullest of bins of 4 keV is within one of it.
    const bins = new Map<number, number>();
    for (const e of energies) bins.set(Math.floor(e / 4), (bins.get(Math.floor(e / 4)) ?? 0) + 1);
    const fullest = [...bins].sort((a, b) => b[1] - a[1])[0]![0];
    expect(Math.abs(4 * (fullest + 0.5) - 135.9)).toBeLessThan(6);
    // ξ = (0.307075/2) × 0.49848 × 2.329 × 0.05/β² MeV with β² = 0.92453: 9.640 keV.
    expect((terms.scale * 2329 * 5e-4) / keV).toBeCloseTo(9.64, 2);
    // None beyond what one electron can receive.
    const most = energies.reduce((a, b) => Math.max(a, b));
    expect(most * keV).toBeLessThan(terms.largestTransfer);
  });

  it("keeps its mean on paths too short or too long for Landau's law", () => {
    const { terms, stopping } = silicon(1.5 * muon);
    const loss = landauLoss(2329, stopping, terms);
    const stream = random(23);
    for (const path of [1e-8, 1e-6, 3e-6, 0.3]) {
      const n = 100_000;
      const { mean, variance } = moments(Array.from({ length: n }, () => loss.draw(path, stream)));
      const error = 3 * Math.sqrt(variance / n) + 1e-3 * loss.mean(path);
      expect(Math.abs(mean - loss.mean(path)), `${path}`).toBeLessThan(error);
    }
  });

  it("is least at βγ of about 3.5", () => {
    // Particle Data Group, muons in silicon: least at 363.3 MeV/c (read in a copy that cites it).
    expect(leastLossMomentum("silicon", catalogue) / (363.3e3 * keV)).toBeCloseTo(1, 1);
    expect(() => mostProbableLoss({ material: "wax", thickness: 1 }, catalogue)).toThrow("wax");
  });
});
