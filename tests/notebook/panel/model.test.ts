import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  type FieldError,
  type Mount,
  readMount,
  standardCatalogue,
  sweep,
  thermalBudget,
} from "../../../src/index.js";
import { bondRoom } from "../../../src/mount/things/edges.js";
import {
  type Control,
  errorInUnit,
  lastPlace,
  numberAtPlace,
  placeOf,
  readControls,
  typedNumber,
} from "../../../src/notebook/panel/controls.js";
import {
  answerRows,
  curveOf,
  dropsOf,
  PanelModel,
  valueText,
} from "../../../src/notebook/panel/model.js";
import { mountSource } from "../../../src/notebook/panel/mount-source.js";

const mount: Mount = {
  name: 'a "chip" </script><script>alert(1)</script>',
  die: {
    material: "silicon",
    width: "20 mm",
    length: 0.01,
    thickness: "0.4 mm",
    model: "one node",
  },
  pads: {
    material: "gold",
    width: "150 um",
    length: "300 um",
    thickness: "300 nm",
    residualResistivityRatio: 5,
  },
  bonds: {
    material: "gold",
    count: 20,
    diameter: "25 um",
    length: "1.5 mm",
    residualResistivityRatio: 30,
  },
  box: {
    material: "copper",
    residualResistivityRatio: 50,
    crossSection: "100 mm^2",
    pathLength: "30 mm",
  },
  joint: { faces: "gold-plated copper on gold-plated copper", force: "1 kN", count: 4 },
  stage: "100 mK",
  loads: [{ kind: "given", power: "5 nW" }],
  limit: { rise: "10 mK" },
};
const bonded = (more: object): Mount => ({ ...mount, bonds: { ...mount.bonds!, ...more } });
const read = (...controls: unknown[]) => readControls(mount, controls as Control[]);
const length = { field: "bonds.length", from: "0.5 mm", to: "5 mm" };

describe("an input of a panel", () => {
  it("is named and measured as the mount writes it", () => {
    const [a, b, c, d] = read(
      length,
      { field: "bonds.count", from: 5, to: 50 },
      { field: "pads.width", from: "100 um", to: "0.2 mm", label: "width" },
      { field: "joint.force", from: "200 N", to: "4 kN" },
    );
    expect(a).toMatchObject({ label: "bond length", unit: "mm", initial: 1.5, from: 0.5, to: 5 });
    expect(b).toMatchObject({ label: "number of bonds", unit: "", initial: 20, step: 1 });
    expect(c).toMatchObject({ label: "width", unit: "µm", initial: 150, to: 200 });
    expect(d).toMatchObject({ unit: "N", initial: 1000, to: 4000 });
  });

  it("shows the median of a spread in the unit of its range", () => {
    const thickness = { distribution: "normal", low: "270 nm", high: "330 nm" } as const;
    const own = { ...mount, pads: { ...mount.pads!, thickness } };
    const field = "pads.thickness";
    const [a] = readControls(own, [{ field, from: "100 nm", to: "2 um" }]);
    expect(a).toMatchObject({ unit: "nm", initial: 300, to: 2000 });
  });

  it("takes plain numbers in SI beside values with a unit", () => {
    const [a, b] = read(
      { field: "bonds.length", from: 0.001, to: "5 mm", step: 1e-4 },
      { field: "die.length", from: 0.005, to: 0.02 },
    );
    expect(a).toMatchObject({ unit: "mm", from: 1, to: 5, step: 0.1, initial: 1.5 });
    expect(b).toMatchObject({ unit: "mm", from: 5, to: 20, initial: 10, factor: 1e-3 });
    const model = new PanelModel(mount, [b!], standardCatalogue());
    expect(model.mountAt([12.5]).die.length).toBe(0.0125);
  });

  it("has values of few digits along its slider, both ends among them", () => {
    const [linear, stepped, log, whole] = read(
      length,
      { ...length, field: "pads.length", from: "100 um", to: "1000 um", step: "50 um" },
      { field: "pads.thickness", from: "100 nm", to: "2000 nm", spacing: "logarithmic" },
      { field: "bonds.count", from: 10, to: 80, spacing: "logarithmic" },
    );
    const ends = (c: typeof linear) => [numberAtPlace(c!, 0), numberAtPlace(c!, lastPlace(c!))];
    expect(ends(linear)).toEqual([0.5, 5]);
    expect(lastPlace(stepped!)).toBe(18);
    expect(numberAtPlace(stepped!, 1)).toBe(150);
    expect(ends(log)).toEqual([100, 2000]);
    // Half-way along a logarithmic slider lies the geometric mean, √(100 · 2000) = 447.2.
    expect(numberAtPlace(log!, lastPlace(log!) / 2)).toBe(447);
    for (const c of [linear!, stepped!, log!]) {
      for (let at = 0; at <= lastPlace(c); at++) {
        const number = numberAtPlace(c, at);
        expect(placeOf(c, number)).toBe(at);
        expect(String(number).length).toBeLessThanOrEqual(5);
      }
    }
    for (let at = 0; at <= lastPlace(whole!); at++) {
      expect(Number.isInteger(numberAtPlace(whole!, at))).toBe(true);
    }
  });

  it("keeps a number off its slider at the nearer end", () => {
    const [c] = read(length);
    expect(placeOf(c!, 99)).toBe(lastPlace(c!));
    expect(placeOf(c!, -3)).toBe(0);
    expect(placeOf(c!, Number.NaN)).toBe(0);
  });

  it.each<[unknown, RegExp]>([
    [
      { ...length, from: "0.5 mK" },
      /^panel bonds\.length (to|from|in the mount): expected a value in mK/,
    ],
    [{ ...length, to: "0.1 mm" }, /^panel bonds\.length to: expected more than from, got "0.1 mm"/],
    [
      { ...length, from: "-1 mm" },
      /^bonds\.length: expected a length .* greater than 0, got "-1 mm"/,
    ],
    [
      { ...length, from: 0, spacing: "logarithmic" },
      /^panel bonds\.length from: expected more than 0 on a log/,
    ],
    [
      { ...length, step: "9 mm" },
      /^panel bonds\.length step: expected more than 0 and at most the range/,
    ],
    [{ ...length, step: 0 }, /^panel bonds\.length step: expected more than 0/],
    [
      { ...length, spacing: "log" },
      /^panel bonds\.length spacing: expected "linear" or "logarithmic", got "log"/,
    ],
    [{ ...length, too: 1 }, /^panel bonds\.length: field "too" is not known, did you mean "to"\?/],
    [{ ...length, label: 5 }, /^panel bonds\.length label: expected a text, got 5/],
    [{ field: "bonds.count", from: 1.5, to: 9 }, /^bonds\.count: expected a whole number/],
    [{ field: "bonds.count", from: 1 }, /^panel bonds\.count to: expected a number, got undefined/],
    [{ field: "bonds.legnth", from: 1, to: 2 }, /bonds\.legnth/],
    [{ from: 1, to: 2 }, /^panel\[0\]\.field: expected the path of a field/],
  ])("refuses %j", (control, message) => {
    expect(() => read(control)).toThrow(message);
  });

  it("refuses no input, and one field twice", () => {
    expect(() => readControls(mount, [])).toThrow(/^panel: expected a list of inputs/);
    expect(() => read(length, length)).toThrow(/^panel\[1\]\.field: expected a field of its own/);
  });

  it("reads levels in dBm only among levels in dBm", () => {
    const tones: Mount = {
      ...mount,
      loads: [
        {
          kind: "readout",
          tones: 9,
          powerPerTone: "-95 dBm",
          internalQuality: 1e5,
          couplingQuality: 1e4,
        },
      ],
    };
    const field = "loads.0.powerPerTone";
    const controls = (from: string) =>
      readControls(tones, [{ field, from, to: "-80 dBm" } as Control]);
    expect(controls("-110 dBm")[0]).toMatchObject({
      unit: "dBm",
      from: -110,
      to: -80,
      initial: -95,
    });
    expect(() => controls("0.1 pW")).toThrow(/panel loads\.0\.powerPerTone/);
  });
});

describe("an error of an input", () => {
  const controls = read(length, { field: "bonds.count", from: 4, to: 40 });
  const model = new PanelModel(mount, controls, standardCatalogue());
  const messageOf = (numbers: number[], at: number, typed: string) => {
    try {
      model.solve(numbers);
    } catch (error) {
      return errorInUnit(error as FieldError, controls[at]!, typed);
    }
    throw new Error("no error");
  };

  it("is in the unit that the reader types", () => {
    expect(messageOf([-1, 20], 0, "-1")).toBe(
      "bond length: expected a number in mm, greater than 0, got -1 mm",
    );
    expect(messageOf([1, 2.5], 1, "2,5")).toBe(
      "number of bonds: expected a whole number of at least 1, got 2,5",
    );
    expect(messageOf([1, 1e4], 1, "10000")).toMatch(
      /^number of bonds: expected at most \d+, which fit on the edges, got 10000$/,
    );
  });
});

describe("the axis of the drops", () => {
  const model = new PanelModel(mount, read(length), standardCatalogue());
  const budget = model.solve([1.5]);

  it("stays while the bars fit and fill a quarter of it", () => {
    const { end } = dropsOf(budget);
    expect(end).toBeGreaterThan(1e3 * budget.chip.rise);
    expect(dropsOf(budget, end).end).toBe(end);
    expect(dropsOf(budget, 1.5 * end).end).toBe(1.5 * end);
    expect(dropsOf(budget, 10 * end).end).toBe(end);
    expect(dropsOf(budget, end / 10).end).toBe(end);
  });
});

describe("a number as it is typed", () => {
  it.each([
    ["1.8", 1.8],
    ["1,8", 1.8],
    [" -0,25 ", -0.25],
    ["\u22123", -3],
    ["2e-3", 2e-3],
    [",5", 0.5],
    ["0,125", 0.125],
    ["1,800", Number.NaN],
    ["1,800.5", Number.NaN],
    ["1.800,5", Number.NaN],
    ["1 8", Number.NaN],
    ["0x10", Number.NaN],
    ["", Number.NaN],
  ])("%j is %d", (text, number) => {
    expect(typedNumber(text)).toBe(number);
  });

  it("is the same with either decimal sign, or refused", () => {
    fc.assert(
      fc.property(fc.double({ min: -1e3, max: 1e3, noNaN: true }), (number) => {
        const read = typedNumber(String(number).replace(".", ","));
        if (!Number.isNaN(read)) expect(read === number).toBe(true);
      }),
      { seed: 3 },
    );
  });
});

describe("the model of a panel", () => {
  const controls = read(length, { field: "bonds.count", from: 4, to: 40 });
  const model = new PanelModel(mount, controls, standardCatalogue());

  it("leaves what did not move as it was written", () => {
    expect(model.mountAt(model.initial)).toEqual(mount);
    expect(model.mountAt([2.25, 20])).toEqual(bonded({ length: "2.25 mm" }));
  });

  it.each(["one node", "two nodes", "sheet"] as const)(
    "answers as the library does, with the die as %s",
    (die) => {
      const own = { ...mount, die: { ...mount.die, model: die } };
      const asked = new PanelModel(own, controls, standardCatalogue());
      for (const [l, n] of [
        [0.7, 4],
        [3, 33],
        [3, 12],
      ] as const) {
        const wanted = thermalBudget({
          ...own,
          bonds: { ...mount.bonds!, length: l * 1e-3, count: n },
        });
        const { chip } = asked.solve([l, n]);
        expect(Math.abs(chip.temperature / wanted.chip.temperature - 1)).toBeLessThan(1e-12);
      }
    },
  );

  it("stands in with the two-node model when asked to", () => {
    const sheet = { ...mount, die: { ...mount.die, model: "sheet" as const } };
    const quick = { ...mount, die: { ...mount.die, model: "two nodes" as const } };
    const asked = new PanelModel(sheet, controls, standardCatalogue());
    const { chip } = asked.solve(asked.initial, true);
    expect(chip.temperature).toBe(thermalBudget(quick).chip.temperature);
  });

  it("refuses what the mount cannot have, by the field", () => {
    expect(() => model.solve([-1, 20])).toThrow(/^bonds\.length: expected .* got "-1 mm"/);
    expect(() => model.solve([1, 1e4])).toThrow(
      /^bonds\.count: expected at most \d+, which fit on the edges, got 10000$/,
    );
    expect(() => model.solve([1, 2.5])).toThrow(/^bonds\.count: expected a whole number/);
  });

  const drawn = (asked: PanelModel, index = 0) => {
    const steps = asked.curve(asked.initial, index);
    for (;;) {
      const step = steps.next();
      if (step.done) return step.value;
    }
  };

  it("draws the curve of an input as a sweep does", () => {
    const rises = drawn(model);
    const wanted = sweep(mount, { field: "bonds.length", from: "0.5 mm", to: "5 mm", count: 2 });
    expect(rises.rise(0)).toBeCloseTo(wanted.rise(0), 14);
    expect(rises.rise(rises.axes[0]!.values.length - 1)).toBeCloseTo(wanted.rise(1), 14);
  });

  it("draws the curve of a 2-D die point by point, and leaves out what cannot be", () => {
    // In 32 cells along 20 mm, pads that stand closer than 0.6 mm cannot be told apart.
    const own = { ...mount, die: { ...mount.die, model: "sheet" as const, cells: 32 } };
    const many = readControls(own, [{ field: "bonds.count", from: 4, to: 240 }]);
    const rises = drawn(new PanelModel(own, many, standardCatalogue()));
    const { values } = rises.axes[0]!;
    expect(values.length).toBeGreaterThan(2);
    expect(values.at(-1)).toBeLessThan(200);
    const wanted = thermalBudget({ ...own, bonds: { ...mount.bonds!, count: values[1]! } });
    expect(rises.rise(1) / wanted.chip.rise).toBeCloseTo(1, 9);
  });

  it("marks on the curve where the edges have no more fit bonds", () => {
    const many = readControls(mount, [{ field: "bonds.count", from: 4, to: 2000 }]);
    const own = new PanelModel(mount, many, standardCatalogue());
    const { layout, alt } = curveOf(own, drawn(own), 0, [8], own.solve([8]));
    const { shapes, annotations } = layout as {
      shapes: { x0: number }[];
      annotations: { text: string }[];
    };
    expect(annotations.map(({ text }) => text)).toContain("no more fit");
    expect(shapes.map(({ x0 }) => x0)).toContain(bondRoom(readMount(mount)));
    expect(alt).toContain("no more fit");
  });

  it("tells of the ranges that the curve of a 2-D die leaves", () => {
    const clamps = [{ faces: "sapphire on silicon", force: "3 N", count: 4 }] as const;
    const { bonds, pads, ...rest } = mount;
    const own: Mount = {
      ...rest,
      clamps,
      stage: "20 mK",
      die: { ...mount.die, model: "sheet" as const, cells: 16 },
    };
    const force = readControls(own, [{ field: "clamps.0.force", from: 1, to: 5 }]);
    const sheet = new PanelModel(own, force, standardCatalogue());
    const rises = drawn(sheet);
    expect(rises.warnings.join(" ")).toMatch(/^clamps.* is outside /);
    const { layout, alt } = curveOf(sheet, rises, 0, [3], sheet.solve([3]));
    expect(JSON.stringify(layout)).toContain("partly extrapolated");
    expect(alt).toContain(rises.warnings[0]);
  });

  it("marks the present number on the curve, and the limit", () => {
    const budget = model.solve([2, 20]);
    const { layout, alt } = curveOf(model, drawn(model), 0, [2, 20], budget);
    const { shapes, annotations } = layout as {
      shapes: { x0: number; y0: number }[];
      annotations: { text: string }[];
    };
    expect(shapes.map(({ y0 }) => y0)).toContain(1e3 * (budget.limit! - budget.stage));
    expect(shapes.map(({ x0 }) => x0)).toContain(2);
    expect(annotations.map(({ text }) => text)).toContain("2 mm");
    expect(alt).toMatch(/^Rise of the chip against bond length \(mm\)/);
  });

  it("says its answer as the library formats numbers", () => {
    const rows = new Map(answerRows(model.solve(model.initial)));
    expect(rows.get("Chip")).toMatch(/^1\d\d\.\d mK$/);
    expect(rows.get("Heat")).toBe("5.00 nW");
    expect(rows.get("Limit")).toMatch(/^110\.0 mK: too warm by \d\.\d\d mK$/);
    expect(valueText(controls[0]!, 2.25)).toBe("2.25 mm");
  });
});

describe("a mount as TypeScript", () => {
  const back = (text: string) =>
    new Function(`return ${text.replace(/^[\s\S]*?const mount: Mount = |;\n$/g, "")}`)() as unknown;

  it("is the mount again when it is run", () => {
    const odd = {
      ...mount,
      name: 'tab\t, line\n, quote ", back\\slash, \u2028, `y`, é, 😀',
      glue: undefined,
      clamps: [],
      loads: [
        {
          kind: "given",
          power: 5e-9,
          map: {
            kind: "pixels",
            rows: [
              [1, 2.5],
              [0, -0],
            ],
          },
        },
      ],
      more: { "with space": 1, "0": 2, __x: null },
    };
    const { glue: _, ...wanted } = odd;
    expect(back(mountSource(odd as unknown as Mount))).toEqual(wanted);
    expect(mountSource(odd as unknown as Mount)).not.toContain("\u2028");
  });

  it("keeps what is short on one line", () => {
    const text = mountSource(mount);
    expect(text).toContain('  limit: { rise: "10 mK" },\n');
    expect(text.split("\n").every((line) => line.length <= 100)).toBe(true);
  });

  it("writes typed arrays as lists", () => {
    const rows = [Float64Array.of(1, 2)] as unknown as number[][];
    const own = { ...mount, loads: [{ kind: "given", power: 1, map: { kind: "pixels", rows } }] };
    expect(mountSource(own as Mount)).toContain("rows: [[1, 2]]");
  });
});
