/**
 * Heat paths one by one: each function takes what a user knows and returns a `Conductor`; and heat stores.
 * @module coldpath/joints
 */

// Conductors
export {
  type Backing,
  type Conductor,
  heatFlow,
  type HeatStore,
  type Load,
  type PowerTerm,
  powerConductor,
  type Powers,
  scaled,
  type GivenValue,
  type TemperatureRange,
} from "../conductor.js";
export { given } from "../provenance.js";
export { parallel, series, times } from "./combine.js";

// Joints
export {
  type Boundary,
  boundary,
  diffuseMismatch,
  type GivenBoundary,
  type MeasuredBoundary,
} from "./boundary.js";
export { type ElectronPhonon, electronPhonon, type GivenCoupling } from "./electron-phonon.js";
export { type WireBond, wireBond } from "./wire-bond.js";
export { wireLength, type WireReach } from "./wire-length.js";
export {
  type PressedFaces,
  type PressedJoint,
  pressedJoint,
  type ResistiveJoint,
} from "./pressed-joint.js";
export {
  type ClampedLayer,
  type ScrewForce,
  type Screws,
  screwForce,
  type Spring,
  type Stiffness,
  type Torque,
} from "./screws.js";
export { type GlueLayer, glue, type MaterialGlue, type NamedGlue } from "./glue.js";
export { type Strip, strip } from "./strip.js";
export {
  type Constriction,
  constriction,
  type PadFilm,
  padFilm,
  type RadialSpreading,
  radialSpreading,
  type EvenlyHeatedSheet,
  sheetToEdges,
} from "./spreading.js";
export { type GivenJoint, givenJoint } from "./given.js";

// Heat stores
export {
  type GivenHeatStore,
  givenHeatStore,
  type HeatCapacityValue,
  heatStore,
  type HeatStoreOptions,
  storesTogether,
  type Volume,
} from "./heat-store.js";
export { temperatureAfter } from "./temperature-after.js";
