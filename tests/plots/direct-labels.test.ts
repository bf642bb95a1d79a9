import { describe, expect, it } from "vitest";
import { directLabels } from "../../src/plots/direct-labels.js";

const x = Array.from({ length: 41 }, (_, i) => i / 4);
const axis = { low: 0, high: 10 };
const level = (name: string, y: number) => ({ name, x, y: x.map(() => y) });
const read = (labels: readonly object[] | undefined) =>
  labels as readonly { text: string; x: number; y: number }[];

describe("names beside curves", () => {
  it("stand next to their own curve and away from the others", () => {
    const curves = [level("low", 2), level("high", 8)];
    const labels = read(directLabels(curves, axis, axis));
    expect(labels.map(({ text }) => text)).toEqual(["low", "high"]);
    for (const [k, { y }] of labels.entries()) {
      expect(Math.abs(y - [2, 8][k]!)).toBeLessThan(1);
    }
  });

  it("keep off lines that cross the plot", () => {
    const [label] = read(directLabels([level("a", 5)], axis, axis, [5.4]));
    expect(label!.y).toBeLessThan(5);
  });

  it("are left to a legend where curves lie too close, or names are too long", () => {
    expect(
      directLabels(
        [1, 1.3, 1.6, 1.9].map((y) => level("name", y)),
        axis,
        axis,
      ),
    ).toBeUndefined();
    expect(directLabels([level("a name of many words ".repeat(4), 5)], axis, axis)).toBeUndefined();
  });

  it("are placed by decades on logarithmic axes", () => {
    const curve = { name: "c", x: [1, 10, 100, 1000], y: [1, 1, 1, 1] };
    const log = { low: 1, high: 1000, isLogarithmic: true };
    const [label] = read(directLabels([curve], log, { low: 0.1, high: 10, isLogarithmic: true }));
    expect(label!.x).toBeGreaterThan(0);
    expect(label!.x).toBeLessThanOrEqual(3);
    expect(Math.abs(label!.y)).toBeLessThan(0.2);
  });
});
