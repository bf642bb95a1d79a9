import { describe, expect, expectTypeOf, it } from "vitest";
import {
  aboveZero,
  aboveZeroIn,
  byKind,
  checked,
  count,
  csvFields,
  either,
  exact,
  exactNumber,
  exactQuantity,
  type Field,
  type FieldsOf,
  fromZero,
  has,
  isOneValue,
  list,
  number,
  object,
  oneForm,
  oneOf,
  optional,
  type Plain,
  pair,
  quantity,
  quantityFromZero,
  type ReadNumber,
  rareQuantity,
  share,
  text,
  textOf,
  together,
} from "../../src/units/fields.js";
import type { Area, Length, Power, Temperature } from "../../src/units/quantity.js";
import { measured, spread, type Uncertain } from "../../src/units/spread.js";

/** What a reader makes of a value, and the numbers it tells of. */
function read<V>(field: Field<V>, written: unknown, at = "at") {
  const numbers: ReadNumber[] = [];
  const value = field.read(written, at, (each) => numbers.push(each));
  return { value, numbers };
}
const refusal = <V>(field: Field<V>, written: unknown, at?: string) => {
  try {
    read(field, written, at);
  } catch (error) {
    return (error as Error).message;
  }
  return "no error";
};
const lengthWords = 'a length such as "25 um" or a number in metres';

describe("a reader of quantities", () => {
  it("gives SI, and tells path, unit and value", () => {
    expect(read(quantity("length"), "25 um")).toEqual({
      value: expect.closeTo(25e-6, 18),
      numbers: [{ field: "at", unit: "m", whole: false, value: expect.closeTo(25e-6, 18) }],
    });
    expect(read(quantity("power"), "-90 dBm").value).toBeCloseTo(1e-12, 24);
    expect(read(quantityFromZero("resistance"), 0).value).toBe(0);
    expect(read(quantityFromZero("resistance"), 0).numbers[0]!.unit).toBe("ohm");
  });

  it("refuses what is no number of its dimension, or out of range", () => {
    expect(refusal(quantity("length"), "25 mK")).toBe(
      `at: expected ${lengthWords}, got "25 mK" (units: m, cm, mm, um, nm, in, mil, thou)`,
    );
    expect(refusal(quantity("length"), undefined)).toBe(
      `at: expected ${lengthWords}, got undefined`,
    );
    expect(refusal(quantity("length"), 0)).toBe(
      `at: expected ${lengthWords}, greater than 0, got 0`,
    );
    expect(refusal(quantityFromZero("length"), -1)).toBe(
      `at: expected ${lengthWords}, 0 or more, got -1`,
    );
    expect(refusal(quantity("length"), 1e61)).toBe(
      `at: expected ${lengthWords}, of a size that occurs, got 1e+61`,
    );
  });

  it("takes a spread by its median, and tells its distribution", () => {
    const { value, numbers } = read(quantity("length"), spread("20 nm", "80 nm"));
    expect(value).toBeCloseTo(40e-9, 16);
    expect(numbers).toHaveLength(1);
    expect(numbers[0]).toMatchObject({ field: "at", unit: "m", whole: false, value });
    expect(numbers[0]!.distribution).toMatchObject({ kind: "log-normal", low: 20e-9 });
    expect(read(quantity("length"), measured("1 mm", "0.1 mm")).value).toBeCloseTo(1e-3, 12);
    expect(refusal(quantity("length"), spread("20 nm", "80 mK"))).toBe(
      `at.high: expected ${lengthWords}, got "80 mK" (units: m, cm, mm, um, nm, in, mil, thou)`,
    );
    expect(refusal(quantity("length"), spread(2, 1))).toBe(
      'at: expected a spread whose low end lies below its high end, got {"distribution":"log-normal","low":2,"high":1}',
    );
  });

  it("takes no spread where one value is wanted", () => {
    expect(read(exactQuantity("length"), "1 mm").numbers[0]).toMatchObject({
      unit: "m",
      value: 1e-3,
    });
    expect(refusal(exactQuantity("length"), spread(1, 2))).toContain(
      "at: expected one value, no spread, got",
    );
    expect(refusal(exact(aboveZero), spread(1, 2))).toContain("at: expected one value, no spread");
  });

  it("takes rare quantities in their few units", () => {
    const rate = rareQuantity({ si: "mol/s", units: ["mol/s", "mmol/s"], words: "a rate" });
    expect(read(rate, "0.6 mmol/s")).toMatchObject({
      value: expect.closeTo(6e-4, 12),
      numbers: [{ unit: "mol/s" }],
    });
    expect(refusal(rate, "1 m/s")).toBe('at: expected a rate, got "1 m/s" (units: mol/s, mmol/s)');
    expect(refusal(rate, 0)).toBe("at: expected a rate, greater than 0, got 0");
  });
});

describe("a reader of numbers", () => {
  it.each([
    [aboveZero, 0.1, 0, "a number greater than 0"],
    [fromZero, 0, -1, "a number of 0 or more"],
    [share, 1, 1.01, "a number from 0 to 1"],
    [number("an even number", (n) => n % 2 === 0), 4, 3, "an even number"],
  ])("keeps to its bounds: %#", (field, good, bad, words) => {
    expect(read(field, good)).toEqual({
      value: good,
      numbers: [{ field: "at", unit: "", whole: false, value: good }],
    });
    for (const written of [bad, "1", Number.NaN, null, Number.POSITIVE_INFINITY])
      expect(refusal(field, written)).toContain(`at: expected ${words}, got `);
  });

  it("takes a number with the unit that its error names", () => {
    const rate = aboveZeroIn("1/s", "1/min");
    expect(read(rate, "3 1/min")).toEqual({
      value: 0.05,
      numbers: [{ field: "at", unit: "1/s", whole: false, value: 0.05 }],
    });
    expect(refusal(rate, "1 Hz")).toBe(
      'at: expected a number in 1/s, got "1 Hz" (units: 1/s, 1/min)',
    );
    expect(refusal(rate, 0)).toBe("at: expected a number in 1/s, greater than 0, got 0");
  });

  it("reads spreads of numbers, each end within the bounds", () => {
    expect(read(share, spread(0.2, 0.8, { distribution: "uniform" })).value).toBeCloseTo(0.5, 12);
    expect(refusal(share, spread(0.2, 1.2))).toBe(
      "at.high: expected a number from 0 to 1, got 1.2",
    );
  });

  it("tells that it counts, and refuses spreads there", () => {
    expect(read(count, 3).numbers).toEqual([{ field: "at", unit: "", whole: true, value: 3 }]);
    for (const written of [0, -1, 2.5, "2", undefined])
      expect(refusal(count, written)).toContain("at: expected a whole number of at least 1, got");
    expect(refusal(count, spread(1, 2))).toContain("at: expected a whole number, no spread, got");
    const even = exactNumber("an even number", (n) => n % 2 === 0, true);
    expect(read(even, 4).numbers[0]!.whole).toBe(true);
    expect(
      read(
        exactNumber("any", () => true),
        4,
      ).numbers[0]!.whole,
    ).toBe(false);
    expect(refusal(even, spread(2, 4))).toContain("at: expected an even number, no spread, got");
  });
});

describe("a reader of words", () => {
  it("takes text that says something", () => {
    expect(read(text, "gold")).toEqual({ value: "gold", numbers: [] });
    for (const written of ["", "  ", 7, undefined])
      expect(refusal(text, written)).toContain("at: expected a name, got ");
    expect(refusal(textOf("a key"), 1)).toBe("at: expected a key, got 1");
    expect(refusal(object<{ csv: string; file?: string }>(csvFields), { csv: "" })).toBe(
      'at.csv: expected the text of a CSV file, got ""',
    );
  });

  it("takes one of a few words or numbers", () => {
    expect(read(oneOf<"row" | 4>("row", 4), 4).value).toBe(4);
    expect(refusal(oneOf<"row" | 4>("row", 4), "4")).toBe('at: expected "row" or 4, got "4"');
  });
});

interface Sheet {
  readonly width: Uncertain<Length>;
  readonly name?: string;
}
const sheet = object<Sheet>({ width: quantity("length"), name: optional(text) });

describe("a reader of objects and lists", () => {
  it("reads every field by its path, and leaves out what is left out", () => {
    expect(read(sheet, { width: "1 mm" })).toEqual({
      value: { width: 1e-3 },
      numbers: [{ field: "at.width", unit: "m", whole: false, value: 1e-3 }],
    });
    expect(read(sheet, { width: 1, name: undefined }).value).toEqual({ width: 1 });
    expect(read(sheet, { width: 1, name: "a" }, "").value).toEqual({ width: 1, name: "a" });
    expect(read(sheet, { width: 1 }, "").numbers[0]!.field).toBe("width");
  });

  it("refuses what is no object, a missing and a surplus field", () => {
    for (const written of [null, 7, [], "x"])
      expect(refusal(sheet, written)).toContain("at: expected an object with width, name, got ");
    expect(refusal(sheet, null, "")).toContain("mount: expected an object with width, name");
    expect(refusal(sheet, {})).toBe(`at.width: expected ${lengthWords}, got undefined`);
    expect(refusal(sheet, { width: 1, nmae: "a" })).toBe(
      'at.nmae: field "nmae" is not known, did you mean "name"? Known: width, name',
    );
    expect(refusal(sheet, Object.create({ width: 1 }))).toContain("at.width: expected");
    expect(refusal(sheet, JSON.parse('{"__proto__": 1}'))).toContain(
      'field "__proto__" is not known',
    );
  });

  it("reads lists entry by entry, and pairs", () => {
    const lengths = list(quantity("length"), "a list of lengths", 1);
    expect(read(lengths, ["1 m", 2])).toMatchObject({
      value: [1, 2],
      numbers: [{ field: "at[0]" }, { field: "at[1]" }],
    });
    expect(refusal(lengths, ["1 m", "2 K"])).toContain(`at[1]: expected ${lengthWords}, got "2 K"`);
    expect(refusal(lengths, [])).toBe("at: expected a list of lengths, got []");
    expect(refusal(lengths, { 0: 1 })).toContain("at: expected a list of lengths, got {");
    // A hole in a list is no entry that may be skipped.
    expect(refusal(lengths, new Array(1))).toContain("at[0]: expected a length");
    const both = pair(quantity("length"), quantity("power"), "a length and a power");
    expect(read(both, ["1 m", "1 W"]).value).toEqual([1, 1]);
    expect(refusal(both, [1])).toBe("at: expected a length and a power, got [1]");
    expect(refusal(both, [1, "1 m"])).toContain("at[1]: expected a power");
  });

  it("reads two objects written as one, and leaves no other field", () => {
    const both = together(
      sheet,
      object<{ readonly power: Uncertain<Power> }>({ power: quantity("power") }),
    );
    expect(read(both, { width: 1, power: "1 W" }).value).toEqual({ width: 1, power: 1 });
    expect(both.names).toEqual(["width", "name", "power"]);
    expect(refusal(both, { width: 1, power: 1, colour: 1 })).toBe(
      'at.colour: field "colour" is not known. Known: width, name, power',
    );
    expect(refusal(both, { width: 1 })).toContain("at.power: expected a power");
    const either = together(sheet, oneForm<{ readonly a: number }>()({ a: { a: count } }));
    expect(refusal(either, { width: 1 })).toBe(
      'at: expected an object with one of a, got {"width":1}',
    );
  });

  it("checks the whole once its fields are read", () => {
    const short = checked(sheet, ({ width }, at) => {
      if (width > 1) throw new Error(`${at} is too wide`);
    });
    expect(refusal(short, { width: 2 })).toBe("at is too wide");
    expect(refusal(short, { width: "2 K" })).toContain("at.width: expected");
    expect(read(short, { width: 1 }).value).toEqual({ width: 1 });
  });
});

type Form = { readonly rise: Uncertain<Temperature> } | { readonly length: Uncertain<Length> };
const form = oneForm<Form>()({
  rise: { rise: quantity("temperature") },
  length: object<{ readonly length: Uncertain<Length> }>({ length: quantity("length") }),
});
type Kind = { readonly kind: "a"; readonly length: Length } | { readonly kind: "b" };
const kind = byKind<Kind>({
  a: object<{ readonly kind: "a"; readonly length: Length }>({
    kind: oneOf("a"),
    length: exactQuantity("length"),
  }),
  b: object<{ readonly kind: "b" }>({ kind: oneOf("b") }),
});

describe("a reader of alternatives", () => {
  it("finds a form by the key that only it has", () => {
    expect(read(form, { rise: "1 K" })).toMatchObject({
      value: { rise: 1 },
      numbers: [{ unit: "K" }],
    });
    expect(read(form, { length: 2 }).value).toEqual({ length: 2 });
    expect(refusal(form, { rise: 1, length: 1 })).toBe(
      'at: expected only one of rise, length, got "rise and length"',
    );
    expect(refusal(form, { rsie: 1 })).toBe(
      'at.rsie: field "rsie" is not known, did you mean "rise"? Known: rise, length',
    );
    expect(refusal(form, { colour: 1 })).toBe(
      'at: expected an object with one of rise, length, got {"colour":1}',
    );
    expect(refusal(form, null)).toBe("at: expected an object with one of rise, length, got null");
    expect(form.names).toEqual(["rise", "length"]);
  });

  it("finds a kind by its name", () => {
    expect(read(kind, { kind: "a", length: "1 mm" }).value).toEqual({ kind: "a", length: 1e-3 });
    expect(refusal(kind, { kind: "c" })).toBe(
      'at.kind: kind "c" is not known, did you mean "a"? Known: a, b',
    );
    expect(refusal(kind, { kind: "toString" })).toContain('kind "toString" is not known');
    expect(refusal(kind, { kind: 7 })).toBe("at.kind: expected one of a, b, got 7");
    expect(refusal(kind, undefined)).toBe(
      "at: expected an object whose kind is one of a, b, got undefined",
    );
    expect(refusal(kind, { kind: "b", length: 1 })).toContain(
      'at.length: field "length" is not known',
    );
  });

  it("tells two readers apart by a test of what is written", () => {
    const one = either<Uncertain<Length>, Sheet>(isOneValue, quantity("length"), sheet);
    expect(read(one, "1 m").value).toBe(1);
    expect(read(one, spread(1, 4)).value).toBeCloseTo(2, 12);
    expect(read(one, { width: 1 }).value).toEqual({ width: 1 });
    expect(one.names).toEqual(["width", "name"]);
    expect([isOneValue(1), isOneValue("a"), isOneValue({}), isOneValue(spread(1, 2))]).toEqual([
      true,
      true,
      false,
      true,
    ]);
    expect(has("a", "b")({ b: 0 })).toBe(true);
    expect([{ a: undefined }, null, "a", Object.create({ a: 1 })].map(has("a"))).toEqual([
      false,
      false,
      false,
      false,
    ]);
  });
});

describe("the types of readers", () => {
  it("refuse a missing, a surplus and a wrong reader", () => {
    // @ts-expect-error width has no reader
    const missing: FieldsOf<Sheet> = { name: optional(text) };
    const surplus: FieldsOf<Sheet> = {
      width: quantity("length"),
      name: optional(text),
      // @ts-expect-error no such key
      colour: text,
    };
    // @ts-expect-error an area is no length
    const dimension: FieldsOf<Sheet> = { width: quantity("area"), name: optional(text) };
    // @ts-expect-error a key that may be left out must be marked
    const unmarked: FieldsOf<Sheet> = { width: quantity("length"), name: text };
    // @ts-expect-error a key that is needed must not be marked
    const marked: FieldsOf<Sheet> = { width: optional(quantity("length")), name: optional(text) };
    const one = { length: quantity("length") };
    // @ts-expect-error a reader of spreads for a plain number
    const plain: FieldsOf<{ readonly length: Length }> = one;
    const exactly = { length: exact(quantity("length")) };
    // @ts-expect-error a reader of plain numbers for a spread
    const spreads: FieldsOf<{ readonly length: Uncertain<Length> }> = exactly;
    // @ts-expect-error a word too few
    const few: FieldsOf<{ readonly side: "left" | "right" }> = { side: oneOf("left") };
    // @ts-expect-error a word too many
    const many: FieldsOf<{ readonly side: "left" }> = { side: oneOf("left", "right") };
    void [missing, surplus, dimension, unmarked, marked, plain, spreads, few, many];
  });

  it("refuse a form or a kind without a reader, and one of another", () => {
    // @ts-expect-error the form with a length is missing
    const forms = oneForm<Form>()({ rise: { rise: quantity("temperature") } });
    // @ts-expect-error the kind b is missing
    const kinds = byKind<Kind>({ a: kind as never });
    const areas = oneForm<Form>()({
      rise: { rise: quantity("temperature") },
      // @ts-expect-error an area is no length
      length: { length: quantity("area") },
    });
    void [forms, kinds, areas];
  });

  it("make numbers of quantities and spreads, and keep words", () => {
    expectTypeOf<Plain<Uncertain<Length>>>().toEqualTypeOf<number>();
    expectTypeOf<Plain<Area>>().toEqualTypeOf<number>();
    expectTypeOf<Plain<"row" | "spread">>().toEqualTypeOf<"row" | "spread">();
    expectTypeOf<Plain<Sheet>>().toEqualTypeOf<{
      readonly width: number;
      readonly name?: string;
    }>();
    type Purity = Uncertain<number> | { readonly value: Uncertain<number> };
    expectTypeOf<Plain<Purity>>().toEqualTypeOf<number | { readonly value: number }>();
  });
});
