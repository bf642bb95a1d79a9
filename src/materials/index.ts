/**
 * Materials: the data of the catalogue, and the physics of phonons and superconductors behind it.
 * @module coldpath/materials
 */

// Data of the catalogue
export type {
  CatalogueOrigin,
  Conductivity,
  ConductivitySampleInfo,
  Datum,
  ElectronPhononCoupling,
  HeatCapacity,
  LawRecord,
  SoundSpeeds,
  VariedRow,
} from "./types.js";
export type { ConductivityOptions, HeatCapacityOptions, PurityFrom } from "./options.js";
export { catalogueFrom } from "./catalogue.js";

// Phonons and superconductors
export {
  dominantWavelength,
  plateMeanFreePath,
  type PlateShape,
  rodMeanFreePath,
  type RodShape,
} from "./phonons.js";
export {
  electronRatio,
  gap,
  type SuperconductorState,
  type WeightedRatio,
} from "./superconductor.js";
export { electronHeatRatio } from "./superconductor-heat-capacity.js";
