/**
 * Microwave tones that read resonators.
 * @module
 */
import { given } from "../provenance.js";
import { positive, positiveNumber, share, wholeNumber } from "../units/checks.js";
import { FieldError } from "../units/errors.js";
import type { Power } from "../units/quantity.js";
import type { HeatLoad } from "./heat-load.js";

/** Tones on one feedline; the share that stays is computed from quality factors, or given. */
export type Readout = {
  /** Name in the budget, `readout` by default. */
  readonly name?: string;
  /** How many tones. */
  readonly tones: number;
  /** Of one tone, where it enters the chip. */
  readonly powerPerTone: Power;
  /** Loss of the feedline across the chip [dB], 0 by default. */
  readonly lineLoss?: number;
} & (
  | {
      /** Qi */
      readonly internalQuality: number;
      /** Qc */
      readonly couplingQuality: number;
      /** Of the tone from its resonance, in linewidths f/Qr; 0 by default. */
      readonly detuning?: number;
    }
  | {
      /** Share of a tone that its resonator turns into heat. */
      readonly dissipatedFraction: number;
    }
);

/**
 * Heat of readout tones: N P [f + (1 − f) l], with f the share dissipated in the resonators and l
 * the share lost in the feedline. What a resonator reflects is counted as if it passed the line
 * too, so that the sum is an upper bound, above the truth by less than l times the reflected share.
 * @param field - path of the readout in the user's description, for errors
 * @throws FieldError
 */
export function readout(options: Readout, field = "readout"): HeatLoad {
  const { name = "readout", lineLoss = 0 } = options;
  const tones = wholeNumber(`${field}.tones`, options.tones);
  const perTone = positive(`${field}.powerPerTone`, options.powerPerTone, "power");
  if (!(Number.isFinite(lineLoss) && lineLoss >= 0)) {
    throw new FieldError(`${field}.lineLoss`, "a loss in dB, 0 or more", lineLoss);
  }
  const { fraction, provenance } = resonatorShare(options, field);
  const line = lineFraction(lineLoss);
  return {
    name,
    power: tones * perTone * (fraction + (1 - fraction) * line),
    provenance: [
      given(`${field}: tones`, tones, ""),
      given(`${field}: power per tone`, perTone, "W"),
      ...provenance,
      given(`${field}: loss of the line`, lineLoss, "dB"),
    ],
    details: {
      "power at the chip [W]": tones * perTone,
      "fraction dissipated in the resonators": fraction,
      "fraction lost in the line": line,
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
  const loaded = 1 / (1 / internalQuality + 1 / couplingQuality);
  return (2 * loaded ** 2) / (internalQuality * couplingQuality) / (1 + 4 * detuning ** 2);
}

/** Share of a tone that a line of so many decibels of loss turns into heat. */
export function lineFraction(loss: number): number {
  return 1 - 10 ** (-loss / 10);
}

function resonatorShare(options: Readout, field: string) {
  const {
    internalQuality,
    couplingQuality,
    detuning,
    dissipatedFraction: fixed,
  } = options as {
    internalQuality?: number;
    couplingQuality?: number;
    detuning?: number;
    dissipatedFraction?: number;
  };
  if (fixed !== undefined) {
    if (internalQuality !== undefined || couplingQuality !== undefined) {
      const wanted = "either quality factors or dissipatedFraction";
      throw new FieldError(field, wanted, "both");
    }
    const fraction = share(`${field}.dissipatedFraction`, fixed, "a share of the tone");
    return { fraction, provenance: [given(`${field}: dissipated fraction`, fraction, "")] };
  }
  const qi = positiveNumber(`${field}.internalQuality`, internalQuality, "a quality factor");
  const qc = positiveNumber(`${field}.couplingQuality`, couplingQuality, "a quality factor");
  if (detuning !== undefined && !Number.isFinite(detuning)) {
    throw new FieldError(`${field}.detuning`, "a number of linewidths", detuning);
  }
  return {
    fraction: dissipatedFraction(qi, qc, detuning),
    provenance: [
      given(`${field}: internal quality factor`, qi, ""),
      given(`${field}: coupling quality factor`, qc, ""),
      given(`${field}: detuning in linewidths`, detuning ?? 0, ""),
    ],
  };
}
