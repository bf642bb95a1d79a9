import { describe, expect, it } from "vitest";
import { Cell, VariedField, watch } from "../../src/mount/cells.js";
import type { PlainMount } from "../../src/mount/mount.js";
import { readMount } from "../../src/mount/read.js";
import { smallest } from "./things/smallest.js";

const mount = () => structuredClone(readMount(smallest()));
const fieldsOf = (own: PlainMount, ...paths: string[]) =>
  paths.map((path) => new VariedField(own, path));

describe("a cell", () => {
  it("is made once, and again only after it has expired", () => {
    let made = 0;
    const cell = new Cell((m) => ++made && m.die.width);
    const own = mount();
    expect(cell.get(own, [])).toBe(4e-3);
    expect(cell.get(own, [])).toBe(4e-3);
    expect(made).toBe(1);
    cell.expire();
    cell.get(own, []);
    expect(made).toBe(2);
  });

  it("knows its values by the only varied field it reads", () => {
    let made = 0;
    const cell = new Cell((m) => ++made && m.die.width + m.die.length);
    const own = mount();
    const varied = fieldsOf(own, "die.width", "stage");
    const at = (width: number) => {
      varied[0]!.value = width;
      cell.expire();
      return cell.get(own, varied);
    };
    expect([at(1), at(2), at(1), at(2)]).toEqual([1.004, 2.004, 1.004, 2.004]);
    expect(made).toBe(2);
    expect([cell.dependsOn("die.width"), cell.dependsOn("stage")]).toEqual([true, false]);
    cell.forget();
    at(1);
    expect(made).toBe(3);
  });

  it("keeps no value by one field where it reads two", () => {
    const cell = new Cell((m) => m.die.width * m.die.length);
    const own = mount();
    const varied = fieldsOf(own, "die.width", "die.length");
    const at = (width: number, length: number) => {
      varied[0]!.value = width;
      varied[1]!.value = length;
      cell.expire();
      return cell.get(own, varied);
    };
    expect([at(1, 2), at(1, 3), at(2, 3), at(1, 2)]).toEqual([2, 3, 6, 2]);
  });

  it("says when it has come to read other fields, on the other side of a branch", () => {
    const branch = (m: PlainMount) => (m.die.width > 1 ? m.die.length : m.die.thickness);
    const cell = new Cell(branch);
    const own = mount();
    const varied = fieldsOf(own, "die.width", "die.length", "die.thickness");
    /** The value, and whether the cells that each field may change are to be listed anew. */
    const at = (field: string, value: number) => {
      for (const each of varied) each.dependents = [];
      varied.find(({ path }) => path === field)!.value = value;
      cell.expire();
      const made = cell.get(own, varied);
      return [made, varied.every(({ dependents }) => dependents === undefined)];
    };
    expect(at("die.width", 0.5)).toEqual([3e-4, true]);
    expect(cell.dependsOn("die.length")).toBe(false);
    expect(at("die.width", 2)).toEqual([4e-3, true]);
    expect(cell.dependsOn("die.length")).toBe(true);
    expect(at("die.length", 7)).toEqual([7, false]);
  });

  it("may depend on anything before its reads were watched", () => {
    expect(new Cell(() => 1).dependsOn("die.width")).toBe(true);
  });
});

describe("a path into a mount", () => {
  it("reads and puts a number, in lists too", () => {
    const own = mount();
    const force = new VariedField(own, "clamps.0.force");
    expect(force.value).toBe(2.7);
    force.value = 5;
    expect(own.clamps![0]).toMatchObject({ force: 5 });
  });

  it("is told of every value that is read, with what it stands in", () => {
    const { result, reads } = watch(
      mount(),
      (m) => m.clamps!.map((clamp) => (clamp as { force: number }).force)[0],
    );
    expect(result).toBe(2.7);
    expect(reads).toContain("clamps");
    expect(reads).toContain("clamps.0.force");
    expect(reads).not.toContain("clamps.0.faces");
  });
});
