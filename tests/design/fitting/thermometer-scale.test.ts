/** Columns that hold no temperature: resistance thermometers by their tables, resonators by their film. */
import { describe, expect, it } from "vitest";
import { calibrate } from "../../../src/design/fitting/calibrate.js";
import type { ThermometerScale } from "../../../src/design/fitting/thermometer-scale.js";
import { readThermometry } from "../../../src/design/fitting/thermometry.js";
import { resonator } from "../../../src/device/index.js";
import { spread, standardCatalogue } from "../../../src/index.js";
import { givenJoint } from "../../../src/joints/index.js";
import { MountModel } from "../../../src/mount/model.js";
import { readMount } from "../../../src/mount/read.js";
import { ombrelMount } from "../ombrel-cooldown.js";

const inputs = ["pads.coupling.coefficient", "pads.boundary.resistance"] as const;
const start = ombrelMount(2.4e9, 1.26e-3);
const truth = ombrelMount(3.1e9, 7e-4);

/** A thermometer that rises as it cools, ln R = 6 + 2 (T/0.1 K)^(-1/2) (invented). */
const ohms = (T: number) => Math.exp(6 + 2 / Math.sqrt(T / 0.1));
/** Its table at steps of a tenth, from 30 mK to 0.8 K. */
const table = (extra: (T: number) => string = () => "", head = "") =>
  [
    `temperature [mK],resistance [kohm]${head}`,
    ...Array.from({ length: 35 }, (_, i) => 0.03 * 1.1 ** i).map(
      (T) => `${1e3 * T},${1e-3 * ohms(T)}${extra(T)}`,
    ),
  ].join("\n");

const lines = [60, 200].flatMap((stage) => [0, 10, 30, 100, 300].map((nW) => ({ nW, stage })));
/** Temperature of the chip by stage [mK], heater power [nW] and heat of an excitation [W]. */
const chip = (() => {
  const given = (name: string) => ({ kind: "given", name, power: 0 }) as const;
  const model = new MountModel(
    readMount({ ...truth, loads: [...truth.loads, given("heater"), given("excitation")] }),
    standardCatalogue(),
  );
  const n = truth.loads.length;
  return ({ nW, stage }: (typeof lines)[number], excitation = 0) => {
    model.set("stage", 1e-3 * stage);
    model.set(`loads.${n}.power`, 1e-9 * nW);
    model.set(`loads.${n + 1}.power`, excitation);
    model.solve();
    return model.temperature(model.chip);
  };
})();
const chips = lines.map((line) => ({ ...line, T: chip(line) }));
const fitted = (csv: string, scale?: Parameters<typeof readThermometry>[2]) =>
  calibrate(start, readThermometry(csv, "cool.csv", scale), { inputs });
const inKelvin = fitted(
  [
    "heater power [nW],chip [K],stage [mK]",
    ...chips.map(({ nW, T, stage }) => `${nW},${T},${stage}`),
  ].join("\n"),
);

describe("a resistance thermometer", () => {
  const csv = [
    "heater power [nW],chip [kohm],stage [mK]",
    ...chips.map(({ nW, T, stage }) => `${nW},${1e-3 * ohms(T)},${stage}`),
  ].join("\n");

  it("gives the same fit as one in kelvin", () => {
    const inOhms = fitted(csv, { scales: { chip: { kind: "resistance", csv: table() } } });
    for (const name of inputs) {
      // As far as the table's points, a tenth apart, tell the curve between them.
      expect(inOhms.of(name).value / inKelvin.of(name).value).toBeCloseTo(1, 2);
    }
    inOhms.points.forEach(({ measured }, i) => {
      expect(measured / inKelvin.points[i]!.measured).toBeCloseTo(1, 4);
    });
  });

  it("is warmer than its place by the heat of its excitation, which the place takes too", () => {
    const link = { conductance: "20 nW/K", at: "100 mK", exponent: 3 } as const;
    const law = givenJoint(link);
    // A current of 0.3 µA: some tens to hundreds of picowatts, a tenth to some millikelvins (invented).
    const current = 3e-7;
    // The heat follows the resistance, so that both are found in turns.
    const rows = lines.map((line) => {
      let [T, heat] = [0.1, 0];
      for (let turn = 0; turn < 60; turn++) {
        const place = chip(line, heat);
        let [low, high] = [place, place + 0.1];
        for (let half = 0; half < 50; half++) {
          const middle = (low + high) / 2;
          const left = law.integral(middle) - law.integral(place) - current ** 2 * ohms(middle);
          if (left > 0) high = middle;
          else low = middle;
        }
        T = high;
        heat = current ** 2 * ohms(T);
      }
      return { ...line, T, heat };
    });
    expect(Math.max(...rows.map(({ heat }) => heat))).toBeGreaterThan(1e-10);
    const heated = [
      "heater power [nW],chip [ohm],stage [mK]",
      ...rows.map(({ nW, stage, T }) => `${nW},${ohms(T)},${stage}`),
    ].join("\n");
    const scale = { kind: "resistance", csv: table() } as const;
    // One input, so that a chip read too warm is not taken for another film altogether.
    const near = ombrelMount(2.4e9, 7e-4);
    const couplingOf = (thermometer: ThermometerScale) => {
      const data = readThermometry(heated, "cool.csv", { scales: { chip: thermometer } });
      return calibrate(near, data, { inputs: [inputs[0]] }).of(inputs[0]).value;
    };
    const known = couplingOf({ ...scale, excitation: { current: "0.3 uA" }, link });
    const off = (coefficient: number) => Math.abs(Math.log(coefficient / 3.1e9));
    expect(off(known)).toBeLessThan(1e-3);
    expect(off(couplingOf(scale))).toBeGreaterThan(0.01);
    // As a load alone, without its link, it counts for little.
    expect(off(couplingOf({ ...scale, excitation: { current } }))).toBeGreaterThan(0.01);
    // The same heat by the voltage that this current makes at one of the lines.
    const R = ohms(rows[0]!.T);
    const byVoltage = readThermometry(heated, "cool.csv", {
      scales: { chip: { ...scale, excitation: { voltage: current * R }, link } },
    });
    const byCurrent = readThermometry(heated, "cool.csv", {
      scales: { chip: { ...scale, excitation: { current }, link } },
    });
    const [a, b] = [byVoltage, byCurrent].map((data) => data.thermometers.get("chip")!);
    expect(a!.heats![0]! / b!.heats![0]!).toBeCloseTo(1, 12);
    expect(a!.values[0]! / b!.values[0]!).toBeCloseTo(1, 12);
  }, 60_000);

  it("passes on its own noise and what its table leaves open", () => {
    const noisy = csv
      .split("\n")
      .map((line, i) => `${line},${i === 0 ? "chip uncertainty [ohm]" : "5"}`)
      .join("\n");
    const data = readThermometry(noisy, "cool.csv", {
      scales: {
        chip: {
          kind: "resistance",
          csv: table((T) => `,${5 * T}`, ",temperature uncertainty [mK]"),
        },
      },
    });
    const { values, uncertainties } = data.thermometers.get("chip")!;
    values.forEach((T, i) => {
      // dT/dR of the invented law.
      const slope = -1 / (ohms(T) * Math.sqrt(0.1) * T ** -1.5);
      expect(uncertainties![i]! / Math.abs(5 * slope)).toBeCloseTo(1, 1);
    });
    expect(data.sharedErrors).toEqual([{ thermometers: ["chip"], gain: expect.closeTo(5e-3, 8) }]);
    const found = calibrate(start, data, { inputs });
    expect(found.sharedErrors).toHaveLength(1);
    const bare = readThermometry(noisy, "cool.csv", {
      scales: { chip: { kind: "resistance", csv: table() } },
    });
    const sure = calibrate(start, bare, { inputs });
    expect(found.of(inputs[0]).uncertainty).toBeGreaterThan(sure.of(inputs[0]).uncertainty);
    // Without uncertainties of readings there is nothing to weigh it against, which is told.
    const open = fitted(csv, {
      scales: {
        chip: {
          kind: "resistance",
          csv: table((T) => `,${5 * T}`, ",temperature uncertainty [mK]"),
        },
      },
    });
    expect(open.warnings).toContain(
      "cool.csv: the scale of chip is uncertain by 0.5 %, which does not count, since the readings state no uncertainties.",
    );
  });

  const two = "temperature [mK],resistance [ohm]\n100,3000\n200,2000\n";
  const read = (R: number, calibration = two, more = {}) =>
    readThermometry(`heater power [nW],chip [ohm]\n5,${R}\n`, "cool.csv", {
      scales: { chip: { kind: "resistance", csv: calibration, file: "t.csv", ...more } },
    });

  it("takes a table in any order, rising or falling", () => {
    const rising = "resistance [ohm],temperature [mK]\n3000,200\n2000,100\n";
    // A power law between two points: ln T is linear in ln R.
    const middle = Math.sqrt(2000 * 3000);
    for (const calibration of [two, rising]) {
      const [T] = read(middle, calibration).thermometers.get("chip")!.values;
      expect(T).toBeCloseTo(Math.sqrt(0.1 * 0.2), 12);
    }
  });

  it.each([
    [
      () => read(1900),
      'cool.csv:2 chip: expected a resistance in t.csv, 2.000 kohm to 3.000 kohm for 100 mK to 200 mK, got "1900 ohm"',
    ],
    [() => read(0), 'cool.csv:2 chip: expected a resistance greater than 0, got "0 ohm"'],
    [
      () => read(2500, "temperature [mK],resistance [ohm]\n100,3000\n150,3100\n200,2000\n"),
      't.csv:3 resistance: expected a resistance that falls from each temperature to the next (3000 ohm at 100 mK), got "3100 ohm at 150 mK"',
    ],
    [
      () => read(2500, "temperature [mK],resistance [ohm]\n100,3000\n100,2000\n"),
      "t.csv:3 resistance: expected each temperature once",
    ],
    [
      () => read(2500, "temperature [mK],resistance [ohm]\n100,3000\n"),
      "t.csv: expected two lines of a calibration or more",
    ],
    [
      () => read(2500, "temperature [mK],resistance [ohm]\n100,3000\n200,0\n"),
      't.csv:3 resistance: expected a number greater than 0, got "0 ohm"',
    ],
    [
      () => read(2500, two, { excitation: { power: "1 nW" } }),
      "scales.chip.excitation: expected an object with one of current, voltage",
    ],
    [
      () =>
        read(2500, two, {
          excitation: { current: "1 mA" },
          link: { conductance: "1 nW/K", at: "100 mK" },
        }),
      /^cool\.csv:2 chip: expected less heat than .*, all that scales\.chip\.link leads away, got "2\.5\d* mW of the excitation"$/,
    ],
    [
      () =>
        readThermometry("heater power [nW],die [mK]\n1,100\n", "cool.csv", {
          scales: { dye: { kind: "resistance", csv: two } },
        }),
      'scales: column "dye" is not known, did you mean "die"?',
    ],
    [
      () =>
        readThermometry("heater power [nW],chip [mK]\n1,100\n", "cool.csv", {
          scales: { chip: { kind: "resistance", csv: two } },
        }),
      "cool.csv:1 chip: expected a unit such as [ohm]",
    ],
  ])("is refused where it is faulty (%#)", (run, message) => {
    expect(run).toThrow(message);
  });
});

describe("a resonator as a thermometer", () => {
  const options = {
    superconductor: { criticalTemperature: "1.2 K", gapRatio: 1.764 },
    frequency: "5 GHz",
    kineticInductanceFraction: 0.1,
    otherQuality: 1e6,
  } as const;
  const law = resonator(options);
  const hot = chips.map((each) => ({ ...each, T: each.T + 0.1 }));

  it("gives back the temperature that its film was at, and its noise by the slope of the law", () => {
    for (const kind of ["frequency", "quality"] as const) {
      const value = (T: number) =>
        kind === "frequency" ? law.frequency * (1 + law.frequencyShift(T)) : law.internalQuality(T);
      const unit = kind === "frequency" ? "Hz" : "";
      const noise = kind === "frequency" ? 50 : 1000;
      const data = readThermometry(
        [
          `heater power [nW],chip [${unit}],chip uncertainty [${unit}]`,
          ...hot.map(({ nW, T }) => `${nW},${value(T)},${noise}`),
        ].join("\n"),
        "cool.csv",
        { scales: { chip: { kind, resonator: options } } },
      );
      const { values, uncertainties } = data.thermometers.get("chip")!;
      hot.forEach(({ T }, i) => {
        expect(values[i]! / T).toBeCloseTo(1, 6);
        const slope = (value(T * 1.001) - value(T * 0.999)) / (0.002 * T);
        expect((uncertainties![i]! * Math.abs(slope)) / noise).toBeCloseTo(1, 3);
      });
      expect(data.sharedErrors).toBeUndefined();
    }
  });

  it("fits a mount as a thermometer in kelvin does", () => {
    // By its quality factor, which shows 100 mK of a film of T_c = 0.5 K (invented).
    const film = {
      ...options,
      superconductor: { criticalTemperature: "0.5 K", gapRatio: 1.764 },
    } as const;
    const cold = resonator(film);
    const byQuality = fitted(
      [
        "heater power [nW],chip [],stage [mK]",
        ...chips.map(({ nW, T, stage }) => `${nW},${cold.internalQuality(T)},${stage}`),
      ].join("\n"),
      { scales: { chip: { kind: "quality", resonator: film } } },
    );
    for (const name of inputs) {
      expect(byQuality.of(name).value / inKelvin.of(name).value).toBeCloseTo(1, 3);
    }
  });

  it("passes on what is not known of its film, to all readings together", () => {
    const Tc = spread("1.19 K", "1.21 K", { distribution: "normal" });
    const data = readThermometry(
      [
        "heater power [nW],chip [GHz]",
        ...hot.map(({ nW, T }) => `${nW},${5 * (1 + law.frequencyShift(T))}`),
      ].join("\n"),
      "cool.csv",
      {
        scales: {
          chip: {
            kind: "frequency",
            resonator: {
              ...options,
              superconductor: { ...options.superconductor, criticalTemperature: Tc },
            },
          },
        },
      },
    );
    // All temperatures of a film scale with its T_c, where the photon is small.
    const relative = 0.01 / 1.2 / 1.6449;
    expect(data.sharedErrors![0]!.gain! / relative).toBeCloseTo(1, 1);
  });

  it("tells its range, and refuses what lies outside", () => {
    const read = (kind: "frequency" | "quality", value: number, unit: string) =>
      readThermometry(`heater power [nW],chip [${unit}]\n5,${value}\n`, "cool.csv", {
        scales: { chip: { kind, resonator: options } },
      });
    expect(() => read("frequency", 5.0001, "GHz")).toThrow(
      /^cool\.csv:2 chip: expected a frequency below 5\.00000000 GHz, that at zero temperature, by 0\.00100 of it at most, where the law ends at \d+ mK, got "5\.0001 GHz"$/,
    );
    expect(() => read("frequency", 4.99, "GHz")).toThrow("where the law ends at");
    expect(() => read("quality", 2e6, "")).toThrow(
      /^cool\.csv:2 chip: expected an internal quality factor below 1e\+?6, which zero temperature leaves/,
    );
    const at = (T: number) => 5 * (1 + law.frequencyShift(T));
    expect(read("frequency", at(0.25), "GHz").warnings).toBeUndefined();
    expect(read("frequency", at(0.15), "GHz").warnings![0]).toMatch(
      /^cool\.csv: chip is read down to 150 mK, where its frequency has shifted by \S+ of it; two-level systems/,
    );
    expect(read("quality", law.internalQuality(0.11), "").warnings![0]).toMatch(
      /^cool\.csv: chip is read down to 110 mK, below 120 mK, a tenth of T_c, where films keep more quasiparticles/,
    );
  });
});
