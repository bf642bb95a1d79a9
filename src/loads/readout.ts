/**
 * Heat of the microwave tones that read resonators.
 * @module
 */
import type { Load } from "../conductor.js";
import { given } from "../provenance.js";
import { anObject } from "../units/checks.js";
import { FieldError } from "../units/errors.js";
import * as read from "../units/fields.js";
import { formatQuantity } from "../units/format.js";
import type { Uncertain } from "../units/spread.js";
import type { HeatLoad } from "./heat-load.js";
import {
  linewidths,
  type ReadoutTones,
  type TonesAtChip,
  tonesAtChip,
  tonesFields,
} from "./tones.js";

/** How a resonator stands to its tone. */
export interface Coupling {
  /** Qc, quality factor of its coupling to the line. */
  readonly couplingQuality: Uncertain<number>;
  /** Of the tone from its resonance, in linewidths f/Qr, whatever the linewidth; 0 by default. */
  readonly detuning?: Uncertain<number>;
}

/** A resonator of a fixed internal quality factor. */
export interface FixedQuality extends Coupling {
  /** Qi, quality factor of its own losses. */
  readonly internalQuality: Uncertain<number>;
}

/** A resonator by the heat it absorbs from its tone. */
export interface FixedFraction {
  /** Share of a tone on resonance that its resonator turns into heat, 0 to 1. */
  readonly dissipatedFraction: Uncertain<number>;
}

/** Tones; the share that stays is computed from quality factors, or given. */
export type Readout = ReadoutTones & (FixedQuality | FixedFraction);

/** Tones whose resonators lose quality as the chip warms. */
export type WarmingReadout = ReadoutTones &
  Coupling & {
    /** Qi at a temperature of the chip [K]; from 0 to infinite. */
    readonly internalQuality: (temperature: number) => number;
  };

export const couplingFields: read.FieldsOf<Coupling> = {
  couplingQuality: read.aboveZero,
  detuning: read.optional(linewidths),
};
export const fixedQuality = read.object<FixedQuality>({
  ...couplingFields,
  internalQuality: read.aboveZero,
});
export const fixedFraction = read.object<FixedFraction>({ dissipatedFraction: read.share });
const readoutFields = read.together(
  tonesFields,
  read.oneForm<FixedQuality | FixedFraction>()({
    internalQuality: fixedQuality,
    dissipatedFraction: fixedFraction,
  }),
);
const warmingFields = read.together(tonesFields, read.object<Coupling>(couplingFields));

/** Heat of tones as a law of the chip's temperature. */
export interface ReadoutLaw extends Load {
  /** The load. */
  readonly name: string;
  /** The load with the chip at a temperature [K]. */
  at(temperature: number): HeatLoad;
}

/**
 * Heat of readout tones: Σ P [f + (1 − f) l], with f the share dissipated in a tone's resonator and l
 * the share lost in the feedline. What a resonator reflects is counted as if it passed the line
 * too, so that the sum is an upper bound, above the truth by less than l times the reflected share.
 * @param field - path of the readout in the user's description, for errors
 * @throws FieldError
 */
export function readout(options: Readout, field = "readout"): HeatLoad {
  const plain = readoutFields.read(options, field);
  return heatOf(tonesAtChip(plain, field), shareOf(plain, field), field);
}

/**
 * The same where internal quality factor depends on the chip's temperature: more tone stays as the chip warms,
 * up to half of it at Qi = Qc, and less again beyond. A network takes it as a load; `steadyStates` says
 * whether it reaches a steady state, and where.
 * Not included: resonances that move away from their tones; `detuning` stays so many linewidths.
 * @param field - path of the readout in the user's description, for errors
 * @throws FieldError; and, from its functions, where the quality factor is not a number from 0
 */
export function readoutLaw(options: WarmingReadout, field = "readout"): ReadoutLaw {
  const { internalQuality, ...written } = anObject(field, options);
  if (typeof internalQuality !== "function") {
    const wanted = "a function of temperature in K that gives a quality factor";
    throw new FieldError(`${field}.internalQuality`, wanted, internalQuality);
  }
  const plain = warmingFields.read(written, field);
  const { couplingQuality: qc, detuning = 0 } = plain;
  const tones = tonesAtChip(plain, field);
  const quality = (T: number) => {
    const qi = internalQuality(T);
    if (qi >= 0) return qi;
    throw new FieldError(`${field}.internalQuality(${T})`, "a quality factor, 0 or more", qi);
  };
  const power = (T: number) => heat(tones, dissipatedFraction(quality(T), qc), detuning);
  return {
    name: tones.name,
    power,
    slope(T) {
      const step = 1e-4 * T;
      return (power(T + step) - power(T - step)) / (2 * step);
    },
    at(T) {
      const share = shareByQuality(field, quality(T), qc, detuning, `at ${formatQuantity(T, "K")}`);
      return heatOf(tones, share, field);
    },
  };
}

/**
 * Share of a tone that a resonator coupled in shunt turns into heat:
 *   1 − |S₂₁|² − |S₁₁|² = 2Qr²/(QiQc) / (1 + 4x²),  1/Qr = 1/Qi + 1/Qc.
 * At most 1/2, at Qi = Qc on resonance. Not included: the bent resonance of a driven resonator.
 * Source: J. Zmuidzinas, Annu. Rev. Condens. Matter Phys. 3, 169 (2012), from S₂₁ = Qr/Qi and
 * S₁₁ = −Qr/Qc on resonance.
 * @param detuning - x, tone from resonance in linewidths f/Qr
 * @example dissipatedFraction(1e6, 3e4) // 0.0566
 */
export function dissipatedFraction(
  internalQuality: number,
  couplingQuality: number,
  detuning = 0,
): number {
  // 2Qr²/(QiQc) is the same for Qi/Qc and Qc/Qi; the smaller one is finite, also for an infinite Qi.
  const ratio = Math.min(internalQuality / couplingQuality, couplingQuality / internalQuality);
  return ((2 * ratio) / (1 + ratio) ** 2) * resonance(detuning);
}

/** How much of what is dissipated on resonance a detuned tone dissipates. */
function resonance(detuning: number): number {
  return 1 / (1 + 4 * detuning ** 2);
}

/** Σ P [f + (1 − f) l] [W], f with each tone's detuning. */
function heat({ groups }: Pick<TonesAtChip, "groups">, onResonance: number, detuning: number) {
  let sum = 0;
  for (const { power, line, detuning: own = detuning } of groups) {
    const resonators = power * onResonance * resonance(own);
    sum += resonators + (power - resonators) * line;
  }
  return sum;
}

function heatOf(
  tones: TonesAtChip,
  { fraction, detuning, provenance }: ResonatorShare,
  field: string,
): HeatLoad {
  const { name, total, groups, before, after, details } = tones;
  const power = heat(tones, fraction, detuning);
  const lossless = groups.map((group) => ({ ...group, line: 0 }));
  const kept = heat({ groups: lossless }, fraction, detuning);
  const lost = groups.reduce((sum, group) => sum + group.power * group.line, 0);
  const own = groups.filter((group) => group.detuning !== undefined).length;
  return {
    name,
    power,
    provenance: [
      ...before,
      ...provenance,
      ...(own > 0 ? [given(`${field}: tones with a detuning of their own`, own, "")] : []),
      ...after,
    ],
    details: {
      ...details,
      "power at the chip [W]": total,
      "fraction dissipated in the resonators": total > 0 ? kept / total : 0,
      "fraction lost in the line": total > 0 ? lost / total : 0,
    },
    warnings: [],
  };
}

/** Share of a tone on resonance that its resonator turns into heat, and how far off the tones are. */
type ResonatorShare = ReturnType<typeof shareByQuality>;

function shareOf(options: read.Plain<FixedQuality | FixedFraction>, field: string): ResonatorShare {
  if ("dissipatedFraction" in options) {
    const { dissipatedFraction: fraction } = options;
    const provenance = [given(`${field}: dissipated fraction`, fraction, "")];
    return { fraction, detuning: 0, provenance };
  }
  const { internalQuality, couplingQuality, detuning = 0 } = options;
  return shareByQuality(field, internalQuality, couplingQuality, detuning);
}

function shareByQuality(field: string, qi: number, qc: number, detuning: number, note = "") {
  return {
    fraction: dissipatedFraction(qi, qc),
    detuning,
    provenance: [
      Number.isFinite(qi)
        ? given(`${field}: internal quality factor`, qi, "", note)
        : given(`${field}: inverse of the internal quality factor`, 0, "", note),
      given(`${field}: coupling quality factor`, qc, ""),
      given(`${field}: detuning in linewidths`, detuning, ""),
    ],
  };
}
