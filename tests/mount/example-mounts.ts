/** Mounts that between them write every numeric field that a mount takes. */
import type { Mount } from "../../src/mount/mount.js";
import type { Limit } from "../../src/mount/things/limit.js";
import type { MountLoad } from "../../src/mount/things/load.js";
import type { Stage } from "../../src/mount/things/stage.js";
import { chipOnCarrier, flipChip } from "./flip-chip.js";
import { padded, smallest } from "./things/smallest.js";

const die = { material: "silicon", width: 4e-3, length: 5e-3, thickness: 3e-4, cells: 16 } as const;
const plating = { material: "gold", thickness: 2e-6, residualResistivityRatio: 10 };
const purity = { value: 5, warm: 290 };
const pressed = { faces: "gold-plated copper on gold-plated copper", force: 1000, count: 4 };
const film = { material: "gold", thickness: 1e-6, residualResistivityRatio: purity };
const band = { from: 1.3e11, to: 1.7e11 };
const resonator = {
  superconductor: {
    material: "aluminium",
    criticalTemperature: 1.2,
    gapRatio: 1.8,
    densityOfStates: 1e47,
  },
  frequency: 5e9,
  kineticInductanceFraction: 0.1,
  otherQuality: 1e6,
};

const loads: readonly MountLoad[] = [
  {
    kind: "given",
    power: 1e-9,
    map: { kind: "rectangle", left: 1e-3, right: 2e-3, bottom: 1e-3, top: 2e-3 },
  },
  { kind: "given", power: 1e-9, map: { kind: "spot", x: 1e-3, y: 2e-3, radius: 5e-4 } },
  { kind: "given", power: 1e-9, map: { kind: "pixels", rows: [[1, 2]] } },
  { kind: "infrared", power: 1e-9 },
  { kind: "optical", pixels: 10, powerPerPixel: 1e-12 },
  { kind: "optical", pixels: 10, temperature: 30, ...band },
  { kind: "millimetre", pixels: 6, ...band, source: { temperature: 20 } },
  {
    kind: "conduction",
    material: "sapphire",
    count: 3,
    length: 5e-2,
    diameter: 1e-4,
    meanFreePath: 1e-4,
    from: 0.9,
    place: { x: 2e-3, y: 2e-3 },
  },
  {
    kind: "conduction",
    material: "copper",
    length: 1,
    area: 1e-9,
    from: 0.2,
    on: "box",
    residualResistivityRatio: 30,
  },
  {
    kind: "readout",
    tones: 100,
    powerPerTone: 1e-12,
    attenuation: [3, 10],
    lineLoss: 1,
    internalQuality: 2e5,
    couplingQuality: 4e4,
    detuning: 0.2,
  },
  { kind: "readout", toneList: [1e-12, { power: 1e-12, detuning: 0.1 }], dissipatedFraction: 0.3 },
  {
    kind: "readout",
    tones: 100,
    powerPerTone: 1e-13,
    couplingQuality: 4e4,
    detuning: 0.1,
    resonator,
  },
  { kind: "muons", flux: 100, tilt: 0.5, exponent: 2, momentum: 1.6e-10 },
  { kind: "background", rate: 0.02, energy: 3e-14 },
  { kind: "infrared", hot: 4, area: 1e-4, emissivity: 0.5 },
  { kind: "lamp", power: 1e-9, wavelength: 4e-7, pixels: 9 },
  {
    kind: "radiation",
    source: { temperature: 300 },
    through: { etendue: 1e-9 },
    filters: [{ name: "f", temperature: 4, transmission: 0.1 }],
    band: { from: "8 um", to: "12 um" },
  },
  { kind: "sky", pixels: 9, band: "V", sky: "dark", telescopeArea: 4, pixelScale: 5e-6 },
  {
    kind: "readout",
    lines: [
      {
        tones: 600,
        power: 1e-7,
        attenuation: [20],
        lineLoss: 0.5,
        width: 1e-4,
        route: [
          { x: 1e-3, y: 1e-3 },
          { x: 3e-3, y: 2e-3 },
        ],
      },
      {
        tones: 500,
        power: 1e-9,
        route: [
          { x: 1e-3, y: 3e-3 },
          { x: 3e-3, y: 3e-3 },
        ],
      },
    ],
    internalQuality: 2e5,
    couplingQuality: 4e4,
  },
  {
    kind: "given",
    power: 1e-9,
    map: {
      kind: "lines",
      lines: [
        {
          route: [
            { x: 1e-3, y: 1e-3 },
            { x: 3e-3, y: 2e-3 },
          ],
          width: 1e-4,
          loss: 3,
          share: 2,
        },
        {
          route: [
            { x: 1e-3, y: 1e-3 },
            { x: 1e-3, y: 2e-3 },
          ],
        },
      ],
    },
  },
  {
    kind: "wiring",
    members: [
      {
        material: "nbti",
        diameter: 1e-4,
        lands: { on: "die", place: { x: 1e-3, y: 1e-3 }, size: 4e-4 },
      },
      { material: "ptfe", diameter: 3e-4, innerDiameter: 1e-4 },
    ],
    stages: [
      { name: "1 K", temperature: 1 },
      { name: "stage", temperature: 0.11, length: 0.2 },
    ],
  },
  {
    kind: "wiring",
    members: [{ material: "nbti", diameter: 1e-4, count: 2 }],
    stages: [
      { name: "1 K", temperature: 1 },
      { name: "stage", temperature: 0.11, length: 0.2 },
    ],
  },
] as const;

const stages: readonly Stage[] = [
  {
    coolingCurve: {
      points: [
        [0.09, 0],
        [0.13, 1e-6],
        [0.5, 1e-3],
      ],
    },
  },
  { dilution: { circulation: 3e-4, base: 0.02 } },
];

const limits: readonly Limit[] = [
  { rise: 0.01 },
  { temperature: 0.5 },
  { quality: 1e5, resonator },
  { quasiparticleDensity: 1e19, superconductor: resonator.superconductor },
];

/** By what each of them is for. */
export const exampleMounts: Readonly<Record<string, Mount>> = {
  pads: smallest({
    die: { ...die, specularity: 0.3 },
    pads: { ...padded.pads, residualResistivityRatio: purity, inset: 1e-4 },
    bonds: { ...padded.bonds, footResistance: 1e-3, perPad: 2, pitch: 4e-4, footRadius: 3e-5 },
    ledge: { plating },
    box: {
      material: "copper",
      residualResistivityRatio: purity,
      crossSection: 1e-6,
      pathLength: 1e-2,
      plating: { ...plating, width: 2e-3 },
    },
  }),
  "pads of one's own": smallest({
    pads: {
      ...padded.pads,
      boundary: { resistance: 2e-3 },
      coupling: { coefficient: 1e9, exponent: 5.5 },
    },
    bonds: {
      material: "gold",
      count: 4,
      width: 1e-4,
      thickness: 2e-5,
      length: 2e-3,
      residualResistivityRatio: purity,
    },
    joint: pressed,
  }),
  ring: smallest({
    die: { ...die, meanFreePath: 1e-3 },
    ring: { ...film, width: 2e-4, inset: 1e-4 },
    bonds: padded.bonds,
    joint: { resistance: 1e-6, count: 2 },
  }),
  clamps: smallest({
    clamps: [
      { faces: "sapphire on silicon", force: 2.7, count: 2 },
      { faces: "sapphire on silicon", force: 2.7, size: 6e-4, places: [{ x: 2e-3, y: 2e-3 }] },
      { resistance: 1e-6, body: { material: "copper", volume: 1e-7 } },
      { conductance: 1e-6, at: 0.1, exponent: 3 },
    ],
    joint: { conductance: 1e-3, at: 0.1, exponent: 2, count: 2 },
  }),
  screws: smallest({
    joint: {
      faces: pressed.faces,
      screws: {
        size: "M3",
        torque: 0.6,
        nutFactor: 0.2,
        count: 2,
        settling: 1e-6,
        clamped: [{ stiffness: 1e7 }, { material: "copper", thickness: 4e-3 }],
      },
    },
  }),
  glue: smallest({
    glue: { glue: "epoxy", area: 1e-6, thickness: 3e-5, count: 2, heatOf: "stycast-1266" },
  }),
  "glue by its material": smallest({
    glue: {
      material: "stycast-1266",
      area: 1e-6,
      thickness: 3e-5,
      boundaryResistance: 1e-3,
      places: [{ x: 2e-3, y: 2e-3 }],
    },
  }),
  "glue of a metal": smallest({
    glue: {
      material: "indium",
      area: 1e-6,
      thickness: 3e-5,
      residualResistivityRatio: purity,
      meanFreePath: 1e-5,
      boundary: "diffuse mismatch",
    },
  }),
  bodies: smallest({
    bodies: [
      { name: "lid", on: "box", joint: { resistance: 1e-6 }, material: "copper", volume: 1e-6 },
      {
        name: "board",
        on: "die",
        joint: pressed,
        heatCapacity: 1e-9,
        at: 0.2,
        exponent: 3,
        place: { x: 2.5e-3, y: 1.5e-3 },
        size: 5e-4,
      },
    ],
  }),
  "a flip chip": flipChip,
  "a chip on a carrier": chipOnCarrier,
  "dies by measured bumps and a joint": {
    ...flipChip,
    between: [
      {
        from: "die",
        to: "carrier",
        bumps: {
          measured: "indium bumps",
          diameter: 1e-4,
          height: 1e-5,
          heatOf: "indium",
          places: [
            { x: 1e-3, y: 1e-3 },
            { x: 7e-3, y: 6e-3 },
          ],
        },
      },
    ],
    dies: { carrier: { ...flipChip.dies!.carrier!, offset: { x: 1e-3, y: -1e-3 } } },
  },
  back: smallest({ back: { film, joint: pressed, frame: 5e-4 } }),
  ...Object.fromEntries(
    loads.map((load, i) => [`load ${i}, ${load.kind}`, smallest({ loads: [load] })]),
  ),
  ...Object.fromEntries(stages.map((stage, i) => [`stage ${i}`, smallest({ stage })])),
  ...Object.fromEntries(limits.map((limit, i) => [`limit ${i}`, smallest({ limit })])),
};
