/**
 * κ(T) of one sample of a material: which laws of the catalogue, with which options, over which range.
 * @module
 */
import type { TemperatureRange } from "../conductor.js";
import { runningIntegral } from "../numerics/chebyshev.js";
import { given, type Provenance } from "../provenance.js";
import { FieldError } from "../units/errors.js";
import type { Plain } from "../units/fields.js";
import { formatNumber } from "../units/format.js";
import type { MaterialFacts, SuperconductingMetal } from "./facts.js";
import type { Curve } from "./form.js";
import { datumOf, type FactorOf, type Law, numbersOf, tabulated, timesFactor } from "./law.js";
import { conductivityForms, type Given, type Need } from "./laws.js";
import type { ConductivityOptions, UncertainPurity } from "./options.js";
import { phononConductivity } from "./phonons.js";
import { join, type Piece } from "./piecewise.js";
import { condensed, ofGrains } from "./superconductor-conductivity.js";
import type { Conductivity } from "./types.js";

/** Laws of one sample, from the lowest temperature up. */
export interface ConductivitySample {
  readonly sample: string;
  readonly laws: readonly Law[];
  /** Options it needs. */
  readonly needs: readonly Need[];
  /** Where they hold. */
  readonly ranges: readonly TemperatureRange[];
}

/** Laws of thermal conductivity by sample. */
export function conductivitySamples(laws: readonly Law[]): ConductivitySample[] {
  const names = [...new Set(laws.map((law) => law.sample))];
  return names.map((sample) => {
    const own = laws.filter((law) => law.sample === sample);
    own.sort((a, b) => a.from! - b.from!);
    const needs = own.flatMap((law) => conductivityForms.get(law.form)?.needs ?? []);
    return { sample, laws: own, needs: [...new Set(needs)], ranges: rangesOf(own) };
  });
}

/** Where the laws of a sample hold. */
function rangesOf(laws: readonly Law[]): TemperatureRange[] {
  const { label, from, parameters } = laws[0]!;
  const { to } = laws[laws.length - 1]!;
  if (!parameters.has("continues_below_as_power") || from === 0) {
    return [{ from: from!, to: to!, of: label, outside: "refuse" }];
  }
  return [
    { from: 0, to: to!, of: label, outside: "refuse" },
    { from: from!, to: to!, of: `${label}, continued below as a power law`, outside: "warn" },
  ];
}

/**
 * The sample that the options select: the one named, or the only one that uses most of the options
 * given (a metal's general law when its residual resistivity ratio is given).
 * @throws FieldError listing the samples, or naming the option that is missing
 */
export function chooseSample(
  name: string,
  field: string,
  samples: readonly ConductivitySample[],
  options: Plain<ConductivityOptions>,
): ConductivitySample {
  if (samples.length === 0) {
    throw new FieldError(`${name}.thermalConductivity`, "rows in its file", "none");
  }
  const listed = (some: readonly ConductivitySample[]) =>
    `one of ${some.map(({ sample }) => JSON.stringify(sample)).join(", ")}`;
  const named = samples.filter((s) => options.sample === undefined || s.sample === options.sample);
  if (named.length === 0) throw new FieldError(`${field}.sample`, listed(samples), options.sample);
  const open = named.filter((s) => s.needs.every((need) => options[need] !== undefined));
  if (open.length === 0) {
    const need = named[0]!.needs.find((n) => options[n] === undefined)!;
    throw new FieldError(`${field}.${need}`, wantedOption[need], undefined);
  }
  const most = Math.max(...open.map((s) => s.needs.length));
  const best = open.filter((s) => s.needs.length === most);
  if (best.length > 1) {
    // What a general law needs is told first: not every part of a mount takes a sample.
    const [need] = named.filter((s) => !open.includes(s)).flatMap((s) => s.needs);
    if (need === undefined) throw new FieldError(`${field}.sample`, listed(best), options.sample);
    const wanted = `${wantedOption[need]}, or as sample ${listed(best)}`;
    throw new FieldError(`${field}.${need}`, wanted, options[need]);
  }
  const chosen = best[0]!;
  if (
    options.residualResistivityRatio !== undefined &&
    !chosen.needs.includes("residualResistivityRatio")
  ) {
    const wanted = "none, since its conductivity is a measured law that does not depend on it";
    const ratio = options.residualResistivityRatio;
    throw new FieldError(`${field}.residualResistivityRatio`, wanted, ratio);
  }
  return chosen;
}

const wantedOption: Record<Need, string> = {
  residualResistivityRatio: "a residual resistivity ratio such as 30, ρ(295 K)/ρ(residual)",
  meanFreePath: 'the mean free path of phonons, such as "1 mm" (see plateMeanFreePath)',
};

/**
 * κ(T) of a sample.
 * @param field - path of the options in the user's description
 * @throws FieldError when an option is wrong
 */
export function conductivity(
  facts: MaterialFacts,
  { laws, needs, ranges: holds }: ConductivitySample,
  options: Plain<ConductivityOptions>,
  field: string,
): Conductivity {
  const { name, factorOf } = facts;
  const [first] = laws as readonly [Law];
  const found: Provenance[] = [];
  const residualResistivity = needs.includes("residualResistivityRatio")
    ? residual(facts, options.residualResistivityRatio!, field, found)
    : () => Number.NaN;
  const superconductor = superconducting(facts, needs, options, field);
  let phonons = 0;
  if (needs.includes("meanFreePath") || superconductor) {
    const speeds = facts.soundSpeeds();
    const { meanFreePath } = options;
    const path =
      meanFreePath === undefined
        ? facts.constant("phonon_mean_free_path")
        : {
            value: meanFreePath,
            provenance: given(`${name}: mean free path of phonons`, meanFreePath, "m"),
          };
    phonons = phononConductivity(speeds) * path.value;
    found.push(...speeds.provenance, path.provenance);
  }

  let pieces = laws.map((law): Piece => {
    const curve = curveOf(law, factorOf, { residualResistivity, phonons });
    const { residualResistivityRatio: ratio } = options;
    const purity = typeof ratio === "object" ? ratio.value : ratio;
    found.push(...provenanceOf(law, curve, factorOf, purity));
    return { from: law.from!, to: law.to!, curve };
  });
  const ranges = [...holds];
  if (superconductor) {
    const lattice = facts.constant("lattice_conductivity").value;
    pieces = condensed(pieces, superconductor, { boundary: phonons, lattice });
    found.push(...superconductor.provenance);
    if (options.meanFreePath === undefined) ranges.push(ofGrains(first.label, superconductor));
  }
  const below = first.parameters.get("continues_below_as_power");
  const { value, integral, ...powers } = join(pieces, below && datumOf(below, factorOf).value);
  const check = (temperature: number, lowest = 0) => {
    if (!(temperature >= lowest && Number.isFinite(temperature))) {
      throw new RangeError(`${first.label}: expected a temperature in kelvin, got ${temperature}`);
    }
    for (const { from, to, outside } of holds) {
      if (outside === "warn") continue;
      if (temperature < from * (1 - 1e-12) || temperature > to * (1 + 1e-12)) {
        throw new RangeError(
          `${first.label}: T = ${formatNumber(temperature, 4)} K is outside ${from} to ${to} K ` +
            `(${laws.map((l) => l.row.source).join(", ")}). Take a sample or material whose law covers it.`,
        );
      }
    }
    return temperature;
  };
  return {
    at: (temperature) => value(check(temperature, Number.MIN_VALUE)),
    between: (cold, hot) => integral(check(hot)) - integral(check(cold)),
    law: { value, integral },
    ...powers,
    ranges,
    provenance: found,
  };
}

const fixedCurves = new WeakMap<Law, Curve>();

/** The curve of one law of thermal conductivity. */
function curveOf(law: Law, factorOf: FactorOf, options: Given): Curve {
  const form = conductivityForms.get(law.form);
  const factor = law.key === undefined ? 1 : factorOf(law.key);
  const build = () =>
    form
      ? form.build(numbersOf(law, factorOf), options, [...law.parameters.keys()])
      : tabulated(law);
  // Only the factor changes a table, or a fit that needs no option.
  if (law.parameters.size <= 2 || form?.needs) return timesFactor(build(), factor);
  const fixed = fixedCurves.get(law) ?? withIntegral(build(), law);
  fixedCurves.set(law, fixed);
  return timesFactor(fixed, factor);
}

/** A curve with its integral from the low end of its law, which is found when first asked for. */
function withIntegral(curve: Curve, { from, to }: Law): Curve {
  if (curve.integral) return curve;
  let integral: ((T: number) => number) | undefined;
  return {
    value: curve.value,
    integral(T) {
      integral ??= runningIntegral(curve.value, from!, to!);
      return integral(T);
    },
  };
}

/** Provenance of a law of κ: its parameters, or κ at one temperature for a fit of many coefficients. */
function provenanceOf(
  law: Law,
  curve: Curve,
  factorOf: FactorOf,
  purity: number | undefined,
): Provenance[] {
  const all = [...law.parameters.values()];
  if (all.length <= 2) return all.map((parameter) => datumOf(parameter, factorOf).provenance);
  const [from, to] = [law.from!, law.to!];
  const T =
    from <= 4 && to >= 4 ? 4 : Number(Math.sqrt(Math.max(from, to / 100) * to).toPrecision(2));
  const stated = all.find(({ datum }) => datum.provenance.uncertainty !== "");
  const of = purity === undefined ? "" : ` and a residual resistivity ratio of ${purity}`;
  const where = `thermal conductivity at ${T} K${of}, ${law.form} for ${from} to ${to} K`;
  return [
    {
      ...all[0]!.datum.provenance,
      quantity: law.label.replace("thermal conductivity", where),
      value: curve.value(T),
      unit: "W/(m K)",
      uncertainty: stated?.datum.provenance.uncertainty ?? "",
    },
  ];
}

/** ρ₀ by the warm temperature that came with the ratio; ρ(warm) is that of the pure metal. */
function residual(
  facts: MaterialFacts,
  ratio: Plain<UncertainPurity>,
  field: string,
  found: Provenance[],
): Given["residualResistivity"] {
  const { value, warm } = typeof ratio === "object" ? ratio : { value: ratio, warm: 295 };
  const resistivity = facts.warmResistivity(warm, `${field}.residualResistivityRatio.warm`);
  found.push(
    resistivity.provenance,
    given(`${facts.name}: residual resistivity ratio`, value, "", `from ${warm} K`),
  );
  return (pureOverResidual) => resistivity.value / (value - 1 + pureOverResidual);
}

/** The superconductor, where the laws are those of the normal metal and its state is not `normal`. */
function superconducting(
  facts: MaterialFacts,
  needs: readonly Need[],
  { state }: Plain<ConductivityOptions>,
  field: string,
): SuperconductingMetal | undefined {
  const found = facts.superconductor("conductivity");
  if (state === "superconducting" && !found) {
    throw new FieldError(`${field}.state`, '"normal", since it has no T_c on file', state);
  }
  // A measured law already is that of the state it was measured in.
  return state !== "normal" && needs.includes("residualResistivityRatio") ? found : undefined;
}
