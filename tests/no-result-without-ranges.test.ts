/**
 * No result without its ranges: every public function is sorted here. One that gives an answer from laws is
 * run where a law is outside of its range, and must tell; all others are listed by what they are. A new
 * public function belongs to none of these lists, and fails until it does.
 */
import { describe, expect, it } from "vitest";
import * as chip from "../src/chip/index.js";
import * as design from "../src/design/index.js";
import * as device from "../src/device/index.js";
import * as coldpath from "../src/index.js";
import * as joints from "../src/joints/index.js";
import * as loads from "../src/loads/index.js";
import * as materials from "../src/materials/index.js";
import * as mountEntry from "../src/mount/index.js";
import * as network from "../src/network/index.js";
import * as plots from "../src/plots/index.js";
import * as units from "../src/units/index.js";
import { quickMount } from "./mount/example.js";

/** A mount whose pads are thicker than the wavelength of their phonons, so that it has no warning. */
function thick(): coldpath.Mount {
  const mount = quickMount();
  return { ...mount, pads: { ...mount.pads!, thickness: "1 um" } };
}

/** Clamps measured from 0.2 K, on a stage at 0.11 K. */
const clamped: coldpath.Mount = {
  ...thick(),
  clamps: [{ name: "clamps", faces: "sapphire on silicon", force: "3 N", count: 4 }],
};
const guess: coldpath.Mount = {
  ...clamped,
  pads: {
    ...clamped.pads!,
    coupling: { coefficient: coldpath.spread(1.2e9, 4.8e9), exponent: 5 },
  },
};
const coupling = "pads.coupling.coefficient";
const axis = { field: "bonds.count", values: [40, 80] } as const;
const part = { index: 1, of: 1 };
const few = { rows: "none", samples: 16, runner: design.solveHere } as const;
const readings = coldpath.readThermometry(
  "heater power [nW],die [mK],stage [mK]\n10,120,100\n30,140,100\n100,175,100\n300,225,100\n",
);
const ptfe = { material: "ptfe", diameter: "1 mm" } as const;

interface Told {
  readonly warnings: readonly string[];
}
const parted = (text: string) => [{ file: "part", text }];

/** Every function that gives an answer from laws, run where one of them is outside of its range. */
const answers: Readonly<Record<string, () => Told | Promise<Told>>> = {
  thermalBudget: () => coldpath.thermalBudget(clamped),
  sizeBonds: () => coldpath.sizeBonds(clamped),
  placeBonds: () => coldpath.placeBonds(clamped, { edges: [2, 4] }),
  compareMounts: () => coldpath.compareMounts([clamped]),
  sweep: () => coldpath.sweep(clamped, axis),
  mergeSweep: () =>
    design.mergeSweep(
      clamped,
      axis,
      undefined,
      parted(design.sweepShard(clamped, axis, undefined, part)),
    ),
  timeCourse: () => coldpath.timeCourse(clamped, { duration: "1 ms" }),
  heatPulse: () => coldpath.heatPulse(clamped, { energy: "150 keV" }),
  simulateHits: () =>
    coldpath.simulateHits({ ...clamped, loads: [{ kind: "muons" }] }, { duration: "1 min" }),
  sensitivity: () => coldpath.sensitivity(guess, { rows: "none" }),
  varianceIndices: () => coldpath.varianceIndices(guess, few),
  measurementValues: () => coldpath.measurementValues(guess, { [coupling]: "10 %" }, few),
  confidence: () => coldpath.confidence(guess, few),
  mergeSamples: async () =>
    design.mergeSamples(guess, parted(await design.sampleShard(guess, part, few)), few),
  recommend: () => coldpath.recommend(guess, few),
  sizeWithConfidence: () => coldpath.sizeWithConfidence(guess, few),
  cheapest: () =>
    design.cheapest(guess, [{ field: "bonds.count", from: 20, to: 80 }], {
      least: "bonds",
      rows: "none",
      runner: design.solveHere,
    }),
  calibrate: () =>
    coldpath.calibrate(guess, readings, { inputs: [coupling], thermometers: { die: "chip" } }),
  influence: () =>
    coldpath.influence(clamped, [{ x: "5 mm", y: "5 mm", size: "1 mm" }, "box by the die"]),
  wiring: () =>
    loads.wiring({
      members: [ptfe],
      stages: [
        { name: "warm", temperature: "1 K" },
        { name: "cold", temperature: "0.1 K", length: "1 m" },
      ],
    }),
  conduction: () => loads.conduction({ ...ptfe, length: "1 m", warm: "1 K", cold: "0.1 K" }),
};

/** Laws for the caller to use: they carry their ranges. */
const laws: Readonly<Record<string, () => { readonly ranges?: readonly object[] }>> = {
  pressedJoint: () => joints.pressedJoint({ faces: "sapphire on silicon", force: "3 N" }),
  glue: () => joints.glue({ glue: "varnish", area: 1e-6, thickness: 1e-5 }),
  strip: () => joints.strip({ ...ptfe, length: "1 m" }),
  boundary: () => joints.boundary({ between: ["gold", "silicon"], area: 1e-6 }),
  heatStore: () => joints.heatStore({ material: "silicon", volume: 1e-9 }),
  wireBond: () =>
    joints.wireBond({
      metal: "gold",
      residualResistivityRatio: 50,
      diameter: "25 um",
      length: "1 mm",
    }),
  parallel: () => joints.parallel(pressed(), pressed()),
  series: () => joints.series(pressed(), pressed()),
  scaled: () => joints.scaled(pressed(), 2),
  times: () => joints.times(pressed(), 2),
  storesTogether: () => joints.storesTogether([laws.heatStore!() as never]),
  fitConductor: () => coldpath.fitConductor(readings, { from: "die", to: "stage" }).conductor,
  dilution: () => loads.dilution({ circulation: "1 mmol/s" }).conductor,
  coolingCurve: () =>
    loads.coolingCurve({
      points: [
        [0.02, 0],
        [0.1, 4e-4],
      ],
    }).conductor,
};
const pressed = () => joints.pressedJoint({ faces: "sapphire on silicon", force: "3 N" });

/** Loads whose laws hold at all temperatures, or are refused as fields. Their type demands `warnings`. */
const exactLoads =
  "background givenLoad infrared lamp millimetre muons nightSky optical radiation readout";
/** Told by their own `warnings`: a salt, screws, flights, the first phonons of a hit, and the compiled mount whose samples tell. */
const tellThemselves = "demagnetisation phononBurst phononFlights screwForce uncertainMount";

/** All others. */
const others: Readonly<Record<string, string>> = {
  "of closed forms, without a law on file":
    "attenuatorHeat bandFraction dissipatedFraction exitance greyBodyPower mostProbableLoss " +
    "photonExitance photonFraction planckPhotonRate planckPower rayleighJeansCorrection " +
    "rayleighJeansPower skyBrightness starPhotons totalPower conductivityRatio " +
    "highestTemperatureForDensity highestTemperatureForQuality quasiparticleDensity resonator " +
    "superconductor constriction diffuseMismatch electronPhonon givenHeatStore givenJoint padFilm " +
    "powerConductor radialSpreading sheetToEdges electronHeatRatio electronRatio gap " +
    "plateMeanFreePath rodMeanFreePath faceFilm ringFilm dominantWavelength wireLength",
  "that refuse as a field what lies outside": "photometricBand stoppingPower",
  "that draw hits": "backgroundHits muonHits particleHits",
  "that take conductors, stores or loads of the caller, with their ranges":
    "heatFlow temperatureAfter readoutLaw steadyStates eigenTimes runInTime solveSteady " +
    "temperatureGradient countNeeded narrowed solveHere pessimisticCase",
  "that write or merge parts of what is told when it is whole":
    "mergeShards sampleShard sweepShard",
  "that describe":
    "assemble contactGroups pathsOf numbersOf particleSources spreadsOf coax tiles withoutHole",
  "that read, write, draw and show":
    "answer burstFigure casesFigure curvesFigure dBm decayFigure dieCutFigure dieMapFigure dropsFigure fitFigure " +
    "influenceFigure formatNumber formatQuantity formatShare hitsFigure hotSpotFigure loadsFigure mapFigure measured " +
    "heatFlowDrawing mountDrawing mountsFigure panel progressBar qualityFigure readCatalogue readDataFolder readMount " +
    "readPixels readThermometry sharesFigure show spread spreadFigure " +
    "standardCatalogue temperatureDrawing timeFigure toSI tornadoFigure tradeOffFigure withField withMeasured given catalogueFrom " +
    "figureCsv figurePicture isSpread loadMarkdown loadText",
};

const entries = [
  chip,
  coldpath,
  design,
  device,
  joints,
  loads,
  materials,
  mountEntry,
  network,
  plots,
  units,
];
const isFunction = (value: unknown) =>
  typeof value === "function" && !/^class\b/.test(Function.prototype.toString.call(value));
const functions = entries.flatMap((entry) =>
  Object.entries(entry).flatMap(([name, value]) => (isFunction(value) ? [name] : [])),
);
const words = (text: string) => text.split(" ");

describe("no result without its ranges", () => {
  it("sorts every public function", () => {
    const sorted = [
      ...Object.keys(answers),
      ...Object.keys(laws),
      ...words(exactLoads),
      ...words(tellThemselves),
      ...Object.values(others).flatMap(words),
    ];
    expect(sorted.sort()).toEqual([...new Set(functions)].sort());
  });

  it.each(Object.keys(answers))("%s tells a range that its laws left", async (name) => {
    const { warnings } = await answers[name]!();
    expect(warnings.join("\n")).toMatch(
      /(clamps|wiring|ptfe): .* (is|are) outside 200 mK to .*; extrapolated beyond its range/,
    );
  });

  it.each(Object.keys(laws))("%s carries the ranges of its law", (name) => {
    expect(laws[name]!().ranges).not.toEqual([]);
    expect(laws[name]!().ranges).toBeDefined();
  });

  it("says so in the one-line text of a result", () => {
    const { summary, warnings } = coldpath.thermalBudget(clamped);
    expect(warnings).toHaveLength(1);
    expect(summary).toMatch(/ 1 warning\.$/);
    const sizing = coldpath.sizeBonds(clamped);
    expect(sizing.reason).toMatch(/ 1 warning\.$/);
    expect(coldpath.thermalBudget(thick()).summary).not.toContain("warning");
  });

  it("tells wires in a mount, too", () => {
    const wires = {
      kind: "wiring",
      members: [ptfe],
      stages: [
        { name: "warm", temperature: "1 K" },
        { name: "cold", temperature: "0.11 K", length: "1 m" },
      ],
    } as const;
    const budget = coldpath.thermalBudget({ ...quickMount(), loads: [wires] });
    expect(budget.warnings.join()).toMatch(/wiring: 110 mK is outside 200 mK to 300 K/);
    expect(budget.sources[0]).toMatchObject({ extrapolated: true });
  });
});

describe("a stage", () => {
  it("is told, and refused, outside of what is known of it", () => {
    const machine = loads.dilution({ circulation: "1 mmol/s" });
    expect(machine.warningsAt(0.05)).toEqual([]);
    expect(machine.warningsAt(0.3).join()).toMatch(/300 mK is outside what holds up to 100 mK/);
    const curve = loads.coolingCurve({
      points: [
        [0.02, 0],
        [0.1, 4e-4],
      ],
    });
    expect(curve.power(0.1)).toBeCloseTo(4e-4, 12);
    expect(() => curve.power(0.2)).toThrow(RangeError);
  });
});

describe("a temperature where a law is refused", () => {
  const glued: coldpath.Mount = {
    name: "glued",
    die: { material: "silicon", width: 5e-3, length: 5e-3, thickness: 5e-4, model: "one node" },
    glue: { material: "nbti", area: "1 mm^2", thickness: "50 um", count: 4 },
    stage: "200 mK",
    box: {
      material: "copper",
      residualResistivityRatio: 50,
      crossSection: "50 mm^2",
      pathLength: "20 mm",
    },
    joint: { faces: "gold-plated copper on gold-plated copper", force: "1 kN", count: 2 },
    loads: [{ kind: "given", power: "1 nW" }],
    limit: { temperature: "15 K" },
  };
  // nbti: thermal conductivity from 0.1 to 9 K, refused beyond.
  const heat = coldpath.spread("10 nW", "50 mW");

  it("is refused in a pulse", () => {
    const told = coldpath.heatPulse(glued, { energy: "1 keV" }).warnings;
    expect(told.filter((text) => text.includes("outside"))).toEqual([]);
    expect(() => coldpath.heatPulse(glued, { energy: "200000 GeV" })).toThrow(
      /glue: .* is outside/,
    );
  });

  it("is counted in samples, told beside the probability, and refused above 1 %", async () => {
    const uncertain: coldpath.Mount = { ...glued, loads: [{ kind: "given", power: heat }] };
    const options = { ...few, samples: 256 };
    await expect(coldpath.confidence(uncertain, options)).rejects.toThrow(
      /glue: [\d.]+ % of the samples are outside .*acceptOutside/,
    );
    const all = await coldpath.confidence(uncertain, { ...options, acceptOutside: true });
    expect(all.outside).toBeGreaterThan(0.01);
    const hot = all.temperatures.filter((T) => T > 9).length / all.samples;
    expect(all.outside).toBeCloseTo(hot, 1);
    expect(all.summary).toMatch(/confidence, while a law is refused in [\d.]+ % of the samples\./);
    expect(() => coldpath.varianceIndices(uncertain, { rows: "none", samples: 64 })).toThrow(
      /acceptOutside/,
    );
    const hotter = coldpath.spread("10 nW", "500 mW");
    const hotAtOneEnd = { ...glued, loads: [{ kind: "given", power: hotter }] } as const;
    expect(() => coldpath.sensitivity(hotAtOneEnd, { rows: "none" })).toThrow(/acceptOutside/);
  });
});
