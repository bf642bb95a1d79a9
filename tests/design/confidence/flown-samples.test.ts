import { describe, expect, it } from "vitest";
import { sharedError } from "../../../src/design/confidence/flown-samples.js";
import { uncertainMount } from "../../../src/design/confidence/uncertain-mount.js";
import { flownError } from "../../../src/mount/die-models.js";
import type { Mount } from "../../../src/mount/mount.js";
import { readMount } from "../../../src/mount/read.js";
import { catalogue, padded, smallest } from "../../mount/things/smallest.js";

const flying = (die: Partial<Mount["die"]> = {}): Mount => {
  const mount = smallest(padded);
  return { ...mount, die: { ...mount.die, model: "flights", rays: 16384, ...die } };
};
const finish = { front: "polished", back: "lapped" };
const rowsOf = ({ inputs }: ReturnType<typeof uncertainMount>) =>
  inputs.flatMap(({ name }) => (/faces?:|diffuse/.test(name) ? [name] : []));

describe("samples of a die of flights", () => {
  const own = uncertainMount(flying({ finish }));

  it("count the finish of its faces among the unknowns, also where the share can only fall", () => {
    expect(rowsOf(own)).toEqual([
      expect.stringContaining("polished"),
      expect.stringContaining("lapped"),
    ]);
    expect(rowsOf(uncertainMount(flying()))).toEqual([]);
    expect(uncertainMount(flying()).recipe.flownFactor).toBeUndefined();
  });

  it("fly anew with fewer phonons, whose rise is that of all within their error", () => {
    const plain = readMount(flying({ finish }));
    const [all, shared] = [false, true].map((thinned) => sharedError(plain, catalogue, thinned));
    expect(all).toBe(flownError(plain, catalogue));
    expect(shared).toBeGreaterThan(all!);
    const { chip, stage } = own.evaluate(own.medians);
    const full = uncertainMount(flying({ finish }), { rows: "none" });
    const exact = full.evaluate(full.medians);
    const ratio = (chip - stage) / (exact.chip - exact.stage);
    expect(ratio).not.toBe(1);
    expect(Math.abs(ratio - 1)).toBeLessThan(4 * shared!);
    // A rougher front scatters phonons back from the contacts.
    const rough = own.medians.slice();
    rough[own.inputs.findIndex(({ name }) => name.includes("polished"))] = 1;
    expect(own.evaluate(rough).chip).toBeGreaterThan(chip);
  });

  it("are the same to the last digit from what was found out before", () => {
    const { recipe } = own;
    const again = uncertainMount(flying({ finish }), { recipe });
    expect(again.evaluate(own.medians)).toEqual(own.evaluate(own.medians));
  });
});
