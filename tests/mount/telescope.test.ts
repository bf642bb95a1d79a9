/** Loads that depend on the chip, stages that warm, and limits given by what the detector needs. */
import { describe, expect, it } from "vitest";
import { conductivityRatio, quasiparticleDensity, superconductor } from "../../src/device/index.js";
import {
  type Mount,
  type MountLoad,
  sizeBonds,
  sweep,
  thermalBudget,
  withField,
} from "../../src/index.js";
import { dissipatedFraction } from "../../src/loads/index.js";
import { exampleMount, quickMount } from "./example.js";

const film = {
  superconductor: { criticalTemperature: "0.8 K", densityOfStates: "1e10 1/(eV um^3)" },
  frequency: "1 GHz",
  kineticInductanceFraction: 0.5,
  otherQuality: 3e5,
} as const;
const tones = (power: `${number} dBm`, more: object = {}): MountLoad =>
  ({
    kind: "readout",
    tones: 600,
    powerPerTone: power,
    resonator: film,
    couplingQuality: 4e4,
    ...more,
  }) as MountLoad;
const curve = {
  coolingCurve: {
    points: [
      ["90 mK", 0],
      ["100 mK", "1 uW"],
      ["130 mK", "6 uW"],
    ],
  },
} as const;
const heater = (power: `${number} ${"uW" | "nW"}`): MountLoad => ({
  kind: "given",
  name: "heater",
  on: "box",
  power,
});
const small = (mount: Mount): Mount => ({ ...mount, die: { ...mount.die, cells: 32 } });

describe("a readout whose resonators lose quality as the chip warms", () => {
  it.each([
    ["sheet", small(exampleMount())],
    ["two nodes", quickMount()],
  ])("reaches a steady state with the chip: %s", (_, mount) => {
    const budget = thermalBudget({ ...mount, loads: [tones("-80 dBm")] });
    // 2Qr²/(QiQc) with Qi from the integrals of Mattis and Bardeen at the chip's own temperature.
    const { real, imaginary } = conductivityRatio(
      superconductor(film.superconductor),
      1e9,
      budget.chip.temperature,
    );
    const quality = 1 / (1 / 3e5 + (0.5 * real) / imaginary);
    const power = 600 * 1e-11 * dissipatedFraction(quality, 4e4);
    expect(budget.sources[0]!.power / power).toBeCloseTo(1, 6);
    expect(budget.detectors[0]!.internalQuality / quality).toBeCloseTo(1, 6);
    // Its pads are as thin as the waves of their phonons.
    expect(budget.warnings.filter((text) => !text.includes("wavelength"))).toEqual([]);
  });

  it("heats more than one of fixed quality once the chip is warm", () => {
    const fixed = { resonator: undefined, internalQuality: 3e5 };
    const { resonator, ...rest } = { ...tones("-70 dBm"), ...fixed } as Record<string, unknown>;
    const cold = thermalBudget({ ...quickMount(), loads: [rest as unknown as MountLoad] });
    const warm = thermalBudget({ ...quickMount(), loads: [tones("-70 dBm")] });
    expect(warm.chip.temperature).toBeGreaterThan(cold.chip.temperature);
  });

  it("says when the chip could also rest somewhere warmer", () => {
    // Strongly coupled, nearly lossless: dissipation rises by orders of magnitude before Qi = Qc.
    const load = tones("-56 dBm", {
      resonator: { ...film, otherQuality: 3e8, kineticInductanceFraction: 0.9 },
      couplingQuality: 1e4,
    });
    const { warnings } = thermalBudget({ ...quickMount(), stage: "50 mK", loads: [load] });
    expect(warnings.join()).toMatch(/readout: .*states/);
  });

  it("takes tones one by one, and powers stated above a chain of attenuators", () => {
    const {
      tones: _,
      powerPerTone: __,
      ...one
    } = tones("-95 dBm") as unknown as Record<string, unknown>;
    const listed = { ...one, toneList: ["-95 dBm", { power: "-90 dBm" }] } as unknown as MountLoad;
    const above = tones("-45 dBm", { attenuation: [20, 20, 10] });
    const power = (load: MountLoad) => thermalBudget({ ...quickMount(), loads: [load] }).total;
    expect(power(above) / power(tones("-95 dBm"))).toBeCloseTo(1, 6);
    // −95 and −90 dBm are 0.316 and 1 pW, against 600 of the first
    expect(power(listed) / power(tones("-95 dBm"))).toBeCloseTo((1 + 10 ** 0.5) / 600, 4);
  });
});

describe("a stage that warms with its load", () => {
  it("settles where its cooling curve takes the heat", () => {
    const budget = thermalBudget({ ...quickMount(), stage: curve, loads: [heater("1 uW")] });
    expect(budget.stage).toBeCloseTo(0.1, 9);
    expect(budget.cooling).toMatchObject({ power: expect.closeTo(1e-6, 12), largest: 6e-6 });
  });

  it("says what to do when the load is more than it is known to take", () => {
    const mount = { ...quickMount(), stage: curve, loads: [heater("30 uW")] };
    expect(() => thermalBudget(mount)).toThrow(
      "stage: 30.0 µW is more than it is known to take, 6.00 µW. Lower the loads, sink the wiring at a warmer stage, or give a cooling curve that goes further.",
    );
  });

  it("by dilution: 84 W/(mol/s K²) of cooling power above the base (Pobell, from memory)", () => {
    const loads = [heater("50 uW")];
    const stage = { dilution: { circulation: "0.6 mmol/s" } } as const;
    const { stage: T } = thermalBudget({ ...quickMount(), stage, loads });
    expect((84 * 0.6e-3 * T ** 2) / 50e-6).toBeCloseTo(1, 2);
  });

  it("by a demagnetised salt: holds for heat over load", () => {
    const stage = {
      demagnetisation: {
        salt: "ferric-ammonium-alum",
        amount: 0.2,
        field: "4 T",
        start: "4 K",
        temperature: "100 mK",
      },
    } as const;
    const once = thermalBudget({ ...quickMount(), stage, loads: [heater("1 uW")] });
    const twice = thermalBudget({ ...quickMount(), stage, loads: [heater("2 uW")] });
    expect(once.stage).toBe(0.1);
    expect(once.cooling!.holdTime! / twice.cooling!.holdTime!).toBeCloseTo(2, 12);
    // Free spins 5/2 from 4 T/4 K give up 8.463 J/(mol K) (computed from the entropy of free spins):
    // at most n T ΔS = 0.2 · 0.1 · 8.463 J = 0.169 J, two days at a microwatt.
    expect(once.cooling!.holdTime!).toBeLessThan(0.1693 / 1e-6);
    expect(once.cooling!.holdTime!).toBeGreaterThan(0.1 / 1e-6);
  });

  it("is swept with the rest: a steeper load, a warmer stage", () => {
    const mount: Mount = { ...quickMount(), stage: curve, loads: [heater("1 uW")] };
    const swept = sweep(mount, { field: "loads.0.power", values: ["0.5 uW", "1 uW", "3 uW"] });
    expect(swept.temperature(1, 0, "stage")).toBeCloseTo(0.1, 9);
    expect(swept.temperature(2, 0, "stage")).toBeGreaterThan(0.11);
    const point = withField(mount, "loads.0.power", "3 uW");
    expect(swept.temperature(2) / thermalBudget(point).chip.temperature).toBeCloseTo(1, 11);
  });

  it.each([
    [
      {
        coolingCurve: {
          points: [
            ["90 mK", 0],
            ["100 mK", "2 uW"],
            ["110 mK", "1 uW"],
          ],
        },
      },
      /stage\.coolingCurve/,
    ],
    [
      {
        coolingCurve: {
          points: [
            ["-90 mK", 0],
            ["100 mK", "2 uW"],
          ],
        },
      },
      /stage\.coolingCurve/,
    ],
    [{ dilution: { circulation: "-1 mmol/s" } }, /stage\.dilution\.circulation/],
    [
      { dilution: 7 },
      "stage.dilution: expected an object with circulation, exchangerTemperature, base, got 7",
    ],
    [
      { warmth: 1 },
      "stage: expected an object with one of coolingCurve, dilution, demagnetisation",
    ],
  ])("%j is refused", (stage, message) => {
    expect(() => thermalBudget({ ...quickMount(), stage } as never)).toThrow(message);
  });
});

describe("a limit by what the detector needs", () => {
  it("a quality factor: at the limit the resonator has just that", () => {
    const limit = { quality: 1e5, resonator: film };
    const budget = thermalBudget({ ...quickMount(), limit });
    const { real, imaginary } = conductivityRatio(
      superconductor(film.superconductor),
      1e9,
      budget.limit!,
    );
    expect(1 / (1 / 3e5 + (0.5 * real) / imaginary)).toBeCloseTo(1e5, -1);
    expect(sizeBonds({ ...quickMount(), limit }).enough).toBe(true);
  });

  it("a density of thermal quasiparticles", () => {
    const limit = {
      quasiparticleDensity: "10 1/um^3",
      superconductor: film.superconductor,
    } as const;
    const { limit: highest } = thermalBudget({ ...quickMount(), limit });
    expect(quasiparticleDensity(superconductor(film.superconductor), highest!) / 1e19).toBeCloseTo(
      1,
      6,
    );
  });

  it("is refused when the other losses already forbid it", () => {
    const limit = { quality: 4e5, resonator: film };
    expect(() => thermalBudget({ ...quickMount(), limit })).toThrow(
      "limit.quality: expected a quality factor below 300000",
    );
  });
});

describe("loads as they are known", () => {
  it.each([
    [
      {
        kind: "sky",
        pixels: 600,
        band: "V",
        sky: 21.6,
        telescopeArea: "4 m^2",
        pixelScale: "0.5 arcsec",
      },
    ],
    [
      {
        kind: "millimetre",
        pixels: 600,
        from: "130 GHz",
        to: "170 GHz",
        source: { temperature: "20 K" },
      },
    ],
    [
      {
        kind: "radiation",
        pixels: 600,
        source: { temperature: "290 K" },
        through: { etendue: 1e-9 },
        filters: [{ name: "cold", temperature: "4 K", transmission: 0.01 }],
        band: { from: "1.8 mm", to: "2.3 mm" },
      },
    ],
    [{ kind: "lamp", power: "1 nW", shareOnChip: 0.5 }],
    [
      {
        kind: "wiring",
        on: "box",
        members: [{ material: "nbti", diameter: "0.1 mm" }],
        stages: [
          { name: "1 K", temperature: "1 K" },
          { name: "stage", temperature: "110 mK", length: "0.2 m" },
        ],
      },
    ],
    [{ kind: "muons", tilt: "30 deg", momentum: "4 GeV" }],
  ])("%j warms the chip and says where its numbers come from", (load) => {
    const budget = thermalBudget({ ...quickMount(), loads: [load as MountLoad] });
    expect(budget.total).toBeGreaterThan(0);
    expect(budget.provenance.some(({ quantity }) => quantity.startsWith("loads[0]"))).toBe(true);
  });

  it.each([
    [
      {
        kind: "millimetre",
        pixels: 6,
        from: "130 GHz",
        to: "170 GHz",
        source: { temperature: "-3 K" },
      },
      /^loads\[0\]\.source\.temperature/,
    ],
    [{ kind: "lamp", power: "1 mm" }, /^loads\[0\]\.power/],
    [
      {
        kind: "radiation",
        source: { temperature: "290 K" },
        through: { modes: 1 },
        filters: [{ name: "f", temperature: "4 K", transmission: 1.2 }],
        band: { from: "1.8 mm", to: "2.3 mm" },
      },
      /^loads\[0\]\.filters\[0\]\.transmission/,
    ],
    [
      { kind: "sky", pixels: 1, band: "Q", sky: 20, telescopeArea: 1, pixelScale: "1 arcsec" },
      /^loads\[0\]\.band/,
    ],
  ])("%j is refused with the path of the field", (load, message) => {
    expect(() => thermalBudget({ ...quickMount(), loads: [load as never] })).toThrow(message);
  });
});

describe("fields that are handed on", () => {
  const radiation = {
    kind: "radiation",
    source: { temperature: "290 K" },
    through: { modes: 1 },
    filters: [{ name: "f", temperature: "4 K", transmission: 0.5 }],
    band: { from: "1.8 mm", to: "2.3 mm" },
  };
  it.each([
    [
      { ...radiation, filter: [] },
      'loads[0].filter: field "filter" is not known, did you mean "filters"?',
    ],
    [
      { ...radiation, source: { temperature: "290 K", emisivity: 0.1 } },
      'loads[0].source.emisivity: field "emisivity" is not known, did you mean "emissivity"?',
    ],
    [{ ...radiation, filters: [null] }, "loads[0].filters[0]: expected an object with name"],
    [
      { ...radiation, through: { modes: 1, area: "1 mm^2" } },
      "loads[0].through: expected only one of area, etendue, modes",
    ],
    [{ kind: "lamp", power: "1 nW", wavelenght: "1 um" }, 'did you mean "wavelength"?'],
    [
      tones("-95 dBm", { resonator: { ...film, otherQualty: 1e5 } }),
      'loads[0].resonator.otherQualty: field "otherQualty"',
    ],
  ])("%j is refused with the nearest name", (load, message) => {
    expect(() => thermalBudget({ ...quickMount(), loads: [load as never] })).toThrow(message);
  });

  it.each([
    [
      { coolingCurve: { points: [["90 mK", 0]], bse: 1 } },
      'stage.coolingCurve.bse: field "bse" is not known, did you mean "base"?',
    ],
    [
      { coolingCurve: { points: [], csv: "" } },
      "stage.coolingCurve: expected only one of points, csv",
    ],
    [
      { coolingCurv: {} },
      'stage.coolingCurv: field "coolingCurv" is not known, did you mean "coolingCurve"?',
    ],
  ])("a stage of %j is refused", (stage, message) => {
    expect(() => thermalBudget({ ...quickMount(), stage } as never)).toThrow(message);
  });

  it("wires whose coldest end is not where they end are told", () => {
    const load = {
      kind: "wiring",
      name: "loom",
      members: [{ material: "nbti", diameter: "0.1 mm" }],
      stages: [
        { name: "4 K", temperature: "4 K" },
        { name: "1 K", temperature: "1 K", length: "0.2 m" },
      ],
    } as const;
    const { warnings } = thermalBudget({ ...quickMount(), loads: [load] });
    expect(warnings.join()).toMatch(
      /loom: its coldest end is given at 1\.00 K, but what it ends on is at/,
    );
  });

  it("a limit that lies below the stage is told", () => {
    const limit = { quality: 1e5, resonator: film };
    const { warnings } = thermalBudget({ ...quickMount(), stage: "0.2 K", limit });
    expect(warnings.join()).toMatch(/limit: 135\.\d mK is not above the stage itself, 200\.0 mK/);
  });
});

describe("rest on a 2-D die", () => {
  it("is found where the tones' heat falls again with temperature, as by the two-node model", () => {
    // Beyond Qi = Qc a warmer resonator takes less of its tone, so that plain steps would swing.
    const load = tones("-50 dBm", {
      tones: 500,
      couplingQuality: 1e4,
      resonator: {
        superconductor: "aluminium",
        frequency: "4 GHz",
        kineticInductanceFraction: 0.3,
        otherQuality: 1e6,
      },
    });
    const mount: Mount = { ...quickMount(), loads: [load] };
    const quick = thermalBudget(mount).chip.temperature;
    const sheet = thermalBudget(small({ ...exampleMount(), loads: [load] })).chip.temperature;
    expect(Math.abs(sheet / quick - 1)).toBeLessThan(0.05);
  });
});
