import { describe, expect, it } from "vitest";
import { CosineTransform } from "../../src/chip/cosine-transform.js";

/** Numbers without a pattern, the same every time. */
const numbers = (length: number) =>
  Float64Array.from({ length }, (_, i) => Math.sin(12.9898 * (i + 1)) * ((i % 7) + 1));

describe("the cosine transform", () => {
  it.each([1, 2, 3, 5, 8, 12, 20, 64, 100, 128])("of %i numbers is the sum it stands for", (n) => {
    const columns = 3;
    const before = numbers(n * columns);
    const waves = Float64Array.from(before);
    new CosineTransform(n).forward(waves, columns);
    for (let k = 0; k < n; k++) {
      for (let c = 0; c < columns; c++) {
        let sum = 0;
        for (let i = 0; i < n; i++) {
          sum += before[i * columns + c]! * Math.cos((Math.PI * k * (i + 0.5)) / n);
        }
        expect(Math.abs(waves[k * columns + c]! - sum)).toBeLessThan(1e-12 * n);
      }
    }
  });

  it.each([1, 2, 7, 24, 128, 1024])("of %i numbers is undone by its inverse", (n) => {
    const before = numbers(2 * n);
    const data = Float64Array.from(before);
    const transform = new CosineTransform(n);
    transform.forward(data, 2);
    transform.inverse(data, 2);
    data.forEach((value, i) => {
      expect(Math.abs(value - before[i]!)).toBeLessThan(1e-12);
    });
  });
});
