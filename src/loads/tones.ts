/**
 * Readout tones on their way to the chip.
 * @module
 */
import { given, type Provenance } from "../provenance.js";
import { FieldError } from "../units/errors.js";
import * as read from "../units/fields.js";
import type { Length, Power } from "../units/quantity.js";
import type { Uncertain } from "../units/spread.js";
import { decibels, type Place, route } from "./load-map.js";

/** A tone that differs from others. */
export interface Tone {
  /** Power at the chip [W]. */
  readonly power: Uncertain<Power>;
  /** From its resonance, in linewidths f/Qr; that of the readout, or 0, when absent. A large one for a tone on no resonator. */
  readonly detuning?: Uncertain<number>;
}

/** A feed line across the die with its tones. */
export interface FeedLine extends OneLine {
  /** As the readout's figures show it; its number when absent. */
  readonly name?: string;
  /** How many tones, all alike. */
  readonly tones: number;
  /** Of all its tones together [W], where the attenuation begins. */
  readonly power: Uncertain<Power>;
  /** Its corners on the die, from where the tones enter: heat falls along it. Evenly on the die when absent. */
  readonly route?: readonly Place[];
  /** Breadth of the strip with the line's resonators, on which their heat falls [m]; a thin line when absent. */
  readonly width?: Uncertain<Length>;
}

/** Tones on one feedline and what it loses, or feed lines each with its own. */
export type ReadoutTones = {
  /** Name in the budget, `readout` by default. */
  readonly name?: string;
} & (
  | ({
      /** How many tones, all alike. */
      readonly tones: number;
      /** Of one tone [W]. */
      readonly powerPerTone: Uncertain<Power>;
    } & OneLine)
  | ({
      /** Or each tone by its power [W], or by power and detuning. */
      readonly toneList: readonly (Uncertain<Power> | Tone)[];
    } & OneLine)
  | {
      /** Or the feed lines. */
      readonly lines: readonly FeedLine[];
    }
);

/** What one feedline does to its tones. */
export interface OneLine {
  /**
   * Attenuators and lines between where the powers are stated, such as the top of the fridge, and the
   * chip, each in dB; none by default: powers are those that enter the chip.
   */
  readonly attenuation?: readonly Uncertain<number>[];
  /** Loss of the feedline across the chip [dB], 0 by default. */
  readonly lineLoss?: Uncertain<number>;
}

const power = read.quantity("power");
export const linewidths = read.number("a number of linewidths", () => true);
const name = read.optional(read.text);
const line = {
  attenuation: read.optional(read.list(decibels, "a list of losses in dB")),
  lineLoss: read.optional(decibels),
};

export const tonesFields = read.oneForm<ReadoutTones>()({
  tones: { name, ...line, tones: read.count, powerPerTone: power },
  toneList: {
    name,
    ...line,
    toneList: read.list(
      read.either<Uncertain<Power>, Tone>(
        read.isOneValue,
        power,
        read.object<Tone>({ power, detuning: read.optional(linewidths) }),
      ),
      "a list of one tone or more",
      1,
    ),
  },
  lines: {
    name,
    lines: read.checked(
      read.list(
        read.object<FeedLine>({
          name,
          tones: read.count,
          power,
          ...line,
          route: read.optional(route),
          width: read.optional(read.quantity("length")),
        }),
        "a list of one feed line or more",
        1,
      ),
      (lines, at) => {
        const without = lines.findIndex((each) => each.route === undefined);
        if (without < 0 || lines.every((each) => each.route === undefined)) return;
        const wanted = "a route, since other lines have one";
        throw new FieldError(`${at}[${without}].route`, wanted, undefined);
      },
    ),
  },
});

/**
 * Heat that a chain of attenuators leaves in each of them, from the warm end on [W]; of 50 Ω
 * attenuators, which absorb what they do not pass.
 * @param power - of all tones, where it enters the chain [W]
 * @param attenuation - of each [dB]
 */
export function attenuatorHeat(power: number, attenuation: readonly number[]): number[] {
  let left = power;
  return attenuation.map((loss) => {
    const heat = left * lineFraction(loss);
    left -= heat;
    return heat;
  });
}

/** Share of a tone that a line of so many decibels of loss turns into heat. */
export function lineFraction(loss: number): number {
  return 1 - 10 ** (-loss / 10);
}

export interface ToneGroup {
  /** Their power [W]. */
  readonly power: number;
  /** What the line across the chip turns into heat, a share. */
  readonly line: number;
  /** Their own detuning, if they have one. */
  readonly detuning?: number;
}

export interface TonesAtChip {
  readonly name: string;
  readonly groups: readonly ToneGroup[];
  /** At the chip [W] */
  readonly total: number;
  readonly before: readonly Provenance[];
  readonly after: readonly Provenance[];
  readonly details: Readonly<Record<string, number>>;
}

/** Tones behind their attenuators. */
export function tonesAtChip(options: read.Plain<ReadoutTones>, field: string): TonesAtChip {
  const { name = "readout" } = options;
  if ("lines" in options) {
    const lines = options.lines.map((each, i) => feedLine(each, `${field}.lines[${i}]`, i));
    return {
      name,
      groups: lines.flatMap(({ groups }) => groups),
      total: lines.reduce((sum, { total }) => sum + total, 0),
      before: lines.flatMap(({ before }) => before),
      after: lines.flatMap(({ after }) => after),
      details: Object.assign({}, ...lines.map(({ details }) => details)),
    };
  }
  const { groups, count, provenance } = groupsOf(options, field);
  const before = [given(`${field}: tones`, count, ""), provenance];
  return behindAttenuators(name, options, groups, before, field);
}

function feedLine(line: read.Plain<FeedLine>, field: string, i: number): TonesAtChip {
  const { name = `line ${i + 1}`, tones, power } = line;
  const before = [
    given(`${field}: tones`, tones, ""),
    given(`${field}: power of all tones`, power, "W"),
  ];
  const all = behindAttenuators(name, line, [{ power }], before, field);
  return { ...all, details: { [`power at the chip, ${name} [W]`]: all.total } };
}

function behindAttenuators(
  name: string,
  { attenuation = [], lineLoss = 0 }: read.Plain<OneLine>,
  stated: readonly Omit<ToneGroup, "line">[],
  before: readonly Provenance[],
  field: string,
): TonesAtChip {
  const loss = attenuation.reduce((sum, each) => sum + each, 0);
  const passed = 10 ** (-loss / 10);
  const sum = stated.reduce((all, { power }) => all + power, 0);
  const line = lineFraction(lineLoss);
  const chain = attenuation.length > 0;
  return {
    name,
    groups: stated.map((each) => ({ ...each, power: each.power * passed, line })),
    total: sum * passed,
    before: [
      ...before,
      ...(chain ? [given(`${field}: attenuation before the chip`, loss, "dB")] : []),
    ],
    after: [given(`${field}: loss of the line`, lineLoss, "dB")],
    details: chain ? { "power before the attenuators [W]": sum, "attenuation [dB]": loss } : {},
  };
}

type TonesOfOneLine = Exclude<read.Plain<ReadoutTones>, { readonly lines: unknown }>;

function groupsOf(options: TonesOfOneLine, field: string) {
  if ("tones" in options) {
    const { tones: count, powerPerTone } = options;
    const provenance = given(`${field}: power per tone`, powerPerTone, "W");
    return { groups: [{ power: count * powerPerTone }], count, provenance };
  }
  const groups = options.toneList.map((tone) =>
    typeof tone === "number" ? { power: tone } : tone,
  );
  const count = groups.length;
  const mean = groups.reduce((sum, { power }) => sum + power, 0) / count;
  const provenance = given(`${field}: mean power of a tone`, mean, "W", "of a list");
  return { groups, count, provenance };
}
