/**
 * The die as a sheet: the 2-D model of the die, condensed to its contacts.
 * @module coldpath/chip
 */

// 2-D model of the die
export { Sheet, type SheetOptions } from "./sheet.js";
export type { NetworkSolution, SheetBody } from "./condensed-sheet.js";
export { CondensedSheet, type PlaceInfluence } from "./condensed-sheet.js";
export { type CheckedContact, type Contact, tiles, withoutHole } from "./contact.js";
export {
  faceFilm,
  type FilmLink,
  type FilmPatch,
  type FilmPatches,
  ringFilm,
  type RingOptions,
} from "./film.js";
export type { MapShare, PowerMap, HeatedStrip } from "./power-map.js";
export { type Cut, SheetField, type Spot } from "./field.js";
export { type CellRange, Grid, type Rectangle } from "./grid.js";
