import { describe, expect, it } from "vitest";
import { readMount } from "../../../src/mount/read.js";
import { facesOf, kindOf, nameOf } from "../../../src/mount/things/die-joints.js";
import { flipChip } from "../flip-chip.js";

const ends = { from: "die", to: "carrier" } as const;
const bumps = { ...ends, bumps: { measured: "indium bumps", diameter: 6e-5, count: 4 } };
const glue = { ...ends, glue: { glue: "fast epoxy" } };
const joint = { ...ends, joint: { faces: "sapphire on silicon", force: 3 } };
const read = (between: unknown) => () => readMount({ ...flipChip, between: between as never });

describe("a joint of two dies", () => {
  it("joins front to front by bumps and back to front else, unless it says otherwise", () => {
    const [of, by] = [[bumps, glue, joint], [] as unknown[]];
    for (const own of of) by.push([kindOf(own), nameOf(own), facesOf(own)]);
    expect(by).toEqual([
      ["bumps", "bumps, die to carrier", { from: "front", to: "front" }],
      ["glue", "glue, die to carrier", { from: "back", to: "front" }],
      ["joint", "joint, die to carrier", { from: "back", to: "front" }],
    ]);
    expect(facesOf({ ...bumps, fromFace: "back", toFace: "back" })).toEqual({
      from: "back",
      to: "back",
    });
    expect(nameOf({ ...glue, name: "bed" })).toBe("bed");
  });

  it("is one of three, of one material or measurement, with no field of another", () => {
    for (const own of [bumps, glue, joint]) expect(read([own])).not.toThrow();
    expect(read([])).toThrow("between: expected a list of what joins two dies");
    expect(read([ends])).toThrow("between[0]: expected an object with one of bumps, glue, joint");
    expect(read([{ ...bumps, glue: glue.glue }])).toThrow(/^between\[0\]/);
    const metal = { ...bumps.bumps, material: "indium", height: 1e-5 };
    expect(read([{ ...bumps, bumps: metal }])).toThrow(/^between\[0\]\.bumps/);
    expect(read([{ ...bumps, fromFace: "side" }])).toThrow(
      'between[0].fromFace: expected "front" or "back", got "side"',
    );
  });

  it("needs to know where its bumps stand, and how large its spots are", () => {
    const of = (more: object) =>
      read([{ ...bumps, bumps: { ...bumps.bumps, count: undefined, ...more } }]);
    expect(of({})).toThrow(
      "between[0].bumps.places: expected places, or a count or a pitch beside",
    );
    const places = [{ x: 1e-3, y: 1e-3 }];
    expect(of({ places, pitch: 1e-3 })).toThrow(
      "between[0].bumps.pitch: expected nothing beside places",
    );
    expect(of({ places, count: 2 })).toThrow(
      "between[0].bumps.count: expected as many as there are places, 1",
    );
    expect(read([{ ...glue, glue: { ...glue.glue, count: 3 } }])).toThrow(
      "between[0].glue.area: expected the area of each spot",
    );
  });
});
