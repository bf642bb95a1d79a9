/**
 * Work that is split: samples and sweeps in parts for a cluster, samples solved by workers, and the models
 * that the questions are asked of.
 * @module coldpath/design
 */

// Sweeps and samples in parts, for a cluster
export { type Merged, mergeShards, type Shard, type ShardFile } from "./shard.js";
export { mergeSweep, sweepShard } from "./shard-kinds.js";
export { mergeSamples, sampleShard } from "./shard-kinds.js";
export type { SweptField } from "./sweeping/sweep-result.js";

// Samples solved anywhere
export {
  type QuickDie,
  type RunOptions,
  type SampleChunk,
  type SampleJob,
  type SampleRunner,
  solveHere,
} from "./confidence/samples.js";

// Samples outside of where laws are refused
export type { OutsideOptions } from "./confidence/sampled-ranges.js";

// The first phonons of a hit
export { type BurstPixels, type BurstShare, PhononBurst } from "./events/burst.js";
export type { BurstOptions, PixelFilm } from "./events/burst-options.js";
export { type BurstHit, phononBurst } from "./events/phonon-burst.js";

// Neighbours
export type { InfluencePlace } from "./influence.js";

// Models with uncertain inputs
export type { CorrelatedInputs, CorrelatedPair } from "./confidence/correlated.js";
export type { UncertainModel, UncertainModelInput } from "./confidence/variance-indices.js";
export type { ChipStageLimit, Evaluated, Formulas, Span } from "./confidence/evaluated.js";
export type { MountRecipe } from "./confidence/uncertain-mount.js";
export type { InputLaw } from "./confidence/input-law.js";

// The cheapest choice of several fields
export { type CheapestOptions, cheapest, type FieldChoice } from "./sizing/cheapest.js";
export { Cheapest, type ChosenField, type TradeOff } from "./sizing/cheapest-result.js";
export type { Cost, CostRule, OwnCost } from "./sizing/costs.js";

// Columns that hold no temperature
export type { ThermometryOptions } from "./fitting/thermometry.js";
export type {
  ElectricCurrent,
  Excitation,
  ResistanceThermometer,
  ThermometerScale,
  Voltage,
} from "./fitting/thermometer-scale.js";
export type {
  FrequencyThermometer,
  QualityThermometer,
  ResonatorThermometer,
} from "./fitting/resonator-scale.js";

// Fits
export type { DrawnFit, Fit, FitCurve, FitPoint } from "./fitting/fit.js";
export type { SavedFit } from "./fitting/saved-fit.js";
