/**
 * Readout tones of a mount: the quality factor may be given, or follow from a resonator and the chip's
 * temperature.
 * @module
 */
import { type ResonatorOptions, resonator, resonatorFields } from "../../device/quality.js";
import type { LoadContext, LoadKind } from "../../loads/load-kind.js";
import { readout, readoutLaw } from "../../loads/readout.js";
import { linewidths, type ReadoutTones, tonesFields } from "../../loads/tones.js";
import {
  aboveZero,
  either,
  has,
  object,
  optional,
  type Plain,
  share,
  together,
} from "../../units/fields.js";
import type { Uncertain } from "../../units/spread.js";

/** How a tone is coupled to its resonator. */
interface Coupling {
  /** Quality factor of its coupling to the line. */
  readonly couplingQuality: Uncertain<number>;
  /** In linewidths; 0 (on resonance) when absent. */
  readonly detuning?: Uncertain<number>;
}

/** A resonator whose internal quality falls as the chip warms, so that the tones heat more. */
export interface WarmingTones extends Coupling {
  /** The steady state is found with the network. */
  readonly resonator: ResonatorOptions;
}

/** A resonator of a known internal quality. */
export interface FixedQuality extends Coupling {
  /** Quality factor of its own losses. */
  readonly internalQuality: Uncertain<number>;
}

/** A known share. */
export interface GivenShare {
  /** Share of a tone's power that stays on the chip as heat, 0 to 1. */
  readonly dissipatedFraction: Uncertain<number>;
}

/** Readout tones: what part of them the resonators and lines turn into heat. */
export type ReadoutOptions = ReadoutTones & (WarmingTones | FixedQuality | GivenShare);

const coupling = {
  couplingQuality: aboveZero,
  detuning: optional(linewidths),
};

const shareField = either(
  has("dissipatedFraction"),
  object<GivenShare>({ dissipatedFraction: share }),
  either(
    has("resonator"),
    object<WarmingTones>({ ...coupling, resonator: resonatorFields }),
    object<FixedQuality>({ ...coupling, internalQuality: aboveZero }),
  ),
);

/** Tones whose resonators lose quality as the chip warms. */
function law(options: Plain<ReadoutOptions>, { name, field, catalogue }: LoadContext) {
  if (!("resonator" in options)) return undefined;
  const { resonator: film, ...tones } = options;
  const { internalQuality, provenance } = resonator(film, catalogue, `${field}.resonator`);
  const own = readoutLaw({ ...tones, name, internalQuality }, field);
  return {
    ...own,
    at(T: number) {
      const heat = own.at(T);
      return { ...heat, provenance: [...heat.provenance, ...provenance] };
    },
  };
}

export const readoutKind: LoadKind<ReadoutOptions> = {
  fields: together<ReadoutTones, WarmingTones | FixedQuality | GivenShare>(tonesFields, shareField),
  falls: "by map",
  heat(options, context) {
    const { name, field } = context;
    if ("resonator" in options) return law(options, context)!.at(0);
    return readout({ ...options, name }, field);
  },
  law,
};

/** The resonators that loads read out, by the name and the path of each load. */
export function readoutResonators(
  loads: readonly { readonly kind: string; readonly name?: string }[],
): readonly {
  readonly name: string;
  readonly field: string;
  readonly of: Plain<ResonatorOptions>;
}[] {
  return loads.flatMap((load, i) =>
    load.kind === "readout" && "resonator" in load
      ? [
          {
            name: load.name ?? "readout",
            field: `loads[${i}].resonator`,
            of: load.resonator as Plain<ResonatorOptions>,
          },
        ]
      : [],
  );
}
