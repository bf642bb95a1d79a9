/**
 * What is taken from mathjs. The build replaces this module by one file with only that part of mathjs
 * in it (.ci/mathjs.js): from the package, Node loads over a thousand files, which takes nine
 * tenths of the time of an import of this library.
 * @module
 */
export { create, createUnitDependencies, unitDependencies } from "mathjs";
