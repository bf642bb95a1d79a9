import { describe, expect, it } from "vitest";
import {
  formatGiven,
  formatInterval,
  formatNumber,
  formatQuantity,
  formatShare,
  formatUncertain,
  printedUnit,
} from "../../src/units/format.js";

describe("numbers as people read them", () => {
  it.each([
    [0.10416623, "K", 4, "104.2 mK"],
    [7.0234e-9, "W", 3, "7.02 nW"],
    [0.99996e-3, "K", 3, "1.00 mK"],
    [-2e-3, "K", 3, "-2.00 mK"],
    [0, "K", 3, "0 K"],
    [3e-21, "W", 3, "3e-21 W"],
    [2.4e9, "W/(m^3 K^5)", 3, "2.4e9 W/(m^3 K^5)"],
    [8970, "m/s", 4, "8970 m/s"],
    [2.23e-8, "ohm m", 3, "22.3 nohm m"],
    [31.8e-3, "W/K", 3, "31.8 mW/K"],
    [Number.NaN, "K", 3, "NaN K"],
  ])("%d %s with %d digits is %s", (value, unit, digits, text) => {
    expect(formatQuantity(value, unit, digits)).toBe(text);
  });

  it.each([
    [7.29e-9, 8.8e-11, "W", "7.290 ± 0.088 nW"],
    [3.007e9, 7.94e7, "", "(3.007 ± 0.079)e9"],
    [4.47196, 0.00882, "", "4.4720 ± 0.0088"],
    [7.19e-4, 3.29e-5, "", "(7.19 ± 0.33)e-4"],
    [31.24, 9.96, "", "31 ± 10"],
    [-1e-10, 2e-9, "W", "-0.1 ± 2.0 nW"],
    [140e-3, 0, "W/K", "140 mW/K"],
    [2.4e9, 3e8, "W/(m^3 K^5)", "(2.40 ± 0.30)e9 W/(m³ K⁵)"],
  ])("%d known to %d %s is %s", (value, uncertainty, unit, text) => {
    expect(formatUncertain(value, uncertainty, unit)).toBe(text);
  });

  it.each([
    [12345, 3, "12345"],
    [123456, 3, "1.23e5"],
    [0.00123456, 3, "0.00123"],
    [1e-5, 2, "1e-5"],
  ])("%d with %d digits is %s", (value, digits, text) => {
    expect(formatNumber(value, digits)).toBe(text);
  });

  it("prints given values without zeros that nobody wrote", () => {
    expect(formatGiven(0.025, "m")).toBe("25 mm");
    expect(formatGiven(4.5e-8, "m^2")).toBe("4.5e-8 m^2");
    expect(formatGiven(200000, "")).toBe("2e5");
    expect(formatGiven(100, "N")).toBe("100 N");
  });

  it("prints shares", () => {
    expect([0.43, 0.004, 1e-5, -1e-5, 0, 1].map(formatShare)).toEqual([
      "43 %",
      "0.4 %",
      "<0.1 %",
      ">-0.1 %",
      "0.0 %",
      "100 %",
    ]);
  });

  it("raises powers and writes ohms in print", () => {
    expect(printedUnit("W/(m^3 K^5)")).toBe("W/(m³ K⁵)");
    expect(printedUnit("K^-1")).toBe("K⁻¹");
    expect(printedUnit("W/K^4.1")).toBe("W/K^4.1");
    expect(printedUnit("nohm m")).toBe("nΩ m");
  });

  it("says the unit of an interval once, or twice where its ends differ in it", () => {
    expect(formatInterval(2.88e9, 3.14e9, "W/(m^3 K^5)")).toBe("2.88e9 to 3.14e9 W/(m³ K⁵)");
    expect(formatInterval(2.7e-7, 3.3e-7, "m")).toBe("270 to 330 nm");
    expect(formatInterval(9e-7, 1.1e-6, "m")).toBe("900 nm to 1.10 µm");
    expect(formatInterval(3, 60, "")).toBe("3.00 to 60.0");
  });
});
