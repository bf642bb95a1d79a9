import { conductivityRatio } from "../../src/device/conductivity.js";
import { resonator } from "../../src/device/quality.js";
import { quasiparticleDensity } from "../../src/device/quasiparticles.js";
import { energyGap, overQuasiparticles, superconductor } from "../../src/device/superconductor.js";
import { readCatalogue } from "../../src/materials/catalogue.js";
import { readDataFolder } from "../../src/materials/files.js";
import { bcsGapRatio, boltzmann } from "../../src/units/constants.js";
import { quasiparticleDensityWellBelow } from "../device/well-below.js";
import { checkReference, type Inputs } from "./rows.js";

const catalogue = readCatalogue(readDataFolder());

/** Weak coupling unless the row has another gap, aluminium's density of states, and T_c of 1.2 K unless the row has another. */
const film = (inputs: Inputs) => ({
  criticalTemperature:
    inputs.optional("critical temperature") === undefined
      ? 1.2
      : inputs.quantity("critical temperature", "temperature"),
  gapRatio: inputs.optional("gap ratio") ? inputs.number("gap ratio") : bcsGapRatio,
  densityOfStates: "1.72e10 1/(eV um^3)" as const,
});
const filmOf = (inputs: Inputs) => superconductor(film(inputs), catalogue);

const temperature = (inputs: Inputs) => inputs.quantity("temperature", "temperature");
const conductivity = (inputs: Inputs) =>
  conductivityRatio(filmOf(inputs), inputs.quantity("frequency", "frequency"), temperature(inputs));

const made = (inputs: Inputs) =>
  resonator(
    {
      superconductor: film(inputs),
      frequency: inputs.quantity("frequency", "frequency"),
      kineticInductanceFraction: inputs.number("kinetic inductance"),
    },
    catalogue,
  );

checkReference("device.csv", {
  "gap at zero temperature": (inputs) => {
    const given = inputs.optional("critical temperature");
    const criticalTemperature = given && { criticalTemperature: film(inputs).criticalTemperature };
    const material = inputs.text("material");
    return energyGap(superconductor({ material, ...criticalTemperature }, catalogue), 0);
  },
  "density of states": (inputs) =>
    superconductor(inputs.text("material"), catalogue).densityOfStates!,
  "closed quasiparticle density": (inputs) =>
    quasiparticleDensityWellBelow(filmOf(inputs), temperature(inputs)),
  "quasiparticle density": (inputs) => {
    if (inputs.optional("gap") === undefined) {
      return quasiparticleDensity(filmOf(inputs), temperature(inputs));
    }
    // Computed with a gap that does not fall with temperature, so the integral is taken with that one.
    const gap = energyGap(filmOf(inputs), 0);
    const y = gap / (boltzmann * temperature(inputs));
    return 4 * filmOf(inputs).densityOfStates! * gap * overQuasiparticles(y, (energy) => energy);
  },
  "measured quasiparticle density": (inputs) =>
    quasiparticleDensity(filmOf(inputs), temperature(inputs)),
  "real conductivity": (inputs) => conductivity(inputs).real,
  "imaginary conductivity": (inputs) => conductivity(inputs).imaginary,
  "quality factor": (inputs) => made(inputs).internalQuality(temperature(inputs)),
  "frequency shift": (inputs) => made(inputs).frequencyShift(temperature(inputs)),
});
