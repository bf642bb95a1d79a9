/**
 * The kinds of load that a mount takes; conduction, which is a heat path, stands apart.
 * @module
 */
export * from "../../loads/kinds.js";
export { readoutKind as readout } from "./readout.js";
