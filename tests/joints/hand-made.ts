/** A small catalogue made by hand, so that a test of a joint depends on no data file. */
import type { PowerTerm, TemperatureRange } from "../../src/conductor.js";
import type { ConductivityOptions } from "../../src/materials/options.js";
import type {
  Catalogue,
  Conductivity,
  Datum,
  LawRecord,
  Material,
} from "../../src/materials/types.js";
import type { Provenance } from "../../src/provenance.js";
import { UnknownNameError } from "../../src/units/errors.js";

export const provenance = (quantity: string, value: number, unit: string): Provenance => ({
  quantity,
  value,
  unit,
  uncertainty: "",
  source: "made up for a test",
  where: "",
  note: "",
});

const range = (from: number, to: number, of: string): TemperatureRange => ({
  from,
  to,
  of,
  outside: "warn",
});

/** κ = a Tⁿ, as one power up to `upTo`, and as functions everywhere. */
export function powerConductivity(a: number, n: number, upTo?: number): Conductivity {
  const value = (T: number) => a * T ** n;
  const integral = (T: number) => (a * T ** (n + 1)) / (n + 1);
  const powers: PowerTerm[] = [{ coefficient: a / (n + 1), exponent: n + 1 }];
  return {
    at: value,
    between: (cold, hot) => {
      if (hot > 10) throw new RangeError(`made-up: ${hot} K is above 10 K`);
      return integral(hot) - integral(cold);
    },
    law: { value, integral },
    powers,
    ...(upTo !== undefined && { powersUpTo: upTo }),
    ranges: [range(0.01, 10, "made-up conductivity")],
    provenance: [provenance("made-up: conductivity", a, `W/(m K^${n + 1})`)],
  };
}

export function material(
  name: string,
  conductivity: (options: ConductivityOptions) => Conductivity,
  speeds = { longitudinal: 3390, transverse: 1290 },
): Material {
  const constants: Record<string, number> = { density: 2000, mass_stopping_power: 3e-14 };
  const datum = (property: string): Datum => ({
    value: constants[property]!,
    provenance: provenance(`${name}: ${property}`, constants[property]!, ""),
  });
  return {
    name,
    properties: new Map(),
    conductivitySamples: [],
    thermalConductivity: (options = {}) => conductivity(options),
    heatCapacity: () => ({
      value: (T) => T,
      enthalpy: (T) => T ** 2 / 2,
      powers: [{ coefficient: 1 / 2, exponent: 2 }],
      ranges: [range(0.01, 10, "made-up heat capacity")],
      provenance: [provenance(`${name}: heat capacity`, 1, "J/(m^3 K)")],
    }),
    electronPhononCoupling: () => ({
      coefficient: 2e9,
      exponent: 5,
      ranges: [range(0.02, 1, "made-up coupling")],
      provenance: [provenance(`${name}: coupling`, 2e9, "W/(m^3 K^5)")],
    }),
    soundSpeeds: () => ({ ...speeds, provenance: [provenance(`${name}: speeds`, 1, "m/s")] }),
    warmResistivity: () => datum("density"),
    constant: datum,
  };
}

const usual: Record<string, string> = {
  conductance: "W/K",
  reference_force: "N",
  force_from: "N",
  force_to: "N",
  conductance_per_area: "W/(m^2 K)",
  boundary_resistance: "m^2 K^4/W",
  bulk_conductivity: "W/(m K)",
  vertical_intensity: "1/(m^2 s sr)",
  power_per_mass: "W/kg",
};

export function law(
  property: string,
  form: string,
  sample: string,
  numbers: Record<string, number>,
  units: Record<string, string> = {},
): LawRecord {
  const parameters = new Map(
    Object.entries(numbers).map(([name, value]) => [
      name,
      {
        value,
        provenance: provenance(`${property}: ${name}`, value, { ...usual, ...units }[name] ?? ""),
      },
    ]),
  );
  return {
    property,
    form,
    sample,
    parameters,
    range: range(0.1, 1, property),
    provenance: [...parameters.values()].map((each) => each.provenance),
  };
}

/** metal: κ = 2T; crystal: κ = Λ·1e3·T³ with Λ the mean free path asked for. */
export function catalogue(laws: Record<string, readonly LawRecord[]> = {}): Catalogue {
  const materials: Record<string, Material> = {
    metal: material("metal", () => powerConductivity(2, 1)),
    limited: material("limited", () => powerConductivity(2, 1, 0.5)),
    crystal: material(
      "crystal",
      ({ meanFreePath }) => powerConductivity(1e3 * Number(meanFreePath ?? 0), 3),
      { longitudinal: 10890, transverse: 6450 },
    ),
  };
  return {
    materials: Object.keys(materials),
    material(name, field = "material") {
      const found = materials[name];
      if (found) return found;
      throw new UnknownNameError(field, "material", name, Object.keys(materials));
    },
    laws: (folder, kind) => laws[`${folder}/${kind}`] ?? [],
    withMaterial() {
      throw new Error("not needed");
    },
    withLaws() {
      throw new Error("not needed");
    },
    rows: () => [],
    withFactors() {
      throw new Error("not needed");
    },
    watched() {
      throw new Error("not needed");
    },
    origin: {
      files: { sources: "", materials: {}, joints: {}, loads: {} },
      added: [],
      factors: [],
    },
  };
}
