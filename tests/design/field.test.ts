import { describe, expect, it } from "vitest";
import { isWholeNumber, numberAt, readWith, withField } from "../../src/design/field.js";
import { readMount } from "../../src/mount/read.js";
import { exampleMount } from "../mount/example.js";

describe("a field of a mount by its path", () => {
  it("is replaced in a copy; what the path does not touch is shared", () => {
    const mount = exampleMount();
    const changed = withField(mount, "loads.0.pixels", 7);
    expect(changed.loads[0]).toMatchObject({ kind: "optical", pixels: 7 });
    expect(mount.loads[0]).toMatchObject({ pixels: 600 });
    expect(changed.loads[1]).toBe(mount.loads[1]);
    expect(changed.bonds).toBe(mount.bonds);
    expect(withField(mount, "die.specularity", 0.5).die.specularity).toBe(0.5);
  });

  it("needs a parent, an index that is there, and a path in words", () => {
    const set = (field: string) => () => withField(exampleMount(), field, 1);
    expect(set("glue.area")).toThrow(
      "glue.area: expected a field whose parent is in the mount, got undefined",
    );
    expect(set("loads.3.power")).toThrow('loads.3.power: expected an index from 0 to 2, got "3"');
    expect(set("loads.first.power")).toThrow("loads.first.power: expected an index from 0 to 2");
    expect(set(7 as never)).toThrow("withField: expected the path of a field");
    expect(() => withField(exampleMount(), "__proto__.x", 1)).toThrow("parent is in the mount");
  });

  it("is read as a number in SI, where it is one", () => {
    const plain = readMount(exampleMount());
    expect(numberAt(plain, "bonds.diameter")).toBeCloseTo(25e-6, 15);
    for (const field of ["bonds.perPad", "die.material", "loads.9.power", "constructor.length"])
      expect(() => numberAt(plain, field)).toThrow(
        `${field}: expected a numeric field of the mount`,
      );
  });

  it("is read with the mount when it is changed", () => {
    expect(readWith(exampleMount(), "bonds.length", "2 mm").bonds!.length).toBe(2e-3);
    expect(() => readWith(exampleMount(), "bonds.length", "2 K")).toThrow("bonds.length: expected");
  });

  it("counts where its reader says so, also where the mount has none yet", () => {
    const mount = exampleMount();
    expect(isWholeNumber(mount, "bonds.count")).toBe(true);
    expect(isWholeNumber(mount, "bonds.length")).toBe(false);
    expect(isWholeNumber(mount, "bonds.perPad")).toBe(false);
    expect(isWholeNumber(mount, "bonds.perPad", 2)).toBe(true);
    expect(isWholeNumber(mount, "die.cells", 64)).toBe(true);
  });
});
