/** How often an interval may miss. */
import { expect } from "vitest";

/**
 * Demands that a count is what chance gives for 95 %: within three standard deviations of the binomial
 * distribution, which a right interval leaves in one of 370 tries.
 */
export function within95(count: number, of: number): void {
  const slack = 3 * Math.sqrt(of * 0.95 * 0.05);
  expect(count).toBeGreaterThanOrEqual(Math.ceil(0.95 * of - slack));
  expect(count).toBeLessThanOrEqual(Math.min(of, Math.floor(0.95 * of + slack)));
}
