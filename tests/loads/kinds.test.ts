import { describe, expect, it } from "vitest";
import { resonatorFields } from "../../src/device/quality.js";
import { superconductorFields } from "../../src/device/superconductor.js";
import { background, backgroundHits } from "../../src/loads/background.js";
import { demagnetisationFields } from "../../src/loads/demagnetisation.js";
import { dilutionFields } from "../../src/loads/dilution.js";
import { givenLoad } from "../../src/loads/given.js";
import { type Infrared, infrared } from "../../src/loads/infrared.js";
import * as kinds from "../../src/loads/kinds.js";
import { type Lamp, lamp } from "../../src/loads/lamp.js";
import type { LoadContext, LoadKind } from "../../src/loads/load-kind.js";
import { millimetre } from "../../src/loads/millimetre.js";
import { muonHits, muons } from "../../src/loads/muons.js";
import { nightSky } from "../../src/loads/night-sky.js";
import { optical } from "../../src/loads/optical.js";
import { radiation } from "../../src/loads/radiation.js";
import { coolingCurveFields } from "../../src/loads/stage.js";
import { tonesFields } from "../../src/loads/tones.js";
import { wiring } from "../../src/loads/wiring.js";
import { readCatalogue } from "../../src/materials/catalogue.js";
import { readDataFolder } from "../../src/materials/files.js";
import { random } from "../../src/numerics/random.js";
import {
  count,
  type Field,
  object,
  oneForm,
  optional,
  quantity,
  quantityFromZero,
  type ReadNumber,
  share,
  text,
} from "../../src/units/fields.js";
import { spread } from "../../src/units/spread.js";

const catalogue = readCatalogue(readDataFolder());
const die = { material: "silicon", width: 0.01, length: 0.008, thickness: 4e-4 };
const context: LoadContext = { name: "it", field: "loads[0]", on: "die", catalogue, die };
const unnamed = { name: "it" };

/** Options, a number among them with its path and unit, and the load by itself. */
const loads = {
  background: [
    { rate: 0.02, energy: "200 keV" },
    "energy",
    "J",
    (o: never) => background(o, catalogue, "loads[0]"),
  ],
  given: [{ power: "1 nW" }, "power", "W", (o: never) => givenLoad(o, "loads[0]")],
  infrared: [
    { hot: "4 K", area: "1 cm^2", emissivity: 0.5 },
    "emissivity",
    "",
    (o: never) => infrared(o, "loads[0]"),
  ],
  lamp: [
    { power: "1 nW", wavelength: "405 nm", pixels: 9 },
    "power",
    "W",
    (o: never) => lamp(o, "loads[0]"),
  ],
  millimetre: [
    { pixels: 6, from: "130 GHz", to: "170 GHz", source: { temperature: "20 K" } },
    "source.temperature",
    "K",
    (o: never) => millimetre(o, "loads[0]"),
  ],
  muons: [
    { flux: 100, tilt: "30 deg", exponent: 2, momentum: "1 GeV" },
    "flux",
    "1/(m^2 s)",
    (o: object) => muons({ ...die, ...o }, catalogue, "loads[0]"),
  ],
  optical: [
    { pixels: 10, temperature: "30 K", from: "130 GHz", to: "170 GHz" },
    "temperature",
    "K",
    (o: never) => optical(o, "loads[0]"),
  ],
  radiation: [
    {
      source: { temperature: "300 K" },
      through: { etendue: 1e-9 },
      filters: [{ name: "f", temperature: "4 K", transmission: 0.1 }],
      band: { from: "8 um", to: "12 um" },
    },
    "filters[0].transmission",
    "",
    (o: never) => radiation(o, "loads[0]"),
  ],
  sky: [
    { pixels: 9, band: "V", sky: "dark", telescopeArea: "4 m^2", pixelScale: "1 arcsec" },
    "telescopeArea",
    "m^2",
    (o: never) => nightSky(o, catalogue, "loads[0]"),
  ],
  wiring: [
    {
      members: [{ material: "nbti", diameter: "0.1 mm" }],
      stages: [
        { name: "1 K", temperature: "1 K" },
        { name: "stage", temperature: "110 mK", length: "0.2 m" },
      ],
    },
    "stages[1].length",
    "m",
    (o: never) => wiring(o, catalogue, "loads[0]"),
  ],
} satisfies Record<keyof typeof kinds, unknown>;

const table = Object.entries(loads) as unknown as readonly [
  keyof typeof kinds,
  readonly [object, string, string, (options: object) => { readonly power: number }],
][];
const kindOf = (name: keyof typeof kinds) =>
  Object.entries(kinds).find(([each]) => each === name)![1] as LoadKind<unknown>;
const numbersOf = (field: Field<never> | Field<unknown>, options: unknown) => {
  const numbers: ReadNumber[] = [];
  const plain = (field as Field<unknown>).read(options, "o", (number) => numbers.push(number));
  return { plain, numbers };
};

/** The options with something else at a path. */
function withAt(options: unknown, path: readonly string[], value: unknown): unknown {
  const [key, ...rest] = path;
  if (key === undefined) return value;
  const copy = Array.isArray(options) ? [...options] : { ...(options as object) };
  Object.assign(copy, { [key]: withAt(copy[key as keyof typeof copy], rest, value) });
  return copy;
}
const keysOf = (path: string) => path.split(/[.[\]]+/).filter((key) => key !== "");

describe.each(table)("a load of the kind %s", (name, [options, path, unit, alone]) => {
  const kind = kindOf(name);
  const heat = (written: unknown) => kind.heat(kind.fields.read(written, "loads[0]"), context);

  it("brings the heat of its own function, under the mount's name", () => {
    const load = heat(options);
    expect(load.power).toBeGreaterThan(0);
    expect(load).toEqual(alone({ ...options, ...unnamed }));
  });

  it("takes the median of a spread, and tells of it", () => {
    const { numbers } = numbersOf(kind.fields, options);
    const { value } = numbers.find(({ field }) => field === `o.${path}`)!;
    const spreading = withAt(options, keysOf(path), spread(value / 1.2, value * 1.2));
    const read = numbersOf(kind.fields, spreading).numbers.find(
      ({ field }) => field === `o.${path}`,
    )!;
    expect(read).toMatchObject({ unit, whole: false, distribution: { kind: "log-normal" } });
    expect(read.value / value).toBeCloseTo(1, 12);
    expect(heat(spreading).power / heat(options).power).toBeCloseTo(1, 9);
    expect(alone({ ...(spreading as object), ...unnamed }).power / heat(options).power).toBeCloseTo(
      1,
      9,
    );
  });

  it("refuses what it does not know, and nothing in place of something, by name", () => {
    expect(() => heat({ ...options, nmae: 1 })).toThrow(/^loads\[0\]\.nmae: field "nmae" is not/);
    expect(() => heat({ ...options, kind: name })).toThrow('field "kind" is not known');
    for (const nothing of [Number.NaN, null, {}, Symbol("x")]) {
      expect(() => heat(withAt(options, keysOf(path), nothing))).toThrow(
        `loads[0].${path}: expected`,
      );
    }
    for (const nothing of [null, undefined, 7, []]) {
      expect(() => heat(nothing)).toThrow(/^loads\[0\].*expected/);
    }
  });
});

describe("loads that know the die", () => {
  const byMass = { powerPerMass: 2.7e-11, spectrum: { from: "40 keV", to: "2 MeV" } } as const;

  it("by its mass: heat and hits are those of a die of that size", () => {
    const { material, width, length, thickness } = die;
    const whole = { ...byMass, material, area: width * length, thickness, name: "it" };
    const plain = kinds.background.fields.read(byMass, "loads[0]");
    expect(kinds.background.heat(plain, context)).toEqual(background(whole, catalogue, "loads[0]"));
    const hits = kinds.background.hits!(plain, context, () => ({ x: 1, y: 2 }));
    expect(hits.rate).toBe(backgroundHits(whole, catalogue).rate);
    expect(hits.draw(random(1)).place).toEqual({ x: 1, y: 2 });
    expect(kinds.background.hits!(plain, context).draw(random(1))).not.toHaveProperty("place");
    expect(() => kinds.background.heat(plain, { ...context, on: "box" })).toThrow(
      'loads[0].on: expected "die", whose mass it goes by, got "box"',
    );
  });

  it("muons are hits of the same rate and energy", () => {
    const options = { tilt: "30 deg", fluctuation: "landau" } as const;
    const plain = kinds.muons.fields.read(options, "loads[0]");
    const hits = kinds.muons.hits!(plain, context);
    const alone = muonHits({ ...die, ...options, name: "it" }, catalogue, "loads[0]");
    expect([hits.rate, hits.energy, hits.draw(random(3))]).toEqual([
      alone.rate,
      alone.energy,
      alone.draw(random(3)),
    ]);
    expect(kinds.muons.heat(plain, context).power).toBeCloseTo(hits.rate * hits.energy, 24);
    expect(() => kinds.muons.fields.read({ width: 1 }, "loads[0]")).toThrow(
      'loads[0].width: field "width" is not known',
    );
  });

  it("background has one of three forms", () => {
    const read = (options: object) => () => kinds.background.fields.read(options, "b");
    expect(read({ rate: 1, energy: 1e-15, spectrum: byMass.spectrum })).toThrow(
      'b: expected only one of energy, spectrum, got "energy and spectrum"',
    );
    expect(read({ rate: 1 })).toThrow("b: expected an object with one of energy, spectrum");
    expect(read({ powerPerMass: 1, rate: 1 })).toThrow('b.rate: field "rate" is not known');
    expect(read({ mass: 1 })).toThrow("b: expected an object with one of energy, spectrum");
  });
});

describe("stages, tones and films", () => {
  const film = {
    criticalTemperature: spread("0.7 K", "0.9 K"),
    densityOfStates: "1e10 1/(eV um^3)",
  };
  it.each([
    [
      tonesFields,
      { toneList: [spread(1e-13, 4e-13), { power: 1e-12, detuning: 1 }], attenuation: [3] },
      { toneList: [2e-13, { power: 1e-12, detuning: 1 }], attenuation: [3] },
    ],
    [
      coolingCurveFields,
      { points: [["20 mK", 0]], base: spread("9 mK", "16 mK") },
      { points: [[0.02, 0]], base: 0.012 },
    ],
    [dilutionFields, { circulation: spread("1 mmol/s", "4 mmol/s") }, { circulation: 2e-3 }],
    [
      demagnetisationFields,
      { salt: "x", mass: "100 g", field: spread("2 T", "8 T"), start: 4, temperature: "0.1 K" },
      { salt: "x", mass: 0.1, field: 4, start: 4, temperature: 0.1 },
    ],
    [superconductorFields, "aluminium", "aluminium"],
    [
      resonatorFields,
      { superconductor: film, frequency: "1 GHz", kineticInductanceFraction: 0.5 },
      {
        superconductor: {
          criticalTemperature: Math.sqrt(0.63),
          densityOfStates: 1e28 / 1.602176634e-19,
        },
        frequency: 1e9,
        kineticInductanceFraction: 0.5,
      },
    ],
  ])("are read into SI, spreads as their medians: %#", (field, options, wanted) => {
    const round = (value: unknown): unknown =>
      JSON.parse(JSON.stringify(value), (_, x) =>
        typeof x === "number" ? Number(x.toPrecision(12)) : (x as unknown),
      );
    expect(round((field as Field<unknown>).read(options, "o"))).toEqual(round(wanted));
  });

  it.each([
    [dilutionFields, { circulaton: 1 }, 'o.circulaton: field "circulaton" is not known, did you'],
    [coolingCurveFields, { points: [["20 mK"]] }, "o.points[0]: expected [temperature, power]"],
    [
      coolingCurveFields,
      { points: [[spread(0.01, 0.02), 0]] },
      "o.points[0][0]: expected one value, no spread",
    ],
    [
      demagnetisationFields,
      { salt: "x", amount: 1, mass: 1 },
      'o: expected only one of amount, mass, got "amount and mass"',
    ],
    [
      resonatorFields,
      { superconductor: { gapRation: 2 } },
      'o.superconductor.gapRation: field "gapRation" is not known, did you mean "gapRatio"?',
    ],
    [tonesFields, { tones: spread(1, 9), powerPerTone: 1 }, "o.tones: expected a whole number, no"],
  ])("refuse by name: %#", (field, options, message) => {
    expect(() => (field as Field<unknown>).read(options, "o")).toThrow(message);
  });
});

describe("a kind without a reader for every option", () => {
  const all = {
    name: optional(text),
    power: quantityFromZero("power"),
    shareOnChip: optional(share),
    absorption: optional(share),
    wavelength: optional(quantity("length")),
    pixels: optional(count),
  };
  it("does not compile", () => {
    const { absorption, ...missing } = all;
    object<Lamp>(all);
    // @ts-expect-error: absorption has no reader
    object<Lamp>(missing);
    // @ts-expect-error: a power is no length
    object<Lamp>({ ...all, power: quantity("length") });
    // @ts-expect-error: a count has no spread
    object<Lamp>({ ...all, pixels: optional(share) });
    // @ts-expect-error: the power may not be left out
    object<Lamp>({ ...all, power: optional(quantityFromZero("power")) });
    // @ts-expect-error: a lamp has no width
    object<Lamp>({ ...all, width: quantity("length") });
    const common = { name: optional(text), pixels: optional(count) };
    const power = { ...common, power: quantityFromZero("power") };
    // @ts-expect-error: infrared has another form, of a wall
    oneForm<Infrared>()({ power });
    // @ts-expect-error: the wall's area has no reader
    oneForm<Infrared>()({ power, hot: { ...common, hot: quantity("temperature") } });
    // @ts-expect-error: a kind of lamps reads lamps
    const kind: LoadKind<Lamp> = { ...kinds.lamp, fields: kinds.optical.fields };
    expect(kind.falls).toBe(kinds.lamp.falls);
    expect(absorption).toBe(all.absorption);
  });
});
