/** Columns in the wrong unit, powers in the wrong decade and a stage that no column holds, each named. */
import { describe, expect, it } from "vitest";
import { calibrate } from "../../../src/design/fitting/calibrate.js";
import { HeatedMount } from "../../../src/design/fitting/heated-mount.js";
import { doubtfulColumns } from "../../../src/design/fitting/plausibility.js";
import { readThermometry } from "../../../src/design/fitting/thermometry.js";
import { UndeterminedError } from "../../../src/design/fitting/undetermined.js";
import { type Mount, type MountField, spread, standardCatalogue } from "../../../src/index.js";
import { slowly } from "../../slowly.js";
import { ombrelCooldown, ombrelMount } from "../ombrel-cooldown.js";

const inputs = ["pads.coupling.coefficient", "pads.boundary.resistance"] as const;
const start = ombrelMount(2.4e9, 1.26e-3);
const [, ...lines] = ombrelCooldown()
  .trim()
  .split("\n")
  .filter((line) => !line.startsWith("#"))
  .map((line) => line.split(","));

type Column = "power" | "chip" | "stage";
const heads = { power: "heater power", chip: "chip", stage: "stage" };
const si = { power: "nW", chip: "mK", stage: "mK" };

/** The cool-down with columns under another unit or times a factor, and some left out. */
function readings(
  change: {
    readonly units?: Partial<Readonly<Record<Column | "uncertainty", string>>>;
    readonly times?: Partial<Readonly<Record<Column, number>>>;
    readonly without?: readonly Column[];
    readonly noted?: boolean;
  } = {},
) {
  const { units = {}, times = {}, without = [], noted = true } = change;
  const columns = (["power", "chip", "stage"] as const).filter((name) => !without.includes(name));
  const header = columns.flatMap((name) => [
    `${heads[name]} [${units[name] ?? si[name]}]`,
    ...(noted && name !== "power"
      ? [`${heads[name]} uncertainty [${units.uncertainty ?? "mK"}]`]
      : []),
  ]);
  const at = { power: 0, chip: 1, stage: 3 };
  const body = lines.map((line) =>
    columns
      .flatMap((name) => [
        Number(line[at[name]]) * (times[name] ?? 1),
        ...(noted && name !== "power" ? [line[at[name] + 1]] : []),
      ])
      .join(","),
  );
  return readThermometry([header.join(","), ...body].join("\n"), "cool.csv");
}
const fitted = (change: Parameters<typeof readings>[0], mount: Mount = start) =>
  calibrate(mount, readings(change), { inputs });
const doubts = (warnings: readonly string[]) => warnings.filter((text) => text.includes("looks"));

describe("columns that are right", () => {
  it("raise no doubt, from starts that are off by a factor of four, with and without uncertainties", () => {
    for (const noted of [true, false]) {
      for (const mount of [start, ombrelMount(1e10, 3e-4), ombrelMount(8e8, 2.8e-3)]) {
        expect(doubts(fitted({ noted }, mount).warnings)).toEqual([]);
      }
    }
  });
});

describe("a column of temperature in the wrong unit", () => {
  it.each([
    [
      { units: { chip: "K" }, noted: false },
      /^cool\.csv:9 chip: expected chip \[K\] about \d+ mK, which the mount as it starts gives with 400 nW, got "190\.8 K" \(likely \[mK\] is meant\)$/,
    ],
    [
      { units: { chip: "K", stage: "K" }, noted: false },
      /^cool\.csv:9 chip: expected chip \[K\] about \d+ mK, .* \(likely \[mK\] is meant, in all columns of temperature\)$/,
    ],
    [
      { units: { stage: "uK" }, noted: false },
      /^cool\.csv:\d+ stage: expected stage \[uK\] just below chip at \d+\.\d+ mK, got "\d+\.\d+ µK" \(likely \[mK\] is meant\)$/,
    ],
    [
      { units: { stage: "K" }, noted: false },
      /^cool\.csv:3 chip: expected chip \[mK\] no colder than stage \[K\] .* \(for stage \[K\] likely \[mK\] is meant\)$/,
    ],
    [
      { units: { chip: "uK" }, noted: false },
      /^cool\.csv:3 chip: .* no colder than stage \[mK\] .* \(for chip \[uK\] likely \[mK\] is meant\)$/,
    ],
    [
      { times: { chip: 1e4 }, noted: false },
      /^cool\.csv:2 chip: expected a temperature up to 310 K, .* got "824800 mK" \(likely \[uK\] is meant\)$/,
    ],
    [
      { units: { uncertainty: "K" } },
      /^cool\.csv:2 chip uncertainty: expected an uncertainty below what was read, 82\.48 mK, got "0\.15 K" \(likely \[mK\] is meant\)$/,
    ],
  ] as const)("is named with what is likely meant: %j", (change, message) => {
    expect(() => fitted(change)).toThrow(message);
  });
});

describe("a heater power in the wrong unit or decade", () => {
  it.each([
    [{ units: { power: "uW" } }, "µW", "nW"],
    [{ units: { power: "W" } }, "W", "nW"],
    [{ units: { power: "pW" } }, "pW", "nW"],
    [{ times: { power: 1e-3 } }, "pW", "uW"],
  ] as const)("is refused by a factor of a thousand or more: %j", (change, got, meant) => {
    expect(() => fitted(change)).toThrow(
      new RegExp(
        `^cool\\.csv:9 heater power: expected heater power \\[.W\\] about \\d+ nW, which the mount as it starts needs for chip at 190\\.8 mK, got "400 ${got}" \\(likely \\[${meant}\\] is meant\\)$`.replace(
          "\\[.W\\]",
          "\\[\\w+\\]",
        ),
      ),
    );
  });

  it.each([
    [10, "10 times too high", "one node"],
    [0.1, "10 times too low", "two nodes"],
    [100, "100 times too high", "sheet"],
  ] as const)("is told by a factor of %j", (factor, words, model) => {
    const mount: Mount = { ...start, die: { ...start.die, model } };
    const data = readings({ times: { power: factor } });
    const told = doubtfulColumns(new HeatedMount(mount, data, [], {}, standardCatalogue()));
    expect(told).toHaveLength(1);
    expect(told[0]).toContain(`heater power [nW] looks ${words}: at cool.csv:9 it is `);
    expect(told[0]).toMatch(/expected about \d+ nW, which the mount as it starts needs for chip/);
  });

  slowly("is told by a fit, and by the error of one that fails by it", () => {
    const words = "heater power [nW] looks 10 times too high: at cool.csv:9 it is 4.00 µW";
    const data = readings({ times: { power: 10 } });
    const guess: Mount = {
      ...start,
      pads: { ...start.pads!, coupling: { coefficient: spread(1.2e9, 4.8e9), exponent: 5 } },
    };
    const known = calibrate(guess, data, { inputs: [inputs[0]], useSpreads: true });
    expect(known.warnings[0]).toContain(words);
    const of = (inputs: readonly MountField[]) => () => calibrate(start, data, { inputs });
    expect(of(inputs)).toThrow(UndeterminedError);
    expect(of(inputs)).toThrow(words);
  });
});

describe("a stage that no column holds", () => {
  const held: Mount = { ...start, stage: "60 mK" };

  it("is asked for where readings at one power lie far apart", () => {
    expect(() => fitted({ without: ["stage"] }, held)).toThrow(
      /^cool\.csv: expected a column stage \[mK\], since at 0 W chip \[mK\] is both 82\.48 mK \(cool\.csv:2\) and 201\.6 mK \(cool\.csv:18\), got "none"$/,
    );
  });

  it("is asked for where readings are colder than the mount's own", () => {
    expect(() => fitted({ without: ["stage"] }, { ...start, stage: "150 mK" })).toThrow(
      /^cool\.csv: expected a column stage \[mK\], since chip \[mK\] is 82\.48 mK at cool\.csv:2, below the mount's stage, 150\.0 mK, got "none"$/,
    );
  });
});
