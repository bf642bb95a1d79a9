/**
 * One material of the catalogue, made from its laws.
 * @module
 */
import { type Interpolant, inLogarithms } from "../numerics/interpolation.js";
import type { Provenance } from "../provenance.js";
import { bcsGapRatio } from "../units/constants.js";
import { FieldError } from "../units/errors.js";
import { type Temperature, toSI } from "../units/quantity.js";
import {
  chooseSample,
  conductivity,
  conductivitySamples,
  type MaterialFacts,
  pointsOf,
} from "./conductivity.js";
import { heatCapacity } from "./heat-capacity.js";
import type { Curve } from "./laws.js";
import { type Law, provenanceOf, type Sources } from "./schema.js";
import type {
  ConductivityOptions,
  Datum,
  ElectronPhononCoupling,
  Material,
  SoundSpeeds,
} from "./types.js";

/** A material from its checked laws. */
export function makeMaterial(name: string, laws: readonly Law[], sources: Sources): Material {
  const byProperty = new Map<string, Law[]>();
  for (const law of laws) {
    byProperty.set(law.property, [...(byProperty.get(law.property) ?? []), law]);
  }
  const samples = conductivitySamples(byProperty.get("thermal_conductivity") ?? []);

  /** The one law of a property that the sample means. */
  const one = (property: string, sample: string | undefined): Law => {
    const all = byProperty.get(property);
    if (!all) {
      const known = [...byProperty.keys()].join(", ");
      throw new FieldError(`${name}.${property}`, `a property on hand (${known})`, undefined);
    }
    const fit = all.filter((law) => sample === undefined || law.sample === sample);
    if (fit.length === 1) return fit[0]!;
    const list = all.map((law) => JSON.stringify(law.sample)).join(", ");
    throw new FieldError(`${name}.${property}.sample`, `one of ${list}`, sample);
  };

  const datum = (law: Law, parameter: string): Datum => {
    const found = law.parameters.get(parameter)!;
    return { value: found.value, provenance: provenanceOf(name, found, sources) };
  };

  const constant = (property: string, sample?: string): Datum => {
    const law = one(property, sample);
    if (law.form === "constant") return datum(law, "value");
    throw new FieldError(`${name}.${property}`, "a property that is one number", law.form);
  };

  const facts: MaterialFacts = {
    name,
    field: name,
    warmResistivity,
    soundSpeeds: () => soundSpeeds(),
    superconductor() {
      if (!byProperty.has("critical_temperature")) return undefined;
      const Tc = constant("critical_temperature");
      const gap = byProperty.has("gap_ratio") ? constant("gap_ratio") : undefined;
      const lattice = byProperty.has("lattice_conductivity")
        ? constant("lattice_conductivity")
        : undefined;
      return {
        criticalTemperature: Tc.value,
        gapRatio: gap?.value ?? bcsGapRatio,
        ...(lattice && { latticeConductivity: lattice.value }),
        provenance: [Tc, gap, lattice].flatMap((each) => (each ? [each.provenance] : [])),
      };
    },
    provenance: (law, curve) => lawProvenance(name, law, curve, sources),
  };

  let tabled: { law: Law; rho: Interpolant } | undefined;
  function warmResistivity(temperature: Temperature, field = `${name}.warm`): Datum {
    const T = toSI(field, temperature, "temperature");
    if (!tabled) {
      const law = one("resistivity", undefined);
      tabled = { law, rho: inLogarithms(pointsOf(law)) };
    }
    const { law, rho } = tabled;
    if (!(T >= rho.from && T <= rho.to)) {
      throw new FieldError(
        field,
        `a temperature between ${rho.from} and ${rho.to} K, where its resistivity is tabulated`,
        temperature,
      );
    }
    const value = rho.value(T);
    const nearest = pointsOf(law).reduce((a, b) =>
      Math.abs(b[0] - T) < Math.abs(a[0] - T) ? b : a,
    )[0];
    const { provenance } = datum(law, `${nearest} K`);
    return { value, provenance: { ...provenance, quantity: `${name}: resistivity ${T} K`, value } };
  }

  function soundSpeeds(sample?: string): SoundSpeeds {
    const longitudinal = constant("sound_speed_longitudinal", sample);
    const transverse = constant("sound_speed_transverse", sample);
    return {
      longitudinal: longitudinal.value,
      transverse: transverse.value,
      provenance: [longitudinal.provenance, transverse.provenance],
    };
  }

  return {
    name,
    properties: new Map(
      [...byProperty].map(([property, own]) => [
        property,
        [...new Set(own.map((law) => law.sample))],
      ]),
    ),
    conductivitySamples: samples.map(({ sample, needs, laws: own }) => ({
      sample,
      needs,
      from: own[0]!.from!,
      to: own[own.length - 1]!.to!,
    })),
    thermalConductivity(options: ConductivityOptions = {}, field = name) {
      const sample = chooseSample(name, field, samples, options);
      return conductivity({ ...facts, field }, sample, options);
    },
    heatCapacity: (options = {}, field = name) =>
      heatCapacity(
        {
          name,
          has: (property) => byProperty.has(property),
          constant: (property) => constant(property),
          measured: byProperty.get("heat_capacity") ?? [],
          provenance: (parameter) => provenanceOf(name, parameter, sources),
          superconductor: () => facts.superconductor(),
        },
        options,
        field,
      ),
    electronPhononCoupling(sample): ElectronPhononCoupling {
      const law = one("electron_phonon_coupling", sample);
      const [coefficient, exponent] = [datum(law, "coefficient"), datum(law, "exponent")];
      const range = {
        from: law.from ?? 0,
        to: law.to ?? Number.POSITIVE_INFINITY,
        of: `${name}: electron-phonon coupling${law.sample ? ` (${law.sample})` : ""}`,
        outside: "warn" as const,
      };
      return {
        coefficient: coefficient.value,
        exponent: exponent.value,
        ranges: [range],
        provenance: [coefficient.provenance, exponent.provenance],
      };
    },
    soundSpeeds,
    warmResistivity: (temperature) => warmResistivity(temperature),
    constant,
  };
}

/** Provenance of a law of κ: its parameters, or κ at one temperature for a fit of many coefficients. */
function lawProvenance(name: string, law: Law, curve: Curve, sources: Sources): Provenance[] {
  const rows = [...law.parameters.values()];
  if (rows.length <= 2) return rows.map((parameter) => provenanceOf(name, parameter, sources));
  const [from, to] = [law.from!, law.to!];
  const T =
    from <= 4 && to >= 4 ? 4 : Number(Math.sqrt(Math.max(from, to / 100) * to).toPrecision(2));
  const first = rows[0]!;
  return [
    {
      ...provenanceOf(name, first, sources),
      quantity:
        `${name}: thermal conductivity at ${T} K, ${law.form} for ${from} to ${to} K` +
        (law.sample ? ` (${law.sample})` : ""),
      value: curve.value(T),
      unit: "W/(m K)",
      uncertainty: rows.find((row) => row.uncertainty !== "")?.uncertainty ?? "",
    },
  ];
}
