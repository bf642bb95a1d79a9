/**
 * Follows the first phonons of a hit in the die of a mount.
 * @module
 */
import { DieBox } from "../../chip/flights/box.js";
import { type Absorber, type BurstEnds, followBurst } from "../../chip/flights/burst.js";
import { lookupOf, tilesOf } from "../../chip/flights/face-contacts.js";
import { areaOf } from "../../chip/grid.js";
import { energyGap, superconductor } from "../../device/superconductor.js";
import { phononRadiation } from "../../joints/boundary.js";
import { particleNumber } from "../../loads/law-number.js";
import { standardCatalogue } from "../../materials/standard.js";
import type { Catalogue, CatalogueChoice } from "../../materials/types.js";
import type { ContactGroup } from "../../mount/assemble.js";
import { contactsOf, onFaces } from "../../mount/die-contacts.js";
import { refuseOffDie } from "../../mount/in-time.js";
import { MountModel } from "../../mount/model.js";
import type { Mount, PlainMount } from "../../mount/mount.js";
import { readMount } from "../../mount/read.js";
import { filmsOf } from "../../mount/things/films.js";
import type { Place } from "../../mount/things/spots.js";
import { coldest } from "../../mount/things/stage.js";
import { random } from "../../numerics/random.js";
import { distinct, type Provenance } from "../../provenance.js";
import { notNegative, positive } from "../../units/checks.js";
import { planck } from "../../units/constants.js";
import { FieldError } from "../../units/errors.js";
import type * as read from "../../units/fields.js";
import type { Energy } from "../../units/quantity.js";
import { PhononBurst } from "./burst.js";
import { brokenIn, told } from "./burst-counts.js";
import { type BurstOptions, burstFields, type PixelFilm } from "./burst-options.js";

/** A hit whose first phonons are followed. */
export interface BurstHit extends CatalogueChoice, BurstOptions {
  /** Energy that becomes phonons [J]. */
  readonly energy: Energy;
  /** Where on the die; in its middle when absent. */
  readonly place?: Place;
}

/** What phonons did, and where what they brought goes on from. */
export interface FollowedBurst {
  readonly burst: PhononBurst;
  readonly ends: BurstEnds;
  /** Of each tile of the die: its group and its number in that. */
  readonly tiles: readonly { readonly group: string; readonly contact: number }[];
  /** The place behind each group of contacts. */
  readonly places: ReadonlyMap<string, string>;
}

/**
 * Follows the first phonons of a hit: its energy starts as phonons of some terahertz, which split and
 * scatter on isotopes until they fly, and go into films, pads and supports. What breaks pairs in a film is
 * the energy that comes at twice its gap and above. All that is taken stays where it is: films give nothing
 * back, and quasiparticles neither move nor meet again. A tenth of the energy of a particle in silicon is
 * late by that, since a third of it is in electrons and holes, which are counted as phonons at once.
 *
 * A normal film takes all that passes its boundary; a superconducting one what breaks pairs. Other contacts
 * take the share that carries their heat at the stage's temperature, which for fast phonons is a guess.
 * @throws FieldError or UnknownNameError naming a wrong field
 * @example phononBurst(mount, { energy: "200 keV" }).toText()
 */
export function phononBurst(mount: Mount, hit: BurstHit): PhononBurst {
  const { catalogue = standardCatalogue(), energy, place, ...options } = hit;
  const model = new MountModel(readMount(mount), catalogue, { die: "flights" });
  return followBurstIn(model, positive("energy", energy, "energy"), place, options).burst;
}

/** @internal The same in a mount that is read, on its way to a pulse of heat. */
export function followBurstIn(
  model: MountModel,
  energy: number,
  place: Place | undefined,
  given: BurstOptions,
  usualEnd = 1e-3,
): FollowedBurst {
  const { mount, catalogue, groups } = model;
  const { width, length, thickness } = mount.die;
  const options = burstFields.read(given, "flights");
  const { film, packets = 4096, seed = 1, until = usualEnd, height } = options;
  if (packets < 16 || packets > 2 ** 20) {
    throw new FieldError("flights.packets", "a whole number from 16 to 1048576", packets);
  }
  if (height !== undefined && height > thickness) {
    throw new FieldError("flights.height", "a height within the die", height);
  }
  const at = {
    x: place ? notNegative("place.x", place.x, "length") : width / 2,
    y: place ? notNegative("place.y", place.y, "length") : length / 2,
  };
  refuseOffDie(mount, at, "place");
  const provenance: Provenance[] = [];
  const constant = (property: string) => {
    const found = catalogue.material(mount.die.material, "die.material").constant(property);
    provenance.push(found.provenance);
    return found.value;
  };
  const usual = (parameter: string, unit: string, own: number | undefined) => {
    if (own !== undefined) return own;
    const found = particleNumber(catalogue, "fast_phonons", parameter, unit);
    provenance.push(found.provenance);
    return found.value;
  };
  const speeds = catalogue.material(mount.die.material, "die.material").soundSpeeds();
  provenance.push(...speeds.provenance);
  const medium = {
    longitudinal: speeds.longitudinal,
    transverse: speeds.transverse,
    isotopes: constant("isotope_scattering"),
    decay: constant("phonon_decay"),
  };
  const box = new DieBox({
    width,
    length,
    thickness,
    specularity: usual("mirror_share", "", options.mirrorShare),
  });
  const laid = [...groups.values()];
  const contacts = contactsOf(laid).length > 0 ? onFaces(mount, laid) : [];
  const tiles = contacts.length > 0 ? tilesOf(box, contacts) : [];
  const owners = laid.flatMap((group) =>
    group.contacts.map((_, contact) => ({ group: group.name, contact })),
  );
  const takers = new Map(
    laid.map((group) => [group.name, takerOf(model, group.name, areaOfGroup(group), provenance)]),
  );
  const pixels = film && pixelsOf(film, mount, catalogue, speeds, provenance);
  const ends = followBurst(
    {
      box,
      medium,
      lookup: lookupOf(box, tiles),
      absorbers: tiles.map(({ contact }) => takers.get(owners[contact]!.group)!),
      ...(pixels && { cover: { ...pixels.taker, share: film.coverage } }),
    },
    {
      ...at,
      ...(height !== undefined && { z: height }),
      frequency: usual("start_frequency", "Hz", options.frequency),
    },
    packets,
    until,
    random(seed),
  );
  const owner = tiles.map(({ contact }) => owners[contact]!);
  const efficiency = pixels && usual("pair_efficiency", "", undefined);
  const burst = new PhononBurst({
    name: mount.name,
    energy,
    place: at,
    packet: energy / packets,
    until,
    ...told(
      ends,
      laid.map(({ name }) => name),
      owner,
      until,
    ),
    ...(pixels && { pixels: brokenIn({ ...pixels.content, efficiency: efficiency! }, ends) }),
    warnings: owner.some(({ group }) => takers.get(group)!.isGuess)
      ? ["Contacts without a film take fast phonons as they take heat at the stage's temperature."]
      : [],
    provenance: distinct(provenance),
  });
  const places = new Map(
    model.structure.paths.flatMap(({ from, to }) =>
      from.onDie && from.group ? [[from.group.name, to.name] as const] : [],
    ),
  );
  return { burst, ends, tiles: owner, places };
}

const areaOfGroup = ({ contacts }: ContactGroup) =>
  contacts.reduce(
    (sum, { area }) => sum + [area].flat().reduce((all, piece) => all + areaOf(piece), 0),
    0,
  );

/** How a group of contacts takes phonons. */
function takerOf(
  model: MountModel,
  name: string,
  area: number,
  provenance: Provenance[],
): Absorber & { readonly isGuess: boolean } {
  const { mount, catalogue, structure, numbers } = model;
  const stage = coldest(numbers.stage);
  const die = catalogue.material(mount.die.material, "die.material").soundSpeeds();
  const black = 4 * phononRadiation(die) * area * stage ** 3;
  const through = [...structure.paths, ...structure.warm]
    .filter(({ from, to }) => [from, to].some((end) => end.onDie && end.group?.name === name))
    .map((path) => numbers.conductor(path).conductance(stage) * numbers.count(path));
  const conducted = through.reduce((sum, each) => sum + each, 0);
  const byHeat = conducted / (conducted + black);
  const film = filmsOf(mount).find((own) => own.contacts === name);
  if (!film) return { transmission: byHeat, isGuess: byHeat > 0 };
  const metal = catalogue.material(film.material, `${film.key}.material`);
  const isShared = film.phonons === "shared";
  const transmission = isShared ? passed(die, metal.soundSpeeds()) : byHeat;
  if (!metal.properties.has("critical_temperature")) return { transmission, isGuess: false };
  const state = superconductor(film.material, catalogue, film.key);
  if (state.criticalTemperature <= stage) return { transmission, isGuess: false };
  provenance.push(...state.provenance);
  const threshold = (2 * energyGap(state, stage)) / planck;
  // Where the catalogue has no time, all that may break pairs does: an upper bound for a thin film.
  const isOnFile = metal.properties.has("pair_breaking_time");
  const time = isOnFile ? metal.constant("pair_breaking_time") : undefined;
  if (time) provenance.push(time.provenance);
  const depth = time ? (metal.soundSpeeds().transverse * time.value) / film.thickness : 1e-6;
  return { transmission, film: { threshold, depth }, isGuess: false };
}

type Speeds = Parameters<typeof phononRadiation>[0];

/** Share that passes from one into the other by diffuse mismatch. */
function passed(from: Speeds, into: Speeds): number {
  return phononRadiation(into) / (phononRadiation(from) + phononRadiation(into));
}

function pixelsOf(
  film: read.Plain<PixelFilm>,
  { die, stage }: PlainMount,
  catalogue: Catalogue,
  speeds: Speeds,
  provenance: Provenance[],
) {
  const { thickness, coverage, columns, rows } = film;
  const state = superconductor(film.superconductor, catalogue, "flights.film.superconductor");
  provenance.push(...state.provenance);
  const temperature = typeof stage === "number" ? stage : 0;
  const gap = energyGap(state, temperature);
  if (!(gap > 0)) {
    const wanted = "a superconductor whose critical temperature is above the stage's";
    throw new FieldError("flights.film.superconductor", wanted, state.criticalTemperature);
  }
  const name =
    typeof film.superconductor === "string" ? film.superconductor : film.superconductor.material;
  const metal =
    name === undefined ? undefined : catalogue.material(name, "flights.film.superconductor");
  const onFile = (property: string, field: string, own: number | undefined) => {
    if (own !== undefined) return own;
    if (!metal?.properties.has(property)) {
      const wanted = "given, since the catalogue has none";
      throw new FieldError(`flights.film.${field}`, wanted, undefined);
    }
    const found = metal.constant(property);
    provenance.push(found.provenance);
    return found.value;
  };
  const time = onFile("pair_breaking_time", "pairBreakingTime", film.pairBreakingTime);
  const speed = onFile("sound_speed_transverse", "superconductor.material", undefined);
  const transmission = film.transmission ?? passed(speeds, metal!.soundSpeeds());
  const [width, length] = [die.width / columns, die.length / rows];
  const volume = coverage * width * length * thickness;
  return {
    taker: {
      transmission,
      film: { threshold: (2 * gap) / planck, depth: (speed * time) / thickness },
    },
    content: { superconductor: state, gap, columns, rows, width, length, volume },
  };
}
