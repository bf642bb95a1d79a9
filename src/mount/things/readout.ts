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
import { type ReadoutTones, tonesAtChip, tonesFields } from "../../loads/tones.js";
import { either, has, object, type Plain, together } from "../../units/fields.js";

/** A resonator whose internal quality factor falls as the chip warms, so that the tones heat more. */
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

/**
 * What one of several feed lines brings, for its share of the heat; where the resonators' share depends on the
 * temperature, the power of its tones at the chip.
 */
function heatOfLine(options: Plain<ReadoutOptions>, i: number): number {
  if (!("lines" in options)) return 1;
  const lines = [options.lines[i]!];
  if ("resonator" in options) return tonesAtChip({ lines }, "readout").total;
  return readout({ ...options, lines }).power;
}

export const readoutKind: LoadKind<ReadoutOptions> = {
  fields: together<ReadoutTones, WarmingTones | FixedQuality | FixedFraction>(
    tonesFields,
    shareField,
  ),
  map(options) {
    if (!("lines" in options) || options.lines.some(({ route }) => !route)) return undefined;
    const lines = options.lines.map(({ route, width, lineLoss: loss }, i) => ({
      route: route!,
      ...(width !== undefined && { width }),
      ...(loss !== undefined && { loss }),
      share: heatOfLine(options, i),
    }));
    return { kind: "lines", lines };
  },
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
