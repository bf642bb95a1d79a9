/**
 * Readout tones of a mount: the quality factor may be given, or follow from a resonator and the chip's
 * temperature.
 * @module
 */
import { type ResonatorOptions, resonator, resonatorFields } from "../../device/quality.js";
import type { LoadContext, LoadKind } from "../../loads/load-kind.js";
import {
  type Coupling,
  couplingFields,
  type FixedFraction,
  type FixedQuality,
  fixedFraction,
  fixedQuality,
  readout,
  readoutLaw,
} from "../../loads/readout.js";
import { type ReadoutTones, tonesFields } from "../../loads/tones.js";
import { either, has, object, type Plain, together } from "../../units/fields.js";

/** A resonator whose internal quality falls as the chip warms, so that the tones heat more. */
export interface WarmingTones extends Coupling {
  /** The steady state is found with the network. */
  readonly resonator: ResonatorOptions;
}

/** Readout tones: what part of them the resonators and lines turn into heat. */
export type ReadoutOptions = ReadoutTones & (WarmingTones | FixedQuality | FixedFraction);

const shareField = either(
  has("dissipatedFraction"),
  fixedFraction,
  either(
    has("resonator"),
    object<WarmingTones>({ ...couplingFields, resonator: resonatorFields }),
    fixedQuality,
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
  fields: together<ReadoutTones, WarmingTones | FixedQuality | FixedFraction>(
    tonesFields,
    shareField,
  ),
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
