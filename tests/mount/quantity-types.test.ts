import { expectTypeOf, it } from "vitest";
import type { Axis, MountField } from "../../src/index.js";
import type { Mount } from "../../src/mount/mount.js";
import type { Length, Power } from "../../src/units/quantity.js";

it("a string in the wrong dimension does not compile", () => {
  expectTypeOf<"25 um">().toExtend<Length>();
  expectTypeOf<"1.5 mm">().toExtend<Length>();
  expectTypeOf<"25 mK">().not.toExtend<Length>();
  expectTypeOf<"-95 dBm">().toExtend<Power>();
  // @ts-expect-error a temperature is no length
  const die: Mount["die"] = { material: "silicon", width: "25 mK", length: 1, thickness: 1 };
  void die;
});

it("a sweep's field is a path of the mount, and its values fit what stands there", () => {
  expectTypeOf<"bonds.count">().toExtend<MountField>();
  expectTypeOf<"clamps.0.force">().toExtend<MountField>();
  expectTypeOf<"loads.2.power">().toExtend<MountField>();
  expectTypeOf<"bonds.colour">().not.toExtend<MountField>();
  expectTypeOf<"die.material">().not.toExtend<MountField>();
  const axis: Axis<"bonds.length"> = { field: "bonds.length", values: ["1 mm", 2e-3] };
  // @ts-expect-error a power is no length
  const wrong: Axis<"bonds.length"> = { field: "bonds.length", values: ["1 nW"] };
  void axis;
  void wrong;
});
