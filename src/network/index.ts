/**
 * Thermal networks: nodes and conductors, solved in the steady state and in time.
 * @module coldpath/network
 */

// Description
export type { LinkDescription, NetworkDescription, NodeDescription } from "./description.js";
export type { CondensedBody } from "../conductor.js";
export type { BodyDescription } from "./terminals.js";

// Steady state
export { solveSteady, SteadyNetwork, type SteadyOptions } from "./steady.js";
export { type BodyFlow, type Flow, SolveError, type SteadySolution } from "./solution.js";
export { Adjoint, type Gradient, temperatureGradient } from "./adjoint.js";

// Runs in time
export { runInTime, TransientNetwork } from "./transient.js";
export type {
  NetworkPulse,
  Threshold,
  TimedLoad,
  TimedTemperature,
  TransientOptions,
} from "./timeline.js";
export type { Crossing, EnergyBalance, TransientSolution } from "./trajectory.js";
export { type EigenTime, type EigenTimesOptions, eigenTimes } from "./eigen-times.js";
