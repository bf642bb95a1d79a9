/**
 * The particles of a mount as sources of single hits, with the places where they fall.
 * @module
 */

import type { HeatedStrip } from "../chip/power-map.js";
import type { LoadMap } from "../loads/load-map.js";
import type { HitPlace, ParticleSource } from "../loads/particle-source.js";
import { standardCatalogue } from "../materials/standard.js";
import type { Catalogue } from "../materials/types.js";
import type { Random } from "../numerics/random.js";
import { FieldError } from "../units/errors.js";
import type { Plain } from "../units/fields.js";
import { formatGiven } from "../units/format.js";
import { inWordsOf } from "./as-written.js";
import type { PlainMount } from "./mount.js";
import { seenFrom } from "./on-die.js";
import { stripsOf } from "./power-map.js";
import { allSources } from "./sources.js";
import type { PowerSource } from "./things/load.js";
import { dieNames } from "./things/stack.js";

/** A load of a mount that comes as single particles. */
export interface MountParticles {
  /** `die`, a further die by its name, or `box` or a piece of the path, whose hits have no place. */
  readonly on: string;
  /** The load that they make up. */
  readonly load: PowerSource;
  /** Hits of that load, ready to draw from. */
  readonly source: ParticleSource;
}

type Die = PlainMount["die"];

/**
 * The muons and the background of a mount as sources of hits, in the order of its loads and under the
 * names they have in the budget. Hits fall by the load's map; those of the background evenly and muons by their tracks when it has none.
 * @throws FieldError or UnknownNameError naming the load's field; also for heat per mass without a
 * spectrum, which cannot tell how large single hits are
 */
export function particleSources(
  mount: PlainMount,
  catalogue: Catalogue = standardCatalogue(),
): readonly MountParticles[] {
  return allSources(mount).flatMap((load): readonly MountParticles[] => {
    if (!load.particles) return [];
    const { on, field } = load;
    const map = load.map(mount) ?? { kind: "uniform" };
    const source = inWordsOf(mount, () =>
      load.hits(
        mount,
        catalogue,
        isOnDie(mount, on) ? placeBy(map, seenFrom(mount, on).die, `${field}.map`) : undefined,
      ),
    );
    return source ? [{ on, load, source }] : [];
  });
}

const isOnDie = (mount: PlainMount, on: string) => dieNames(mount).includes(on);

/** Draws places as often as a map of the die has heat there. */
function placeBy(map: Plain<LoadMap>, die: Die, field: string): (random: Random) => HitPlace {
  switch (map.kind) {
    case "uniform":
      return within(0, die.width, 0, die.length);
    case "rectangle": {
      const { left, right, bottom, top } = map;
      const most = { width: die.width * (1 + 1e-9), length: die.length * (1 + 1e-9) };
      if (!(left < right && bottom < top && right <= most.width && top <= most.length)) {
        const wanted = `a rectangle on the die of ${formatGiven(die.width, "m")} by ${formatGiven(die.length, "m")}`;
        throw new FieldError(field, wanted, map);
      }
      return within(left, right, bottom, top);
    }
    case "spot": {
      const { x, y, radius } = map;
      if (!(x <= die.width && y <= die.length)) {
        throw new FieldError(field, "a spot whose middle is on the die", map);
      }
      // Cut off at the rims, as the map of mean heat is.
      const along = (middle: number, side: number, random: Random) => {
        for (;;) {
          const at = middle + radius * random.normal();
          if (at >= 0 && at <= side) return at;
        }
      };
      return (random) => ({ x: along(x, die.width, random), y: along(y, die.length, random) });
    }
    case "pixels":
      return onPixels(map.rows, die);
    case "lines":
      return onStrips(stripsOf(map.lines, 1), die);
  }
}

/** A strip by its share, then a place in it. */
function onStrips(strips: readonly HeatedStrip[], { width, length }: Die) {
  const onto = (at: number, side: number) => Math.min(side, Math.max(0, at));
  return (random: Random): HitPlace => {
    let left = random.uniform();
    const found = strips.find(({ power }) => {
      left -= power;
      return left < 0;
    });
    const { from, to, width: breadth } = found ?? strips.at(-1)!;
    const [along, across] = [random.uniform(), breadth * (random.uniform() - 0.5)];
    const [dx, dy] = [to.x - from.x, to.y - from.y];
    const size = Math.hypot(dx, dy) || 1;
    return {
      x: onto(from.x + along * dx - (across * dy) / size, width),
      y: onto(from.y + along * dy + (across * dx) / size, length),
    };
  };
}

function within(left: number, right: number, bottom: number, top: number) {
  return (random: Random): HitPlace => ({
    x: left + (right - left) * random.uniform(),
    y: bottom + (top - bottom) * random.uniform(),
  });
}

/** A pixel by its share, then a place in it. */
function onPixels(rows: readonly (readonly number[])[], die: Die) {
  const across = rows[0]!.length;
  const [wide, high] = [die.width / across, die.length / rows.length];
  const shares = rows.flat();
  const whole = shares.reduce((sum, share) => sum + share, 0);
  return (random: Random): HitPlace => {
    let left = random.uniform() * whole;
    let at = shares.findIndex((share) => {
      left -= share;
      return left < 0;
    });
    // Rounding may leave something beyond the last: a pixel that surely has heat.
    if (at < 0) at = shares.indexOf(Math.max(...shares));
    return {
      x: ((at % across) + random.uniform()) * wide,
      y: (Math.floor(at / across) + random.uniform()) * high,
    };
  };
}
