/** Two invented mounts with 2-D dies, and what plain samples of those say: made once, kept here. */
import type { Mount } from "../../../src/index.js";
import { spread } from "../../../src/units/spread.js";

/** The camera of notebooks/how-sure.ipynb with its die in 2-D. */
export const camera: Mount = {
  name: "Ombrel camera, detector box A (invented)",
  die: { material: "silicon", width: "25 mm", length: "25 mm", thickness: "0.38 mm" },
  pads: {
    material: "gold",
    width: "150 um",
    length: "300 um",
    thickness: spread("270 nm", "330 nm"),
    residualResistivityRatio: spread(3, 10),
    boundary: { resistance: spread(9e-4, 1.9e-3) },
  },
  bonds: {
    material: "gold",
    count: 80,
    diameter: "25 um",
    length: "1.5 mm",
    residualResistivityRatio: spread(15, 60),
    pitch: "300 um",
  },
  ledge: { plating: { material: "gold", thickness: "2 um", residualResistivityRatio: 10 } },
  box: {
    material: "copper",
    residualResistivityRatio: spread(30, 90),
    crossSection: "120 mm^2",
    pathLength: "30 mm",
  },
  joint: {
    faces: "gold-plated copper on gold-plated copper",
    force: spread("0.5 kN", "2 kN"),
    count: 4,
  },
  stage: "110 mK",
  loads: [
    {
      kind: "optical",
      name: "light on the pixels",
      pixels: 600,
      powerPerPixel: spread("6 pW", "10 pW"),
    },
    {
      kind: "readout",
      name: "readout tones",
      tones: 600,
      powerPerTone: "-95 dBm",
      internalQuality: 200000,
      couplingQuality: 40000,
    },
    { kind: "infrared", name: "infrared leak", power: spread("1 nW", "4 nW") },
  ],
  limit: { rise: "10 mK" },
};

/** The same camera on sapphire, which conducts the better the longer phonons fly in it. */
export const sapphire: Mount = {
  ...camera,
  name: "Ombrel camera on sapphire (invented)",
  die: {
    material: "sapphire",
    width: "20 mm",
    length: "20 mm",
    thickness: "0.43 mm",
    meanFreePath: spread("0.3 mm", "1.5 mm"),
  },
  bonds: { ...camera.bonds!, count: 56 },
  stage: "100 mK",
  limit: { rise: "14 mK" },
};

/** A die that four sapphire balls press on its back, beside its bonds. */
export const clamped: Mount = {
  ...camera,
  name: "Ombrel camera, clamped (invented)",
  die: { material: "silicon", width: "16 mm", length: "12 mm", thickness: "0.5 mm" },
  bonds: { ...camera.bonds!, count: 40 },
  clamps: [
    {
      name: "balls",
      faces: "sapphire on silicon",
      force: spread("1 N", "4 N"),
      count: 4,
    },
  ],
  stage: "150 mK",
  limit: { rise: "6 mK" },
};

/** An oblong die that one amplifier heats, off its middle: the two-node model knows nothing of the spot. */
export const amplifier: Mount = {
  name: "Ombrel camera, phase reference (invented)",
  die: { material: "silicon", width: "12 mm", length: "8 mm", thickness: "0.3 mm", cells: 64 },
  pads: {
    material: "gold",
    width: "200 um",
    length: "300 um",
    thickness: spread("360 nm", "440 nm"),
    residualResistivityRatio: 5,
  },
  bonds: {
    material: "gold",
    count: 24,
    diameter: "25 um",
    length: spread("1 mm", "3 mm"),
    residualResistivityRatio: spread(15, 60),
  },
  box: {
    material: "copper",
    residualResistivityRatio: 50,
    crossSection: "50 mm^2",
    pathLength: "20 mm",
  },
  joint: {
    faces: "gold-plated copper on gold-plated copper",
    force: spread("0.5 kN", "2 kN"),
    count: 4,
  },
  stage: "100 mK",
  loads: [
    {
      kind: "given",
      name: "amplifier",
      power: spread("1 nW", "2.5 nW"),
      map: { kind: "spot", x: "3 mm", y: "4 mm", radius: "0.4 mm" },
    },
  ],
  limit: { rise: "12 mK" },
};

/**
 * Samples of the 2-D die at independent points, `random(seed).uniform()` for each input in turn, solved in
 * full with `uncertainMount(mount).withBonds(bonds).evaluate`, and how many met the limit. Those of the
 * others are in plain-samples.json.
 */
export const plainAmplifier = { bonds: 24, samples: 10_000, seed: 20261130, held: 9165 } as const;
