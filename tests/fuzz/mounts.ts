/** Good mounts that between them use every kind of part, load, stage and limit. */
import fc from "fast-check";
import { quickMount } from "../mount/example.js";
import { randomMount } from "../mount/random-mount.js";

const example = quickMount();
const film = {
  superconductor: { criticalTemperature: "0.8 K", densityOfStates: "1e10 1/(eV um^3)" },
  frequency: "1 GHz",
  kineticInductanceFraction: 0.5,
  otherQuality: 3e5,
};
const transmission = {
  points: [
    ["0.3 um", 0.1],
    ["2 um", 0.9],
  ],
  shorter: 0,
  longer: 0.9,
};
const named = (kind: string, more: object) => ({ kind, ...more });

/** One load of every kind and form. */
export const goodLoads: readonly object[] = [
  named("given", { name: "heater", power: "1 nW", on: "box" }),
  named("given", { power: 1e-9, map: { kind: "spot", x: "4 mm", y: "4 mm", radius: "1 mm" } }),
  named("optical", { pixels: 600, powerPerPixel: "8 pW" }),
  named("optical", {
    pixels: 10,
    temperature: "30 K",
    from: "130 GHz",
    to: "170 GHz",
    modes: 2,
    efficiency: 0.5,
    law: "rayleigh-jeans",
    map: { kind: "rectangle", left: 0, right: "4 mm", bottom: 0, top: "4 mm" },
  }),
  named("infrared", {
    power: "2 nW",
    map: {
      kind: "pixels",
      rows: [
        [1, 2],
        [0, 3],
      ],
    },
  }),
  named("infrared", { hot: "4 K", cold: "1 K", area: "1 mm^2", emissivity: 0.1, viewFactor: 0.5 }),
  named("muons", {
    flux: 100,
    tilt: "30 deg",
    exponent: 2,
    momentum: "1 GeV",
    fluctuation: "landau",
  }),
  named("background", { rate: 0.02, energy: "200 keV" }),
  named("background", { powerPerMass: 2.7e-11, spectrum: { from: "40 keV", to: "2 MeV" } }),
  named("background", { rate: 1, spectrum: { lines: [{ energy: "60 keV", share: 1 }] } }),
  named("background", { spectrum: { csv: "energy [keV],rate [1/(keV s)]\n40,1e-4\n240,0" } }),
  named("conduction", {
    material: "stainless-steel",
    count: 4,
    length: "100 mm",
    diameter: "0.2 mm",
    from: "4 K",
    on: "box",
  }),
  named("readout", {
    tones: 600,
    powerPerTone: "-95 dBm",
    internalQuality: 2e5,
    couplingQuality: 4e4,
    detuning: 0.5,
    attenuation: [3, 10],
    lineLoss: 1,
  }),
  named("readout", {
    toneList: ["-95 dBm", { power: "-90 dBm", detuning: 1 }],
    dissipatedFraction: 0.3,
  }),
  named("readout", { tones: 600, powerPerTone: "-90 dBm", couplingQuality: 4e4, resonator: film }),
  named("sky", {
    pixels: 1000,
    band: "V",
    sky: "dark",
    telescopeArea: "10 m^2",
    pixelScale: "0.5 arcsec",
    throughput: 0.5,
    absorption: transmission,
    star: { magnitude: 5, extinction: 0.2, shareOnBrightest: 0.3 },
  }),
  named("millimetre", {
    pixels: 600,
    from: "130 GHz",
    to: "170 GHz",
    source: { opacity: 0.1, airmass: 1.5, airTemperature: "260 K", behind: "2.7 K" },
    chain: [{ name: "window", transmission: 0.98, temperature: "290 K" }],
    absorption: 0.6,
  }),
  named("radiation", {
    pixels: 4,
    source: { temperature: "300 K", emissivity: 0.9 },
    through: { area: "1 mm^2", viewFactor: 0.01 },
    filters: [{ name: "filter", temperature: "4 K", transmission, emissivity: 0.3 }],
    band: { from: "8 um", to: "12 um" },
  }),
  named("lamp", {
    power: "1 nW",
    shareOnChip: 0.5,
    absorption: 0.4,
    wavelength: "850 nm",
    pixels: 9,
  }),
  named("wiring", {
    members: [
      { material: "stainless-steel", diameter: "0.5 mm", innerDiameter: "0.3 mm" },
      { material: "ptfe", area: "0.1 mm^2", count: 2 },
    ],
    count: 10,
    stages: [
      { name: "4 K", temperature: "4 K" },
      { name: "cold", temperature: "0.11 K", length: "250 mm" },
    ],
    on: "box",
  }),
];

const curve = [
  ["90 mK", 0],
  ["130 mK", "1 mW"],
  ["0.5 K", "10 mW"],
];
const stages: readonly unknown[] = [
  "110 mK",
  { coolingCurve: { points: curve } },
  {
    coolingCurve: {
      csv: "temperature [mK],power [uW]\n90,0\n130,100\n500,10000",
      file: "curve.csv",
    },
  },
  { dilution: { circulation: "0.3 mmol/s", base: "20 mK", exchangerTemperature: "30 mK" } },
  {
    demagnetisation: {
      salt: "ferric-ammonium-alum",
      amount: "0.2 mol",
      field: "4 T",
      start: "4 K",
      temperature: "100 mK",
    },
  },
];
const limits: readonly unknown[] = [
  { rise: "10 mK" },
  { temperature: "200 mK" },
  { quality: 1e5, resonator: film },
  { quasiparticleDensity: "10 1/um^3", superconductor: film.superconductor },
];

const { pads, bonds, ...bare } = example;
const ring = {
  material: "gold",
  thickness: "300 nm",
  width: "0.3 mm",
  residualResistivityRatio: { value: 5, warm: "295 K" },
  boundary: "diffuse mismatch",
  coupling: { coefficient: 2e9, exponent: 5 },
};
const faces = { faces: "gold-plated copper on gold-plated copper", force: "50 N" };
const holders: readonly object[] = [
  { pads, bonds: { ...bonds!, edges: ["left", "right"], footResistance: "1 mohm", perPad: 1 } },
  { pads: { ...pads!, inset: "0.2 mm", boundary: { resistance: 2e-4 } }, bonds },
  { ring, bonds: { ...bonds!, arrangement: "row", pitch: undefined, count: 20 } },
  { glue: { glue: "epoxy", area: "1 mm^2", thickness: "30 um", count: 4 } },
  {
    glue: {
      material: "stycast-1266",
      area: "1 mm^2",
      thickness: "30 um",
      boundaryResistance: 1e-3,
    },
  },
  { clamps: [{ name: "corner", faces: "sapphire on silicon", force: "5 N", count: 4 }] },
  {
    back: {
      film: { material: "gold", thickness: "1 um", residualResistivityRatio: 5 },
      joint: faces,
    },
  },
  {
    back: {
      film: { material: "gold", thickness: "1 um", residualResistivityRatio: 5 },
      joint: { conductance: "1 mW/K", at: "100 mK", exponent: 1 },
      frame: "2 mm",
    },
  },
];

const assembled = fc
  .record({
    holder: fc.constantFrom(...holders),
    stage: fc.constantFrom(...stages),
    limit: fc.constantFrom(...limits),
    loads: fc.subarray([...goodLoads], { minLength: 1, maxLength: 3 }),
    model: fc.constantFrom("two nodes", "one node"),
  })
  .map(({ holder, stage, limit, loads, model }) => {
    const die = { ...bare.die, meanFreePath: "1 mm", specularity: 0.1, model };
    return { ...bare, ...holder, die, stage, limit, loads };
  });

/** Mounts with a two-node model of the die. */
export const goodMounts: fc.Arbitrary<object> = fc.oneof(
  { weight: 4, arbitrary: assembled },
  randomMount,
);

/** The same with a small sheet. */
export const goodSheets: fc.Arbitrary<object> = fc
  .tuple(assembled, fc.constantFrom(8, 16))
  .map(([mount, cells]) => {
    const { model, ...die } = mount.die;
    return { ...mount, die: { ...die, cells } };
  });
