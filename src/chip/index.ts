/**
 * The die condensed to its contacts: as a sheet, the 2-D model, or by the flights of its phonons.
 * @module coldpath/chip
 */

// 2-D model of the die
export { Sheet, type SheetOptions } from "./sheet.js";
export type { CondensedDie, NetworkSolution, PlaceInfluence } from "./condensed-die.js";
export { CondensedSheet, type SheetBody } from "./condensed-sheet.js";
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

// The die by flights of phonons
export {
  type FlightBody,
  Flights,
  type SourceFlights,
} from "./flights/flights.js";
export {
  DieBox,
  type DieBoxOptions,
  type FlightOptions,
  type ByFace,
  type FaceName,
  faceNames,
} from "./flights/box.js";
export type { FaceContact, FacePiece, Tile } from "./flights/face-contacts.js";
export { Exchange, type ExchangeTiles } from "./flights/exchange.js";
export type { Flown } from "./flights/flown.js";
export { type FlightPaths, pathsOf, shardCount } from "./flights/shards.js";
export type { SourceDepth } from "./flights/starts.js";
export type { SmoothMap } from "./flights/smooth-map.js";
