/**
 * Heat loads one by one, each in watts, and the stages that take them.
 * @module coldpath/loads
 */

// Heat loads
export {
  type HeatLoad,
  type LightLoad,
  type LightPart,
  loadMarkdown,
  loadText,
  totalPower,
} from "./heat-load.js";
export { type GivenPower, givenLoad } from "./given.js";

// Readout
export {
  attenuatorHeat,
  type FeedLine,
  type OneLine,
  type ReadoutTones,
  type Tone,
} from "./tones.js";
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
} from "./readout.js";
export { type SteadyState, type SteadyStates, steadyStates } from "./steady-states.js";

// Light and sky
export { type Optical, optical } from "./optical.js";
export { type NightSky, nightSky, type Star, starPhotons } from "./night-sky.js";
export {
  type BandChoice,
  type Night,
  type PhotometricBand,
  photometricBand,
  skyBrightness,
} from "./photometry.js";
export {
  type Atmosphere,
  type Beam,
  type BlackSource,
  type ChainElement,
  type Millimetre,
  millimetre,
} from "./millimetre.js";
export type { Band, WithBand } from "./band.js";
export type { BandEdge, BandEdges } from "./band-edges.js";

// Thermal radiation
export {
  type Filter,
  type Opening,
  type Radiation,
  radiation,
  type RadiationHeat,
} from "./radiation.js";
export type { Curve, Transmission, TransmissionCurve } from "./curve.js";
export { type Lamp, lamp } from "./lamp.js";
export { greyBodyPower, type Infrared, infrared } from "./infrared.js";
export {
  bandFraction,
  exitance,
  type ModeLaw,
  photonExitance,
  photonFraction,
  planckPhotonRate,
  planckPower,
  rayleighJeansCorrection,
  rayleighJeansPower,
} from "./planck.js";

// Particles
export { type MuonHits, muonHits, type Muons, muons } from "./muons.js";
export { type Background, type BackgroundHits, background, backgroundHits } from "./background.js";
export { stoppingPower, type StoppingPower } from "./stopping-power.js";
export { type Layer, mostProbableLoss } from "./energy-loss.js";
export type { EnergyLine, EnergySpectrum } from "./energy-spectrum.js";
export {
  type Hit,
  type HitChoice,
  type HitPlace,
  particleHits,
  type ParticleSource,
  type TimedHit,
} from "./particle-source.js";
export type { Random } from "../numerics/random.js";

// Conduction and wiring
export { coax, type Coax } from "./coax.js";
export {
  type Conduction,
  conduction,
  type LineMaterial,
  type Member,
  type MemberEnd,
  type Sink,
  type SunkHeat,
  type SunkWiring,
  type Wiring,
  wiring,
} from "./wiring.js";

// Stages
export { type Cooling, type CoolingCurve, coolingCurve } from "./stage.js";
export { type Circulation, type Dilution, dilution } from "./dilution.js";
export { demagnetisation, type Demagnetisation, type DemagnetisedSalt } from "./demagnetisation.js";
