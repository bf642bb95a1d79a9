/** What must hold for the rows of a material: used by tests/data.test.ts and `npm run check`. */

import type { ConductivityOptions } from "../src/materials/options.js";
import type { Row } from "../src/materials/table.js";
import type { ConductivitySampleInfo, Material } from "../src/materials/types.js";
import { integrate } from "../src/numerics/quadrature.js";

/** A sample of a material with options that it can be asked with. */
export interface Case {
  readonly material: Material;
  readonly sample: ConductivitySampleInfo;
  readonly options: ConductivityOptions;
}

/** Every sample of a material; a metal at three ratios, normal and superconducting. */
export function casesOf(material: Material): Case[] {
  return material.conductivitySamples.flatMap((sample) => {
    const named = sample.sample === "" ? {} : { sample: sample.sample };
    const path = { meanFreePath: "1 mm" } as const;
    const one = (options: ConductivityOptions): Case => ({ material, sample, options });
    if (sample.needs.includes("meanFreePath")) return [one({ ...named, ...path })];
    if (!sample.needs.includes("residualResistivityRatio")) return [one(named)];
    return [10, 100, 1000].flatMap((residualResistivityRatio) => {
      const clean = { ...named, residualResistivityRatio };
      const normal = one({ ...clean, state: "normal" });
      if (!material.properties.has("critical_temperature")) return [normal];
      return [normal, one({ ...clean, ...path }), one(clean)];
    });
  });
}

export const titleOf = ({ material, options }: Case) =>
  `${material.name} ${JSON.stringify(options)}`;

/** Temperatures over a range, evenly in the logarithm. */
function spread(from: number, to: number, count: number): number[] {
  const low = from === 0 ? Math.min(1e-2, to / 100) : from;
  return Array.from({ length: count }, (_, i) => low * (to / low) ** (i / (count - 1)));
}

/** κ is positive over the range of its sample, and its integral is that of κ. */
export function integralFaults({ material, sample, options }: Case): string[] {
  const faults: string[] = [];
  const hold = (holds: boolean, what: string) => {
    if (!holds) faults.push(what);
  };
  const kappa = material.thermalConductivity(options);
  const temperatures = spread(sample.from, sample.to, 25);
  temperatures.forEach((T, i) => {
    const value = kappa.at(Math.min(T, sample.to));
    hold(value > 0 && value < 1e5, `κ = ${value} W/(m K) at ${T} K`);
    const before = temperatures[i - 1];
    if (before === undefined) return;
    const summed = kappa.between(before, Math.min(T, sample.to));
    const inLog = (u: number) => kappa.law.value(Math.exp(u)) * Math.exp(u);
    const exact = integrate(inLog, Math.log(before), Math.log(Math.min(T, sample.to)), 1e-9);
    const holds = Math.abs(summed - exact) <= 1e-7 * exact + 1e-300;
    hold(holds, `∫κ dT = ${summed} W/m from ${before} to ${T} K, by quadrature ${exact}`);
  });
  const { powers, powersUpTo = sample.to } = kappa;
  for (const T of spread(sample.from, powersUpTo, 5)) {
    if (!powers) continue;
    const sum = powers.reduce((s, p) => s + p.coefficient * T ** p.exponent, 0);
    const ratio = kappa.law.integral(Math.min(T, powersUpTo)) / sum;
    hold(Math.abs(ratio - 1) < 5e-10, `∫κ dT is ${ratio} times its powers at ${T} K`);
  }
  return faults;
}

/** κ rises with temperature in supports and dielectrics, and in metals below 4 K. */
export function fallingFaults({ material, sample, options }: Case): string[] {
  const faults: string[] = [];
  const metal = sample.needs.includes("residualResistivityRatio") || material.name === "copper";
  // The phonons of a superconductor have a maximum near T_c/5.
  if (metal && options.meanFreePath !== undefined) return [];
  const kappa = material.thermalConductivity(options);
  let before = 0;
  for (const T of spread(sample.from, metal ? Math.min(4, sample.to) : sample.to, 40)) {
    if (metal && T < sample.from) continue;
    const value = kappa.law.value(Math.min(T, sample.to));
    // The NIST fit of Teflon has a minimum.
    if (!(value >= 0.85 * before)) faults.push(`κ falls from ${before} to ${value} at ${T} K`);
    before = value;
  }
  return faults;
}

/** Largest step of κ where one law hands over to the next; sources differ by more, which a bridge takes up. */
const largestStep = 1.01;

/** κ is one curve: where the pieces of a sample meet, and where a superconductor meets its normal state. */
export function stepsOf(
  { material, sample, options }: Case,
  all: readonly Row[],
): { readonly joins: number; readonly faults: readonly string[] } {
  const rows = all.filter(
    (row) => row.property === "thermal_conductivity" && row.sample === sample.sample,
  );
  const { law } = material.thermalConductivity(options);
  const ends = new Set(rows.map((row) => row.to!));
  if (material.properties.has("critical_temperature")) {
    ends.add(material.constant("critical_temperature").value);
  }
  ends.delete(sample.to);
  const faults = [...ends].flatMap((T) => {
    const step = law.value(T * (1 + 1e-9)) / law.value(T * (1 - 1e-9));
    if (Math.max(step, 1 / step) < largestStep) return [];
    const { place } = rows.find((row) => row.from === T) ?? rows[0]!;
    return [`${place}: κ steps by a factor of ${step} at ${T} K`];
  });
  return { joins: ends.size, faults };
}

/**
 * A law without a mean free path of its own falls no faster than T⁵ below 10 K: whatever electrons do,
 * phonons are left, and between faces they fall as T³. Steeper is the sign of a law that leaves them out.
 */
export function leftOutFaults({ material, sample, options }: Case): string[] {
  if (sample.needs.length > 0) return [];
  const { law } = material.thermalConductivity(options);
  return spread(sample.from, Math.min(10, sample.to), 40).flatMap((T) => {
    const slope = Math.log(law.value(1.001 * T) / law.value(0.999 * T)) / Math.log(1.001 / 0.999);
    return slope <= 5 ? [] : [`${material.name}: κ goes as T^${slope.toFixed(1)} at ${T} K`];
  });
}

/** Places of the laws and constants whose rows all leave a column empty. */
export function leftEmpty(rows: readonly Row[], column: "note" | "uncertainty"): string[] {
  const groups = new Map<string, Row[]>();
  for (const row of rows) {
    const key = JSON.stringify([row.property, row.form, row.from, row.sample]);
    groups.set(key, [...(groups.get(key) ?? []), row]);
  }
  return [...groups.values()].flatMap((group) => {
    const empty = group.every((row) => row[column] === "");
    // Standard atomic weights are certain to all the digits given.
    return empty && group[0]!.property !== "molar_mass" ? [group[0]!.place] : [];
  });
}
