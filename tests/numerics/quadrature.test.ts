import { describe, expect, it } from "vitest";
import { gaussLegendre, integrate, integrateBy } from "../../src/numerics/quadrature.js";

describe("gaussLegendre(n)", () => {
  it("has the nodes and weights of the rule of three points", () => {
    // Abramowitz & Stegun, table 25.4
    const { nodes, weights } = gaussLegendre(3);
    expect(nodes[0]).toBeCloseTo(-0.774596669241483, 14);
    expect(nodes[1]).toBeCloseTo(0, 14);
    expect(weights[0]).toBeCloseTo(0.555555555555556, 14);
    expect(weights[1]).toBeCloseTo(0.888888888888889, 14);
  });

  it.each([1, 2, 5, 12, 24])("is exact for every power up to 2n - 1, n = %i", (n) => {
    for (let power = 0; power < 2 * n; power++) {
      const exact = (2 ** (power + 1) - 1) / (power + 1);
      expect(integrateBy((x) => x ** power, 1, 2, n) / exact).toBeCloseTo(1, 12);
    }
  });

  it("is not exact for the power 2n", () => {
    expect(Math.abs(integrateBy((x) => x ** 6, -1, 1, 3) - 2 / 7)).toBeGreaterThan(1e-2);
  });

  it("refuses a number of points that is not whole", () => {
    expect(() => gaussLegendre(1.5)).toThrow("gaussLegendre: expected a whole number of points");
  });
});

describe("integrate(f, a, b)", () => {
  it("reaches the tolerance where the function is peaked", () => {
    const exact = Math.atan(1000) - Math.atan(-1000);
    expect(integrate((x) => 1000 / (1 + (1000 * x) ** 2), -1, 1) / exact).toBeCloseTo(1, 10);
  });

  it("reaches the tolerance at a square root's end", () => {
    expect(integrate(Math.sqrt, 0, 1, 1e-9)).toBeCloseTo(2 / 3, 8);
  });

  it("changes sign with its ends and is zero between equal ones", () => {
    expect(integrate(Math.exp, 1, 0)).toBeCloseTo(-(Math.E - 1), 12);
    expect(integrate(Math.exp, 1, 1)).toBe(0);
  });

  it("throws where the function is not finite instead of returning a number", () => {
    expect(() => integrate((x) => (x > 0.5 ? Number.NaN : 1), 0, 1)).toThrow("not finite");
    expect(() => integrate((x) => 1 / x ** 2, 0, 1)).toThrow("integrate:");
  });
});
