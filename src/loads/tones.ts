/**
 * Readout tones on their way to the chip.
 * @module
 */
import { given, type Provenance } from "../provenance.js";
import { aList, anObject, positive, wholeNumber } from "../units/checks.js";
import { FieldError } from "../units/errors.js";
import type { Power } from "../units/quantity.js";

/** A tone that differs from others. */
export interface Tone {
  /** Power at the chip [W]. */
  readonly power: Power;
  /** From its resonance, in linewidths f/Qr; that of the readout, or 0, when absent. A large one for a tone on no resonator. */
  readonly detuning?: number;
}

/** Tones on one feedline, and what it loses. */
export type ReadoutTones = {
  /** Name in the budget, `readout` by default. */
  readonly name?: string;
  /**
   * Attenuators and lines between where the powers are stated, such as the top of the fridge, and the
   * chip, each in dB; none by default: powers are those that enter the chip.
   */
  readonly attenuation?: readonly number[];
  /** Loss of the feedline across the chip [dB], 0 by default. */
  readonly lineLoss?: number;
} & (
  | {
      /** How many tones, all alike. */
      readonly tones: number;
      /** Of one tone [W]. */
      readonly powerPerTone: Power;
    }
  | {
      /** Or each tone by its power, or by power and detuning. */
      readonly toneList: readonly (Power | Tone)[];
    }
);

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

/** Tones, checked. */
export interface CheckedTones {
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

/** Tones as written, checked and taken to the chip. @throws FieldError */
export function tonesOf(options: ReadoutTones, field: string): CheckedTones {
  anObject(field, options);
  const { name = "readout", lineLoss = 0, attenuation = [] } = options;
  const { count, powers, provenance } = powersOf(options, field);
  decibels(`${field}.lineLoss`, lineLoss);
  aList(`${field}.attenuation`, attenuation, "a list of losses in dB").forEach((loss, i) => {
    decibels(`${field}.attenuation[${i}]`, loss);
  });
  const loss = attenuation.reduce((sum: number, each: number) => sum + each, 0);
  const passed = 10 ** (-loss / 10);
  const stated = powers.reduce((sum, { power }) => sum + power, 0);
  const chain = attenuation.length > 0;
  return {
    name,
    groups: powers.map((each) => ({ ...each, power: each.power * passed })),
    total: stated * passed,
    line: lineFraction(lineLoss),
    before: [
      given(`${field}: tones`, count, ""),
      ...provenance,
      ...(chain ? [given(`${field}: attenuation before the chip`, loss, "dB")] : []),
    ],
    after: [given(`${field}: loss of the line`, lineLoss, "dB")],
    details: chain ? { "power before the attenuators [W]": stated, "attenuation [dB]": loss } : {},
  };
}

function powersOf(options: ReadoutTones, field: string) {
  const { tones, powerPerTone, toneList } = options as {
    tones?: unknown;
    powerPerTone?: unknown;
    toneList?: unknown;
  };
  if (toneList === undefined) {
    const count = wholeNumber(`${field}.tones`, tones);
    const each = positive(`${field}.powerPerTone`, powerPerTone, "power");
    return {
      count,
      powers: [{ power: count * each }],
      provenance: [given(`${field}: power per tone`, each, "W")],
    };
  }
  if (tones !== undefined || powerPerTone !== undefined) {
    throw new FieldError(field, "either tones and powerPerTone, or a toneList", "both");
  }
  if (!Array.isArray(toneList) || toneList.length === 0) {
    throw new FieldError(`${field}.toneList`, "a list of one tone or more", toneList);
  }
  const list = aList<Power | Tone>(`${field}.toneList`, toneList, "a list of tones");
  const powers = list.map((tone, i) => {
    const at = `${field}.toneList[${i}]`;
    if (typeof tone !== "object" || tone === null) return { power: positive(at, tone, "power") };
    const power = positive(`${at}.power`, tone.power, "power");
    if (tone.detuning === undefined) return { power };
    return { power, detuning: linewidths(`${at}.detuning`, tone.detuning) };
  });
  const mean = powers.reduce((sum, { power }) => sum + power, 0) / powers.length;
  return {
    count: powers.length,
    powers,
    provenance: [given(`${field}: mean power of a tone`, mean, "W", "of a list")],
  };
}

function decibels(field: string, loss: unknown): void {
  if (!(typeof loss === "number" && Number.isFinite(loss) && loss >= 0)) {
    throw new FieldError(field, "a loss in dB, 0 or more", loss);
  }
}

/** A detuning. @throws FieldError */
export function linewidths(field: string, detuning: unknown): number {
  if (typeof detuning === "number" && Number.isFinite(detuning)) return detuning;
  throw new FieldError(field, "a number of linewidths", detuning);
}
