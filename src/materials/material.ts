/**
 * One material of the catalogue, made from its laws.
 * @module
 */
import { warnOutside } from "../conductor.js";
import { toSI } from "../units/quantity.js";
import { chooseSample, conductivity, conductivitySamples } from "./conductivity.js";
import { MaterialFacts } from "./facts.js";
import { heatCapacity } from "./heat-capacity.js";
import type { FactorOf, Law } from "./law.js";
import { conductivityOptions, heatCapacityOptions } from "./options.js";
import type { Conductivity, Material } from "./types.js";

/** Conductivities of a material that are kept: the parts of a mount ask for the same few. */
const mostKnown = 32;

/** The file of a material: what does not depend on the factors on its rows; and the keys of the uncertain ones. */
export type MaterialFile = ReturnType<typeof materialFile>;

export function materialFile(name: string, all: readonly Law[]) {
  const laws = new Map<string, Law[]>();
  for (const law of all) laws.set(law.property, [...(laws.get(law.property) ?? []), law]);
  const samples = conductivitySamples(laws.get("thermal_conductivity") ?? []);
  return {
    name,
    all,
    laws,
    samples,
    keys: all.flatMap(({ keys }) => keys),
    properties: new Map(
      [...laws].map(([property, own]) => [property, [...new Set(own.map((law) => law.sample))]]),
    ),
    conductivitySamples: samples.map(({ sample, needs, laws: own }) => ({
      sample,
      needs,
      from: own[0]!.from!,
      to: own[own.length - 1]!.to!,
    })),
  };
}

/** A material whose uncertain rows are scaled by factors. */
export function makeMaterial(file: MaterialFile, factorOf: FactorOf): Material {
  const { name, laws, samples, properties } = file;
  const facts = new MaterialFacts(name, laws, factorOf);
  const known = new Map<string, Conductivity>();
  return {
    name,
    properties,
    conductivitySamples: file.conductivitySamples,
    thermalConductivity(options = {}, field = name) {
      const plain = conductivityOptions.read(options, field);
      const key = JSON.stringify(plain);
      let made = known.get(key);
      if (!made) {
        made = conductivity(facts, chooseSample(name, field, samples, plain), plain, field);
        if (known.size === mostKnown) known.clear();
        known.set(key, made);
      }
      return made;
    },
    heatCapacity: (options = {}, field = name) =>
      heatCapacity(facts, heatCapacityOptions.read(options, field), field),
    electronPhononCoupling(sample) {
      const law = facts.law("electron_phonon_coupling", sample);
      const coefficient = facts.datum(law, "coefficient");
      const exponent = facts.datum(law, "exponent");
      return {
        coefficient: coefficient.value,
        exponent: exponent.value,
        ranges: [warnOutside(law.label, law.from, law.to)],
        provenance: [coefficient.provenance, exponent.provenance],
      };
    },
    soundSpeeds: (sample) => facts.soundSpeeds(sample),
    warmResistivity(temperature) {
      const field = `${name}.warm`;
      return facts.warmResistivity(toSI(field, temperature, "temperature"), field);
    },
    constant: (property, sample) => facts.constant(property, sample),
  };
}
