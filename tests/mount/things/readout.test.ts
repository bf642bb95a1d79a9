import { describe, expect, it } from "vitest";
import { numbersOf, readMount } from "../../../src/mount/read.js";
import { type MountLoad, powerSources } from "../../../src/mount/things/load.js";
import { readoutResonators } from "../../../src/mount/things/readout.js";
import {
  catalogue,
  count,
  dieModels,
  itBalances,
  maybe,
  modelOf,
  number,
  power,
  smallest,
} from "./smallest.js";

const tones = { kind: "readout", tones: 100, powerPerTone: 1e-11 } as const;
const fixed = { ...tones, internalQuality: 2e5, couplingQuality: 4e4 };
const film = {
  superconductor: "aluminium",
  frequency: "5 GHz",
  kineticInductanceFraction: 0.1,
  otherQuality: 1e6,
};
const warming = { ...tones, couplingQuality: 4e4, resonator: film };
const by = (load: object) => smallest({ loads: [load as MountLoad] });
const source = (load: object) => {
  const mount = readMount(by(load));
  return { mount, ...powerSources(mount)[0]! };
};

describe("readout tones", () => {
  itBalances(by(fixed));
  itBalances(by(warming));

  it.each([
    ["tones", { ...count, refused: [0, 1.5] }, fixed],
    ["powerPerTone", { ...power, refused: ["1 K", -1, 0] }, fixed],
    ["internalQuality", number("a number greater than 0", 1, 0, -1), fixed],
    ["couplingQuality", number("a number greater than 0", 1, 0, -1), warming],
    ["detuning", maybe(number("a number of linewidths", -3, "1 Hz")), fixed],
    ["lineLoss", maybe(number("a loss in dB, 0 or more", 3, -1)), fixed],
  ] as const)("have a field %s", (key, takes, load) => {
    const written = (value: unknown) => () => readMount(by({ ...load, [key]: value }));
    expect(written(takes.value)).not.toThrow();
    for (const value of takes.refused)
      expect(written(value)).toThrow(`loads[0].${key}: expected ${takes.words}`);
  });

  it("take one form of what stays on the chip, and no other field", () => {
    expect(() => readMount(by({ ...fixed, colour: 1 }))).toThrow(
      'loads[0].colour: field "colour" is not known',
    );
    expect(() => readMount(by({ ...fixed, dissipatedFraction: 0.5 }))).toThrow(/^loads\[0\]/);
    expect(() => readMount(by({ ...tones, dissipatedFraction: 1.1 }))).toThrow(
      "loads[0].dissipatedFraction: expected a number from 0 to 1, got 1.1",
    );
    expect(numbersOf(by(fixed)).get("loads.0.tones")).toMatchObject({ whole: true, unit: "" });
  });

  it("leave 2Qr²/(QiQc) of their power, 1/Qr = 1/Qi + 1/Qc, or the share that is given", () => {
    const { heat, mount } = source(fixed);
    const loaded = 1 / (1 / 2e5 + 1 / 4e4);
    const share = (2 * loaded ** 2) / (2e5 * 4e4);
    expect(heat(mount, catalogue, 0.1).power / (1e-9 * share)).toBeCloseTo(1, 12);
    const given = source({ ...tones, dissipatedFraction: 0.3 });
    expect(given.heat(given.mount, catalogue, 0.1).power).toBeCloseTo(3e-10, 20);
  });

  it("heat more as the chip warms where their resonator loses quality, with Qc above Qi", () => {
    const { law, mount } = source(warming);
    const own = law(mount, catalogue)!;
    const constant = source(fixed);
    expect(constant.law(constant.mount, catalogue)).toBeUndefined();
    // Cold, only the other losses are left: Qi = 1e6.
    const loaded = 1 / (1 / 1e6 + 1 / 4e4);
    expect(own.power(0.03) / ((1e-9 * 2 * loaded ** 2) / (1e6 * 4e4))).toBeCloseTo(1, 6);
    expect(own.power(0.2)).toBeGreaterThan(2 * own.power(0.1));
    const step = 1e-6;
    expect(
      (own.power(0.2 + step) - own.power(0.2 - step)) / (2 * step) / own.slope(0.2),
    ).toBeCloseTo(1, 6);
  });

  it.each(dieModels)("are taken at the chip's own temperature, on a die with model %s", (die) => {
    const point = modelOf(by(warming), die).point();
    const { law, mount } = source(warming);
    const [heat] = point.loads;
    expect(heat!.load.power / law(mount, catalogue)!.power(point.chip)).toBeCloseTo(1, 8);
  });

  it("tell the resonators that they read", () => {
    const { loads } = readMount(smallest({ loads: [fixed, warming] as MountLoad[] }));
    expect(readoutResonators(loads)).toEqual([
      { name: "readout", field: "loads[1].resonator", of: { ...film, frequency: 5e9 } },
    ]);
  });
});
