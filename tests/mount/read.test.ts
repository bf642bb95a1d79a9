import { describe, expect, it } from "vitest";
import { withField } from "../../src/design/field.js";
import { readMount } from "../../src/mount/read.js";
import { exampleMount } from "./example.js";

/** The example with one field replaced, read. */
const readWith = (field: string, value: unknown) => () =>
  readMount(withField(exampleMount(), field, value));

describe("reading a mount", () => {
  it("turns strings with units into SI", () => {
    const mount = readMount(exampleMount());
    expect(mount.die.width).toBeCloseTo(0.025, 12);
    expect(mount.bonds!.diameter).toBeCloseTo(25e-6, 15);
    expect(mount.stage).toBe(0.11);
    expect(mount.loads[1]).toMatchObject({ powerPerTone: expect.closeTo(3.16228e-13, 17) });
  });

  it("reads what it has read without a change", () => {
    const once = readMount(exampleMount());
    expect(readMount(once)).toEqual(once);
  });

  it.each([
    [
      "bonds.diameter",
      "25 mK",
      'bonds.diameter: expected a length such as "25 um" or a number in metres, got "25 mK"',
    ],
    [
      "bonds.length",
      "-1.5 mm",
      'bonds.length: expected a length such as "25 um" or a number in metres, greater than 0, got "-1.5 mm"',
    ],
    ["bonds.count", 0, "bonds.count: expected a whole number of at least 1, got 0"],
    ["bonds.count", 2.5, "bonds.count: expected a whole number of at least 1, got 2.5"],
    [
      "stage",
      Number.NaN,
      'stage: expected a temperature such as "100 mK" or a number in kelvin, got NaN',
    ],
    [
      "stage",
      Number.POSITIVE_INFINITY,
      'stage: expected a temperature such as "100 mK" or a number in kelvin, got Infinity',
    ],
    [
      "die.thicknes",
      "1 mm",
      'die.thicknes: field "thicknes" is not known, did you mean "thickness"? Known: ' +
        "material, width, length, thickness, meanFreePath, specularity, finish, bulkLength, model, cells, rays",
    ],
    [
      "die.thickness",
      undefined,
      'die.thickness: expected a length such as "25 um" or a number in metres, got undefined',
    ],
    ["die.specularity", 1, "die.specularity: expected a number from 0 to below 1, got 1"],
    [
      "die.model",
      "three nodes",
      'die.model: expected "sheet" or "flights" or "two nodes" or "one node", got "three nodes"',
    ],
    ["name", "", 'name: expected a name, got ""'],
    [
      "loads.0.kind",
      "optic",
      'loads[0].kind: kind "optic" is not known, did you mean "optical"? Known: ' +
        "readout, background, given, infrared, lamp, millimetre, muons, sky, optical, radiation, wiring, conduction",
    ],
    [
      "loads.0.powerPerPixel",
      "8 mm",
      'loads[0].powerPerPixel: expected a power such as "8 pW" or a number in watts, got "8 mm"',
    ],
    ["loads", "none", 'loads: expected a list of loads, got "none"'],
    [
      "bonds.residualResistivityRatio",
      0.5,
      "bonds.residualResistivityRatio: expected a residual resistivity ratio greater than 1, got 0.5",
    ],
    ["pads.boundary", "perfect", 'pads.boundary: expected "diffuse mismatch", got "perfect"'],
    ["bonds.edges", 5, "bonds.edges: expected 1 or 2 or 3 or 4, got 5"],
    ["pads", undefined, "pads: expected pads or a ring for the bonds to stand on, got undefined"],
    ["bonds", undefined, "bonds: expected bonds on the pads, got undefined"],
    [
      "bonds.pitch",
      "0.1 mm",
      `bonds.pitch: expected at least the pads' width, 150 µm, got "0.1 mm"`,
    ],
    [
      "limit",
      { temperature: "0.1 K" },
      'limit.temperature: expected above the stage, 110 mK, got "0.1 K"',
    ],
    [
      "die.thickness",
      "30 mm",
      'die.thickness: expected a plate, at most a quarter of its shorter side, 6.25 mm, got "30 mm"',
    ],
  ])("refuses %s = %j and says what was wanted", (field, value, message) => {
    expect(readWith(field, value)).toThrow(message);
  });

  it.each([[null], [undefined], [7], ["mount"], [[]]])(
    "refuses %j in place of a mount",
    (thing) => {
      expect(() => readMount(thing)).toThrow(/^mount: expected an object with name, die, /);
    },
  );

  it("refuses a die that nothing holds", () => {
    const { bonds, pads, ...bare } = exampleMount();
    expect(() => readMount(bare)).toThrow(
      "mount: expected bonds, groups of bonds, clamps, glue, a pressed back or a pressed or glued patch for the heat, got undefined",
    );
  });

  it("takes no field from a prototype, and lets none in", () => {
    const { stage, ...rest } = exampleMount();
    const inherited: unknown = Object.assign(Object.create({ stage }), rest);
    expect(() => readMount(inherited)).toThrow(
      'stage: expected a temperature such as "100 mK" or a number in kelvin, got undefined',
    );
    expect(() => readMount(JSON.parse('{"__proto__": 1, "name": "x"}'))).toThrow(
      '__proto__: field "__proto__" is not known',
    );
  });
});
