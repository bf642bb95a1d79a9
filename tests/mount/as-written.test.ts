/** Every error of a mount speaks of what was written in it: no number of its own, no name of an option. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { goodMounts } from "../fuzz/mounts.js";
import { strangeVersions } from "../fuzz/strange.js";
import { cases } from "../slowly.js";
import { faultIn, spoilFields } from "./as-written.js";

describe("a mount with one wrong field", () => {
  spoilFields(23, 587);

  it("is refused in them with any mistakes", () => {
    const property = fc.property(strangeVersions(goodMounts), (mount) => {
      expect(faultIn(mount)).toBeUndefined();
    });
    fc.assert(property, { numRuns: cases(300), seed: 20_261_129 });
  });
});
