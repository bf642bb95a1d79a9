/**
 * Packets of a burst, counted by what took them.
 * @module
 */
import { type BurstEnds, stillFlying, takenByCover } from "../../chip/flights/burst.js";
import type { BurstPixels, BurstShare } from "./burst.js";

/** Packets that the pixels took, in order of time. */
export function brokenIn(
  pixels: Omit<BurstPixels, "broken">,
  { ends, times, x, y }: BurstEnds,
): BurstPixels {
  const { columns, rows, width, length } = pixels;
  const taken = [...ends.keys()].filter((k) => ends[k] === takenByCover);
  taken.sort((a, b) => times[a]! - times[b]!);
  return {
    ...pixels,
    broken: {
      times: Float64Array.from(taken, (k) => times[k]!),
      pixels: Int32Array.from(taken, (k) => {
        const column = Math.min(columns - 1, Math.floor(x[k]! / width));
        return column + columns * Math.min(rows - 1, Math.floor(y[k]! / length));
      }),
    },
  };
}

/** Steps of the courses in a factor of ten, from a nanosecond on. */
const stepsPerDecade = 10;

/** Who took what and when, as a burst tells it. */
export function told(
  { ends, times, frequencies }: BurstEnds,
  groups: readonly string[],
  tiles: readonly { readonly group: string }[],
  until: number,
) {
  const steps = Math.max(2, Math.ceil(stepsPerDecade * Math.log10(until / 1e-9)) + 1);
  const at = Float64Array.from(
    { length: steps },
    (_, k) => until * 10 ** ((k - steps + 1) / stepsPerDecade),
  );
  const nameOf = (end: number) => (end >= 0 ? tiles[end]!.group : "pixels");
  const taken = new Map<string, number[]>();
  const flying: number[] = [];
  ends.forEach((end, k) => {
    if (end === stillFlying) flying.push(frequencies[k]!);
    else taken.set(nameOf(end), [...(taken.get(nameOf(end)) ?? []), times[k]!]);
  });
  const count = ends.length;
  const names = [...groups, ...(taken.has("pixels") ? ["pixels"] : [])];
  const shares = names.map((name): BurstShare => {
    const own = Float64Array.from(taken.get(name) ?? []).sort();
    const share = own.length / count;
    let below = 0;
    return {
      name,
      share,
      error: Math.sqrt((share * (1 - share)) / count),
      ...(own.length > 0 && { half: own[own.length >> 1]! }),
      course: at.map((time) => {
        while (below < own.length && own[below]! <= time) below++;
        return below / count;
      }),
    };
  });
  flying.sort((a, b) => a - b);
  return {
    times: at,
    shares: shares.sort((a, b) => b.share - a.share),
    flying: flying.length / count,
    ...(flying.length > 0 && { frequency: flying[flying.length >> 1]! }),
  };
}
