import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { demagnetisation, freeSpinEntropy } from "../../src/loads/demagnetisation.js";
import { integrate } from "../../src/numerics/quadrature.js";
import { catalogue } from "./catalogue.js";

const salt = {
  salt: "ferric-ammonium-alum",
  amount: "1 mol",
  field: "4 T",
  start: "4 K",
  temperature: "0.1 K",
} as const;

describe("demagnetisation", () => {
  test("holds for as long as its heat lasts", () => {
    const stage = demagnetisation(salt, catalogue);
    // 8.463 J/(mol K) at 0.1 K
    expect(stage.heat).toBeCloseTo(0.8463, 4);
    expect(stage.holdTime("1 uW") / 8.463e5).toBeCloseTo(1, 4);
    expect(stage.largestLoad("10 h") * 36000).toBeCloseTo(stage.heat, 12);
    expect(stage.holdTime(0)).toBe(Number.POSITIVE_INFINITY);
    expect(stage.fieldAtHold).toBeCloseTo(0.1, 12);
    expect(stage.temperature).toBe(0.1);
    expect(stage.warnings).toEqual([]);
  });

  test("counts salt by mass, and every ion of a formula unit", () => {
    const { amount: _, ...rest } = salt;
    const weighed = demagnetisation({ ...rest, mass: "482.2 g" }, catalogue);
    expect(weighed.heat).toBeCloseTo(demagnetisation(salt, catalogue).heat, 9);
    const garnet = demagnetisation(
      { ...salt, salt: "gadolinium-gallium-garnet", temperature: "3 K" },
      catalogue,
    );
    expect(garnet.heat / (3 * 3 * 10.833)).toBeCloseTo(1, 3);
  });

  test("takes more heat from a higher field and a colder start", () => {
    const field = fc.double({ min: 0.1, max: 8, noNaN: true });
    const start = fc.double({ min: 0.2, max: 5, noNaN: true });
    fc.assert(
      fc.property(field, field, start, (a, b, from) => {
        const heat = (B: number, T: number) =>
          demagnetisation({ ...salt, field: B, start: T }, catalogue).heat;
        const [low, high] = [Math.min(a, b), Math.max(a, b)];
        expect(heat(high, from)).toBeGreaterThanOrEqual(heat(low, from));
        expect(heat(a, from)).toBeGreaterThanOrEqual(heat(a, from * 1.1) * (1 - 1e-12));
        expect(heat(a, from)).toBeLessThan(8.3145 * Math.log(6) * 0.1);
      }),
      { seed: 2 },
    );
  });

  test("warns where the spins are no longer free", () => {
    const near = demagnetisation({ ...salt, temperature: "50 mK" }, catalogue);
    expect(near.warnings).toEqual([
      "ferric-ammonium-alum: 50.0 mK is within 3 times the 26.0 mK at which its spins order; they are not free there, and it takes less heat than computed.",
    ]);
  });

  test.each([
    [{ salt: "ferric alum" }, 'adr.salt: salt "ferric alum" is not known'],
    [{ amount: undefined }, 'adr: expected an object with one of amount, mass, got {"salt":'],
    [{ mass: 1 }, 'adr: expected only one of amount, mass, got "amount and mass"'],
    [{ amount: "1 kg" }, 'adr.amount: expected an amount such as "0.5 mol" or a number in moles'],
    [{ field: "4 K" }, 'adr.field: expected a magnetic field such as "4 T" or a number in tesla'],
    [{ start: -1 }, "adr.start: expected a temperature such as"],
    [
      { temperature: "4 K" },
      'adr.temperature: expected a temperature below the start\'s, 4.00 K, got "4 K"',
    ],
    [
      { temperature: "20 mK" },
      'adr.temperature: expected a temperature above 26.0 mK, where the spins of ferric-ammonium-alum order, got "20 mK"',
    ],
  ])("refuses %j", (change, message) => {
    expect(() => demagnetisation({ ...salt, ...change } as never, catalogue, "adr")).toThrow(
      message,
    );
  });

  test("refuses a negative load and a hold of no time", () => {
    const stage = demagnetisation(salt, catalogue);
    expect(() => stage.holdTime(-1)).toThrow("demagnetisation.load: expected a power such as");
    expect(() => stage.largestLoad(0)).toThrow("demagnetisation.holdTime: expected a time such as");
  });
});

test("freeSpinEntropy is the integral of C/T from zero temperature, with C from the energy's slope", () => {
  // In units of gμ_B B/k: energy −⟨m⟩ from the Brillouin function, S = ∫ dE/dT /T dT by parts = E/T + ∫ E/T² dT
  const spin = 2.5;
  const energy = (x: number) => {
    const a = (2 * spin + 1) / 2;
    return -(a / Math.tanh(a * x) - 0.5 / Math.tanh(x / 2)) + spin;
  };
  // x per B/T for g = 2: 2 μ_B/k = 1.343427 K/T (CODATA)
  for (const ratio of [0.3, 1, 3]) {
    const x = 1.3434277 * ratio;
    const entropy = energy(x) * x + integrate(energy, x, x + 60, 1e-11);
    expect(freeSpinEntropy(spin, ratio)).toBeCloseTo(entropy, 6);
  }
});
