import { heatStore } from "../../src/joints/heat-store.js";
import { temperatureAfter } from "../../src/joints/temperature-after.js";
import { readCatalogue } from "../../src/materials/catalogue.js";
import { readDataFolder } from "../../src/materials/files.js";
import type { HeatCapacityOptions } from "../../src/materials/options.js";
import { electronHeatRatio } from "../../src/materials/superconductor-heat-capacity.js";
import { bcsGapRatio, boltzmann, reducedPlanck } from "../../src/units/constants.js";
import { checkReference, type Inputs } from "./rows.js";

const catalogue = readCatalogue(readDataFolder());
const material = (inputs: Inputs) => catalogue.material(inputs.text("material"));

function heatCapacity(inputs: Inputs, part: HeatCapacityOptions["part"] = "all"): number {
  const state = inputs.optional("state") === "normal" ? ({ state: "normal" } as const) : {};
  const law = material(inputs).heatCapacity({ part, ...state });
  return law.value(inputs.quantity("temperature", "temperature"));
}

/** m³ of a mole of atoms. */
function molarVolume(inputs: Inputs): number {
  return material(inputs).constant("molar_mass").value / material(inputs).constant("density").value;
}

/** β of the Debye solid with these speeds: C/T³ = (2π² k_B⁴/(5 ħ³)) · (1/3)(1/v_L³ + 2/v_T³). */
function latticeFromSound(inputs: Inputs): number {
  const speeds = material(inputs).soundSpeeds();
  const given = inputs.optional("longitudinal") !== undefined;
  const longitudinal = given ? inputs.quantity("longitudinal", "speed") : speeds.longitudinal;
  const transverse = given ? inputs.quantity("transverse", "speed") : speeds.transverse;
  const slowness = (1 / longitudinal ** 3 + 2 / transverse ** 3) / 3;
  const perVolume = ((2 * Math.PI ** 2 * boltzmann ** 4) / (5 * reducedPlanck ** 3)) * slowness;
  return perVolume * molarVolume(inputs);
}

const electrons = electronHeatRatio(bcsGapRatio);

checkReference("heat-capacity.csv", {
  "lattice term": (inputs) =>
    material(inputs).heatCapacity({ part: "phonons" }).value(1) * molarVolume(inputs),
  "lattice term from sound": latticeFromSound,
  "heat capacity": (inputs) => heatCapacity(inputs),
  "specific heat": (inputs) => heatCapacity(inputs) / material(inputs).constant("density").value,
  "nuclear heat capacity": (inputs) => heatCapacity(inputs, "nuclei") * molarVolume(inputs),
  "paired electrons": (inputs) => inputs.number("t") * electrons.ratio(inputs.number("t")),
  "condensation energy": () => electrons.integral(1) - 1 / 2,
  pulse(inputs) {
    const die = heatStore(
      { material: "silicon", area: "400 mm^2", thickness: "0.5 mm" },
      catalogue,
    );
    const start = inputs.quantity("start", "temperature");
    return temperatureAfter(die, start, inputs.quantity("energy", "energy")) - start;
  },
});
