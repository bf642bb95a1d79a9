/**
 * How far a place may be off by the chance of the flights in a die, to first order.
 *
 * With J the Θ of the phonons that leave each tile and s the heat that the tiles get from the sources, Θ of
 * a place on the die is r·J + b, with r the shares of its phonons that come from each tile. Let L be the
 * change of Θ, there or elsewhere, by one more watt on each tile. A small error of each changes Θ by
 *   δΘ = L·δs + δb + δr·J − LᵀδY J,   LᵀδY J = Σ_{i<j} δKᵢⱼ (Lᵢ − Lⱼ)(Jᵢ − Jⱼ)/S.
 * Each shard has its own s, b, r and K, and the scatter of δΘ over the shards is the error: what hangs
 * together, such as s and b of the same phonons, is counted together. K and r are ratios of phonons that
 * came and phonons that started; those of a shard are taken to first order, too, since with few phonons
 * none may have started there.
 * @module
 */
import { type Flown, lengthsOfMarks } from "./flown.js";

/** What became of the phonons of all tiles in a shard. */
export type ShardOfTiles = Pick<Flown, "counts" | "starts" | "paths"> & {
  /** Marks in each cell of the grid, for each tile. */
  readonly maps: Uint16Array | Uint32Array;
};

/** A copy; marks, of which there are many, as whole numbers. */
export function keptShard({ counts, starts, paths, maps }: Flown): ShardOfTiles {
  const most = maps.reduce((largest, each) => Math.max(largest, each), 0);
  const whole = most < 2 ** 16 ? Uint16Array.from(maps) : Uint32Array.from(maps);
  return { counts: counts.slice(), starts: starts.slice(), paths: paths.slice(), maps: whole };
}

/** All shards of the phonons of the tiles. */
export interface ShardsOfTiles {
  readonly sum: Flown;
  readonly shards: readonly ShardOfTiles[];
  /** Areas of the tiles [m²]. */
  readonly areas: Float64Array;
}

/**
 * −LᵀδY J of each shard [W].
 * @param black - Y of all shards, for black tiles
 * @param unit - S, the area that Y is counted in [m²]
 * @param gains - L
 * @param leaving - J [W]
 */
export function exchangeScatter(
  { sum, shards, areas }: ShardsOfTiles,
  black: Float64Array,
  unit: number,
  gains: ArrayLike<number>,
  leaving: ArrayLike<number>,
): number[] {
  const n = areas.length;
  return shards.map(({ counts, starts }) => {
    let total = 0;
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < i; j++) {
        const drive = (gains[i]! - gains[j]!) * (leaving[i]! - leaving[j]!);
        const exposed = sum.starts[i]! / areas[i]! + sum.starts[j]! / areas[j]!;
        if (drive === 0 || exposed === 0) continue;
        const met = (counts[i * n + j]! + counts[j * n + i]!) / unit;
        const usual = -black[i * n + j]! * (starts[i]! / areas[i]! + starts[j]! / areas[j]!);
        total -= ((shards.length * (met - usual)) / exposed) * drive;
      }
    }
    return total;
  });
}

/**
 * δr·J of each shard [W].
 * @param reach - r of all shards, by tile and cell
 * @param weights - of the cells: the place
 * @param leaving - J [W]
 */
export function reachScatter(
  { sum, shards, areas }: ShardsOfTiles,
  reach: Float64Array,
  weights: Float64Array,
  leaving: ArrayLike<number>,
): number[] {
  const cells = weights.length;
  const marked = (maps: ShardOfTiles["maps"] | Flown["maps"]) =>
    areas.map((_, t) => {
      let marks = 0;
      for (let at = t * cells; at < (t + 1) * cells; at++) marks += maps[at]!;
      return marks;
    });
  const all = marked(sum.maps);
  const each = shards.map(({ maps }) => marked(maps));
  const lengths = lengthsOfMarks(sum, cells);
  const scatter = shards.map(() => 0);
  weights.forEach((weight, c) => {
    if (weight === 0) return;
    let near = 0;
    let mean = 0;
    for (let t = 0; t < areas.length; t++) {
      const at = t * cells + c;
      if (sum.starts[t]! > 0) near += (areas[t]! / sum.starts[t]!) * lengths[at]!;
      mean += reach[at]! * leaving[t]!;
    }
    if (near === 0) return;
    for (let t = 0; t < areas.length; t++) {
      if (sum.starts[t] === 0) continue;
      const at = t * cells + c;
      // ℓ of a cell is what flew in all, by its part of the marks.
      const ofMark = all[t]! > 0 ? sum.paths[t]! / all[t]! : 0;
      const part = all[t]! > 0 ? sum.maps[at]! / all[t]! : 1 / cells;
      const length = lengths[at]! / sum.starts[t]!;
      const drive =
        (weight * shards.length * areas[t]! * (leaving[t]! - mean)) / (sum.starts[t]! * near);
      shards.forEach(({ starts, paths, maps }, k) => {
        const more =
          part * paths[t]! + ofMark * (maps[at]! - part * each[k]![t]!) - length * starts[t]!;
        scatter[k] = scatter[k]! + more * drive;
      });
    }
  });
  return scatter;
}
