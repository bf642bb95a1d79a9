import { describe, expect, it } from "vitest";
import { withField } from "../../../src/design/field.js";
import { calibrate } from "../../../src/design/fitting/calibrate.js";
import { withMeasured } from "../../../src/design/fitting/saved-fit.js";
import { readThermometry, type Thermometry } from "../../../src/design/fitting/thermometry.js";
import { UndeterminedError } from "../../../src/design/fitting/undetermined.js";
import { type Mount, standardCatalogue, thermalBudget } from "../../../src/index.js";
import { MountModel } from "../../../src/mount/model.js";
import { readMount, spreadsOf } from "../../../src/mount/read.js";
import { random } from "../../../src/numerics/random.js";
import { spread } from "../../../src/units/spread.js";
import { exampleMount } from "../../mount/example.js";
import { slowly } from "../../slowly.js";
import { within95 } from "../coverage.js";

const coupling = "pads.coupling.coefficient";
const boundary = "pads.boundary.resistance";

/** The example mount with the model of one temperature, and films of given strength. */
function mountWith(sigma: number, resistance: number): Mount {
  const mount = exampleMount();
  return {
    ...mount,
    die: { ...mount.die, model: "one node" },
    pads: {
      ...mount.pads!,
      coupling: { coefficient: sigma, exponent: 5 },
      boundary: { resistance },
    },
  };
}
const truth = mountWith(3.1e9, 7e-4);
const start = mountWith(2.4e9, 1e-3);

/** What thermometers at places of a mount read: the truth, and then what `change` makes of it. */
function readings(
  mount: Mount,
  places: readonly string[],
  options: {
    readonly stages?: readonly number[];
    readonly powers?: readonly number[];
    readonly on?: "die" | "box";
    /** [K] */
    readonly uncertainty?: number;
    readonly stageUncertainty?: number;
    read?(temperature: number, place: string): number;
    /** The stage's true temperature, when it is told as `stage`. */
    held?(stage: number): number;
  } = {},
): Thermometry {
  const { stages = [0.06, 0.2], powers = [0, 10, 30, 60, 100, 400], on = "die" } = options;
  const { uncertainty, stageUncertainty, read = (T: number) => T } = options;
  const heater = { kind: "given", name: "heater", on, power: 0 } as const;
  const compiled = new MountModel(
    readMount({ ...mount, stage: stages[0]!, loads: [...mount.loads, heater] }),
    standardCatalogue(),
  );
  const header = [
    "heater power [nW]",
    ...places.flatMap((name) => [
      `"${name} [K]"`,
      ...(uncertainty ? [`"${name} uncertainty [K]"`] : []),
    ]),
    "stage [K]",
    ...(stageUncertainty ? ["stage uncertainty [K]"] : []),
  ];
  const lines = stages.flatMap((stage) =>
    powers.map((power) => {
      const told = read(stage, "stage");
      compiled.set("stage", options.held?.(stage) ?? stage);
      compiled.set(`loads.${mount.loads.length}.power`, power * 1e-9);
      compiled.solve();
      return [
        power,
        ...places.flatMap((name) => [
          read(compiled.temperature(name === "chip" ? compiled.chip : name), name),
          ...(uncertainty ? [uncertainty] : []),
        ]),
        told,
        ...(stageUncertainty ? [stageUncertainty] : []),
      ].join(",");
    }),
  );
  return readThermometry([header.join(","), ...lines].join("\n"), "cool.csv");
}

/** Not the one of pads thinner than the wavelength of their phonons. */
const isOfReadings = (text: string) => text.startsWith("cool.csv");

describe("calibrate(mount, data, { inputs })", () => {
  it("finds the inputs that the readings were made with, for every model of the die", () => {
    for (const model of ["one node", "two nodes", "sheet"] as const) {
      const cells = model === "sheet" ? { cells: 32 } : {};
      const of = (mount: Mount): Mount => ({ ...mount, die: { ...mount.die, model, ...cells } });
      const few = model === "sheet" ? { powers: [0, 400] } : {};
      const fit = calibrate(of(start), readings(of(truth), ["chip"], few), {
        inputs: [coupling, boundary],
      });
      expect(fit.of(coupling).value / 3.1e9, model).toBeCloseTo(1, 5);
      expect(fit.of(boundary).value / 7e-4, model).toBeCloseTo(1, 5);
    }
  }, 180_000);

  const asCsv = (
    data: Thermometry,
    unit: string,
    factor: number,
    without: readonly string[] = [],
  ) =>
    [
      [
        "heater power [nW]",
        ...[...data.thermometers.keys()]
          .filter((name) => !without.includes(name))
          .map((name) => `${name} [${name === "chip" ? unit : "K"}]`),
      ].join(","),
      ...data.places.map((_, i) =>
        [
          data.power.values[i]! * 1e9,
          ...[...data.thermometers]
            .filter(([name]) => !without.includes(name))
            .map(([name, { values }]) => values[i]! * (name === "chip" ? factor : 1)),
        ].join(","),
      ),
    ].join("\n");

  it("refuses a column that the mount could not come near to, with the unit that would do", () => {
    const data = readings(truth, ["chip"]);
    const fitted = (csv: string) =>
      calibrate(start, readThermometry(csv, "cool.csv"), { inputs: [coupling] });
    // Ten times too warm: no unit of the temperature explains it, but one of the power would.
    expect(() => fitted(asCsv(data, "K", 10))).toThrow(
      /^cool\.csv:\d+ heater power: expected heater power \[nW\] about .*W, which the mount as it starts needs for chip at 2\.\d+ K, got "400 nW" \(likely \[\w+\] is meant\)$/,
    );
    const power = asCsv(data, "K", 1).replace("[nW]", "[mW]");
    expect(() => fitted(power)).toThrow(
      /^cool\.csv:\d+ heater power: expected heater power \[mW\] about \d+ nW, .*\(likely \[nW\] is meant\)$/,
    );
    expect(fitted(asCsv(data, "K", 1)).warnings.filter(isOfReadings)).toEqual([]);
  });

  it("says that the mount's stage was taken where no column holds it", () => {
    const data = readings({ ...truth, stage: "60 mK" }, ["chip"], { stages: [0.06] });
    const csv = asCsv(data, "K", 1, ["stage"]);
    const mount = { ...start, stage: "60 mK" } as const;
    const fit = calibrate(mount, readThermometry(csv, "cool.csv"), { inputs: [coupling] });
    expect(fit.warnings.filter(isOfReadings)).toEqual([
      "cool.csv has no column stage [mK]: the stage of the mount was taken, 60.00 mK in the first line.",
    ]);
  });

  it("names a line that lies far from the fit, by its number and residual", () => {
    for (const uncertainty of [undefined, 1e-4]) {
      const noise = random(3);
      const options = {
        ...(uncertainty && { uncertainty }),
        powers: [0, 10, 30, 60, 100, 200, 300, 400],
      };
      let line = 1;
      const read = (T: number, place: string) => {
        if (place === "stage") line++;
        return T + (place === "chip" ? 1e-4 * noise.normal() + (line === 6 ? 4e-3 : 0) : 0);
      };
      const fit = calibrate(start, readings(truth, ["chip"], { ...options, read }), {
        inputs: [coupling, boundary],
      });
      expect(fit.warnings.filter(isOfReadings)[0]).toMatch(
        /^cool\.csv:6: chip reads [34]\.\d+ mK above the fit, [\d.e]+ standard uncertainties; is this line right\?$/,
      );
    }
  });

  it("puts the inputs into a mount, as spreads, that a later budget takes", () => {
    const data = readings(truth, ["chip"], { uncertainty: 1e-4 });
    const fit = calibrate(start, data, { inputs: [coupling, boundary] });
    const chip = (mount: Mount) => thermalBudget(mount).chip.temperature;
    expect(chip(fit.mount) / chip(truth)).toBeCloseTo(1, 7);
    expect(chip(start) / chip(truth)).not.toBeCloseTo(1, 3);
    const [first, second] = spreadsOf(fit.mount);
    expect([first!.field, second!.field].sort()).toEqual([boundary, coupling]);
    for (const { field, distribution } of [first!, second!]) {
      const { value, low, high } = fit.of(field);
      expect(distribution.kind).toBe("log-normal");
      expect([
        distribution.median / value,
        distribution.low / low,
        distribution.high / high,
      ]).toEqual([1, 1, 1].map((x) => expect.closeTo(x, 12)));
    }
    expect(start.pads!.coupling).toEqual({ coefficient: 2.4e9, exponent: 5 });
  });

  it("says in words what it found, how well, and which inputs are known together only", () => {
    const data = readings(truth, ["chip"], { uncertainty: 1e-4 });
    const fit = calibrate(start, data, { inputs: [coupling, boundary] });
    // A film's coupling and its boundary stand in series: more of one is made good by less of the other.
    const [[a, ab], [, b]] = fit.covariance as unknown as [[number, number], [number, number]];
    const r = ab / Math.sqrt(a * b);
    expect(fit.correlation(boundary, coupling)).toBeCloseTo(r, 12);
    expect(fit.correlation(coupling, coupling)).toBeCloseTo(1, 12);
    expect(Math.abs(r)).toBeGreaterThan(0.7);
    expect(fit.summary).toContain("12 readings of 1 thermometer from ");
    expect(fit.summary).toMatch(
      r < 0 ? /correlation -0\.\d+: as one rises the other falls/ : /correlation 0\.\d+: they rise/,
    );
    expect(fit.range.from).toBe(0.06);
    expect(fit.range.to).toBe(Math.max(...fit.points.map(({ measured }) => measured)));
    const [text, markdown] = [fit.toText(), fit.toMarkdown()].map((print) =>
      print.split("\n").map((line) => line.trim()),
    ) as [string[], string[]];
    expect(text[0]).toBe(fit.name);
    expect(text[2]).toBe(fit.summary);
    expect(markdown).toContain(fit.summary);
    const head = text.findIndex((line) =>
      /^fitted input +value and standard uncertainty +90 %$/.test(line),
    );
    const headOfMarkdown = markdown.findIndex((line) => line.startsWith("| fitted input |"));
    expect(Math.min(head, headOfMarkdown)).toBeGreaterThan(0);
    fit.parameters.forEach(({ name }, i) => {
      const [line, row] = [text[head + 1 + i]!, markdown[headOfMarkdown + 2 + i]!];
      expect(line.startsWith(name)).toBe(true);
      expect(row).toMatch(/^\| pads\..* \| .* \| .* to .* \|$/);
      expect(line.split(/ {2,}/)).toEqual(row.slice(2, -2).split(" | "));
    });
  });

  it("draws the fitted mount through readings that have no error, stage by stage", () => {
    const data = readings(truth, ["chip"], { uncertainty: 1e-4 });
    const curves = calibrate(start, data, { inputs: [coupling, boundary] }).curves();
    expect(curves.length).toBe(2);
    const mount = { ...truth, loads: [...truth.loads] };
    curves.forEach((curve, i) => {
      const stage = [0.06, 0.2][i]!;
      const heated: Mount = {
        ...mount,
        stage,
        loads: [...mount.loads, { kind: "given", name: "heater", on: "die", power: 400e-9 }],
      };
      expect(curve.temperatures.at(-1)! / thermalBudget(heated).chip.temperature).toBeCloseTo(1, 6);
    });
  });

  slowly(
    "covers the truth as often as it says, with an error that two thermometers share",
    () => {
      const noise = random(5);
      let [ofCoupling, ofBoundary, probable] = [0, 0, 0];
      for (let i = 0; i < 200; i++) {
        const gain = 1 + 0.01 * noise.normal();
        const data = readings(truth, ["chip", "pad electrons"], {
          powers: [0, 30, 100, 400],
          uncertainty: 2e-4,
          stageUncertainty: 1e-4,
          read: (T, name) => gain * T + (name === "stage" ? 1e-4 : 2e-4) * noise.normal(),
        });
        const fit = calibrate(start, data, {
          inputs: [coupling, boundary],
          sharedErrors: [{ thermometers: ["chip", "pad electrons", "stage"], gain: 0.01 }],
        });
        const off = (field: string, value: number) =>
          Math.abs(Math.log(fit.of(field).value / value)) / fit.of(field).uncertainty;
        if (off(coupling, 3.1e9) < 1.96) ofCoupling++;
        if (off(boundary, 7e-4) < 1.96) ofBoundary++;
        if (fit.probability! > 0.05) probable++;
      }
      for (const count of [ofCoupling, ofBoundary, probable]) within95(count, 200);
    },
    180_000,
  );

  it("is less sure when thermometers share an error, and says by how much they are off", () => {
    const data = readings(truth, ["chip"], {
      uncertainty: 1e-4,
      read: (T) => 1.02 * T,
    });
    const plain = calibrate(start, data, { inputs: [coupling, boundary] });
    const shared = calibrate(start, data, {
      inputs: [coupling, boundary],
      sharedErrors: [{ thermometers: ["chip", "stage"], gain: 0.01, offset: "0.1 mK" }],
    });
    expect(shared.of(coupling).uncertainty).toBeGreaterThan(2 * plain.of(coupling).uncertainty);
    expect(shared.sharedErrors).toHaveLength(2);
    expect(shared.sharedErrors[0]).toMatchObject({ thermometers: ["chip", "stage"] });
    expect(shared.sharedErrors[0]!.gain).toBeDefined();
    expect(shared.sharedErrors[1]!.offset).toBeDefined();
  });

  it("counts an uncertain stage once for all thermometers of a line", () => {
    const of = (stageUncertainty: number) =>
      calibrate(
        start,
        readings(truth, ["chip", "pad electrons"], { uncertainty: 1e-5, stageUncertainty }),
        { inputs: [boundary] },
      ).of(boundary).uncertainty;
    // A warmer stage warms both places alike, so their difference, which the film makes, stays known.
    expect(of(1e-3) / of(1e-5)).toBeLessThan(10);
    expect(of(1e-3) / of(1e-5)).toBeGreaterThan(1);
  });

  it("sharpens the spread that the mount had, when asked to", () => {
    const known: Mount = {
      ...start,
      pads: { ...start.pads!, coupling: { coefficient: spread(2e9, 4.5e9), exponent: 5 } },
    };
    const data = readings(truth, ["chip"], { uncertainty: 3e-3, stages: [0.1] });
    const alone = calibrate(known, data, { inputs: [coupling] });
    const both = calibrate(known, data, { inputs: [coupling], useSpreads: true });
    const before = Math.log(4.5 / 2) / 2 / 1.6448536269514722;
    const [a, b] = [alone.of(coupling), both.of(coupling)];
    // Gaussian means of the two: 1/σ² add up, to where the model bends.
    expect(b.uncertainty / (1 / Math.hypot(1 / a.uncertainty, 1 / before))).toBeCloseTo(1, 1);
    expect(both.degreesOfFreedom).toBe(alone.degreesOfFreedom + 1);
  });

  it("reads a thermometer at any point of a 2-D die", () => {
    const of = (mount: Mount): Mount => ({
      ...mount,
      die: { ...mount.die, model: "sheet", cells: 32 },
    });
    const csv = "heater power [nW],corner [K],stage [K]\n0,0.0823,0.06\n400,0.189,0.06\n";
    const fit = calibrate(of(start), readThermometry(csv), {
      inputs: [coupling],
      thermometers: { corner: { x: "1 mm", y: "1 mm" } },
    });
    expect(fit.points.map(({ thermometer }) => thermometer)).toEqual(["corner", "corner"]);
    expect(fit.points[1]!.fitted).toBeCloseTo(0.189, 2);
  });
});

describe("data that can't tell inputs apart", () => {
  const said = (run: () => unknown): UndeterminedError => {
    try {
      run();
    } catch (error) {
      if (error instanceof UndeterminedError) return error;
      throw error;
    }
    throw new Error("nothing was refused");
  };

  it("are refused, with the inputs that move together and the place where a thermometer would tell", () => {
    const data = readings(truth, ["chip"], {
      stages: [0.1],
      powers: [0, 5, 10],
      uncertainty: 1e-4,
    });
    const error = said(() => calibrate(start, data, { inputs: [coupling, boundary] }));
    expect([...error.together].sort()).toEqual([boundary, coupling]);
    expect(error.message).toContain(`can't tell ${coupling} and ${boundary} apart`);
    expect(error.advice).toContain("at the pad phonons");
    expect(error.advice).toContain("as fine as those there are (100 µK)");
    // What was advised does tell.
    const more = readings(truth, ["chip", "pad phonons"], {
      stages: [0.1],
      powers: [0, 5, 10],
      uncertainty: 1e-4,
    });
    const fit = calibrate(start, more, { inputs: [coupling, boundary] });
    expect(fit.of(coupling).value / 3.1e9).toBeCloseTo(1, 3);
  });

  it("are refused with the stage temperature or power that would tell, which then does", () => {
    // Strength and exponent of one coupling: at nearly one temperature no further place tells them apart.
    const inputs = [coupling, "pads.coupling.exponent"] as const;
    const few = { powers: [0, 2, 4], uncertainty: 1e-4 };
    const places = ["chip", "pad phonons", "pad electrons"];
    const near = readings(truth, places, { ...few, stages: [0.1] });
    const error = said(() => calibrate(mountWith(2.4e9, 7e-4), near, { inputs: [...inputs] }));
    expect([...error.together].sort()).toEqual([...inputs].sort());
    expect(error.advice).toMatch(
      /with the stage at twice its temperature|with ten times the heater power/,
    );
    const powers = [...few.powers, ...few.powers.map((power) => 10 * power)];
    const wider = error.advice.includes("stage at twice")
      ? readings(truth, places, { ...few, stages: [0.1, 0.2] })
      : readings(truth, places, { ...few, stages: [0.1], powers });
    const fit = calibrate(mountWith(2.4e9, 7e-4), wider, { inputs: [...inputs] });
    expect(fit.of(coupling).value / 3.1e9).toBeCloseTo(1, 2);
    expect(fit.of("pads.coupling.exponent").value).toBeCloseTo(5, 2);
  });

  it("are refused for factors of one product, which no reading can tell", () => {
    const inputs = ["pads.coupling.coefficient", "pads.thickness"] as const;
    // In a film this pure its own drop, which goes with the thickness alone, is too small to tell them apart.
    const pure = (mount: Mount) => withField(mount, "pads.residualResistivityRatio", 20);
    const data = readings(pure(truth), ["chip"]);
    const error = said(() => calibrate(pure(start), data, { inputs: [...inputs] }));
    expect(error.together).toEqual(inputs);
    expect(error.message).toMatch(/^fit: the readings can't tell pads\.coupling\.coefficient and /);
  });

  it("are refused for an input that nothing hangs on", () => {
    const mount: Mount = { ...start, box: { ...start.box, residualResistivityRatio: 50 } };
    const data = readings(truth, ["chip"], { uncertainty: 1e-4 });
    const error = said(() =>
      calibrate(mount, data, { inputs: [coupling, "box.residualResistivityRatio"] }),
    );
    expect(error.together).toEqual(["box.residualResistivityRatio"]);
    expect(error.message).toContain("the readings are insensitive to box.residualResistivityRatio");
  });
});

describe("a calibration that is set up wrongly", () => {
  const data = readings(truth, ["chip"], { uncertainty: 1e-4 });
  const dye = readThermometry("heater power [nW],dye [mK],stage [mK]\n1,101,100\n", "dye.csv");

  it.each([
    [{ inputs: [] }, "inputs: expected a field of the mount or more, got []"],
    [{ inputs: ["bonds.count"] }, "inputs bonds.count: expected a field that need not be a whole"],
    [{ inputs: ["bonds.lenght"] }, "bonds.lenght: expected a numeric field of the mount"],
    [{ inputs: [coupling, coupling] }, `inputs: expected each field once, got "${coupling}"`],
    [
      { inputs: [{ field: "bonds.footResistance", start: 0 }] },
      "inputs bonds.footResistance start: expected a start other than 0, got 0",
    ],
    [
      { inputs: [{ field: coupling, scale: "cubic" }] },
      `inputs ${coupling} scale: expected "linear" or "logarithmic", got "cubic"`,
    ],
    [
      { inputs: [coupling], thermometers: { die: "die" } },
      'thermometers: column "die" is not known. Known: chip, stage',
    ],
    [
      { inputs: [coupling], thermometers: { chip: "ledge fott" } },
      'thermometers.chip: place "ledge fott" is not known, did you mean "ledge foot"?',
    ],
    [
      { inputs: [coupling], thermometers: { chip: { x: 0, y: 0 } } },
      "thermometers.chip: expected the name of a place, for a die that is no sheet",
    ],
    [{ inputs: [coupling], without: ["chip"] }, "cool.csv: expected a thermometer beside that of"],
    [
      { inputs: [coupling], sharedErrors: [{ thermometers: ["dye"], gain: 0.1 }] },
      'sharedErrors[0].thermometers: column "dye" is not known',
    ],
    [
      { inputs: [coupling], sharedErrors: [{ thermometers: ["chip"], gain: -1 }] },
      "sharedErrors[0].gain: expected a share of the reading, 0 or more, got -1",
    ],
    [{ inputs: [coupling], date: "today" }, 'date: expected a date such as "2026-03-14"'],
  ])("says so of %j", (options, message) => {
    expect(() => calibrate(start, data, options as never)).toThrow(message);
  });

  it("says so of a column that is no place, and of readings without uncertainty beside others with", () => {
    expect(() => calibrate(start, dye, { inputs: [coupling] })).toThrow(
      'thermometers.dye: place "dye" is not known, did you mean "die"?',
    );
    const half = "heater power [nW],die [mK],stage [mK],stage uncertainty [mK]\n1,101,100,1\n";
    expect(() =>
      calibrate(start, readThermometry(half, "half.csv"), { inputs: [coupling] }),
    ).toThrow('half.csv: expected a column "die uncertainty", since others have one, got "none"');
  });

  it("says so of fewer readings than inputs", () => {
    const one = "heater power [nW],die [mK],stage [mK]\n1,101,100\n";
    expect(() =>
      calibrate(start, readThermometry(one, "one.csv"), { inputs: [coupling, boundary] }),
    ).toThrow("one.csv: expected at least 2 readings for 2 parameters, got 1");
  });
});

describe("a saved fit", () => {
  const data = readings(truth, ["chip"], { uncertainty: 1e-4 });
  const fit = calibrate(start, data, { inputs: [coupling, boundary], date: "2026-03-14" });
  const { csv, sources } = fit.toInputsCsv();

  it("gives the same mount when it is read back", () => {
    const back = spreadsOf(withMeasured(start, csv));
    const here = spreadsOf(fit.mount);
    expect(back.map(({ field }) => field)).toEqual(here.map(({ field }) => field));
    back.forEach(({ distribution }, i) => {
      const { low, median, high } = here[i]!.distribution;
      expect(distribution.median / median).toBeCloseTo(1, 11);
      expect(distribution.low / low).toBeCloseTo(1, 7);
      expect(distribution.high / high).toBeCloseTo(1, 7);
    });
  });

  it("is accepted by the catalogue, with its source and its uncertainty", () => {
    const laws = standardCatalogue()
      .withLaws("joints", "measured", csv, sources)
      .laws("joints", "measured");
    expect(laws.map(({ property }) => property)).toEqual([coupling, boundary]);
    expect(laws[0]!.provenance[0]).toMatchObject({
      source: "measured, 2026-03-14",
      where: "cool.csv",
      uncertainty: expect.stringMatching(/^x1\.0/),
    });
    expect(laws[0]!.parameters.get("value")!.value / fit.of(coupling).value).toBeCloseTo(1, 11);
  });

  it("names file, line and column of what was spoilt", () => {
    const lines = csv.split("\n");
    const spoilt = (from: string | RegExp, to: string) =>
      lines.map((line, i) => (i === 2 ? line.replace(from, to) : line)).join("\n");
    expect(() =>
      withMeasured(start, spoilt(coupling, "pads.couplin.coefficient"), "old.csv"),
    ).toThrow("old.csv:3 pads.couplin.coefficient: expected a field whose parent is in the mount");
    expect(() => withMeasured(start, spoilt(coupling, "pads.thicknes"), "old.csv")).toThrow(
      'old.csv:3 pads.thicknes: field "thicknes" is not known, did you mean "thickness"?',
    );
    expect(() => withMeasured(start, spoilt(/,x1[^,]*/, ","), "old.csv")).toThrow(
      'old.csv:3 uncertainty: expected an uncertainty, got ""',
    );
    expect(() => withMeasured(start, lines.slice(0, 2).join("\n"), "old.csv")).toThrow(
      "old.csv: expected rows of the form measured, got",
    );
  });
});
