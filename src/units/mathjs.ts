/**
 * What is taken from mathjs. The build replaces this module by one file with only that part of mathjs
 * in it (.ci/mathjs.js): from the package, Node loads some two thousand files, for longer than
 * everything else at a start takes.
 * @module
 */
export { create, createUnitDependencies, unitDependencies } from "mathjs";
