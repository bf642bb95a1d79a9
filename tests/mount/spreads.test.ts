import { describe, expect, it } from "vitest";
import type { Mount } from "../../src/mount/mount.js";
import { readMount, spreadsOf } from "../../src/mount/read.js";
import { measured, spread } from "../../src/units/spread.js";
import { exampleMount } from "./example.js";

const example = exampleMount();
const bonds = { ...example.bonds!, residualResistivityRatio: spread(20, 45) };
const die = { ...example.die, thickness: measured("0.38 mm", "10 um") };
const sky = {
  kind: "millimetre",
  pixels: 600,
  from: "130 GHz",
  to: "170 GHz",
  modes: 1,
  source: { temperature: spread("30 K", "60 K") },
  absorption: spread(0.4, 0.6, { distribution: "uniform" }),
} as const;
const mount: Mount = {
  ...example,
  die,
  bonds,
  loads: [{ kind: "infrared", power: spread("1 nW", "4 nW") }, sky],
  stage: spread("100 mK", "121 mK"),
};

describe("spreads in a mount", () => {
  it("are read as their medians", () => {
    const plain = readMount(mount);
    expect(plain.bonds!.residualResistivityRatio).toBeCloseTo(30, 12);
    expect(plain.die.thickness).toBeCloseTo(0.38e-3, 15);
    expect(plain.stage).toBeCloseTo(0.11, 15);
    expect(plain.loads[0]).toMatchObject({ power: 2e-9 });
    expect(plain.loads[1]).toMatchObject({
      source: { temperature: expect.closeTo(42.42640687119285, 12) },
    });
  });

  it("are listed with their field, unit and distribution", () => {
    const list = spreadsOf(mount).map(({ field, unit, distribution: { kind, low, high } }) => [
      field,
      unit,
      kind,
      Number(low.toPrecision(4)),
      Number(high.toPrecision(4)),
    ]);
    expect(list).toEqual([
      ["die.thickness", "m", "normal", 0.0003636, 0.0003964],
      ["bonds.residualResistivityRatio", "", "log-normal", 20, 45],
      ["stage", "K", "log-normal", 0.1, 0.121],
      ["loads.0.power", "W", "log-normal", 1e-9, 4e-9],
      ["loads.1.source.temperature", "K", "log-normal", 30, 60],
      ["loads.1.absorption", "", "uniform", 0.41, 0.59],
    ]);
  });

  it("are refused where something is counted, chosen or named, and where they do not fit", () => {
    const withBonds = (changes: object) => () =>
      readMount({ ...mount, bonds: { ...bonds, ...changes } });
    expect(withBonds({ count: spread(40, 90) })).toThrow(
      "bonds.count: expected a whole number, no spread",
    );
    expect(withBonds({ material: spread(1, 2) })).toThrow("bonds.material: expected a name");
    expect(withBonds({ length: spread("1 mK", "2 mK") })).toThrow(
      'bonds.length.low: expected a length such as "25 um" or a number in metres, got "1 mK"',
    );
    expect(withBonds({ length: spread("2 mm", "1 mm") })).toThrow(
      "bonds.length: expected a spread whose",
    );
    expect(withBonds({ residualResistivityRatio: spread(0.5, 30) })).toThrow(
      "bonds.residualResistivityRatio.low: expected a residual resistivity ratio greater than 1, got 0.5",
    );
    expect(withBonds({ length: measured("1 mm", "0.8 mm") })).toThrow(
      "bonds.length: expected a length",
    );
    const cells = { ...die, cells: spread(32, 128) };
    expect(() => readMount({ ...mount, die: cells })).toThrow(
      "a power of two from 8 to 512, no spread",
    );
    const loads = [{ ...sky, pixels: spread(1, 4) }];
    expect(() => readMount({ ...mount, loads })).toThrow(
      "loads[0].pixels: expected a whole number, no",
    );
    const mixed = [{ ...sky, from: spread("130 GHz", "1 mm") }];
    expect(() => readMount({ ...mount, loads: mixed })).toThrow(
      'loads[0].from.high: expected a frequency such as "5 GHz" or a number in hertz, got "1 mm"',
    );
  });

  it("know their dimension when the program is written", () => {
    const wrong: Mount = {
      ...mount,
      die: {
        ...die,
        // @ts-expect-error a temperature is no length
        width: spread("20 mK", "25 mK"),
        thickness: spread("0.3 mm", 0.4e-3),
        meanFreePath: measured(1e-3, 1e-4),
      },
      bonds: {
        ...bonds,
        // @ts-expect-error a count has no spread
        count: spread(40, 90),
      },
      loads: [
        // @ts-expect-error a length is no frequency
        {
          kind: "millimetre",
          pixels: 2,
          from: spread("1 mm", "2 mm"),
          to: spread("170 GHz", "171 GHz"),
          modes: 1,
          source: { temperature: spread("30 K", "60 K") },
        },
      ],
    };
    expect(wrong.name).toBe(mount.name);
  });
});
