/**
 * Which model of the die fits a mount: how far phonons fly, against what they should fly past.
 * @module
 */
import type { CondensedDie } from "../chip/condensed-die.js";
import { addTimes } from "../chip/contact-means.js";
import { type FlightBody, Flights } from "../chip/flights/flights.js";
import { shardCount } from "../chip/flights/shards.js";
import { standardError } from "../chip/flights/smooth-map.js";
import { areaOf } from "../chip/grid.js";
import { plateMeanFreePath } from "../materials/phonons.js";
import type { Catalogue } from "../materials/types.js";
import { Adjoint } from "../network/adjoint.js";
import { SteadyNetwork } from "../network/steady.js";
import { formatNumber, formatQuantity, formatRise } from "../units/format.js";
import { writtenOf } from "./as-written.js";
import { contactsOf } from "./die-contacts.js";
import type { DieModels, FlownPhonons } from "./die-trust.js";
import { Dies } from "./dies.js";
import { MountModel } from "./model.js";
import type { Mount, PlainMount } from "./mount.js";
import { ownDie } from "./on-die.js";
import type { OperatingPoint } from "./operating-point.js";
import { meanSpeed, usualModel } from "./things/die.js";
import { plateSpecularity } from "./things/finish.js";

/** Mean free paths over the smallest length, above which a sheet is not to be trusted. */
const mostFlown = 1 / 3;

/** @param otherRise - of the chip in the other model that tells every place [K] */
export function dieModels(point: OperatingPoint, otherRise?: number): DieModels | undefined {
  const { mount, catalogue, structure, contacts } = point;
  if (!point.die) return undefined;
  const { width, length, thickness, meanFreePath: own } = mount.die;
  const side = Math.min(width, length);
  const specularity = plateSpecularity(mount.die, catalogue);
  const meanFreePath = own ?? plateMeanFreePath({ thickness, width: side, specularity });
  const areas = contactsOf(contacts).map(({ area }) => ("left" in area ? [area] : area));
  const sizes = areas.map((pieces) =>
    Math.sqrt(pieces.reduce((sum, piece) => sum + areaOf(piece), 0)),
  );
  const middles = areas.map(([first]) => ({
    x: (first!.left + first!.right) / 2,
    y: (first!.bottom + first!.top) / 2,
  }));
  let pitch = Number.POSITIVE_INFINITY;
  middles.forEach((one, i) => {
    for (const other of middles.slice(0, i)) {
      const apart = Math.hypot(one.x - other.x, one.y - other.y);
      // Contacts above one another on two faces are not apart.
      if (apart > 1e-9 * side) pitch = Math.min(pitch, apart);
    }
  });
  const contact = Math.min(...sizes);
  const given = (writtenOf(mount).written as Partial<Mount>).die?.model;
  const [usual, since] = usualModel(mount);
  const { condensed, body } = point.die;
  const smallest = Math.min(side, contact, pitch);
  return {
    meanFreePath,
    overDie: meanFreePath / side,
    overContact: meanFreePath / contact,
    ...(Number.isFinite(pitch) && { overPitch: meanFreePath / pitch }),
    ...(given === undefined && usual === structure.die && { since }),
    trusted: meanFreePath > mostFlown * smallest ? "flights" : "sheet",
    ...(otherRise !== undefined && { otherRise }),
    ...(condensed instanceof Flights && { flown: flownIn(point, body as FlightBody) }),
  };
}

function flownIn(point: OperatingPoint, { sources }: FlightBody): FlownPhonons {
  const { mount, catalogue } = point;
  const total = sources.reduce((sum, { times }) => sum + times, 0);
  const mean = (of: (source: (typeof sources)[number]["flights"]) => number) =>
    sources.reduce((sum, { times, flights }) => sum + (times / total) * of(flights), 0);
  const meanPath = mean((flights) => flights.meanPath);
  const speeds = catalogue.material(mount.die.material, "die.material").soundSpeeds();
  let error: number | undefined;
  return {
    rays: Math.max(0, ...sources.map(({ flights }) => flights.rays)),
    flights: mean(({ flights }) => flights),
    meanPath,
    time: meanPath / meanSpeed(speeds),
    // It takes another elimination of the network: only for those who read it.
    get error() {
      error ??= errorIn(point);
      return error;
    },
  };
}

/** Standard error of the chip's temperature by the chance of the flights in all dies, at the same loads [K]. */
function errorIn({ network: description, solution, reading, dies, chip }: OperatingPoint): number {
  const network = new SteadyNetwork(description);
  const { nodeNames, freeCount, temperatures } = network;
  for (let node = 0; node < freeCount; node++) {
    temperatures[node] = solution.temperatures.get(nodeNames[node]!)!;
  }
  const weights = reading.field!.hottestWeights;
  const { condensed: own, body } = dies.get(ownDie)!;
  const at = ({ terminals }: CondensedDie) =>
    terminals.map((name) => solution.temperatures.get(name)!);
  const contacts = at(own);
  const { shares } = own.influence(weights);
  const slopes = new Map(
    own.terminals.map((name, p) => [name, shares[p]! * body.law.conductance(contacts[p]!)]),
  );
  const gains = new Adjoint(network).influence(nodeNames.map((name) => slopes.get(name) ?? 0));
  const ofNode = new Map(nodeNames.map((name, node) => [name, gains[node]!]));
  // Sources and dies of one seed scatter together.
  const theta = new Float64Array(shardCount);
  for (const { condensed, body } of dies.values()) {
    if (!(condensed instanceof Flights)) continue;
    const ofContacts = condensed.terminals.map((name) => ofNode.get(name)!);
    const place = condensed === own ? weights : undefined;
    addTimes(theta, condensed.scatter(body as FlightBody, at(condensed), ofContacts, place), 1);
  }
  return standardError(Array.from(theta)) / body.law.conductance(chip);
}

/**
 * Standard error of the rise of a mount's chip by the chance of its flights, in parts of the rise; 0 for
 * another model of the die.
 * @param dies - kept from other models of the same die
 */
export function flownError(mount: PlainMount, catalogue: Catalogue, dies = new Dies()): number {
  if (mount.die.model !== "flights") return 0;
  const point = new MountModel(mount, catalogue, { dies }).point();
  if (!(point.die!.condensed instanceof Flights)) return 0;
  return errorIn(point) / (point.chip - point.stage);
}

/** In words, for the notes of a budget. */
export function dieModelWords(models: DieModels, rise: number): string {
  const { meanFreePath, overDie, overContact, overPitch, since, trusted, otherRise, flown } =
    models;
  const times = (ratio: number) => `${formatNumber(ratio, 2)} times`;
  const lengths =
    `${formatQuantity(meanFreePath, "m")}, is ${times(overDie)} the die's side, ` +
    `${times(overContact)} that of its smallest contact` +
    (overPitch === undefined ? "" : ` and ${times(overPitch)} the distance to the next`);
  const other =
    otherRise === undefined
      ? ""
      : ` The ${flown ? "sheet" : "flights"} would give ${formatRise(otherRise)} in place of ` +
        `${formatRise(rise)}.`;
  const taken =
    since === undefined ? "" : `${flown ? "Flights were" : "A sheet was"} taken, since ${since}. `;
  if (!flown) {
    if (trusted === "sheet") return "";
    return (
      `${taken}Phonons fly further than a sheet can tell: their mean free path, ${lengths}. ` +
      `The model "flights" of the die is to be trusted there.${other}`
    );
  }
  const mostly =
    flown.flights > 0
      ? ` One flies ${formatNumber(flown.flights, 2)} times from face to face until a contact takes it, ` +
        `${formatQuantity(flown.meanPath, "m")} in ${formatQuantity(flown.time, "s")}; by chance the ` +
        `temperature may be off by ${formatRise(flown.error)}.`
      : "";
  return (
    `${taken}${flown.rays} phonons of each heat source were flown.${mostly} The mean free path ` +
    `of a 2-D die, ${lengths}: ${trusted === "flights" ? "flights are" : "a sheet is"} to be trusted.${other}`
  );
}
