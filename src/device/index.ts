/**
 * What temperature does to a detector: quasiparticles, conductivity and quality factor.
 * @module coldpath/device
 */

// Effect of temperature on a detector
export { type Resonator, type ResonatorOptions, resonator } from "./quality.js";
export { quasiparticleDensity } from "./quasiparticles.js";
export { type ComplexConductivity, conductivityRatio } from "./conductivity.js";
export {
  highestTemperatureForDensity,
  highestTemperatureForQuality,
  type QuasiparticleDensity,
} from "./limit.js";
export {
  type DensityOfStates,
  type Superconductor,
  superconductor,
  type SuperconductorOptions,
} from "./superconductor.js";
