import { describe, expect, it } from "vitest";
import { readCatalogue } from "../../src/materials/catalogue.js";
import { readDataFolder } from "../../src/materials/files.js";
import { columns, sourceColumns } from "../../src/materials/table.js";
import type { CatalogueFiles } from "../../src/materials/types.js";

const header = columns.join(",");
const sources = `${sourceColumns.join(",")}\nme2024,"A. Author","A title","J. Exp. 1, 2",2024,,\n`;
const files = (csv: string, more: Partial<CatalogueFiles> = {}): CatalogueFiles => ({
  sources,
  materials: { stuff: `${header}\n${csv}` },
  joints: {},
  loads: {},
  ...more,
});
const read = (csv: string) => readCatalogue(files(csv)).material("stuff");
const power = (from: string, to: string, sample = "", a = "2") =>
  `thermal_conductivity,power,${from},${to},coefficient,${a},W/(m K),5 %,${sample},me2024,table 1,\n` +
  `thermal_conductivity,power,${from},${to},exponent,1,,,${sample},me2024,table 1,\n`;

describe("readCatalogue(files)", () => {
  it("gives a constant in SI with its whole provenance", () => {
    const { value, provenance } = read(
      "density,constant,,,value,2.5,g/cm^3,1 %,,me2024,table 3,a guess\n",
    ).constant("density");
    expect(value).toBeCloseTo(2500, 9);
    expect(provenance).toEqual({
      quantity: "stuff: density",
      value,
      unit: "kg/m^3",
      uncertainty: "1 %",
      source: "A. Author, A title, J. Exp. 1, 2 (2024)",
      where: "table 3",
      note: "a guess",
    });
  });

  it.each([
    [
      "an unknown property",
      "colour,constant,,,value,1,,,,me2024,w,\n",
      "stuff.csv:2 property: expected one of thermal_conductivity, resistivity,",
    ],
    [
      "an unknown form",
      "density,powr,,,value,1,kg/m^3,,,me2024,w,\n",
      'stuff.csv:2 form: expected one of constant, got "powr"',
    ],
    [
      "a unit of another dimension",
      "density,constant,,,value,1,K,,,me2024,w,\n",
      'stuff.csv:2 unit: expected a unit such as kg/m^3 for value, got "K"',
    ],
    [
      "an implausible value",
      "density,constant,,,value,19.3,kg/m^3,,,me2024,w,\n" +
        "sound_speed_transverse,constant,,,value,9,m/s,,,me2024,w,\n",
      "stuff.csv:3 value: expected sound_speed_transverse value from 200 to 15000 m/s",
    ],
    [
      "a source that sources.csv does not know",
      "density,constant,,,value,1900,kg/m^3,,,you2024,w,\n",
      'stuff.csv:2 source: expected a key of data/sources.csv, got "you2024"',
    ],
    [
      "a parameter that the form does not take",
      `${power("1", "4")}thermal_conductivity,power,1,4,slope,1,,,,me2024,w,\n`,
      "stuff.csv:4 parameter: expected one of coefficient, exponent, continues_below_as_power",
    ],
    [
      "a parameter that is missing",
      "thermal_conductivity,power,1,4,coefficient,1,W/(m K),,,me2024,w,\n",
      "stuff.csv:2 parameter: expected a row exponent for power",
    ],
    [
      "a parameter twice",
      `${power("1", "4")}thermal_conductivity,power,1,4,exponent,1,,,,me2024,w,\n`,
      'stuff.csv:4 parameter: expected each parameter of a law once, got "exponent"',
    ],
    [
      "a conductivity without a range",
      power("", ""),
      "stuff.csv:2 valid_to: expected the range of the law in kelvin",
    ],
    [
      "ranges that overlap",
      power("1", "4") + power("3", "9", "", "3"),
      "stuff.csv:4 valid_from: expected ranges of one sample not to overlap (stuff.csv:2 ends at 4 K)",
    ],
    [
      "a gap between pieces",
      power("1", "4") + power("5", "9", "", "3"),
      "stuff.csv:4 valid_from: expected the pieces of one sample to adjoin (stuff.csv:2 ends at 4 K)",
    ],
    [
      "a nameless sample beside a named one",
      power("1", "4") + power("1", "4", "film"),
      "stuff.csv:2 sample: expected a name, since thermal_conductivity has other samples",
    ],
    [
      "a table of one point",
      "resistivity,table,1,300,295 K,1,uohm cm,,,me2024,w,\n",
      "stuff.csv:2 parameter: expected two rows or more",
    ],
    [
      "a point of a table that is no temperature",
      "resistivity,table,1,300,warm,1,uohm cm,,,me2024,w,\n",
      "stuff.csv:2 parameter: expected one of",
    ],
  ])("refuses %s, naming file, line and column", (_what, csv, message) => {
    expect(() => read(csv)).toThrow(message);
  });

  it("refuses faults in sources.csv", () => {
    const bad = (text: string) => () =>
      readCatalogue(files("", { sources: `${sourceColumns.join(",")}\n${text}` }));
    expect(bad("a,b,c,d,2024,,\na,b,c,d,2024,,\n")).toThrow("sources.csv:3 key: expected a key");
    expect(bad("a,b,c,d,MMXXIV,,\n")).toThrow('sources.csv:2 year: expected a year, got "MMXXIV"');
    expect(bad("a,b,,d,2024,,\n")).toThrow("sources.csv:2 title: expected a title");
  });

  it("says which names there are and which is near when a material is not known", () => {
    const catalogue = readCatalogue(readDataFolder());
    expect(() => catalogue.material("cooper", "bonds.metal")).toThrow(
      'bonds.metal: material "cooper" is not known, did you mean "copper"? Known: al-3003,',
    );
    for (const name of ["__proto__", "constructor", "toString"]) {
      expect(() => catalogue.material(name)).toThrow("is not known");
    }
  });

  it("refuses file names that are no names in code", () => {
    for (const name of ["Gold", "a b", "-x", ""]) {
      expect(() => readCatalogue(files("", { materials: { [name]: header } }))).toThrow(
        "materials: expected a name in small letters, digits and hyphens",
      );
    }
    const proto = JSON.parse(`{"__proto__": ${JSON.stringify(header)}}`) as Record<string, string>;
    expect(() => readCatalogue(files("", { materials: proto }))).toThrow("materials: expected a");
  });
});

describe("catalogue.laws(folder, kind)", () => {
  const joint =
    `${header}\ngold on gold,pressed,0.1,1,conductance,100,mW/K,x2,bare,me2024,table 2,\n` +
    "gold on gold,pressed,0.1,1,reference_force,0.1,kN,0.01,bare,me2024,table 2,\n";
  const catalogue = readCatalogue(files("", { joints: { squeezed: joint } }));

  it("gives parameters in SI, range and provenance", () => {
    const [law] = catalogue.laws("joints", "squeezed");
    expect([law!.property, law!.form, law!.sample]).toEqual(["gold on gold", "pressed", "bare"]);
    expect(law!.parameters.get("conductance")!.value).toBeCloseTo(0.1, 12);
    expect(law!.parameters.get("reference_force")!.value).toBeCloseTo(100, 12);
    expect(law!.parameters.get("reference_force")!.provenance.uncertainty).toBe("10");
    expect(law!.parameters.get("conductance")!.provenance.unit).toBe("W/K");
    expect(law!.range).toMatchObject({ from: 0.1, to: 1, outside: "warn" });
    expect(law!.provenance).toHaveLength(2);
  });

  it("says which kinds there are", () => {
    expect(() => catalogue.laws("joints", "squezed")).toThrow(
      'catalogue.laws joints: kind "squezed" is not known, did you mean "squeezed"?',
    );
    expect(() => catalogue.laws("loads", "squeezed")).toThrow("Known: none");
  });
});

describe("catalogue.withMaterial(name, csv, sources)", () => {
  const base = readCatalogue(files("density,constant,,,value,2500,kg/m^3,,,me2024,w,\n"));
  const csv = `${header}\ndensity,constant,,,value,3000,kg/m^3,,,own2025,lab book,\n`;
  const own = `${sourceColumns.join(",")}\nown2025,"B. Author","Lab book","",2025,,\n`;

  it("adds a material with its source and leaves the first catalogue as it was", () => {
    const more = base.withMaterial("my-alloy", csv, own);
    expect(more.materials).toEqual(["my-alloy", "stuff"]);
    expect(base.materials).toEqual(["stuff"]);
    const { value, provenance } = more.material("my-alloy").constant("density");
    expect(value).toBe(3000);
    expect(provenance.source).toBe("B. Author, Lab book (2025)");
  });

  it("replaces a material", () => {
    expect(base.withMaterial("stuff", csv, own).material("stuff").constant("density").value).toBe(
      3000,
    );
  });

  it("names line and column of a fault, and a source that is not known", () => {
    expect(() => base.withMaterial("my-alloy", csv)).toThrow(
      "my-alloy.csv:2 source: expected a key",
    );
    expect(() => base.withMaterial("My Alloy", csv, own)).toThrow("material: expected a name");
    const other = own.replace("own2025", "me2024");
    expect(() => base.withMaterial("my-alloy", csv, other)).toThrow(
      "sources me2024: expected the publication on file",
    );
  });
});

describe("catalogue.withLaws(folder, kind, csv, sources)", () => {
  const base = readCatalogue(files("density,constant,,,value,2500,kg/m^3,,,me2024,w,\n"));
  const own = `${sourceColumns.join(",")}\nown2025,"B. Author","Lab book","",2025,,\n`;
  const felt = (value: number, sample = "") =>
    `${header}\nfelt on tin,pressed,0.1,1,conductance,${value},nW/K,,${sample},own2025,lab book,\n`;

  it("adds laws, begins a kind, and leaves the first catalogue as it was", () => {
    const more = base.withLaws("joints", "felted", felt(3), own);
    const [law] = more.laws("joints", "felted");
    expect(law!.parameters.get("conductance")!.value).toBeCloseTo(3e-9, 20);
    expect(law!.provenance[0]!.source).toBe("B. Author, Lab book (2025)");
    expect(() => base.laws("joints", "felted")).toThrow('kind "felted" is not known');
  });

  it("replaces the law of the same property and sample, and keeps the others", () => {
    const twice = base
      .withLaws("joints", "felted", felt(3), own)
      .withLaws("joints", "felted", felt(4, "thick"))
      .withLaws("joints", "felted", felt(5));
    expect(
      twice
        .laws("joints", "felted")
        .map(({ sample, parameters }) => [sample, parameters.get("conductance")!.value * 1e9]),
    ).toEqual([
      ["thick", expect.closeTo(4, 12)],
      ["", expect.closeTo(5, 12)],
    ]);
  });

  it("names line and column of a fault", () => {
    expect(() => base.withLaws("joints", "felted", felt(3))).toThrow(
      "felted.csv:2 source: expected a key",
    );
    expect(() => base.withLaws("joints", "Felted", felt(3), own)).toThrow(
      "joints: expected a name",
    );
  });
});

describe("catalogue.withFactors(factors) and catalogue.watched(note)", () => {
  const constant = (property: string, value: number, unit: string) =>
    `${property},constant,,,value,${value},${unit},5 %,,me2024,w,\n`;
  const joint =
    `${header}\ntin on tin,pressed,0.1,1,conductance,100,mW/K,x2,,me2024,table 2,\n` +
    "felt on tin,pressed,0.1,1,conductance,5,mW/K,x2,,me2024,table 2,\n";
  const base = readCatalogue({
    sources,
    materials: {
      stuff:
        `${header}\n${power("1", "4")}${constant("density", 2500, "kg/m^3")}` +
        constant("molar_mass", 0.1, "kg/mol"),
      other: `${header}\n${constant("density", 3000, "kg/m^3")}`,
    },
    joints: { squeezed: joint },
    loads: {},
  });
  const density = "materials/stuff.csv:4";

  it("makes anew only what a factor enters", () => {
    const more = base.withFactors(new Map([[density, 2]]));
    expect(more.material("stuff").constant("density").value).toBe(5000);
    expect(more.material("stuff").constant("density").provenance.value).toBe(5000);
    expect(more.material("other")).toBe(base.material("other"));
    expect(more.laws("joints", "squeezed")[0]).toBe(base.laws("joints", "squeezed")[0]);
    const [tin, felt] = base
      .withFactors(new Map([["joints/squeezed.csv:3", 3]]))
      .laws("joints", "squeezed");
    expect(tin).toBe(base.laws("joints", "squeezed")[0]);
    expect(felt!.parameters.get("conductance")!.value).toBeCloseTo(0.015, 15);
    expect(felt!.provenance[0]!.value).toBeCloseTo(0.015, 15);
  });

  it("multiplies factors that come one after the other", () => {
    const twice = base.withFactors(new Map([[density, 2]])).withFactors(new Map([[density, 3]]));
    expect(twice.material("stuff").constant("density").value).toBe(15000);
    expect(twice.origin.factors).toEqual([[density, 6]]);
    expect(twice.rows().find(({ key }) => key === density)!.value).toBe(15000);
  });

  it("forgets the factors on rows that a text replaces, and keeps the others", () => {
    const tin = "joints/squeezed.csv:2";
    const varied = base.withFactors(
      new Map([
        [density, 2],
        [tin, 3],
      ]),
    );
    const again = `${header}\n\n\n${constant("density", 2500, "kg/m^3")}`;
    const replaced = varied.withMaterial("stuff", again);
    expect(replaced.material("stuff").constant("density").value).toBe(2500);
    expect(replaced.origin.factors).toEqual([[tin, 3]]);
    const felt = `${header}\n\nfelt on tin,pressed,0.1,1,conductance,7,mW/K,x2,,me2024,t,\n`;
    const more = varied.withLaws("joints", "squeezed", felt);
    expect(
      more.laws("joints", "squeezed").map(({ parameters }) => parameters.get("conductance")!.value),
    ).toEqual([expect.closeTo(0.3, 12), expect.closeTo(0.007, 12)]);
  });

  it("notes the uncertain rows that a computation reads, and no others", () => {
    let rows: string[] = [];
    const watched = base.watched((row) => rows.push(row));
    const read = (compute: () => unknown) => {
      rows = [];
      compute();
      return [...new Set(rows)];
    };
    const stuff = watched.material("stuff");
    expect(read(() => stuff.constant("density"))).toEqual([density]);
    expect(read(() => stuff.thermalConductivity().at(2))).toEqual(["materials/stuff.csv:2"]);
    const felt = () =>
      watched.laws("joints", "squeezed").find(({ property }) => property === "felt on tin");
    expect(read(felt)).toEqual([]);
    expect(read(() => felt()!.parameters)).toEqual(["joints/squeezed.csv:3"]);
    // Again, since what depends on a row is found by each computation anew.
    expect(read(() => felt()!.parameters)).toEqual(["joints/squeezed.csv:3"]);
    const varied = watched.withFactors(new Map([[density, 2]]));
    expect(read(() => varied.material("stuff").constant("density"))).toEqual([density]);
    expect(varied.material("stuff").constant("density").value).toBe(5000);
    expect(read(() => watched.rows())).toEqual([]);
  });
});
