import { describe, expect, it } from "vitest";
import { textWidth, widest, wrapped } from "../../../src/plots/picture/text-size.js";

describe("text", () => {
  it("is wrapped to a width, numbers with their units, and long words broken", () => {
    for (const text of wrapped("gold film 300 nm thick of averyveryverylongname", 80, 12))
      expect(textWidth(text, 12)).toBeLessThanOrEqual(80);
    expect(wrapped("a a a a 300 nm", textWidth("a a a a 300", 12), 12)[1]).toBe("300\u00a0nm");
  });
});

describe("the widest text", () => {
  it("counts for a column, and nothing for none", () => {
    expect(widest(["i", "mmm", "a"], 12)).toBe(textWidth("mmm", 12));
    expect(widest([], 12)).toBe(0);
  });
});
