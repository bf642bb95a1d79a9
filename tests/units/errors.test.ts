import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  FieldError,
  describe as inWords,
  nearest,
  UnknownNameError,
} from "../../src/units/errors.js";

describe("errors", () => {
  it("name the field, what was wanted and what came", () => {
    const error = new FieldError("bonds.length", "a length", "25 mK");
    expect(error.message).toBe('bonds.length: expected a length, got "25 mK"');
    expect(error).toMatchObject({ name: "FieldError", field: "bonds.length", value: "25 mK" });
  });

  it("suggest the nearest known name, and only when it is near", () => {
    expect(nearest("cooper", ["copper", "gold"])).toBe("copper");
    expect(nearest("xyz", ["copper", "gold"])).toBeUndefined();
    expect(new UnknownNameError("die.material", "material", "silikon", ["silicon"]).message).toBe(
      'die.material: material "silikon" is not known, did you mean "silicon"? Known: silicon',
    );
  });

  it("can describe anything in one short line", () => {
    fc.assert(
      fc.property(fc.anything(), (value) => {
        const words = inWords(value);
        expect(words.length).toBeLessThan(700);
        expect(words).not.toMatch(/\n/);
      }),
    );
    const circular: { self?: unknown } = {};
    circular.self = circular;
    expect(inWords(circular)).toBe("an object");
    expect(inWords(10n)).toBe("10n");
    expect(inWords(Symbol("x"))).toBe("a symbol");
  });
});
