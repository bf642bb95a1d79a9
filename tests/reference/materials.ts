/** How the quantities of materials.csv are computed from the inputs of a row. */

import type { ConductivityOptions } from "../../src/materials/options.js";
import { phononConductivity } from "../../src/materials/phonons.js";
import { electronRatio, gap, gapOverTemperature } from "../../src/materials/superconductor.js";
import type { Catalogue, Conductivity, Material } from "../../src/materials/types.js";
import { bcsGapRatio, lorenz } from "../../src/units/constants.js";
import { unitFactor } from "../../src/units/quantity.js";
import type { Inputs } from "./read-rows.js";

function conductivity(material: Material, inputs: Inputs): Conductivity {
  const [sample, ratio, path] = ["sample", "rrr", "meanFreePath"].map(inputs.optional);
  const options: ConductivityOptions = {
    ...(sample !== undefined && { sample }),
    ...(ratio !== undefined && { residualResistivityRatio: Number(ratio) }),
    ...(path !== undefined && { meanFreePath: inputs.quantity("meanFreePath", "length") }),
  };
  return material.thermalConductivity(options);
}

/** A resistivity such as `15.4 nohm m` in Ω m. */
function resistivity(text: string): number {
  const [, value, unit] = /^(\S+) (.+)$/.exec(text)!;
  return Number(value) * unitFactor(unit!, "ohm m")!;
}

/** κ of the normal metal whose residual resistivity is stated, or its ratio by a source's definition. */
function normalConductivity(metal: Material, inputs: Inputs): number {
  const stated = inputs.optional("residual");
  const residual =
    stated !== undefined
      ? resistivity(stated)
      : resistivity(inputs.text("reference")) / (inputs.number("rrr minus one") - 1);
  const ratio = 1 + metal.warmResistivity("295 K").value / residual;
  const options: ConductivityOptions = { residualResistivityRatio: ratio, state: "normal" };
  return metal.thermalConductivity(options).at(inputs.quantity("temperature", "temperature"));
}

/** By quantity; each in SI. */
export function materialComputations(
  catalogue: Catalogue,
): Readonly<Record<string, (inputs: Inputs) => number>> {
  const material = (inputs: Inputs) => catalogue.material(inputs.text("material"));
  return {
    "Lorenz number": () => lorenz,
    "gap at zero temperature": () => bcsGapRatio,
    "normal conductivity": (inputs) => normalConductivity(material(inputs), inputs),
    conductivity: (inputs) =>
      conductivity(material(inputs), inputs).at(inputs.quantity("temperature", "temperature")),
    "heat between": (inputs) =>
      conductivity(material(inputs), inputs).between(
        inputs.quantity("cold", "temperature"),
        inputs.quantity("hot", "temperature"),
      ),
    resistivity: (inputs) =>
      material(inputs).warmResistivity(inputs.quantity("temperature", "temperature")).value,
    gap: (inputs) => gap(inputs.number("t")),
    "gap over temperature": (inputs) => gapOverTemperature(inputs.number("t")),
    "electron conductivity ratio": (inputs) =>
      electronRatio(gapOverTemperature(inputs.number("t"))),
    "phonon conductivity": (inputs) =>
      phononConductivity({
        longitudinal: inputs.quantity("longitudinal", "speed"),
        transverse: inputs.quantity("transverse", "speed"),
      }) *
      inputs.quantity("meanFreePath", "length") *
      inputs.quantity("temperature", "temperature") ** 3,
    "conductivity over electrons": (inputs) =>
      (conductivity(material(inputs), inputs).at(inputs.quantity("temperature", "temperature")) -
        inputs.number("lattice")) /
      ((lorenz * inputs.quantity("temperature", "temperature")) /
        resistivity(inputs.text("resistivity"))),
    constant: (inputs) => material(inputs).constant(inputs.text("property")).value,
  };
}
