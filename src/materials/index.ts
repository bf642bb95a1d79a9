/**
 * Materials: the data of the catalogue, and the physics of phonons and superconductors behind it.
 * @module coldpath/materials
 */

// Data of the catalogue
export type {
  CatalogueOrigin,
  Conductivity,
  ConductivityOptions,
  ConductivitySampleInfo,
  Datum,
  ElectronPhononCoupling,
  HeatCapacity,
  HeatCapacityOptions,
  LawRecord,
  ResidualResistivityRatio,
  SoundSpeeds,
} from "./types.js";
export { catalogueFrom } from "./catalogue.js";
export type { VariedRow } from "./types.js";

// Phonons and superconductors
export { plateMeanFreePath, type PlateShape, rodMeanFreePath, type RodShape } from "./phonons.js";
export {
  electronRatio,
  gap,
  type SuperconductorState,
  type WeightedRatio,
} from "./superconductor.js";
export { electronHeatRatio } from "./superconductor-heat-capacity.js";
