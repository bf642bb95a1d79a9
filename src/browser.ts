/**
 * What runs anywhere, in Node and in a web page: from a mount to its budget, and the questions asked of it.
 * The pipeline is mount → network → solution → budget; sizing and sweeps are loops around it.
 * @module coldpath/browser
 */

// A mount and its budget
export type { Back } from "./mount/things/back.js";
export type { Bonds } from "./mount/things/bonds.js";
export type { Box } from "./mount/things/box.js";
export type { Clamp } from "./mount/things/clamps.js";
export type { ConductionLoad } from "./mount/things/conduction.js";
export type { CoolingStage } from "./mount/things/stage.js";
export type { Die } from "./mount/things/die.js";
export type { Film, Plating } from "./mount/things/film.js";
export type { Glue } from "./mount/things/glue.js";
export type { Ledge } from "./mount/things/ledge.js";
export type { Limit } from "./mount/things/limit.js";
export type { Correlation } from "./mount/things/correlations.js";
export type { LoadMap } from "./loads/load-map.js";
export type { MountLoad } from "./mount/things/load.js";
export type { Place } from "./mount/things/spots.js";
export type { Mount, PlainMount } from "./mount/mount.js";
export type { Pads } from "./mount/things/pads.js";
export type { Ring } from "./mount/things/ring.js";
export type { Side } from "./mount/things/edges.js";
export type { StageJoint } from "./mount/things/joint.js";
export type { UncertainPurity } from "./materials/options.js";
export {
  Budget,
  type BudgetDetector,
  type BudgetElement,
  type BudgetPlace,
  type BudgetSource,
  type BudgetStage,
} from "./mount/budget-result.js";
export { type BudgetOptions, thermalBudget } from "./mount/budget.js";
export { readMount } from "./mount/read.js";

// Questions asked of a mount
export { type Alternative, Sizing } from "./design/sizing/sizing.js";
export {
  type MarginCase,
  type PessimisticCase,
  pessimisticCase,
  recommend,
  type SizeOptions,
  sizeBonds,
} from "./design/confidence/margin.js";
export { Recommendation } from "./design/confidence/recommendation.js";
export {
  type Placement,
  type PlacementChoices,
  Placements,
  placeBonds,
} from "./design/sizing/placement.js";
export { Comparison, compareMounts } from "./design/sizing/comparison.js";
export type { Axis } from "./design/sweeping/axis.js";
export { sweep } from "./design/sweeping/sweep.js";
export { Sweep } from "./design/sweeping/sweep-result.js";
export { type DieSpot, Influence, influence } from "./design/influence.js";
export {
  type Effect,
  Sensitivity,
  type SensitivityOptions,
  sensitivity,
} from "./design/confidence/sensitivity.js";
export {
  type MountVarianceOptions,
  type VarianceIndex,
  VarianceIndices,
  type VarianceOptions,
  varianceIndices,
} from "./design/confidence/variance-indices.js";
export { type Accuracy, type Measurement, Measurements } from "./design/confidence/measurements.js";
export {
  type MeasurementOptions,
  type MountMeasurementOptions,
  measurementValues,
  narrowed,
} from "./design/confidence/measurement.js";
export { type CountOptions, countNeeded } from "./design/confidence/count-needed.js";
export {
  type Readings,
  readThermometry,
  type SharedError,
  type Thermometry,
} from "./design/fitting/thermometry.js";
export { calibrate } from "./design/fitting/calibrate.js";
export type {
  CalibrationOptions,
  InputChoice,
  ReadingErrors,
} from "./design/fitting/fit-inputs.js";
export type { ThermometerPlace } from "./design/fitting/fit-inputs.js";
export { type FittedError, MountFit } from "./design/fitting/calibrate.js";
export { type ConductorFitOptions, fitConductor } from "./design/fitting/fit-conductor.js";
export { ConductorFit } from "./design/fitting/conductor-fit.js";
export type { FittedParameter } from "./design/fitting/fit.js";
export { UndeterminedError } from "./design/fitting/undetermined.js";
export { withMeasured } from "./design/fitting/saved-fit.js";
export { FitError } from "./numerics/jacobian.js";
export { type FieldValue, type MountField, type OneFieldValue, withField } from "./design/field.js";
export type { UncertainInput } from "./design/confidence/uncertain-inputs.js";
export {
  type UncertainMount,
  uncertainMount,
  type UncertainMountOptions,
  type UncertainRows,
} from "./design/confidence/uncertain-mount.js";
export { Confidence, type Estimate } from "./design/confidence/confidence.js";
export {
  type ConfidenceOptions,
  confidence,
  sizeWithConfidence,
} from "./design/confidence/uncertainty.js";
export { ConfidentSizing } from "./design/confidence/confident-sizing.js";

// A mount in time
export { type TimeCourseOptions, timeCourse } from "./mount/follow.js";
export { type PlaceTime, TimeCourse } from "./mount/time-course.js";
export type { GivenHit, LoadChange, StageChange } from "./mount/changes.js";
export { heatPulse, type PlacePulse, Pulse, type PulseOptions } from "./design/events/pulse.js";
export { HitSimulation, type RecordedHit } from "./design/events/hit-simulation.js";
export { type HitSimulationOptions, simulateHits } from "./design/events/hits.js";

// Drawings and figures
export { hitsFigure } from "./plots/figures/hits.js";
export { decayFigure } from "./plots/figures/decay.js";
export { hotSpotFigure } from "./plots/figures/hot-spot.js";
export { timeFigure } from "./plots/figures/time-course.js";
export { type Drawing, mountDrawing } from "./plots/drawing/drawing.js";
export type { Figure } from "./plots/figure.js";
export { dropsFigure } from "./plots/figures/drops.js";
export { tornadoFigure } from "./plots/figures/tornado.js";
export { sharesFigure } from "./plots/figures/shares.js";
export { curvesFigure } from "./plots/figures/curves.js";
export { mapFigure } from "./plots/figures/map.js";
export { dieCutFigure, dieMapFigure } from "./plots/figures/die-map.js";
export { casesFigure } from "./plots/figures/cases.js";
export { heatFlowDrawing } from "./plots/drawing/heat-flow.js";
export { temperatureDrawing } from "./plots/drawing/temperature.js";
export { mountsFigure } from "./plots/figures/mounts.js";
export { loadsFigure } from "./plots/figures/loads.js";
export { influenceFigure } from "./plots/figures/influence.js";
export { spreadFigure } from "./plots/figures/spread.js";
export { qualityFigure } from "./plots/figures/quality.js";
export { fitFigure } from "./plots/figures/calibration.js";

// Catalogue
export type { Catalogue, CatalogueChoice, CatalogueFiles, Material } from "./materials/types.js";
export { standardCatalogue } from "./materials/standard.js";
export { readCatalogue } from "./materials/catalogue.js";
export { readPixels } from "./materials/number-table.js";

// Quantities and errors
export {
  type Angle,
  type Area,
  type Conductance,
  dBm,
  type Dimension,
  type Energy,
  type Force,
  type Frequency,
  type Length,
  type Power,
  type Quantity,
  type Resistance,
  type Speed,
  type Temperature,
  type Time,
  toSI,
} from "./units/quantity.js";
export { measured, type Spread, spread, type Uncertain } from "./units/spread.js";
export type { RareQuantity } from "./units/quantity.js";
export { formatNumber, formatQuantity, formatShare } from "./units/format.js";
export { FieldError, UnknownNameError } from "./units/errors.js";
export type { Provenance } from "./provenance.js";
