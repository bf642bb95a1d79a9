/**
 * The first microseconds after a particle: its energy as phonons of high frequency, which split and scatter
 * on isotopes until they fly from face to face, and are taken by contacts and films.
 *
 * A packet stands for a fixed energy, whatever the frequency ν of its phonons. It scatters on isotopes with
 * a rate Bν⁴ into all directions alike and into longitudinal or transverse ones by their density of states,
 * ∝ 1/c³; while it is longitudinal it splits with a rate Aν⁵ into two transverse ones that take shares x and
 * 1 − x of the frequency with a density ∝ x²(1 − x)², from whose integral the ν⁵ comes (P. G. Klemens,
 * J. Appl. Phys. 38, 4573 (1967)). Of the two the packet becomes either with the share of the energy that it
 * has, which keeps energy and the mean of all that depends on frequency. Transverse phonons of low frequency
 * do not split (S. Tamura, Phys. Rev. B 31, 2574 (1985)).
 *
 * Not included: focusing along axes of the crystal, dispersion (above some 2 THz), electrons and holes that
 * carry a third of the energy until they meet again, phonons that films give back.
 * @module
 */
import type { Random } from "../../numerics/random.js";
import type { DieBox } from "./box.js";
import { type Lookup, tileAt } from "./face-contacts.js";

/** How fast phonons go, scatter and split. */
export interface BurstMedium {
  /** Speed of longitudinal phonons [m/s]. */
  readonly longitudinal: number;
  /** Of transverse ones [m/s]. */
  readonly transverse: number;
  /** B [s³]. */
  readonly isotopes: number;
  /** A [s⁴]. */
  readonly decay: number;
}

/** What takes phonons. */
export interface Absorber {
  /** Share that passes into it, of those that meet it. */
  readonly transmission: number;
  /** A film that takes only those that break pairs in it; all that pass when absent. */
  readonly film?: {
    /** Least frequency that breaks a pair, 2Δ/h [Hz]. */
    readonly threshold: number;
    /** Way that phonons of that frequency go in it over its thickness, straight through: c τ/d. */
    readonly depth: number;
  };
}

/** Where packets fly. */
export interface BurstSpace {
  readonly box: DieBox;
  readonly medium: BurstMedium;
  /** Contacts, by tile. */
  readonly lookup: Lookup;
  /** Of each tile. */
  readonly absorbers: readonly Absorber[];
  /** Covers a share of the front beside the contacts, evenly; nothing when absent. */
  readonly cover?: Absorber & { readonly share: number };
}

/** Where packets start. */
export interface BurstStart {
  /** Along x [m]. */
  readonly x: number;
  /** Along y [m]. */
  readonly y: number;
  /** From the back [m]; spread evenly over the thickness when absent, as along a track. */
  readonly z?: number;
  /** [Hz] */
  readonly frequency: number;
}

/** What became of packets. */
export interface BurstEnds {
  /** The tile that took each; `takenByCover`, or `stillFlying` at the end. */
  readonly ends: Int32Array;
  /** When [s]. */
  readonly times: Float64Array;
  /** Where along x and y [m]. */
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** With which frequency [Hz]. */
  readonly frequencies: Float64Array;
  /** How often each scattered on isotopes, and at faces, until then. */
  readonly scatterings: Int32Array;
  readonly reflections: Int32Array;
}

/** Ends that are no tile. */
export const takenByCover = -2;
export const stillFlying = -1;

/** Share of a cover's or contact's phonons that are taken in one encounter: there and back through a film. */
export function absorbedShare(absorber: Absorber, frequency: number, cosine: number): number {
  const { transmission, film } = absorber;
  if (!film) return transmission;
  if (frequency < film.threshold) return 0;
  // The rate of breaking pairs is that at the gap, and far above it grows with the frequency
  // (S. B. Kaplan et al., Phys. Rev. B 14, 4854 (1976)): hν/(πΔ), of 2Δ = h·threshold.
  const faster = Math.max(1, (2 * frequency) / (Math.PI * film.threshold));
  return transmission * (1 - Math.exp((-2 * faster) / (film.depth * Math.max(cosine, 1e-3))));
}

/**
 * Follows packets until they are taken, or for so long.
 * @param until - [s]
 * @param mostEvents - of one packet: scatterings and reflections, after which it counts as still flying
 */
export function followBurst(
  { box, medium, lookup, absorbers, cover }: BurstSpace,
  start: BurstStart,
  count: number,
  until: number,
  random: Random,
  mostEvents = 1e6,
): BurstEnds {
  const { sides, specularity } = box;
  const { longitudinal, transverse, isotopes, decay } = medium;
  const states = [longitudinal ** -3, 2 * transverse ** -3];
  const shareLongitudinal = states[0]! / (states[0]! + states[1]!);
  const found: BurstEnds = {
    ends: new Int32Array(count).fill(stillFlying),
    times: new Float64Array(count).fill(until),
    x: new Float64Array(count),
    y: new Float64Array(count),
    frequencies: new Float64Array(count),
    scatterings: new Int32Array(count),
    reflections: new Int32Array(count),
  };
  const at = new Float64Array(3);
  const way = new Float64Array(3);
  const anyWay = () => {
    const height = 2 * random.uniform() - 1;
    const aside = Math.sqrt(1 - height * height);
    const angle = 2 * Math.PI * random.uniform();
    way[0] = aside * Math.cos(angle);
    way[1] = aside * Math.sin(angle);
    way[2] = height;
  };
  const isLongitudinal = () => random.uniform() < shareLongitudinal;
  for (let packet = 0; packet < count; packet++) {
    at[0] = start.x;
    at[1] = start.y;
    at[2] = start.z ?? random.uniform() * sides[2]!;
    anyWay();
    let frequency = start.frequency;
    let longit = isLongitudinal();
    let time = 0;
    let events = 0;
    for (; events < mostEvents; events++) {
      const speed = longit ? longitudinal : transverse;
      const scattering = isotopes * frequency ** 4;
      const rate = scattering + (longit ? decay * frequency ** 5 : 0);
      const free = random.exponential() / rate;
      let axis = 0;
      let toWall = Number.POSITIVE_INFINITY;
      for (let k = 0; k < 3; k++) {
        const to = ((way[k]! > 0 ? sides[k]! : 0) - at[k]!) / way[k]!;
        if (to < toWall) {
          toWall = to;
          axis = k;
        }
      }
      const flown = Math.min(free, Math.max(0, toWall) / speed, until - time);
      time += flown;
      for (let k = 0; k < 3; k++) {
        at[k] = Math.min(sides[k]!, Math.max(0, at[k]! + way[k]! * flown * speed));
      }
      if (time >= until) break;
      if (flown === free) {
        if (random.uniform() * rate < scattering) {
          found.scatterings[packet]!++;
          longit = isLongitudinal();
        } else {
          // A number of density ∝ x²(1 − x)²: the middle one of five even numbers.
          const x = middleOfFive(random);
          frequency *= random.uniform() < x ? x : 1 - x;
          longit = false;
        }
        anyWay();
        continue;
      }
      const isFar = way[axis]! > 0;
      const face = 2 * axis + (isFar ? 1 : 0);
      at[axis] = isFar ? sides[axis]! : 0;
      const cosine = Math.abs(way[axis]!);
      const tile = tileAt(lookup, face, at[axis === 0 ? 1 : 0]!, at[axis === 2 ? 1 : 2]!);
      const taker =
        tile >= 0
          ? absorbers[tile]!
          : face === 5 && cover && random.uniform() < cover.share
            ? cover
            : undefined;
      if (taker && random.uniform() < absorbedShare(taker, frequency, cosine)) {
        found.ends[packet] = tile >= 0 ? tile : takenByCover;
        found.times[packet] = time;
        break;
      }
      found.reflections[packet]!++;
      if (random.uniform() < specularity[face]!) {
        way[axis] = -way[axis]!;
        continue;
      }
      const u = random.uniform();
      const radius = Math.sqrt(u);
      const angle = 2 * Math.PI * random.uniform();
      way[axis] = (isFar ? -1 : 1) * Math.sqrt(1 - u);
      way[axis === 0 ? 1 : 0] = radius * Math.cos(angle);
      way[axis === 2 ? 1 : 2] = radius * Math.sin(angle);
      longit = isLongitudinal();
    }
    if (events === mostEvents) found.times[packet] = time;
    found.x[packet] = at[0]!;
    found.y[packet] = at[1]!;
    found.frequencies[packet] = frequency;
  }
  return found;
}

function middleOfFive(random: Random): number {
  const five = [0, 1, 2, 3, 4].map(random.uniform).sort((a, b) => a - b);
  return five[2]!;
}
