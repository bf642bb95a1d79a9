/**
 * A mount as a model: set numbers, solve, read temperatures and flows; and the things it is made of.
 * @module coldpath/mount
 */

// Model of a mount
export { MountModel } from "./model.js";
export type { DescribedDie, DiePoint, OperatingPoint } from "./operating-point.js";
export { Assembly, type Described, type ModelOptions } from "./assembly.js";
export type { Reading } from "./reading.js";
export { Dies } from "./dies.js";

// Its die alone, by flights of phonons
export {
  type FlightContact,
  type FlightShare,
  PhononFlights,
  phononFlights,
  type PhononFlightsOptions,
} from "./phonon-flights.js";
export type { DieModels, FlownPhonons } from "./die-trust.js";
export type { BudgetDie } from "./budget-result.js";

// Structure of a mount
export {
  assemble,
  type Chips,
  type ContactGroup,
  contactGroups,
  type MountHeat,
  type PlacedPath,
  type Store,
  type Structure,
  type WarmPath,
} from "./assemble.js";
export type { Contacts, DrawnPart, End, HeatPath, Look, Parts, Patch, Thing } from "./thing.js";
export type { DieInMount } from "./assemble.js";
export type { DieModel } from "./things/die.js";
export type { FaceShares, Finish } from "./things/finish.js";
export type { PowerSource } from "./things/load.js";
export type { StageModel } from "./things/stage.js";

// What stands in a mount
export { type MountSpread, numbersOf, spreadsOf } from "./read.js";
export { type MountParticles, particleSources } from "./particle-sources.js";

// Forms that things and results take
export type { HungBody, MaterialBody, MeasuredBody, StoringBody } from "./things/bodies.js";
export type { ClampBody, ClampPlaces } from "./things/clamps.js";
export type { LayerGlue, TableGlue } from "./things/glue.js";
export type { OneJoint, ScrewedFaces } from "./things/joint.js";
export type { Bond } from "./things/bonds.js";
export type { BondGroup } from "./things/bond-groups.js";
export type { KeepOut, PadGroup } from "./things/pad-groups.js";
export type {
  GluedArea,
  LayerPatchGlue,
  MetalPatch,
  PatchGlue,
  TablePatchGlue,
} from "./things/patches.js";
export type { BondWires } from "./things/wires.js";
export type {
  BetweenDies,
  BumpPlaces,
  Bumps,
  BumpsBetween,
  DieJoint,
  GlueBetween,
  JointBetween,
  LayerDieGlue,
  MeasuredBumps,
  MetalBumps,
  TableDieGlue,
} from "./things/die-joints.js";
export type { DieOffset, FurtherDie, FurtherPlate } from "./things/dies.js";
export type { PathBar, PathJoint, PathPiece, PathPlate, PathStrap } from "./things/path.js";
export type { BoxPlating } from "./things/box.js";
export type { CouplingSample, FilmPhonons } from "./things/film.js";
export type { Placed } from "./things/spots.js";
export type { MatrixCorrelation, PairCorrelation } from "./things/correlations.js";
export type { DensityLimit, QualityLimit, RiseLimit, TemperatureLimit } from "./things/limit.js";
export type {
  LinesMap,
  MapLine,
  PixelMap,
  RectangleMap,
  SpotMap,
  UniformMap,
} from "../loads/load-map.js";
export type { WithLoads } from "./things/load.js";
export type { CurveStage, DilutionStage, SaltStage, Stage } from "./things/stage.js";
export type { Happened, Segment } from "./time-course.js";
export type { PlaceInMount } from "./assemble.js";
export type { Links, Numbers } from "./links.js";
export type { PatchLink, PlacedStore, SharedPlace } from "./thing.js";
