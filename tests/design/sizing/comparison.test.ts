import { describe, expect, it } from "vitest";
import { compareMounts } from "../../../src/design/sizing/comparison.js";
import { quickMount } from "../../mount/example.js";

describe("a comparison of mounts", () => {
  const [short, long] = (["1 mm", "9 mm"] as const).map((length) => ({
    ...quickMount(),
    name: `bonds of ${length}`,
    bonds: { ...quickMount().bonds!, length },
  }));

  it("ranks their budgets, and finds each by its name", () => {
    const comparison = compareMounts([long!, short!]);
    expect(comparison.ranked.map(({ name }) => name)).toEqual([short!.name, long!.name]);
    expect(comparison.of(long!.name).chip.rise).toBeGreaterThan(
      comparison.of(short!.name).chip.rise,
    );
    expect(() => comparison.of("none")).toThrow(/none/);
  });

  it("needs mounts, each with a name of its own", () => {
    expect(() => compareMounts([])).toThrow("mounts: expected at least one mount, got []");
    expect(() => compareMounts([short!, long!, short!])).toThrow(
      `mounts: expected a name of its own for each, got "${short!.name}"`,
    );
  });
});
