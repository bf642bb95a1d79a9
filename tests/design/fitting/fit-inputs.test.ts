import { describe, expect, it } from "vitest";
import {
  type CalibrationOptions,
  fieldsIn,
  partedWords,
  priorCorrelations,
  readInputs,
  readSharedErrors,
} from "../../../src/design/fitting/fit-inputs.js";
import { readThermometry } from "../../../src/design/fitting/thermometry.js";
import { spread, z95 } from "../../../src/units/spread.js";
import { padded, smallest } from "../../mount/things/smallest.js";

const mount = smallest({
  ...padded,
  pads: { ...padded.pads, thickness: spread("400 nm", "625 nm") },
  bonds: {
    ...padded.bonds,
    length: spread("1 mm", "3 mm", { distribution: "normal" }),
  },
  correlations: [{ of: ["pads.thickness", "bonds.length"], coefficient: 0.5 }],
});
const read = (inputs: readonly unknown[], more: Partial<CalibrationOptions> = {}) =>
  readInputs(mount, { inputs: inputs as never, ...more });

describe("inputs to fit", () => {
  it("begin where the mount stands, as logarithms where that is above 0", () => {
    const [thickness, length] = read([
      "pads.thickness",
      { field: "bonds.length", start: "1.5 mm", scale: "linear" },
    ]);
    // The median of a log-normal spread is the geometric mean of its ends.
    expect(thickness).toMatchObject({ unit: "m", logarithmic: true });
    expect(thickness!.start).toBeCloseTo(Math.log(Math.sqrt(400e-9 * 625e-9)), 12);
    expect(thickness!.scale!(3)).toBe(1);
    expect([length!.logarithmic, length!.start]).toEqual([false, 1.5e-3]);
    expect([length!.scale!(-4e-3), length!.scale!(1e-4)]).toEqual([4e-3, 1.5e-3]);
    expect(thickness).not.toHaveProperty("prior");
  });

  it("take the mount's spread as a measurement when asked to: 90 % is 2 × 1.645 standard deviations", () => {
    const [thickness, length] = read(
      ["pads.thickness", { field: "bonds.length", scale: "linear" }],
      { useSpreads: true },
    );
    expect(thickness!.prior!.value).toBeCloseTo(Math.log(500e-9), 12);
    expect(thickness!.prior!.uncertainty).toBeCloseTo(Math.log(625 / 400) / (2 * z95), 12);
    expect(length!.prior!.uncertainty).toBeCloseTo(2e-3 / (2 * 1.6448536), 9);
  });

  it("are refused by name", () => {
    expect(() => fieldsIn({ inputs: [] })).toThrow("inputs: expected a field of the mount or more");
    expect(() => read(["bonds.count"])).toThrow(
      "inputs bonds.count: expected a field that need not be a whole number",
    );
    expect(() => read(["bonds.length", "bonds.length"])).toThrow(
      'inputs: expected each field once, got "bonds.length"',
    );
    const scale = { field: "bonds.length", scale: "cubic" };
    expect(() => read([scale])).toThrow(
      'inputs bonds.length scale: expected "linear" or "logarithmic"',
    );
    const inset = { field: "pads.inset", start: 0 };
    expect(() => read([{ ...inset, scale: "logarithmic" }])).toThrow(
      "inputs pads.inset start: expected a start above 0, got 0",
    );
    expect(() => read([inset])).toThrow("inputs pads.inset start: expected a start other than 0");
  });

  it("that vary together are fitted together, or part with a word", () => {
    const one = [{ name: "pads.thickness" }];
    const both = [...one, { name: "bonds.length" }];
    expect(priorCorrelations(mount, one, {})).toBeUndefined();
    expect(priorCorrelations(mount, both, { useSpreads: true })!.pairs).toHaveLength(1);
    expect(() => priorCorrelations(mount, one, { useSpreads: true })).toThrow(
      'inputs: expected bonds.length among them, since pads.thickness varies together with it, got "not"',
    );
    expect(partedWords(mount, one)).toEqual([
      "bonds.length no longer varies together with pads.thickness, which is fitted from the data alone.",
    ]);
    expect(partedWords(mount, both)).toEqual([]);
  });
});

describe("errors that thermometers share", () => {
  const data = readThermometry("heater power [nW],die [mK],stage [mK]\n1,110,100\n");

  it("are a gain and an offset apart, known to be 0 ± 1 of their standard uncertainty", () => {
    const errors = readSharedErrors(data, [
      { thermometers: ["die", "stage"], gain: 0.01, offset: "1 mK" },
      { thermometers: ["die"], offset: 0 },
    ]);
    expect(errors.map(({ shared }) => [shared!.gain, shared!.offset])).toEqual([
      [0.01, 0],
      [0, 1e-3],
    ]);
    for (const { prior, start } of errors)
      expect([prior, start]).toEqual([{ value: 0, uncertainty: 1 }, 0]);
    expect(readSharedErrors(data)).toEqual([]);
  });

  it("are refused by column and number", () => {
    const of = (more: object) => () =>
      readSharedErrors(data, [{ thermometers: ["die"], gain: 0.01, ...more }]);
    expect(of({ thermometers: [] })).toThrow("sharedErrors[0].thermometers: expected columns of");
    expect(of({ thermometers: ["dye"] })).toThrow(
      'sharedErrors[0].thermometers: column "dye" is not known, did you mean "die"?',
    );
    expect(of({ gain: -0.1 })).toThrow("sharedErrors[0].gain: expected a share of the reading");
    expect(of({ offset: "-1 mK" })).toThrow("sharedErrors[0].offset");
  });
});
