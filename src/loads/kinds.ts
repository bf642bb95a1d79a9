/**
 * The kinds of load: each a file with its fields and its heat, and a line here.
 * @module
 */
export { backgroundKind as background } from "./background.js";
export { givenKind as given } from "./given.js";
export { infraredKind as infrared } from "./infrared.js";
export { lampKind as lamp } from "./lamp.js";
export { millimetreKind as millimetre } from "./millimetre.js";
export { muonsKind as muons } from "./muons.js";
export { skyKind as sky } from "./night-sky.js";
export { opticalKind as optical } from "./optical.js";
export { radiationKind as radiation } from "./radiation.js";
export { wiringKind as wiring } from "./wiring.js";
