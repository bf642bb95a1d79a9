/** A chance beside the one that is wanted is not rounded across it. */
import { expect, it } from "vitest";
import {
  chanceCell,
  confidenceWords,
  formatChance,
} from "../../../src/design/confidence/confidence.js";

it("94.98 % is not printed as the 95.0 % that were wanted and not reached", () => {
  const chance = { value: 0.94977, error: 1e-3 };
  expect(formatChance(chance)).toBe("95.0 %");
  expect(formatChance(chance, 0.95)).toBe("94.98 %");
  expect(chanceCell(chance, 0.95).text).toBe("94.98 %");
  expect(confidenceWords(chance, 0.95)).toBe("94.98 % confidence");
  expect(formatChance({ value: 0.9502, error: 1e-3 }, 0.95)).toBe("95.0 %");
  expect(formatChance({ value: 0.9, error: 1e-3 }, 0.95)).toBe("90.0 %");
});
