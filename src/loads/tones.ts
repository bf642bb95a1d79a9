/**
 * Readout tones on their way to the chip.
 * @module
 */
import { given, type Provenance } from "../provenance.js";
import * as read from "../units/fields.js";
import type { Power } from "../units/quantity.js";
import type { Uncertain } from "../units/spread.js";

/** A tone that differs from others. */
export interface Tone {
  /** Power at the chip [W]. */
  readonly power: Uncertain<Power>;
  /** From its resonance, in linewidths f/Qr; that of the readout, or 0, when absent. A large one for a tone on no resonator. */
  readonly detuning?: Uncertain<number>;
}

/** Tones on one feedline, and what it loses. */
export type ReadoutTones = {
  /** Name in the budget, `readout` by default. */
  readonly name?: string;
  /**
   * Attenuators and lines between where the powers are stated, such as the top of the fridge, and the
   * chip, each in dB; none by default: powers are those that enter the chip.
   */
  readonly attenuation?: readonly Uncertain<number>[];
  /** Loss of the feedline across the chip [dB], 0 by default. */
  readonly lineLoss?: Uncertain<number>;
} & (
  | {
      /** How many tones, all alike. */
      readonly tones: number;
      /** Of one tone [W]. */
      readonly powerPerTone: Uncertain<Power>;
    }
  | {
      /** Or each tone by its power [W], or by power and detuning. */
      readonly toneList: readonly (Uncertain<Power> | Tone)[];
    }
);

const power = read.quantity("power");
/** Reads a detuning. */
export const linewidths = read.number("a number of linewidths", () => true);
const decibels = read.number("a loss in dB, 0 or more", (loss) => loss >= 0);
const common = {
  name: read.optional(read.text),
  attenuation: read.optional(read.list(decibels, "a list of losses in dB")),
  lineLoss: read.optional(decibels),
};

/** Reads tones. */
export const tonesFields = read.oneForm<ReadoutTones>()({
  tones: { ...common, tones: read.count, powerPerTone: power },
  toneList: {
    ...common,
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

/** Tones at the chip. */
export interface TonesAtChip {
  readonly name: string;
  /** Tones alike: their power at the chip [W], and their own detuning if they have one. */
  readonly groups: readonly { readonly power: number; readonly detuning?: number }[];
  /** At the chip [W] */
  readonly total: number;
  /** Of the line across the chip, a share. */
  readonly line: number;
  readonly before: readonly Provenance[];
  readonly after: readonly Provenance[];
  readonly details: Readonly<Record<string, number>>;
}

/** Tones behind their attenuators. */
export function tonesAtChip(options: read.Plain<ReadoutTones>, field: string): TonesAtChip {
  const { name = "readout", lineLoss = 0, attenuation = [] } = options;
  const { groups, count, provenance } = groupsOf(options, field);
  const loss = attenuation.reduce((sum, each) => sum + each, 0);
  const passed = 10 ** (-loss / 10);
  const stated = groups.reduce((sum, { power }) => sum + power, 0);
  const chain = attenuation.length > 0;
  return {
    name,
    groups: groups.map((each) => ({ ...each, power: each.power * passed })),
    total: stated * passed,
    line: lineFraction(lineLoss),
    before: [
      given(`${field}: tones`, count, ""),
      provenance,
      ...(chain ? [given(`${field}: attenuation before the chip`, loss, "dB")] : []),
    ],
    after: [given(`${field}: loss of the line`, lineLoss, "dB")],
    details: chain ? { "power before the attenuators [W]": stated, "attenuation [dB]": loss } : {},
  };
}

function groupsOf(options: read.Plain<ReadoutTones>, field: string) {
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
