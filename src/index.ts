/**
 * coldpath: how heat leaves a superconducting detector chip.
 * The road is mount → network → solution → budget; sizing and sweeps are loops around it.
 * @module
 */
import { supplySampleRunner } from "./design/confidence/samples.js";
import { readDataFolder } from "./materials/files.js";
import { supplyStandardCatalogue } from "./materials/standard.js";
import { solveOnAllProcessors } from "./notebook/run/pool.js";

supplyStandardCatalogue(readDataFolder);
supplySampleRunner(solveOnAllProcessors);

// A mount and its budget
export type {
  Back,
  BackgroundLoad,
  Bonds,
  Box,
  Clamp,
  ConductionLoad,
  CoolingStage,
  Die,
  Film,
  GivenLoad,
  Glue,
  InfraredLoad,
  LampLoad,
  Ledge,
  Limit,
  LoadMap,
  MillimetreLoad,
  Mount,
  MountLoad,
  MuonLoad,
  OpticalLoad,
  Pads,
  Place,
  Plating,
  RadiationLoad,
  ReadoutLoad,
  Ring,
  Side,
  SkyLoad,
  StageJoint,
  UncertainPurity,
  WiringLoad,
} from "./mount/description.js";
export {
  Budget,
  type BudgetDetector,
  type BudgetElement,
  type BudgetOptions,
  type BudgetPlace,
  type BudgetSource,
  type BudgetStage,
  thermalBudget,
} from "./mount/budget.js";
export { type PlainMount, readMount } from "./mount/read.js";
export { type MountParticles, particleSources } from "./mount/particle-sources.js";
export { type MountSpread, spreadsOf } from "./mount/spreads.js";
export { type Settled, settle } from "./mount/settle.js";
export {
  type MountHeat,
  type Reading,
  type Structure,
  translate,
  type Translation,
} from "./mount/translate.js";
export type { Part } from "./mount/part.js";
export type { PowerSource, WarmSource } from "./mount/heat-sources.js";
export type { StageModel } from "./mount/stage.js";
export type { ContactGroup } from "./mount/layout.js";
export { SheetStore } from "./mount/sheet-model.js";

// Questions asked of a mount
export { type Alternative, Sizing, sizeBonds } from "./design/sizing/size.js";
export {
  type Placement,
  type PlacementChoices,
  Placements,
  placeBonds,
} from "./design/sizing/placement.js";
export { Comparison, compareMounts } from "./design/sizing/compare.js";
export { type Axis, Sweep, sweep } from "./design/sweeping/sweep.js";
export { mergeSamples, sampleShard } from "./design/confidence/sample-shards.js";
export { mergeSweep, sweepShard } from "./design/sweeping/sweep-shards.js";
export { type Merged, mergeShards, type Shard, type ShardFile } from "./design/shard.js";
export {
  type Effect,
  Sensitivity,
  type SensitivityOptions,
  sensitivity,
} from "./design/confidence/sensitivity.js";
export type { ChipStageLimit } from "./design/confidence/slopes.js";
export {
  type MountVarianceOptions,
  type UncertainModel,
  type UncertainModelInput,
  type VarianceIndex,
  VarianceIndices,
  type VarianceOptions,
  varianceIndices,
} from "./design/confidence/variance-indices.js";
export {
  type Accuracy,
  type Measurement,
  type MeasurementOptions,
  Measurements,
  type MountMeasurementOptions,
  measurementValues,
  narrowed,
} from "./design/confidence/measurement.js";
export { type CountOptions, countNeeded } from "./design/confidence/count-needed.js";
export { type Readings, readThermometry, type Thermometry } from "./design/fitting/thermometry.js";
export { calibrate } from "./design/fitting/calibrate.js";
export type { CalibrationOptions, InputChoice, SharedError } from "./design/fitting/fit-inputs.js";
export type { ThermometerPlace } from "./design/fitting/fitted-model.js";
export { type FittedError, MountFit } from "./design/fitting/mount-fit.js";
export { type ConductorFitOptions, fitConductor } from "./design/fitting/fit-conductor.js";
export { ConductorFit } from "./design/fitting/conductor-fit.js";
export {
  type DrawnFit,
  type FitCurve,
  type FitPoint,
  type FittedParameter,
  UndeterminedError,
} from "./design/fitting/fit.js";
export { withMeasured } from "./design/fitting/saved-fit.js";
export { FitError } from "./numerics/jacobian.js";
export { type FieldValue, type MountField, type OneFieldValue, withField } from "./design/field.js";
export type { UncertainInput } from "./design/confidence/uncertain-inputs.js";
export {
  type Evaluated,
  type MountRecipe,
  type UncertainMount,
  uncertainMount,
  type UncertainMountOptions,
  type UncertainRows,
} from "./design/confidence/uncertain-mount.js";
export {
  Confidence,
  type ConfidenceOptions,
  ConfidentSizing,
  confidence,
  type Estimate,
  sizeWithConfidence,
} from "./design/confidence/uncertainty.js";
export {
  type RunOptions,
  type SampleChunk,
  type SampleJob,
  type SampleRunner,
  solveHere,
  supplySampleRunner,
} from "./design/confidence/samples.js";

// A mount in time
export { type TimeCourseOptions, timeCourse } from "./mount/follow.js";
export { type PlaceTime, type Stretch, TimeCourse } from "./mount/time-course.js";
export type { GivenHit, LoadChange, StageChange } from "./mount/changes.js";
export { heatPulse, type PlacePulse, Pulse, type PulseOptions } from "./design/events/pulse.js";
export {
  HitRecord,
  type HitRecordOptions,
  hitRecord,
  type RecordedHit,
} from "./design/events/hits.js";

// Drawings and figures
export { hitsFigure, type NamedRecord } from "./plots/figures/hits.js";
export { type DecayFigureOptions, decayFigure } from "./plots/figures/decay.js";
export { hotSpotFigure } from "./plots/figures/hot-spot.js";
export { timeFigure, type TimeFigureOptions } from "./plots/figures/time-course.js";
export { type Drawing, type DrawingOptions, mountDrawing } from "./plots/drawing/drawing.js";
export type { Figure } from "./plots/figure.js";
export type { AxisScale } from "./plots/style.js";
export { figureCsv } from "./plots/picture/figure-csv.js";
export { figurePicture, type PictureOptions } from "./plots/picture/picture.js";
export { dropsFigure } from "./plots/figures/drops.js";
export { type TornadoOptions, tornadoFigure } from "./plots/figures/tornado.js";
export { type SharesOptions, sharesFigure } from "./plots/figures/shares.js";
export { type CurveOptions, curvesFigure } from "./plots/figures/curves.js";
export { type MapOptions, mapFigure } from "./plots/figures/map.js";
export { dieCutFigure, dieMapFigure } from "./plots/figures/die-map.js";
export { mountsFigure } from "./plots/figures/mounts.js";
export { loadsFigure } from "./plots/figures/loads.js";
export { type SpreadOptions, chanceFigure, spreadFigure } from "./plots/figures/spread.js";
export { qualityFigure } from "./plots/figures/quality.js";
export { type FitOptions, fitFigure, residualsFigure } from "./plots/figures/calibration.js";

// In a notebook
export { Panel, panel } from "./notebook/panel/panel.js";
export type { Control, ReadControl } from "./notebook/panel/controls.js";
export { answer, type Presentable, show } from "./notebook/show.js";
export type { MimeBundle } from "./notebook/run/notebook.js";
export type { PlotlyFigure } from "./notebook/page/figurehtml.js";
export { type Progress, progressBar } from "./notebook/run/progress.js";

// Heat paths
export {
  type Backing,
  type Body,
  type Conductor,
  heatFlow,
  type HeatStore,
  type Load,
  type PowerTerm,
  powerConductor,
  scaled,
  type TemperatureRange,
} from "./conductor.js";
export { type Boundary, boundary, diffuseMismatch } from "./joints/boundary.js";
export {
  type ElectronPhonon,
  electronPhonon,
  type GivenCoupling,
} from "./joints/electron-phonon.js";
export { type WireBond, wireBond } from "./joints/wire-bond.js";
export { type PadFilm, padFilm } from "./joints/pad-film.js";
export { type PressedJoint, pressedJoint } from "./joints/pressed-joint.js";
export { type Glue as GlueLayer, glue } from "./joints/glue.js";
export { type Strip, strip } from "./joints/strip.js";
export {
  type Constriction,
  constriction,
  type RadialSpreading,
  radialSpreading,
  type Sheet as EvenlyHeatedSheet,
  sheetToEdges,
} from "./joints/spreading.js";
export { type GivenJoint, givenJoint } from "./joints/given.js";
export { parallel, series, times } from "./joints/combine.js";

// Heat stores
export {
  type GivenHeatStore,
  givenHeatStore,
  type HeatCapacityValue,
  heatStore,
  type HeatStoreOptions,
  storesTogether,
  type Volume,
} from "./joints/heat-store.js";
export { temperatureAfter } from "./joints/temperature-after.js";

// The die as a sheet
export { Sheet, type SheetOptions } from "./chip/sheet.js";
export {
  type NetworkSolution,
  ReducedSheet,
  type SeenPlace,
  type SheetBody,
} from "./chip/reduced-sheet.js";
export { type CheckedContact, type Contact, tiles, withoutHole } from "./chip/contact.js";
export {
  faceFilm,
  type FilmLink,
  type FilmPatch,
  type FilmPatches,
  ringFilm,
  type RingOptions,
} from "./chip/film.js";
export type { MapShare, PowerMap } from "./chip/power-map.js";
export { type Cut, SheetField, type Spot } from "./chip/field.js";
export { type CellRange, Grid, type Rectangle } from "./chip/grid.js";

// Heat sources
export { type HeatLoad, type LightLoad, type LightPart, totalPower } from "./loads/heat-load.js";
export {
  type Coupling,
  dissipatedFraction,
  type FixedFraction,
  type FixedQuality,
  type Readout,
  readout,
  readoutLaw,
  type ReadoutLaw,
  type WarmingReadout,
} from "./loads/readout.js";
export { attenuatorHeat, type ReadoutTones, type Tone } from "./loads/tones.js";
export { type SteadyState, type SteadyStates, steadyStates } from "./loads/steady-states.js";
export { type Optical, optical } from "./loads/optical.js";
export { type NightSky, nightSky, type Star, starPhotons } from "./loads/night-sky.js";
export {
  type BandChoice,
  type Night,
  type PhotometricBand,
  photometricBand,
  skyBrightness,
} from "./loads/photometry.js";
export {
  type Atmosphere,
  type BlackSource,
  type ChainElement,
  type Millimetre,
  millimetre,
} from "./loads/millimetre.js";
export type { ModeLaw } from "./loads/mode-band.js";
export {
  type Filter,
  type Opening,
  type Radiation,
  radiation,
  type RadiationHeat,
} from "./loads/radiation.js";
export type { Curve, Transmission, TransmissionCurve } from "./loads/curve.js";
export { type Lamp, lamp } from "./loads/lamp.js";
export { greyBodyPower, type Infrared, infrared } from "./loads/infrared.js";
export {
  bandFraction,
  exitance,
  photonExitance,
  photonFraction,
  planckPhotonRate,
  planckPower,
  rayleighJeansCorrection,
  rayleighJeansPower,
} from "./loads/planck.js";
export { type MuonHits, type Muons, muonHits, muons } from "./loads/muons.js";
export {
  type Background,
  type BackgroundHits,
  background,
  backgroundHits,
} from "./loads/background.js";
export { stoppingPower, type StoppingPower } from "./loads/stopping-power.js";
export { type Layer, mostProbableLoss } from "./loads/energy-loss.js";
export type { EnergyLine, EnergySpectrum } from "./loads/energy-spectrum.js";
export { type HitChoice, particleHits } from "./loads/particle-events.js";
export type { Hit, HitPlace, ParticleSource, TimedHit } from "./loads/particle-source.js";
export type { Random } from "./numerics/random.js";
export { type Conduction, conduction } from "./loads/conduction.js";
export {
  coax,
  type Coax,
  type LineMaterial,
  type Member,
  type Sink,
  type SunkHeat,
  type SunkWiring,
  type Wiring,
  wiring,
} from "./loads/wiring.js";
export { type GivenLoad as GivenPower, givenLoad } from "./loads/given.js";
export { loadMarkdown, loadText } from "./loads/load-table.js";

// Stages
export { type Cooling, type CoolingCurve, coolingCurve } from "./loads/stage.js";
export { type Circulation, type Dilution, dilution } from "./loads/dilution.js";
export {
  demagnetisation,
  type Demagnetisation,
  type DemagnetisedSalt,
} from "./loads/demagnetisation.js";

// What temperature does to a detector
export { type Resonator, type ResonatorOptions, resonator } from "./device/quality.js";
export { quasiparticleDensity } from "./device/quasiparticles.js";
export { type ComplexConductivity, conductivityRatio } from "./device/conductivity.js";
export {
  highestTemperatureForDensity,
  highestTemperatureForQuality,
  type QuasiparticleDensity,
} from "./device/limit.js";
export {
  type DensityOfStates,
  type Superconductor,
  superconductor,
  type SuperconductorOptions,
} from "./device/superconductor.js";

// Thermal networks
export type {
  LinkDescription,
  NetworkDescription,
  NodeDescription,
} from "./network/description.js";
export type { BodyDescription } from "./network/terminals.js";
export { solveSteady, SteadyNetwork, type SteadyOptions } from "./network/steady.js";
export { AdjointNetwork, type Gradient, temperatureGradient } from "./network/adjoint.js";
export { type BodyFlow, type Flow, SolveError, type SteadySolution } from "./network/solution.js";
export { runInTime, TransientNetwork } from "./network/transient.js";
export type {
  Pulse as NetworkPulse,
  Threshold,
  TimedLoad,
  TimedTemperature,
  TransientOptions,
} from "./network/timeline.js";
export { type EigenTime, type EigenTimesOptions, eigenTimes } from "./network/eigen-times.js";
export {
  type Crossing,
  type EnergyBalance,
  TransientError,
  type TransientSolution,
} from "./network/trajectory.js";

// Materials
export type {
  Catalogue,
  CatalogueChoice,
  CatalogueFiles,
  CatalogueOrigin,
  Conductivity,
  ConductivityOptions,
  ConductivitySampleInfo,
  Datum,
  ElectronPhononCoupling,
  HeatCapacity,
  HeatCapacityOptions,
  LawRecord,
  Material,
  ResidualResistivityRatio,
  SoundSpeeds,
} from "./materials/types.js";
export { standardCatalogue, supplyStandardCatalogue } from "./materials/standard.js";
export { catalogueFrom, readCatalogue } from "./materials/catalogue.js";
export type { VariedRow } from "./materials/varied.js";
export { readDataFolder } from "./materials/files.js";
export { readPixels } from "./materials/number-grid.js";
export {
  plateMeanFreePath,
  type PlateShape,
  rodMeanFreePath,
  type RodShape,
} from "./materials/phonons.js";
export {
  electronRatio,
  gap,
  type SuperconductorState,
  type WeightedRatio,
} from "./materials/superconductor.js";
export { electronHeatRatio } from "./materials/superconductor-heat-capacity.js";

// Quantities, constants, errors
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
export {
  type Distribution,
  type IntervalSpread,
  isSpread,
  measured,
  type MeasuredSpread,
  type Spread,
  spread,
  type SpreadKind,
  type Uncertain,
} from "./units/spread.js";
export type { RareQuantity } from "./units/rare-quantity.js";
export { formatNumber, formatQuantity, formatShare } from "./units/format.js";
export { FieldError, UnknownNameError } from "./units/errors.js";
export { given, type Provenance } from "./provenance.js";
export {
  avogadro,
  bcsGapRatio,
  boltzmann,
  elementaryCharge,
  lorenz,
  planck,
  reducedPlanck,
  speedOfLight,
  stefanBoltzmann,
} from "./units/constants.js";
