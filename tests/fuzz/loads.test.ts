/** Loads, stages, films and joints called by themselves: numbers, or a refusal in words. */
import fc from "fast-check";
import { describe, it } from "vitest";
import * as device from "../../src/device/index.js";
import * as joints from "../../src/joints/index.js";
import * as loads from "../../src/loads/index.js";
import { fuzz } from "./cases.js";
import { goodLoads } from "./mounts.js";
import { change, changed, strangeVersions } from "./strange.js";

type Call = (options: never) => unknown;

/** Good options and the function that takes them. */
interface Entry {
  readonly name: string;
  readonly options: object;
  readonly call: Call;
}

const ofKind: Readonly<Record<string, Call>> = {
  given: (o) => loads.givenLoad({ name: "given", ...(o as object) } as never),
  optical: (o) => loads.optical(o),
  infrared: (o) => loads.infrared(o),
  readout: (o) => loads.readout(o),
  sky: (o) => loads.nightSky(o),
  millimetre: (o) => loads.millimetre(o),
  radiation: (o) => loads.radiation(o),
  lamp: (o) => loads.lamp(o),
  wiring: (o) => loads.wiring(o),
};
const loadsByKind = goodLoads.flatMap((load): Entry[] => {
  const { kind, on, map, ...options } = load as { kind: string; on?: unknown; map?: unknown };
  const call = ofKind[kind];
  return call && !("resonator" in options) ? [{ name: kind, options, call }] : [];
});

const die = { material: "silicon", width: "10 mm", length: "8 mm", thickness: "0.4 mm" };
const random = () => {
  let state = 1;
  const uniform = () => {
    state = (state * 16807) % 2147483647;
    return state / 2147483647;
  };
  const below = (count: number) => Math.floor(count * uniform());
  return { uniform, below, exponential: () => -Math.log(uniform()), normal: () => uniform() - 0.5 };
};
/** A source with three of its hits. */
const drawn = (source: loads.ParticleSource) => {
  const stream = random() as never;
  return [source, source.draw(stream), source.draw(stream), source.draw(stream)];
};
/** A conductor with its values at a few temperatures. */
const valued = (conductor: joints.Conductor) => [
  conductor,
  [0.01, 0.1, 1].map((T) => [conductor.conductance(T), conductor.integral(T)]),
];
const cooling = (stage: loads.Cooling) => [stage, stage.temperature(0), stage.power(stage.base)];

const film = { criticalTemperature: "0.8 K", densityOfStates: "1e10 1/(eV um^3)", gapRatio: 1.764 };
const others: readonly Entry[] = [
  {
    name: "muons",
    options: {
      ...die,
      flux: 100,
      tilt: "30 deg",
      exponent: 2,
      momentum: "1 GeV",
      fluctuation: "landau",
    },
    call: (o) => drawn(loads.muonHits(o)),
  },
  {
    name: "background",
    options: { rate: 0.02, energy: "200 keV", die: { width: "10 mm", length: "8 mm" } },
    call: (o) => drawn(loads.backgroundHits(o)),
  },
  {
    name: "background by lines",
    options: {
      rate: 1,
      spectrum: {
        lines: [
          { energy: "60 keV", share: 1 },
          { energy: "1 MeV", share: 2 },
        ],
      },
    },
    call: (o) => drawn(loads.backgroundHits(o)),
  },
  {
    name: "background by points",
    options: {
      rate: 1,
      spectrum: {
        points: [
          ["60 keV", 1],
          ["80 keV", 0],
        ],
      },
    },
    call: (o) => drawn(loads.backgroundHits(o)),
  },
  {
    name: "hits in time",
    options: { duration: "1 min", seed: 3 },
    call: (o) => loads.particleHits([loads.backgroundHits({ rate: 1, energy: "1 keV" })], o),
  },
  {
    name: "conduction",
    options: {
      material: "stainless-steel",
      length: "0.2 m",
      diameter: "0.2 mm",
      warm: "4 K",
      cold: "1 K",
      count: 3,
    },
    call: (o) => loads.conduction(o),
  },
  {
    name: "coax",
    options: {
      size: "0.085 in",
      conductor: { material: "stainless-steel" },
      dielectric: { material: "ptfe" },
    },
    call: (o) => loads.coax(o),
  },
  {
    name: "cooling curve",
    options: {
      points: [
        ["90 mK", "1 uW"],
        ["130 mK", "1 mW"],
      ],
      base: "80 mK",
    },
    call: (o) => cooling(loads.coolingCurve(o)),
  },
  {
    name: "dilution",
    options: { circulation: "0.3 mmol/s", base: "20 mK", exchangerTemperature: "30 mK" },
    call: (o) => cooling(loads.dilution(o)),
  },
  {
    name: "salt",
    options: {
      salt: "ferric-ammonium-alum",
      amount: "0.2 mol",
      field: "4 T",
      start: "4 K",
      temperature: "100 mK",
    },
    call: (o) => loads.demagnetisation(o).holdTime("1 uW"),
  },
  {
    name: "superconductor",
    options: film,
    call: (o) => device.quasiparticleDensity(device.superconductor(o), 0.1),
  },
  {
    name: "resonator",
    options: {
      superconductor: film,
      frequency: "1 GHz",
      kineticInductanceFraction: 0.5,
      otherQuality: 3e5,
    },
    call: (o) => device.resonator(o).internalQuality(0.1),
  },
  {
    name: "warming readout",
    options: { tones: 10, powerPerTone: "-90 dBm", couplingQuality: 4e4 },
    call: (o) =>
      loads.readoutLaw({ ...(o as object), internalQuality: () => 1e5 } as never).at(0.1),
  },
  {
    name: "wire bond",
    options: {
      metal: "gold",
      diameter: "25 um",
      length: "2 mm",
      residualResistivityRatio: 30,
      footResistance: "1 mohm",
    },
    call: (o) => valued(joints.wireBond(o)),
  },
  {
    name: "strip",
    options: { material: "sapphire", length: "5 mm", area: "1 mm^2", meanFreePath: "1 mm" },
    call: (o) => valued(joints.strip(o)),
  },
  {
    name: "glue",
    options: { glue: "epoxy", area: "1 mm^2", thickness: "30 um" },
    call: (o) => valued(joints.glue(o)),
  },
  {
    name: "pressed joint",
    options: { faces: "copper on copper", force: "100 N" },
    call: (o) => valued(joints.pressedJoint(o)),
  },
  {
    name: "given joint",
    options: { conductance: "1 mW/K", at: "100 mK", exponent: 1 },
    call: (o) => valued(joints.givenJoint(o)),
  },
  {
    name: "electrons and phonons",
    options: { metal: "gold", volume: 1e-15 },
    call: (o) => valued(joints.electronPhonon(o)),
  },
  {
    name: "boundary",
    options: { area: "1 mm^2", resistance: 2e-4 },
    call: (o) => valued(joints.boundary(o)),
  },
  {
    name: "pad film",
    options: {
      metal: "gold",
      width: "0.2 mm",
      length: "0.3 mm",
      footRadius: "20 um",
      thickness: "1 um",
      residualResistivityRatio: 5,
    },
    call: (o) => valued(joints.padFilm(o)),
  },
  {
    name: "heat store",
    options: { material: "gold", volume: 1e-12 },
    call: (o) => joints.temperatureAfter(joints.heatStore(o), 0.1, 1e-15),
  },
  {
    name: "given heat store",
    options: { heatCapacity: 1e-12, at: "0.1 K", exponent: 1 },
    call: (o) => joints.temperatureAfter(joints.givenHeatStore(o), 0.1, 1e-15),
  },
];

const entries = [...loadsByKind, ...others];

describe("a load, stage, film or joint with mistakes in its description", () => {
  it("starts from descriptions that are good", () => {
    for (const { name, options, call } of entries) {
      try {
        call(options as never);
      } catch (error) {
        throw new Error(`${name}: ${(error as Error).message}`);
      }
    }
  });

  it("gives numbers, or is refused in words", () => {
    const cases = fc.record({
      entry: fc.constantFrom(...entries),
      changes: fc.array(change, { minLength: 1, maxLength: 3 }),
    });
    fuzz(
      0.16,
      cases.map(({ entry, changes }) => ({
        ...entry,
        input: changed({ ...entry.options }, changes),
      })),
      ({ call, input }) => call(input as never),
    );
  });

  it("is refused in words when it is no description at all", () => {
    fuzz(
      0.03,
      fc.tuple(fc.constantFrom(...entries), strangeVersions(fc.constant({}))),
      ([{ call }, input]) => call(input as never),
    );
  });
});
