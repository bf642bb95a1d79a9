import { describe, expect, it } from "vitest";
import { withField } from "../../src/design/field.js";
import { Dies } from "../../src/mount/dies.js";
import { riseWithOtherPhonons } from "../../src/mount/other-phonons.js";
import { flipChip } from "./flip-chip.js";
import { modelOf } from "./things/smallest.js";

// At 100 mK gold's waves are 219 nm (transverse) to 577 nm (longitudinal) long: of 400 nm either may be right.
const thin = withField(flipChip, "dies.carrier.pads.thickness", "400 nm");
const rise = (mount: typeof flipChip) => {
  const { chip, stage } = modelOf(mount, "one node").point();
  return chip - stage;
};
const other = (mount: typeof flipChip) =>
  riseWithOtherPhonons(modelOf(mount, "one node").point(), new Dies());

describe("the other choice of phonons", () => {
  it("is solved on a further die as well, from either side", () => {
    const shared = withField(thin, "dies.carrier.pads.phonons", "shared");
    expect(Number(other(thin)) / rise(shared)).toBeCloseTo(1, 10);
    expect(Number(other(shared)) / rise(thin)).toBeCloseTo(1, 10);
    expect(rise(shared)).toBeLessThan(rise(thin));
  });

  it("is not asked for where no film is in doubt", () => {
    expect(other(withField(flipChip, "dies.carrier.pads.thickness", "1 um"))).toBeUndefined();
  });

  it("leaves the mount as it was", () => {
    const point = modelOf(thin, "one node").point();
    riseWithOtherPhonons(point, new Dies());
    expect(point.mount.dies!.carrier!.pads).not.toHaveProperty("phonons");
  });
});
