import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { PowerTerm } from "../../src/conductor.js";
import { TemperatureLaw } from "../../src/numerics/temperature-law.js";

const sum = (powers: readonly PowerTerm[], by: (term: PowerTerm) => number) =>
  powers.reduce((total, term) => total + by(term), 0);
const lawOf = (powers: readonly PowerTerm[], upTo?: number) =>
  new TemperatureLaw(
    (T) => sum(powers, ({ coefficient: c, exponent: p }) => c * T ** p),
    (T) => sum(powers, ({ coefficient: c, exponent: p }) => p * c * T ** (p - 1)),
    powers,
    upTo,
  );
const coefficients = fc.double({ min: -40, max: 0, noNaN: true }).map((x) => 10 ** x);
const temperatures = fc.double({ min: -3, max: 3, noNaN: true }).map((x) => 10 ** x);
const term = (...exponents: number[]) =>
  fc.record({ coefficient: coefficients, exponent: fc.constantFrom(...exponents) });

describe("the temperature at a value of a law", () => {
  it.each([
    ["one power", fc.tuple(term(1, 2, 3, 4, 5, 2.6))],
    ["electrons and phonons", fc.tuple(term(2), term(4))],
    ["several metals", fc.array(term(2, 4), { minLength: 2, maxLength: 5 })],
    ["other powers", fc.array(term(1, 2, 3.5, 4), { minLength: 2, maxLength: 4 })],
  ] as const)("is that of the value: %s", (_, powers) => {
    fc.assert(
      fc.property(powers, temperatures, temperatures, (terms, T, guess) => {
        const law = lawOf(terms);
        expect(law.temperature(law.value(T), guess) / T).toBeCloseTo(1, 13);
        const [values, found] = [Float64Array.of(0, law.value(T)), Float64Array.of(1, guess)];
        law.findTemperature(values, found, 1);
        expect([...found]).toEqual([1, law.temperature(law.value(T), guess)]);
      }),
      { numRuns: 300, seed: 20261130 },
    );
  });

  it("is so where the square of a coefficient is no number any more", () => {
    for (const scale of [1e-200, 1e-160, 1e160, 1e200]) {
      const law = lawOf([
        { coefficient: scale, exponent: 2 },
        { coefficient: 3 * scale, exponent: 4 },
      ]);
      expect(law.temperature(law.value(0.1), 1) / 0.1).toBeCloseTo(1, 13);
    }
  });

  it("is so above the temperature where the powers end", () => {
    const powers = [
      { coefficient: 2, exponent: 2 },
      { coefficient: 5, exponent: 4 },
    ];
    for (const T of [0.5, 0.999, 1.001, 4]) {
      const law = new TemperatureLaw(
        (t) => (t <= 1 ? 2 * t ** 2 + 5 * t ** 4 : 7 + 30 * (t - 1)),
        (t) => (t <= 1 ? 4 * t + 20 * t ** 3 : 30),
        powers,
        1,
      );
      expect(law.temperature(law.value(T), 0.1) / T).toBeCloseTo(1, 13);
    }
  });

  it("is no number where there is none", () => {
    const metal = lawOf([
      { coefficient: 1, exponent: 2 },
      { coefficient: 1, exponent: 4 },
    ]);
    for (const value of [-1, 0, Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(metal.temperature(value, 1)).toBeNaN();
    }
  });
});
