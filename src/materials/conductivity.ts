/**
 * κ(T) of one sample of a material: which laws of the catalogue, with which options, over which range.
 * @module
 */
import type { TemperatureRange } from "../conductor.js";
import { inLogarithms } from "../numerics/interpolation.js";
import { given, type Provenance } from "../provenance.js";
import { FieldError } from "../units/errors.js";
import { formatNumber } from "../units/format.js";
import { type Temperature, toSI } from "../units/quantity.js";
import { type Curve, conductivityForms, type Given, type Need } from "./laws.js";
import { phononConductivity } from "./phonons.js";
import { join, type Piece } from "./piecewise.js";
import type { Law } from "./schema.js";
import type { SuperconductorState } from "./superconductor.js";
import { condensed, electronsOnly } from "./superconductor-conductivity.js";
import type {
  Conductivity,
  ConductivityOptions,
  Datum,
  ResidualResistivityRatio,
  SoundSpeeds,
} from "./types.js";

/** A metal's superconducting state, and what its phonons carry beside normal electrons. */
export interface SuperconductingMetal extends SuperconductorState {
  /** κ/T² of the phonons in the normal state [W/(m K³)]; undefined where it is not on file. */
  readonly latticeConductivity?: number;
  readonly provenance: readonly Provenance[];
}

/** What the material adds to its laws of conductivity. */
export interface MaterialFacts {
  readonly name: string;
  /** Path of the user's field, for errors. */
  readonly field: string;
  /** ρ of the pure metal at a warm temperature. @throws FieldError when it has none */
  warmResistivity(temperature: Temperature, field: string): Datum;
  soundSpeeds(): SoundSpeeds;
  /** Undefined for a material that does not superconduct. */
  superconductor(): SuperconductingMetal | undefined;
  /** Provenance of one law, a single entry for a fit of many coefficients. */
  provenance(law: Law, curve: Curve): readonly Provenance[];
}

/** Laws of one sample, from the lowest temperature up. */
export interface ConductivitySample {
  readonly sample: string;
  readonly laws: readonly Law[];
  /** Options it can't do without. */
  readonly needs: readonly Need[];
}

/** Laws of thermal conductivity by sample. */
export function conductivitySamples(laws: readonly Law[]): ConductivitySample[] {
  const names = [...new Set(laws.map((law) => law.sample))];
  return names.map((sample) => {
    const own = laws.filter((law) => law.sample === sample);
    own.sort((a, b) => a.from! - b.from!);
    const needs = own.flatMap((law) => conductivityForms.get(law.form)?.needs ?? []);
    return { sample, laws: own, needs: [...new Set(needs)] };
  });
}

/**
 * The sample that the options mean: the one named, or the only one that makes the most of what is
 * given (a metal's general law when its residual resistivity ratio is given).
 * @throws FieldError listing the samples, or naming the option that is missing
 */
export function chooseSample(
  name: string,
  field: string,
  samples: readonly ConductivitySample[],
  options: ConductivityOptions,
): ConductivitySample {
  const list = samples.map((s) => JSON.stringify(s.sample)).join(", ");
  if (samples.length === 0) {
    throw new FieldError(`${name}.thermalConductivity`, "rows in its file", "none");
  }
  const named = samples.filter((s) => options.sample === undefined || s.sample === options.sample);
  if (named.length === 0) throw new FieldError(`${field}.sample`, `one of ${list}`, options.sample);
  const open = named.filter((s) => s.needs.every((need) => options[need] !== undefined));
  if (open.length === 0) {
    const need = named[0]!.needs.find((n) => options[n] === undefined)!;
    throw new FieldError(`${field}.${need}`, wantedOption[need], undefined);
  }
  const most = Math.max(...open.map((s) => s.needs.length));
  const best = open.filter((s) => s.needs.length === most);
  if (best.length > 1) {
    const closed = named.filter((s) => !open.includes(s));
    const instead = closed.flatMap((s) => s.needs).map((need) => `, or ${need}`);
    throw new FieldError(
      `${field}.sample`,
      `one of ${best.map((s) => JSON.stringify(s.sample)).join(", ")}${[...new Set(instead)].join("")}`,
      options.sample,
    );
  }
  const chosen = best[0]!;
  if (
    options.residualResistivityRatio !== undefined &&
    !chosen.needs.includes("residualResistivityRatio")
  ) {
    throw new FieldError(
      `${field}.residualResistivityRatio`,
      "none, since its conductivity is a measured law that does not depend on it",
      options.residualResistivityRatio,
    );
  }
  return chosen;
}

const wantedOption: Record<Need, string> = {
  residualResistivityRatio: "a residual resistivity ratio such as 30, ρ(295 K)/ρ(residual)",
  meanFreePath: 'the mean free path of phonons, such as "1 mm" (see plateMeanFreePath)',
};

/** κ(T) of a sample. @throws FieldError when an option is wrong */
export function conductivity(
  facts: MaterialFacts,
  { sample, laws, needs }: ConductivitySample,
  options: ConductivityOptions,
): Conductivity {
  const { name } = facts;
  const found: Provenance[] = [];
  const residualResistivity = needs.includes("residualResistivityRatio")
    ? residual(facts, options.residualResistivityRatio!, found)
    : 0;
  const superconductor = superconducting(facts, needs, options);
  const freePath =
    options.meanFreePath !== undefined && (needs.includes("meanFreePath") || superconductor)
      ? meanFreePath(facts.field, options.meanFreePath)
      : 0;
  let phonons = 0;
  if (freePath > 0) {
    const speeds = facts.soundSpeeds();
    phonons = phononConductivity(speeds) * freePath;
    found.push(...speeds.provenance, given(`${name}: mean free path of phonons`, freePath, "m"));
  }

  let pieces = laws.map((law): Piece => {
    const curve = curveOf(law, { residualResistivity, phonons });
    found.push(...facts.provenance(law, curve));
    return { from: law.from!, to: law.to!, curve };
  });
  const continued = laws[0]!.parameters.get("continues_below_as_power");
  const label = `${name}: thermal conductivity${sample ? ` (${sample})` : ""}`;
  const ranges = rangesOf(label, pieces, continued !== undefined);
  if (superconductor) {
    const lattice = superconductor.latticeConductivity ?? 0;
    const withPhonons = phonons > 0 && lattice > 0;
    pieces = condensed(
      pieces,
      superconductor,
      withPhonons ? { boundary: phonons, lattice } : undefined,
    );
    found.push(...superconductor.provenance);
    if (!withPhonons) ranges.push(electronsOnly(label, superconductor));
  }
  const law = join(pieces, continued?.value);
  const { powers, powersUpTo } = law;
  const hard = ranges.filter((range) => range.outside === "refuse");
  const check = (temperature: number, lowest = 0) => {
    if (!(temperature >= lowest && Number.isFinite(temperature))) {
      throw new RangeError(`${label}: expected a temperature in kelvin, got ${temperature}`);
    }
    for (const { from, to } of hard) {
      if (temperature < from * (1 - 1e-12) || temperature > to * (1 + 1e-12)) {
        throw new RangeError(
          `${label}: T = ${formatNumber(temperature, 4)} K is outside ${from} to ${to} K ` +
            `(${laws.map((l) => l.row.source).join(", ")}). Take a sample or material whose law covers it.`,
        );
      }
    }
    return temperature;
  };
  return {
    at: (temperature) => law.value(check(temperature, Number.MIN_VALUE)),
    between: (cold, hot) => law.integral(check(hot)) - law.integral(check(cold)),
    law: { value: law.value, integral: law.integral },
    ...(powers && { powers }),
    ...(powersUpTo !== undefined && { powersUpTo }),
    ranges,
    provenance: found,
  };
}

/** The curve of one law of thermal conductivity. */
export function curveOf(law: Law, options: Given): Curve {
  const form = conductivityForms.get(law.form);
  if (!form) return inLogarithms(pointsOf(law));
  const names = [...law.parameters.keys()];
  const curve = form.build((p) => law.parameters.get(p)?.value ?? 0, options, names);
  return law.factor === undefined ? curve : timesFactor(curve, law.factor);
}

function timesFactor({ value, integral, powers }: Curve, factor: number): Curve {
  return {
    value: (T) => factor * value(T),
    ...(integral && { integral: (T: number) => factor * integral(T) }),
    ...(powers && { powers: powers.map((p) => ({ ...p, coefficient: factor * p.coefficient })) }),
  };
}

/** Points of a table over temperature, rising. */
export function pointsOf(law: Law): [number, number][] {
  const { factor = 1 } = law;
  const points: [number, number][] = [];
  for (const [name, { value }] of law.parameters) {
    const T = Number(/^(\S+) K$/.exec(name)?.[1]);
    if (Number.isFinite(T)) points.push([T, factor * value]);
  }
  return points.sort((a, b) => a[0] - b[0]);
}

/**
 * ρ₀ = ρ(warm)/RRR [Ω m], by the definition that came with the ratio. ρ(warm) is that of the pure metal,
 * while a sample's own is larger by ρ₀: by Matthiessen's rule κ comes out too high by 1/(RRR − 1), 3 %
 * at RRR 30 and 11 % at RRR 10.
 */
function residual(
  facts: MaterialFacts,
  ratio: ResidualResistivityRatio,
  found: Provenance[],
): number {
  const field = `${facts.field}.residualResistivityRatio`;
  const { value, warm } =
    typeof ratio === "object" && ratio !== null ? ratio : { value: ratio, warm: 295 };
  if (typeof value !== "number" || !(value > 1) || !Number.isFinite(value)) {
    throw new FieldError(field, "a number above 1, ρ(warm)/ρ(residual)", value);
  }
  const temperature = toSI(`${field}.warm`, warm, "temperature");
  const resistivity = facts.warmResistivity(temperature, `${field}.warm`);
  found.push(
    resistivity.provenance,
    given(`${facts.name}: residual resistivity ratio`, value, "", `from ${temperature} K`),
  );
  return resistivity.value / value;
}

function meanFreePath(field: string, length: ConductivityOptions["meanFreePath"]): number {
  const value = toSI(`${field}.meanFreePath`, length, "length");
  if (!(value > 0)) throw new FieldError(`${field}.meanFreePath`, "a length above zero", length);
  return value;
}

/** The superconductor, where the laws are those of the normal metal and its state is not `normal`. */
function superconducting(
  facts: MaterialFacts,
  needs: readonly Need[],
  { state }: ConductivityOptions,
) {
  if (state !== undefined && state !== "normal" && state !== "superconducting") {
    throw new FieldError(`${facts.field}.state`, '"superconducting" or "normal"', state);
  }
  const found = facts.superconductor();
  if (state === "superconducting" && !found) {
    throw new FieldError(`${facts.field}.state`, '"normal", since it has no T_c on file', state);
  }
  // A measured law already is that of the state it was measured in.
  return state !== "normal" && needs.includes("residualResistivityRatio") ? found : undefined;
}

/** Where the laws of a sample hold. */
function rangesOf(label: string, pieces: readonly Piece[], continued: boolean): TemperatureRange[] {
  const [from, to] = [pieces[0]!.from, pieces[pieces.length - 1]!.to];
  if (!continued || from === 0) return [{ from, to, of: label, outside: "refuse" }];
  return [
    { from: 0, to, of: label, outside: "refuse" },
    { from, to, of: `${label}, continued below as a power law`, outside: "warn" },
  ];
}
