/** The told error of a mount with flights, against how its rise scatters with the seed. */
import { describe, expect, it } from "vitest";
import { dieModels } from "../../src/mount/die-models.js";
import { Dies } from "../../src/mount/dies.js";
import { MountModel } from "../../src/mount/model.js";
import type { Mount } from "../../src/mount/mount.js";
import { readMount } from "../../src/mount/read.js";
import { exampleMount } from "./example.js";
import { flipChip } from "./flip-chip.js";
import { catalogue, padded, smallest } from "./things/smallest.js";

/** A mount has no seed: its dies are given one here. */
class SeededDies extends Dies {
  constructor(readonly seed: number) {
    super();
  }

  protected override flown(...given: Parameters<Dies["flown"]>) {
    return { ...super.flown(...given), seed: this.seed };
  }
}

const seeds = 24;
/** χ² of 23 degrees of freedom, below and above which it is by a chance of 0.1 %: NIST handbook, 1.3.6.7.4. */
const [least, most] = [7.529, 49.728];

const inFlight = ({ meanFreePath: _, ...die }: Mount["die"], rays: number) => ({ ...die, rays });
const flying = (mount: Mount, rays: number): Mount => ({
  ...mount,
  die: { ...inFlight(mount.die, rays), model: "flights" },
});
const clamps = [{ faces: "sapphire on silicon", force: 2.7, count: 1 }];
const pair = smallest({ pads: padded.pads, bonds: { ...padded.bonds, count: 1 }, clamps });
const stacked = (rays: number): Mount => {
  const { carrier } = flipChip.dies!;
  const die = inFlight(carrier!.die, rays);
  return { ...flying(flipChip, rays), dies: { carrier: { ...carrier!, die } } };
};

describe("the error told of a rise by flights", () => {
  it.each([
    ["one pad and one clamp", flying(pair, 1024)],
    ["one pad and one clamp, more phonons", flying(pair, 16384)],
    ["four pads", flying(smallest(padded), 1024)],
    ["80 pads that stand in bands", flying(exampleMount(), 4096)],
    ["the same, more phonons", flying(exampleMount(), 65536)],
    ["a chip on bumps on a carrier", stacked(1024)],
  ])(
    "is that by which other seeds scatter: %s",
    (_, mount) => {
      const found = Array.from({ length: seeds }, (_, k) => {
        const dies = new SeededDies(k + 1);
        const point = new MountModel(readMount(mount), catalogue, { dies }).point();
        return { rise: point.chip - point.stage, error: dieModels(point)!.flown!.error };
      });
      const mean = found.reduce((sum, { rise }) => sum + rise / seeds, 0);
      const squares = found.reduce((sum, { rise }) => sum + (rise - mean) ** 2, 0);
      const variance = found.reduce((sum, { error }) => sum + error ** 2 / seeds, 0);
      expect(squares / variance).toBeGreaterThan(least);
      expect(squares / variance).toBeLessThan(most);
    },
    120_000,
  );
});
