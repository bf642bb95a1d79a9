/** Mounts with mistakes in them: each is read, or refused in words. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  type Mount,
  readMount,
  sizeBonds,
  standardCatalogue,
  sweep,
  thermalBudget,
  withField,
} from "../../src/index.js";
import { particleSources, spreadsOf } from "../../src/mount/index.js";
import { fuzz } from "./cases.js";
import { goodMounts, goodSheets } from "./mounts.js";
import { strange, strangeName, strangeVersions } from "./strange.js";

/** A budget, and all that it prints. */
function printed(mount: unknown) {
  const budget = thermalBudget(mount as Mount);
  return [
    { ...budget, solution: undefined, field: undefined },
    budget.total,
    budget.margin,
    budget.toText(),
    budget.toMarkdown(),
    budget.toHtml(),
    budget.toCsv(),
  ];
}

describe("a mount with mistakes in it", () => {
  it("starts from mounts that are good", () => {
    fc.assert(
      fc.property(fc.oneof(goodMounts, goodSheets), (mount) => {
        expect(readMount(mount)).toBeTypeOf("object");
      }),
      { numRuns: 50, seed: 1 },
    );
  });

  it("is read, or refused in words", () => {
    fuzz(0.2, strangeVersions(goodMounts), (mount) => [
      readMount(mount),
      spreadsOf(mount as Mount),
    ]);
  });

  it("has a budget in numbers, or none, with a reason", () => {
    fuzz(0.12, strangeVersions(goodMounts), printed);
  });

  it("has a budget with its die in 2-D, or none, with a reason", () => {
    fuzz(0.03, strangeVersions(goodSheets), printed);
  });

  it("has particles in numbers, or none, with a reason", () => {
    fuzz(0.02, strangeVersions(goodMounts), (mount) =>
      particleSources(readMount(mount), standardCatalogue()),
    );
  });

  it("has a number of bonds that is enough, or none, with a reason", () => {
    fuzz(0.02, strangeVersions(goodMounts), (mount) => sizeBonds(mount as Mount).reason);
  });

  it("is refused whatever else it is", () => {
    fuzz(0.03, strange, (value) => readMount(value));
  });
});

describe("a field of a mount", () => {
  const path = fc.oneof(
    strangeName,
    fc.constantFrom("bonds.count", "loads.0.power", "stage"),
    fc
      .array(fc.oneof(strangeName, fc.constantFrom("loads", "0", "1e3", "die", "width")), {
        maxLength: 4,
      })
      .map((names) => names.join(".")),
  );
  it("may be put at any path, or is refused", () => {
    fuzz(0.03, fc.tuple(goodMounts, path, strange), ([mount, field, value]) => {
      withField(mount as Mount, field, value);
    });
  });

  const range = { field: "bonds.count", from: 1, to: 5, count: 3, spacing: "linear" };
  const axis = fc.oneof(
    strange,
    strangeVersions(fc.constant(range)),
    fc.record({ field: path, values: fc.oneof(strange, fc.array(strange, { maxLength: 3 })) }),
  );
  it("may be swept over any values, or is refused", () => {
    fuzz(
      0.03,
      fc.tuple(goodMounts, axis),
      ([mount, first]) => sweep(mount as Mount, first as never).temperatures,
    );
  });
});
