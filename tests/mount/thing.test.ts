import { describe, expect, it } from "vitest";
import { type Contacts, faceOf, inMaterial, pick, rectanglesOf } from "../../src/mount/thing.js";
import { FieldError } from "../../src/units/errors.js";
import { catalogue } from "./things/smallest.js";

const square = (left: number) => ({ left, right: left + 1, bottom: 0, top: 1 });

describe("a thing of a mount", () => {
  it("covers every rectangle of its contacts, of one or of several pieces", () => {
    const contacts: Contacts<number> = {
      name: "pads",
      layer: "face",
      field: () => "pads",
      lay: (from) => ({
        patches: [square(from), [square(from + 2), square(from + 4)]].map((area) => ({
          area,
          share: 0.5,
          bonds: 0,
        })),
      }),
    };
    expect(rectanglesOf(contacts, 3)).toEqual([3, 5, 7].map(square));
    expect((["face", "clamps", "back"] as const).map(faceOf)).toEqual(["front", "front", "back"]);
  });

  it("hands on the fields that are there, and reads no others", () => {
    const read: string[] = [];
    const own = new Proxy(
      { a: 1, b: undefined, c: 3 },
      {
        get(target, key) {
          read.push(String(key));
          return target[key as keyof typeof target];
        },
      },
    );
    expect(pick(own, "a", "b")).toEqual({ a: 1 });
    expect(read).not.toContain("c");
  });

  it("tells by its own field what its material lacks, and nothing else so", () => {
    const ask = () => catalogue.material("nbti", "film.material").soundSpeeds();
    expect(() => inMaterial("nbti", "film.material", ask)).toThrow(
      /^film\.material: expected a material with sound speed longitudinal: .*, got "nbti"$/,
    );
    const other = new FieldError("bonds.length", "a length", 0);
    const fails = () => {
      throw other;
    };
    expect(() => inMaterial("nbti", "film.material", fails)).toThrow(other);
    expect(inMaterial("gold", "film.material", () => 7)).toBe(7);
  });
});
