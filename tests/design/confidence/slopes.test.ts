/** Slopes without a solve against differences of whole solves. */
import { describe, expect, it } from "vitest";
import { SteadyStateSlopes } from "../../../src/design/confidence/slopes.js";
import { numberAt, withField } from "../../../src/design/field.js";
import { type Mount, type MountLoad, standardCatalogue } from "../../../src/index.js";
import { Dies } from "../../../src/mount/dies.js";
import { MountModel } from "../../../src/mount/model.js";
import type { PlainMount } from "../../../src/mount/mount.js";
import { readMount } from "../../../src/mount/read.js";
import { limitOf } from "../../../src/mount/things/limit.js";
import { exampleMount, quickMount } from "../../mount/example.js";
import { logarithmicDerivative } from "../../network/derivative.js";

const catalogue = standardCatalogue();
const small = (mount: Mount, count = 80): Mount => ({
  ...mount,
  die: { ...mount.die, cells: 32 },
  bonds: { ...mount.bonds!, count },
});
const put = (mount: PlainMount, field: string, value: number) =>
  readMount(withField(mount as unknown as Mount, field, value));

const film = {
  superconductor: { criticalTemperature: "0.8 K", densityOfStates: "1e10 1/(eV um^3)" },
  frequency: "1 GHz",
  kineticInductanceFraction: 0.5,
  otherQuality: 3e5,
} as const;
const tones: MountLoad = {
  kind: "readout",
  tones: 600,
  powerPerTone: "-80 dBm",
  resonator: film,
  couplingQuality: 4e4,
};
/** A stage that warms, resonators that lose quality, and a limit that follows from them. */
const following = (mount: Mount): Mount => ({
  ...mount,
  stage: {
    coolingCurve: {
      points: [
        ["90 mK", 0],
        ["100 mK", "50 nW"],
        ["130 mK", "300 nW"],
      ],
    },
  },
  loads: [
    tones,
    { kind: "given", name: "heater", on: "box", power: "20 nW" },
    {
      kind: "conduction",
      material: "copper",
      length: "0.4 m",
      diameter: "20 um",
      from: "0.8 K",
      residualResistivityRatio: 30,
    },
    {
      kind: "given",
      name: "spot",
      power: "1 nW",
      map: { kind: "spot", x: "8 mm", y: "11 mm", radius: "1 mm" },
    },
  ],
  limit: { quality: 1e5, resonator: film },
});

const cases: [string, Mount, [field: string, digits: number][]][] = [
  [
    "the two-node model",
    quickMount(),
    [
      ["bonds.length", 1e-9],
      ["pads.thickness", 1e-9],
      ["pads.width", 1e-9],
      ["die.thickness", 1e-9],
      ["stage", 1e-9],
      ["loads.0.powerPerPixel", 1e-9],
      ["loads.1.internalQuality", 1e-9],
      // A two-thousandth of a millikelvin: the solves it is differenced from leave fewer digits.
      ["joint.force", 3e-7],
    ],
  ],
  [
    "the sheet",
    small(exampleMount()),
    [
      ["bonds.residualResistivityRatio", 1e-9],
      ["pads.thickness", 1e-9],
      // The hottest point lies where four cells meet, and whole solves take it from one or another.
      ["pads.length", 2e-6],
      ["die.thickness", 1e-9],
      ["stage", 1e-9],
      ["loads.0.powerPerPixel", 1e-9],
    ],
  ],
  [
    "the two-node model with loads, stage and limit that follow",
    following(quickMount()),
    [
      ["pads.thickness", 1e-8],
      ["loads.0.couplingQuality", 1e-8],
      ["loads.1.power", 1e-8],
      ["loads.2.from", 1e-8],
      ["limit.resonator.otherQuality", 1e-8],
    ],
  ],
  [
    "the sheet with loads, stage and limit that follow",
    small(following(exampleMount()), 16),
    [
      // Chip and loads are brought to rest to 1e-10, which differences magnify.
      ["pads.thickness", 3e-6],
      ["loads.3.map.radius", 3e-6],
    ],
  ],
];

describe.each(cases)("slopes of %s", (_, mount, fields) => {
  const dies = new Dies();
  const plain = readMount(mount);
  const rest = new SteadyStateSlopes(plain, catalogue, dies);
  const solved = (changed: PlainMount) => {
    const { chip, stage } = new MountModel(changed, catalogue, { dies }).point();
    return { chip, stage, limit: limitOf(changed, catalogue)!(stage) };
  };

  it("are taken at the state of rest", () => {
    expect(rest.at).toEqual(solved(plain));
  });

  it.each(fields)("by %s are those of whole solves within %s", (field, tolerance) => {
    const x = numberAt(plain, field);
    const slopes = rest.slopes(
      (value) => ({ mount: put(plain, field, value), catalogue }),
      x,
      5e-3 * x,
    );
    for (const what of ["chip", "stage", "limit"] as const) {
      const whole = logarithmicDerivative(
        (value) => solved(put(plain, field, value))[what],
        x,
        5e-3,
      );
      // Below this the whole solves leave nothing but their last digits.
      const least = 1e-13 / 5e-3;
      expect(Math.abs(x * slopes[what] - whole), what).toBeLessThanOrEqual(
        tolerance * Math.abs(whole) + least,
      );
    }
  });
});
