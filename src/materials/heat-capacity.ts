/**
 * Heat capacity of a material per volume: electrons, phonons and nuclei, or a measured law.
 * @module
 */
import { type PowerTerm, type TemperatureRange, warnOutside } from "../conductor.js";
import { given, type Provenance } from "../provenance.js";
import { gasConstant } from "../units/constants.js";
import { FieldError } from "../units/errors.js";
import type { Plain } from "../units/fields.js";
import type { MaterialFacts, SuperconductingMetal } from "./facts.js";
import { datumOf, numbersOf, ofSample, timesFactor } from "./law.js";
import { heatCapacityForms, sumOfPowers } from "./laws.js";
import type { HeatCapacityOptions } from "./options.js";
import { join } from "./piecewise.js";
import { electronHeatRatio } from "./superconductor-heat-capacity.js";
import type { HeatCapacity } from "./types.js";

/** Above this share of θ_D the phonons of a crystal depart from the T³ law by about a per cent. */
const cubicUpTo = 1 / 50;

/**
 * C(T) per volume.
 *
 *   C = γT R(T/T_c) + βT³,  β = (12π⁴/5) R_gas/θ_D³ per mole of atoms
 *
 * R is 1 in a normal metal and that of the paired electrons below T_c (electronHeatRatio). A glass or an
 * alloy whose heat capacity was measured as a whole has that law instead.
 * Sources: Debye, Ann. Phys. 344, 789 (1912); Sommerfeld, Z. Phys. 47, 1 (1928).
 * @throws FieldError naming the number that is missing, or the option that is wrong
 */
export function heatCapacity(
  facts: MaterialFacts,
  options: Plain<HeatCapacityOptions>,
  field: string,
): HeatCapacity {
  const { part = "all", sample } = options;
  if (part === "nuclei") return nuclei(facts, field);
  if (facts.has("heat_capacity")) return measured(facts, part, sample, field);
  if (sample !== undefined) {
    throw new FieldError(`${field}.sample`, "none, since it has one heat capacity on file", sample);
  }

  const needed = ["density", "molar_mass"];
  if (part !== "phonons") needed.push("electronic_heat_capacity");
  if (part !== "electrons") needed.push("debye_temperature");
  checkOnFile(facts, field, needed);

  const used: Provenance[] = [];
  const number = (property: string) => {
    const datum = facts.constant(property);
    used.push(datum.provenance);
    return datum.value;
  };
  const molesPerVolume = number("density") / number("molar_mass");
  const ranges: TemperatureRange[] = [];
  const powers: PowerTerm[] = [];

  if (part !== "electrons") {
    const debye = number("debye_temperature");
    const beta = (molesPerVolume * ((12 * Math.PI ** 4) / 5) * gasConstant) / debye ** 3;
    powers.push({ coefficient: beta / 4, exponent: 4 });
    const law = "heat capacity of the phonons as T³, from the Debye temperature near 0 K";
    ranges.push(
      warnOutside(`${facts.name}: ${law}`, 0, Number((cubicUpTo * debye).toPrecision(2))),
    );
  }
  if (part === "phonons") return whole(powers, ranges, used);

  const gamma = molesPerVolume * number("electronic_heat_capacity");
  if (gamma === 0 && part === "electrons") {
    const wanted = `"phonons" or "all", since ${facts.name} is an insulator`;
    throw new FieldError(`${field}.part`, wanted, part);
  }
  const metal = superconducting(facts, options, field, used);
  const normal = { coefficient: gamma / 2, exponent: 2 };
  if (!metal || gamma === 0) {
    return whole(gamma > 0 ? [normal, ...powers] : powers, ranges, used);
  }
  if (part === "electrons") {
    const law =
      `${facts.name}: heat capacity of the electrons; below T_c/4 real samples hold more heat than the ` +
      "theory of pairing gives";
    ranges.push(warnOutside(law, Number((0.25 * metal.criticalTemperature).toPrecision(2))));
  }
  return paired(normal, powers, metal, ranges, used);
}

/** @throws FieldError naming the properties that are not on file */
function checkOnFile(facts: MaterialFacts, field: string, needed: readonly string[]): void {
  const missing = needed.filter((property) => !facts.has(property));
  if (missing.length === 0) return;
  const wanted =
    `a material with a heat capacity on file; ${facts.name} lacks ${missing.join(", ")} ` +
    "(add the rows, or give a heat capacity of your own)";
  throw new FieldError(field, wanted, facts.name);
}

/** A heat capacity that is a sum of powers at all temperatures. */
function whole(
  powers: readonly PowerTerm[],
  ranges: readonly TemperatureRange[],
  provenance: readonly Provenance[],
): HeatCapacity {
  const { value, integral } = sumOfPowers(powers);
  return { value, enthalpy: integral, powers, ranges, provenance };
}

/** The superconducting state, unless the metal is normal or held normal. */
function superconducting(
  facts: MaterialFacts,
  { state, criticalTemperature: own }: Plain<HeatCapacityOptions>,
  field: string,
  used: Provenance[],
) {
  const found = facts.superconductor("heat capacity");
  if (!found && (state === "superconducting" || own !== undefined)) {
    const option = state === "superconducting" ? "state" : "criticalTemperature";
    const wanted = `none, since ${facts.name} has no T_c on file`;
    throw new FieldError(`${field}.${option}`, wanted, state ?? own);
  }
  if (!found || state === "normal") return undefined;
  used.push(
    ...found.provenance.filter(
      ({ quantity }) =>
        !quantity.includes("lattice conductivity") &&
        !(own !== undefined && quantity.includes("critical temperature")),
    ),
  );
  if (own === undefined) return found;
  used.push(given(`${field}: critical temperature`, own, "K"));
  return { ...found, criticalTemperature: own };
}

/** Electrons that pair below T_c beside the phonons. */
function paired(
  normal: PowerTerm,
  phonons: readonly PowerTerm[],
  { criticalTemperature: Tc, gapRatio }: SuperconductingMetal,
  ranges: readonly TemperatureRange[],
  provenance: readonly Provenance[],
): HeatCapacity {
  const gamma = 2 * normal.coefficient;
  const electrons = electronHeatRatio(gapRatio);
  const lattice = sumOfPowers(phonons);
  // From absolute zero up to T_c, so that the enthalpy has no step there.
  const atTc = gamma * Tc * Tc * electrons.integral(1);
  const value = (T: number) =>
    gamma * T * (T <= Tc ? electrons.ratio(T / Tc) : 1) + lattice.value(T);
  const enthalpy = (T: number) =>
    (T <= Tc
      ? gamma * Tc * Tc * electrons.integral(T / Tc)
      : atTc + normal.coefficient * (T * T - Tc * Tc)) + lattice.integral(T);
  if (phonons.length === 0) return { value, enthalpy, ranges, provenance };
  const beta = 4 * phonons[0]!.coefficient;
  return {
    value,
    enthalpy,
    powers: phonons,
    powersUpTo: Tc * frozen((t) => (gamma * electrons.ratio(t)) / (beta * (Tc * t) ** 2)),
    ranges,
    provenance,
  };
}

/** The highest T/T_c, in steps of a thousandth, at which the electrons are a part in 1e12 of the phonons. */
function frozen(share: (t: number) => number): number {
  let t = 0.003;
  while (t < 0.2 && share(t + 0.001) < 1e-12) t += 0.001;
  return t;
}

/** The measured law of the sample that is meant. */
function measured(
  facts: MaterialFacts,
  part: "all" | "electrons" | "phonons",
  sample: string | undefined,
  field: string,
): HeatCapacity {
  if (part !== "all") {
    const wanted = '"all", since its heat capacity was measured as a whole';
    throw new FieldError(`${field}.part`, wanted, part);
  }
  const all = facts.laws.get("heat_capacity")!;
  const samples = [...new Set(all.map((law) => law.sample))].map((name) => ({ sample: name }));
  const chosen = ofSample(field, samples, sample);
  const laws = all.filter((law) => law.sample === chosen.sample);
  checkOnFile(facts, field, ["density"]);
  const density = facts.constant("density");
  laws.sort((a, b) => a.from! - b.from!);
  const { integral, ...law } = join(
    laws.map((each, i) => {
      const { form, from, to } = each;
      const perMass = heatCapacityForms.get(form)!.build(numbersOf(each, facts.factorOf));
      // The lowest piece is extended to absolute zero; `ranges` says from where it is known.
      return { from: i === 0 ? 0 : from!, to: to!, curve: timesFactor(perMass, density.value) };
    }),
  );
  return {
    ...law,
    enthalpy: integral,
    ranges: [warnOutside(laws[0]!.label, laws[0]!.from!, laws[laws.length - 1]!.to!)],
    provenance: [
      density.provenance,
      ...laws.flatMap(({ parameters }) =>
        [...parameters.values()].map((each) => datumOf(each, facts.factorOf).provenance),
      ),
    ],
  };
}

/**
 * Nuclear moments in the field of the crystal, C = a/T² above the temperature of their splitting; the
 * enthalpy is −a/T.
 */
function nuclei(facts: MaterialFacts, field: string): HeatCapacity {
  const needed = ["density", "molar_mass", "nuclear_heat_capacity"];
  checkOnFile(facts, field, needed);
  const [density, molarMass, molar] = needed.map((property) => facts.constant(property));
  const a = (molar!.value * density!.value) / molarMass!.value;
  return {
    value: (T) => a / (T * T),
    enthalpy: (T) => -a / T,
    ranges: [warnOutside(`${facts.name}: heat capacity of the nuclei as 1/T²`, 0.05)],
    provenance: [density!, molarMass!, molar!].map((datum) => datum.provenance),
  };
}
