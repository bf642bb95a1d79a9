/**
 * coldpath: how heat leaves a superconducting detector chip.
 * The road is mount → network → solution → budget; sizing and sweeps are loops around it.
 * @module
 */
import { readDataFolder } from "./materials/files.js";
import { supplyStandardCatalogue } from "./materials/standard.js";

supplyStandardCatalogue(readDataFolder);

// The die as a sheet
export { type Contact, tiles, withoutHole } from "./chip/contact.js";
export { type Cut, SheetField, type Spot } from "./chip/field.js";
export {
  type FilmLink,
  type FilmPatch,
  faceFilm,
  type RingOptions,
  ringFilm,
} from "./chip/film.js";
export { Grid, type Rectangle } from "./chip/grid.js";
export type { PowerMap } from "./chip/power-map.js";
export { ReducedSheet, Sheet, type SheetBody, type SheetOptions } from "./chip/sheet.js";

// Heat paths
export {
  type Backing,
  type Body,
  type Conductor,
  type HeatStore,
  heatFlow,
  type Load,
  type PowerTerm,
  powerConductor,
  scaled,
  type TemperatureRange,
} from "./conductor.js";
// Questions asked of a mount
export { Comparison, compareMounts } from "./design/compare.js";
export { type FieldValue, type MountField, withField } from "./design/field.js";
export {
  type Placement,
  type PlacementChoices,
  Placements,
  placeBonds,
} from "./design/placement.js";
export { type Alternative, Sizing, sizeBonds } from "./design/size.js";
export { type Axis, Sweep, sweep } from "./design/sweep.js";
// What temperature does to a detector
export { conductivityRatio } from "./device/conductivity.js";
export { highestTemperatureForDensity, highestTemperatureForQuality } from "./device/limit.js";
export { type Resonator, type ResonatorOptions, resonator } from "./device/quality.js";
export { quasiparticleDensity } from "./device/quasiparticles.js";
export {
  type Superconductor,
  type SuperconductorOptions,
  superconductor,
} from "./device/superconductor.js";
export { type Boundary, boundary, diffuseMismatch } from "./joints/boundary.js";
export { parallel, series, times } from "./joints/combine.js";
export { type ElectronPhonon, electronPhonon } from "./joints/electron-phonon.js";
export { type GivenJoint, givenJoint } from "./joints/given.js";
export { type Glue as GlueLayer, glue } from "./joints/glue.js";
export { type PadFilm, padFilm } from "./joints/pad-film.js";
export { type PressedJoint, pressedJoint } from "./joints/pressed-joint.js";
export {
  type Constriction,
  constriction,
  type RadialSpreading,
  radialSpreading,
  type Sheet as EvenlyHeatedSheet,
  sheetToEdges,
} from "./joints/spreading.js";
export { type Strip, strip } from "./joints/strip.js";
export { type WireBond, wireBond } from "./joints/wire-bond.js";
// Heat sources
export { type Conduction, conduction } from "./loads/conduction.js";
export type { Transmission, TransmissionCurve } from "./loads/curve.js";
// Stages
export { type DemagnetisedSalt, demagnetisation } from "./loads/demagnetisation.js";
export { type Dilution, dilution } from "./loads/dilution.js";
export { type GivenLoad as GivenPower, givenLoad } from "./loads/given.js";
export { type HeatLoad, type LightLoad, type LightPart, totalPower } from "./loads/heat-load.js";
export { greyBodyPower, type Infrared, infrared } from "./loads/infrared.js";
export { type Lamp, lamp } from "./loads/lamp.js";
export { loadMarkdown, loadText } from "./loads/load-table.js";
export { type Millimetre, millimetre } from "./loads/millimetre.js";
export { type NightSky, nightSky, type Star, starPhotons } from "./loads/night-sky.js";
export { type Optical, optical } from "./loads/optical.js";
export { type Background, background, type Muons, muons } from "./loads/particles.js";
export {
  type BandChoice,
  type Night,
  type PhotometricBand,
  photometricBand,
  skyBrightness,
} from "./loads/photometry.js";
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
export { type Filter, type Radiation, radiation } from "./loads/radiation.js";
export {
  attenuatorHeat,
  dissipatedFraction,
  type Readout,
  readout,
  readoutLaw,
  type Tone,
} from "./loads/readout.js";
export { type Cooling, type CoolingCurve, coolingCurve } from "./loads/stage.js";
export { type SteadyState, type SteadyStates, steadyStates } from "./loads/steady-states.js";
export { stoppingPower } from "./loads/stopping-power.js";
export {
  coax,
  type Member,
  type Sink,
  type SunkWiring,
  type Wiring,
  wiring,
} from "./loads/wiring.js";

// Thermal networks
export type {
  LinkDescription,
  NetworkDescription,
  NodeDescription,
} from "./network/description.js";
export { type Flow, SolveError, type SteadySolution } from "./network/solution.js";
export { SteadyNetwork, type SteadyOptions, solveSteady } from "./network/steady.js";
// In a notebook
export { answer, type Presentable, show } from "./notebook/show.js";
export { type CurveOptions, curvesFigure } from "./plots/curves.js";
export { dieCutFigure, dieMapFigure } from "./plots/die-map.js";
export { dropsFigure } from "./plots/drops.js";
// Figures
export type { Figure } from "./plots/figure.js";
export { loadsFigure } from "./plots/loads.js";
export { type MapOptions, mapFigure } from "./plots/map.js";
export { mountsFigure } from "./plots/mounts.js";
export { qualityFigure } from "./plots/quality.js";
export { type SharesOptions, sharesFigure } from "./plots/shares.js";

// Quantities, constants, errors
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
export { FieldError, UnknownNameError } from "./units/errors.js";
export { formatNumber, formatQuantity, formatShare } from "./units/format.js";
export {
  type Angle,
  type Area,
  type Conductance,
  type Dimension,
  dBm,
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
