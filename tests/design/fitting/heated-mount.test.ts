import { describe, expect, it } from "vitest";
import {
  readInputs,
  readSharedErrors,
  type SetUp,
} from "../../../src/design/fitting/fit-inputs.js";
import { HeatedMount } from "../../../src/design/fitting/heated-mount.js";
import { readThermometry } from "../../../src/design/fitting/thermometry.js";
import { catalogue, modelOf, padded, smallest } from "../../mount/things/smallest.js";

const base = smallest(padded);
const mount = { ...base, die: { ...base.die, model: "one node" } } as const;
const csv = `heater power [nW],die [mK],die uncertainty [mK],stage [mK],stage uncertainty [mK]
0,112,0.2,100,0.1
2,125,0.2,100,0.1
5,140,0.2,110,0.1
`;
function heated({
  text = csv,
  errors = [] as never[],
  ...setUp
}: SetUp & { text?: string; errors?: never[] } = {}) {
  const data = readThermometry(text);
  const inputs = readInputs(mount, { inputs: ["bonds.length"] });
  const parameters = [...inputs, ...readSharedErrors(data, errors)];
  return new HeatedMount(mount, data, parameters, setUp, catalogue);
}
/** The mount solved by itself: its stage at a temperature, with a heater on the die. */
const solved = (power: number, stage: number, length = 2e-3) => {
  const bonds = { ...padded.bonds, length };
  const loads = [...mount.loads, { kind: "given", name: "heater", power } as const];
  return modelOf({ ...mount, bonds, loads, stage }, "one node").point();
};

describe("a mount with a heater and thermometers", () => {
  it("is as warm as the mount with that load, at the stage that was read", () => {
    const model = heated();
    model.set([2e-3]);
    expect(model.stageAt(2)).toBeCloseTo(0.11, 12);
    const { stage, temperatures } = model.predict(5e-9, 0.11)!;
    expect([stage, temperatures.length]).toEqual([0.11, 1]);
    expect(temperatures[0]! / solved(5e-9, 0.11).chip).toBeCloseTo(1, 9);
    expect(model.deviations(2)![0]).toBeCloseTo(0.14 - solved(5e-9, 0.11).chip, 9);
    model.set([4e-3]);
    expect(model.predict(5e-9, 0.11)!.temperatures[0]! / solved(5e-9, 0.11, 4e-3).chip).toBeCloseTo(
      1,
      9,
    );
  });

  it("refuses a value that the mount refuses, and stays as it was", () => {
    const model = heated();
    model.set([2e-3]);
    const before = model.predict(1e-9, 0.1);
    expect(model.set([-1])).toBe(false);
    expect(model.predict(1e-9, 0.1)).toEqual(before);
  });

  it("reads with the errors that thermometers share: (1 + gain) T + offset", () => {
    const errors = [{ thermometers: ["die", "stage"], gain: 0.01, offset: "1 mK" }] as never[];
    const model = heated({ errors });
    const ideal = solved(2e-9, 0.1).chip;
    // Two standard uncertainties of gain and one of the offset.
    model.set([2e-3, 2, 1]);
    expect(model.predict(2e-9, 0.1)!.temperatures[0]).toBeCloseTo(ideal * 1.02 + 1e-3, 9);
    expect(model.stageAt(0)).toBeCloseTo((0.1 - 1e-3) / 1.02, 12);
  });

  it("knows how each uncertainty moves its readings: own ones by 1, the stage's by its own slope", () => {
    const model = heated();
    model.set([2e-3]);
    const [own, stage] = model.influences(1);
    expect(own).toEqual({ uncertainty: expect.closeTo(2e-4, 12), slopes: [1] });
    const slope = (solved(2e-9, 0.1005).chip - solved(2e-9, 0.0995).chip) / 1e-3;
    expect(stage!.uncertainty).toBeCloseTo(1e-4, 12);
    expect(stage!.slopes[0]! / slope).toBeCloseTo(1, 3);
  });

  it("takes the mount's stage where none was read, and says so", () => {
    const model = heated({ without: ["stage"] });
    expect(model.stageAt(0)).toBeUndefined();
    expect(model.readingWarnings[0]).toMatch(
      /has no column stage \[mK\]: the stage of the mount was taken, 100\.0 mK in the first line/,
    );
    expect(heated().readingWarnings).toEqual([]);
  });

  it("needs its thermometers at places, a column for each, and one beside the stage's", () => {
    expect(() => heated({ thermometers: { dye: "die" } })).toThrow(
      'thermometers: column "dye" is not known, did you mean "die"?',
    );
    expect(() => heated({ thermometers: { die: "lid" } })).toThrow(
      'thermometers.die: place "lid" is not known',
    );
    expect(() => heated({ thermometers: { die: { x: 1e-3, y: 1e-3 } } })).toThrow(
      "thermometers.die: expected the name of a place, for a die that is no sheet",
    );
    expect(() => heated({ without: ["die"] })).toThrow("a thermometer beside that of the stage");
    const partly = csv.replace(/die uncertainty/, "line").replace("line [mK]", "line []");
    expect(() => heated({ text: partly }).weighted).toThrow('expected a column "die uncertainty"');
    expect(heated({ thermometers: { die: "chip" } }).otherPlaces).not.toContain("die");
  });
});
