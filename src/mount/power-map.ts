/**
 * Where a load falls on the die, as the chip takes it.
 * @module
 */
import type { HeatedStrip, PowerMap } from "../chip/power-map.js";
import type { LoadMap, MapLine } from "../loads/load-map.js";
import type { Plain } from "../units/fields.js";

/** A map with its power [W]. */
export function powerMap(map: Plain<LoadMap> | undefined, power: number): PowerMap {
  switch (map?.kind) {
    case undefined:
    case "uniform":
      return { kind: "uniform", power };
    case "rectangle": {
      const { left, right, bottom, top } = map;
      return { kind: "rectangle", power, over: { left, right, bottom, top } };
    }
    case "spot":
      return { ...map, power };
    case "pixels": {
      // In parts of the largest, whose sum is a number whatever they are.
      const largest = map.rows.reduce((most, row) => Math.max(most, ...row), 0);
      const parts = map.rows.map((row) => row.map((weight) => weight / largest));
      const sum = parts.flat().reduce((total, part) => total + part, 0);
      const rows = parts.map((row) => row.map((part) => power * (part / sum)));
      return { kind: "pixels", rows };
    }
    case "lines":
      return { kind: "strips", strips: stripsOf(map.lines, power) };
  }
}

/** Loss of a piece over which the heat is taken to be even [dB]. */
const evenLoss = 0.25;

/**
 * Straight pieces of lines with their power: by the share of each line, and along it as what is left of a signal
 * after a loss that is the same at every length, 10^(−loss·s/(10 L)).
 */
export function stripsOf(lines: readonly Plain<MapLine>[], power: number): readonly HeatedStrip[] {
  const shares = lines.reduce((sum, { share = 1 }) => sum + share, 0);
  return lines.flatMap(({ route, width = 0, loss = 0, share = 1 }) => {
    const sides = route.slice(1).map((to, k) => {
      const from = route[k]!;
      return { from, to, size: Math.hypot(to.x - from.x, to.y - from.y) };
    });
    const whole = sides.reduce((sum, { size }) => sum + size, 0);
    /** Nepers of power over the whole line; of none in its last digits it is heated evenly. */
    const decay = (loss * Math.LN10) / 10;
    /** Share of the line's heat between two lengths from its start. */
    const between = (a: number, b: number) => {
      const part = (b - a) / whole;
      if (decay < 1e-15) return part;
      return (Math.exp((-decay * a) / whole) * Math.expm1(-decay * part)) / Math.expm1(-decay);
    };
    let start = 0;
    return sides.flatMap(({ from, to, size }) => {
      const first = start;
      start += size;
      const count = Math.max(1, Math.ceil((loss * size) / whole / evenLoss));
      const at = (k: number) => ({
        x: from.x + (k / count) * (to.x - from.x),
        y: from.y + (k / count) * (to.y - from.y),
      });
      return Array.from({ length: count }, (_, k) => ({
        from: at(k),
        to: at(k + 1),
        width,
        power:
          ((power * share) / shares) *
          between(first + (k / count) * size, first + ((k + 1) / count) * size),
      }));
    });
  });
}
