import { describe, expect, it } from "vitest";
import { heldTemperatures, nodesFor, shareOf, touched } from "../../src/mount/links.js";
import type { MountLoad } from "../../src/mount/things/load.js";
import { modelOf, padded, smallest } from "./things/smallest.js";

const wire: MountLoad = {
  kind: "conduction",
  name: "lead",
  material: "nbti",
  length: 1,
  diameter: 1e-4,
  from: 0.5,
};

describe("the links of a mount", () => {
  it("are one a path where the die is not resolved, and one a contact where it is", () => {
    const mount = smallest({ ...padded, loads: [wire] });
    const single = modelOf(mount, "one node").describe().links;
    expect(single.linksOf.get("bonds")).toEqual(["bonds"]);
    const { links, linksOf, nodesOf } = modelOf(mount, "sheet").describe().links;
    expect(linksOf.get("bonds")).toEqual(["bonds 1", "bonds 2", "bonds 3", "bonds 4"]);
    // Four bonds are four pads' one each; the wire is one, whatever its contact.
    expect(links.filter(({ name }) => /^bonds/.test(name)).map(({ count }) => count)).toEqual([
      1, 1, 1, 1,
    ]);
    expect(linksOf.get("lead")).toEqual(["lead"]);
    const feet = [...nodesOf].find(([place]) => place.name === "pad foot")![1];
    expect(feet).toEqual([1, 2, 3, 4].map((k) => `pad foot ${k}`));
  });

  it("share a path by area or by bonds", () => {
    const area = { left: 0, right: 1, bottom: 0, top: 1 };
    const contacts = [
      { area, share: 0.25, bonds: 3 },
      { area, share: 0.75, bonds: 1 },
    ];
    const group = {
      name: "pads",
      layer: "face",
      field: () => "pads",
      contacts,
      links: [],
    } as const;
    expect([shareOf(group, 0, "area"), shareOf(group, 0, "bonds")]).toEqual([0.25, 0.75]);
  });

  it("hold warm ends, and the stage or what cools it", () => {
    const held = modelOf(smallest({ loads: [wire] }), "one node");
    expect([...heldTemperatures(held.structure, held.numbers)]).toEqual([
      ["stage", 0.1],
      ["warm end of lead", 0.5],
    ]);
    const cooled = modelOf(
      smallest({ stage: { dilution: { circulation: 3e-4, base: 0.02 } } }),
      "one node",
    );
    const [[name, T]] = [...heldTemperatures(cooled.structure, cooled.numbers)] as [
      [string, number],
    ];
    expect(name).toBe("stage without load");
    expect(T).toBeCloseTo(0.02, 12);
  });

  it("make nodes of what they touch", () => {
    const conductor = {} as never;
    const links = [{ name: "a to b", from: "a", to: "b", conductor }];
    expect([...touched(links, ["c", "a"])]).toEqual(["c", "a", "b"]);
    expect(
      nodesFor(["a", "b"], new Map([["b", 0.1]]), (each) => ({ name: each, load: 1 })),
    ).toEqual([
      { name: "a", load: 1 },
      { name: "b", temperature: 0.1 },
    ]);
  });
});
