/**
 * Particles as single hits: when, how much energy, and where on the die.
 * @module
 */
import { standardCatalogue } from "../materials/standard.js";
import type { Catalogue } from "../materials/types.js";
import { type Random, random } from "../numerics/random.js";
import { anObject, positive, wholeNumber } from "../units/checks.js";
import { FieldError } from "../units/errors.js";
import { formatQuantity } from "../units/format.js";
import { type Length, type Time, toSI } from "../units/quantity.js";
import { type Background, readBackground } from "./background.js";
import { crossings } from "./crossing.js";
import { landauLoss, meanLoss } from "./energy-loss.js";
import type { HitPlace, ParticleSource, TimedHit } from "./particle-source.js";
import { type Muons, muons, stoppingOf } from "./particles.js";
import { ionisation, leastLossMomentum } from "./stopping-power.js";

/** Muons through a die of given sides. */
export type MuonHits = Extract<Muons, { readonly width: Length }> & {
  /**
   * How the energy on a given path varies: `"none"` (default), all lose the mean; `"landau"`, by Landau's
   * law with its tail cut so that the mean stays: see `landauLoss`. The likeliest energy is then about
   * 0.7 of the mean in half a millimetre.
   */
  readonly fluctuation?: "none" | "landau";
};

/**
 * Muons through a box-shaped die as hits. Directions come by cosⁿθ and by what the die shows to each at
 * its tilt, places evenly over its shadow; a hit's energy is density × stopping power × its path, or is
 * drawn about that. Rate and mean energy are those of `muons`.
 * With `exponent: 0` and a `flux`, they are the particles of least ionisation in space.
 * Source: as for `muons`; that a way meets a convex body with mean length 4 × volume / surface when all
 * directions are alike: A. Cauchy, Mém. Acad. Sci. Paris 22, 3 (1850).
 * @param field - path of the load in the user's description, for errors
 * @throws FieldError, UnknownNameError
 */
export function muonHits(
  options: MuonHits,
  catalogue: Catalogue = standardCatalogue(),
  field = "muons",
): ParticleSource {
  anObject(field, options);
  const { fluctuation = "none", exponent = 2, momentum, material } = options;
  const box = {
    width: positive(`${field}.width`, options.width, "length"),
    length: positive(`${field}.length`, options.length, "length"),
    thickness: positive(`${field}.thickness`, options.thickness, "length"),
  };
  if (fluctuation !== "none" && fluctuation !== "landau") {
    throw new FieldError(`${field}.fluctuation`, '"none" or "landau"', fluctuation);
  }
  const heat = muons(options, catalogue, field);
  const density = catalogue.material(material, `${field}.material`).constant("density").value;
  const stopping = stoppingOf(options, catalogue, field).value;
  const atMomentum = () =>
    momentum === undefined
      ? leastLossMomentum(material, catalogue, `${field}.fluctuation`)
      : positive(`${field}.momentum`, momentum, "energy");
  const terms =
    fluctuation === "landau"
      ? ionisation(material, atMomentum(), catalogue, `${field}.momentum`)
      : undefined;
  const loss = terms ? landauLoss(density, stopping, terms) : meanLoss(density, stopping);
  const tilt = toSI(`${field}.tilt`, options.tilt ?? 0, "angle");
  const crossing = crossings(box, tilt, exponent);
  const { name, power } = heat;
  const rate = heat.details["rate [1/s]"]!;
  return {
    name,
    rate,
    energy: power / rate,
    draw(random) {
      const wait = random.exponential() / rate;
      const { path, x, y } = crossing(random);
      return { wait, energy: loss.draw(path, random), place: { x, y }, source: name, path };
    },
    provenance: terms ? [...heat.provenance, ...terms.provenance] : heat.provenance,
  };
}

/** Background of which hits can be drawn, and where they fall. */
export type BackgroundHits = Background & {
  /** Sides of the die over which they fall evenly; without them hits have no place. */
  readonly die?: { readonly width: Length; readonly length: Length };
};

/**
 * Background as hits: energies of a spectrum, or all of one energy where only that is given; places even
 * over the die. Rate and mean energy are those of `background`.
 * @param field - path of the load in the user's description, for errors
 * @param place - where a hit falls, in place of evenly over `die`
 * @throws FieldError, UnknownNameError
 */
export function backgroundHits(
  options: BackgroundHits,
  catalogue?: Catalogue,
  field = "background",
  place: ((random: Random) => HitPlace) | undefined = evenly(
    anObject(field, options).die,
    `${field}.die`,
  ),
): ParticleSource {
  const { name = "background" } = options;
  const { hits, provenance } = readBackground(options, catalogue, field);
  if (!hits) {
    throw new FieldError(`${field}.spectrum`, "how the heat is shared among hits", undefined);
  }
  const { rate, spectrum } = hits;
  return {
    name,
    rate,
    energy: spectrum.mean,
    draw(random) {
      const wait = random.exponential() / rate;
      const energy = spectrum.draw(random);
      return { wait, energy, source: name, ...(place && { place: place(random) }) };
    },
    provenance,
  };
}

function evenly(die: BackgroundHits["die"], field: string) {
  if (die === undefined) return undefined;
  const width = positive(`${field}.width`, anObject(field, die).width, "length");
  const length = positive(`${field}.length`, die.length, "length");
  return (random: Random) => ({ x: width * random.uniform(), y: length * random.uniform() });
}

/** What to draw. */
export interface HitChoice {
  readonly duration: Time;
  /** Whole number; the same one gives the same hits. */
  readonly seed: number;
  /** Refuse more than so many hits on average, 100 000 by default. */
  readonly most?: number;
}

/**
 * All hits of several sources over a time, in its order. Each source has a stream of random numbers of
 * its own, by its place in the list, so that one more at the end leaves the others' hits as they were.
 * @throws FieldError when more hits are to be expected than `most`, or for a bad duration or seed
 * @example particleHits([muonHits({ material: "silicon", width: "10 mm", length: "10 mm",
 *   thickness: "0.5 mm" })], { duration: "1 h", seed: 1 })
 */
export function particleHits(
  sources: readonly ParticleSource[],
  choice: HitChoice,
  field = "hits",
): readonly TimedHit[] {
  const { duration, seed, most = 100_000 } = anObject(field, choice);
  const time = positive(`${field}.duration`, duration, "time");
  const limit = wholeNumber(`${field}.most`, most);
  const rate = sources.reduce((sum, source) => sum + source.rate, 0);
  if (rate * time > limit) {
    throw new FieldError(
      `${field}.duration`,
      `at most ${formatQuantity(limit / rate, "s")}, in which ${limit} hits come on average (raise \`most\` for more)`,
      duration,
    );
  }
  const hits = sources.flatMap((source, i) => hitsOf(source, time, random(seed, i)));
  return hits.sort((a, b) => a.time - b.time);
}

function hitsOf(source: ParticleSource, duration: number, stream: Random): TimedHit[] {
  const hits: TimedHit[] = [];
  let time = 0;
  for (;;) {
    const hit = source.draw(stream);
    time += hit.wait;
    if (!(time <= duration)) return hits;
    hits.push({ ...hit, time });
  }
}
