import { describe, expect, it } from "vitest";
import { withField } from "../../src/design/field.js";
import { contactGroups } from "../../src/mount/assemble.js";
import { contactNode, contactsOf } from "../../src/mount/die-contacts.js";
import { Dies } from "../../src/mount/dies.js";
import { MountModel } from "../../src/mount/model.js";
import { readMount } from "../../src/mount/read.js";
import { catalogue, padded, smallest } from "./things/smallest.js";

const mount = smallest(padded);
const plain = readMount(mount);
const groups = contactGroups(plain);

describe("dies that are kept", () => {
  it("are condensed once for a die and its contacts", () => {
    const dies = new Dies();
    const first = dies.condensed(plain, groups);
    expect(dies.condensed(readMount(mount), contactGroups(plain))).toBe(first);
    const wider = readMount(withField(mount, "die.width", 4.1e-3));
    expect(dies.condensed(wider, contactGroups(wider))).not.toBe(first);
    expect(dies.condensed(plain, groups, 32)).not.toBe(first);
    expect(dies.condensed(plain, groups)).toBe(first);
  });

  it("forget the oldest of many", () => {
    const dies = new Dies();
    const first = dies.condensed(plain, groups);
    for (let k = 1; k <= 8; k++) {
      const other = readMount(withField(mount, "pads.width", 2e-4 + k * 1e-6));
      dies.condensed(other, contactGroups(other));
    }
    expect(dies.condensed(plain, groups)).not.toBe(first);
  });

  it("serve every model that is given them", () => {
    const dies = new Dies();
    const model = () => new MountModel(plain, catalogue, { die: "sheet", dies });
    expect(model().describe().die!.condensed).toBe(model().describe().die!.condensed);
  });

  it("name contacts by their group, and what does not fit by its field", () => {
    expect(contactNode({ name: "pads" }, 0)).toBe("die at the pads 1");
    expect(contactsOf(groups).map(({ name }) => name)).toEqual(
      [1, 2, 3, 4].map((k) => `die at the pads ${k}`),
    );
    const clamps = [1e-3, 1.2e-3].map((x) => ({
      faces: "sapphire on silicon",
      force: 1,
      places: [{ x, y: 1e-3 }],
    }));
    const crowded = readMount(smallest({ clamps }));
    expect(() => new Dies().condensed(crowded, contactGroups(crowded))).toThrow(
      /^clamps\[1\]\.places\[0\]: expected a place apart from die at the clamps 1 1 \(die at the clamps 2 1\)/,
    );
    const off = readMount(
      smallest({ clamps: [{ ...clamps[0]!, places: [{ x: 9e-3, y: 1e-3 }] }] }),
    );
    expect(() => new Dies().condensed(off, contactGroups(off))).toThrow(
      /^clamps\[0\]\.places\[0\]/,
    );
  });
});
