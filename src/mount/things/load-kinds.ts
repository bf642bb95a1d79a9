/**
 * The kinds of load that a mount takes, a line each; conduction, which is a heat path, stands apart.
 * @module
 */
export { backgroundKind as background } from "../../loads/background.js";
export { givenKind as given } from "../../loads/given.js";
export { infraredKind as infrared } from "../../loads/infrared.js";
export { lampKind as lamp } from "../../loads/lamp.js";
export { millimetreKind as millimetre } from "../../loads/millimetre.js";
export { skyKind as sky } from "../../loads/night-sky.js";
export { opticalKind as optical } from "../../loads/optical.js";
export { muonsKind as muons } from "../../loads/particle-events.js";
export { radiationKind as radiation } from "../../loads/radiation.js";
export { wiringKind as wiring } from "../../loads/wiring.js";
export { readoutKind as readout } from "./readout.js";
