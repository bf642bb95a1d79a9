import { describe, expect, it } from "vitest";
import { columns, inSI, inUnit, readRows, siSpelling } from "../../src/materials/table.js";

const header = columns.join(",");
const row = "density,constant,,,value,19.3,g/cm^3,0.5 %,,crc,table,from memory";

describe("readRows(file, csv)", () => {
  it("reads rows in order, with comments, blank lines and quoted commas", () => {
    const rows = readRows(
      "x.csv",
      `# a comment, with a comma\n${header}\n\n# another\n${row}\ndensity,constant,1,4,value,2e3,kg/m^3,x2,"film, #2",crc,"table 1, left",\n`,
    );
    expect(rows.map((r) => [r.place, r.value, r.sample, r.from, r.to])).toEqual([
      ["x.csv:5", 19.3, "", undefined, undefined],
      ["x.csv:6", 2000, "film, #2", 1, 4],
    ]);
  });

  it.each([
    ["value", row.replace("19.3", "heavy"), 'x.csv:2 value: expected a number, got "heavy"'],
    ["value", row.replace("19.3", "0x12"), 'x.csv:2 value: expected a number, got "0x12"'],
    ["value", row.replace("19.3", "Infinity"), 'x.csv:2 value: expected a number, got "Infinity"'],
    ["value", row.replace("19.3", "1e999"), 'x.csv:2 value: expected a number, got "1e999"'],
    ["uncertainty", row.replace("0.5 %", "small"), 'x.csv:2 uncertainty: expected "5 %", "x2"'],
    ["where", row.replace(",table,", ",,"), 'x.csv:2 where: expected a text, got ""'],
    ["source", row.replace(",crc,", ",,"), 'x.csv:2 source: expected a text, got ""'],
    ["fields", `${row},more`, "x.csv:2: expected 12 fields (a text with a comma in double"],
    [
      "range",
      row.replace(",,,value", ",4,1,value"),
      "x.csv:2 valid_to: expected a temperature above",
    ],
    ["range", row.replace(",,,value", ",1,,value"), 'x.csv:2 valid_to: expected a number, got ""'],
    ["range", row.replace(",,,value", ",-1,1,value"), "x.csv:2 valid_from: expected a temperature"],
  ])("names file, line and column of a bad %s", (_column, bad, message) => {
    expect(() => readRows("x.csv", `${header}\n${bad}\n`)).toThrow(message);
  });

  it("names a column that is missing, an unclosed quote, and an empty file", () => {
    expect(() => readRows("x.csv", `${header.replace(",unit", "")}\n`)).toThrow(
      "x.csv:1 unit: expected the columns property,form,",
    );
    expect(() => readRows("x.csv", `${header}\n"density,constant`)).toThrow("x.csv:");
    expect(() => readRows("x.csv", "")).toThrow("x.csv:1: expected the columns");
    expect(() => readRows("x.csv", 7 as unknown as string)).toThrow("x.csv: expected the text");
  });

  it("keeps a column called __proto__ in a value from doing harm", () => {
    const rows = readRows("x.csv", `${header}\n${row.replace("density", "__proto__")}\n`);
    expect(rows[0]!.property).toBe("__proto__");
    expect(({} as { form?: string }).form).toBeUndefined();
  });
});

describe("inUnit(row, unit) and inSI(row)", () => {
  const read = (unit: string, uncertainty = "") =>
    readRows("x.csv", `${header}\np,f,,,a,2,${unit},${uncertainty},,s,w,\n`)[0]!;

  it("convert value and absolute uncertainty", () => {
    expect(inUnit(read("g/cm^3", "0.1"), "kg/m^3").value).toBeCloseTo(2000, 9);
    expect(inUnit(read("g/cm^3", "0.1"), "kg/m^3").uncertainty).toBe("100");
    expect(inUnit(read("g/cm^3", "5 %"), "kg/m^3").uncertainty).toBe("5 %");
  });

  it("say which unit was wanted", () => {
    expect(() => inUnit(read("mK"), "kg/m^3")).toThrow(
      'x.csv:2 unit: expected a unit such as kg/m^3 for a, got "mK"',
    );
    expect(() => inUnit(read("K"), "")).toThrow('x.csv:2 unit: expected no unit for a, got "K"');
    expect(() => inSI(read("furlong"))).toThrow("x.csv:2 unit: expected a unit such as W/K^4");
  });

  it.each([
    ["nW/K^3.1", "W/K^3.1", 2e-9],
    ["cm^2 K^4/W", "m^2 K^4/W", 2e-4],
    ["mm", "m", 2e-3],
    ["uohm cm", "ohm m", 2e-8],
    ["min", "s", 120],
    ["1/(cm^2 s sr)", "1/(m^2 s sr)", 2e4],
    ["keV", "J", 2 * 1.602176634e-16],
    ["", "", 2],
  ])("bring %s to SI", (unit, si, value) => {
    const converted = inSI(read(unit));
    expect(converted.unit).toBe(si);
    expect(converted.value / value).toBeCloseTo(1, 12);
  });

  it("spell a unit in SI or not at all", () => {
    expect(siSpelling("W/(cm K)")).toBe("W/(m K)");
    expect(siSpelling("W/(parsec K)")).toBeUndefined();
  });
});
