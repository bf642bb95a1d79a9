/**
 * Ways to place the bonds, compared.
 * @module
 */
import type { Mount } from "../../mount/description.js";
import { Result } from "../../units/result.js";
import { countCell, quantityCell, type Table } from "../../units/table.js";
import type { Sizing } from "./sizing.js";

/** One way to place the bonds, and what it takes. */
export interface Placement {
  /** In words: `4 edges, spread, 300 µm apart at least`. */
  readonly words: string;
  /** The mount with the bonds so placed and as few as hold the limit, or as many as have room. */
  readonly mount: Mount;
  /** How many bonds it needs. */
  readonly sizing: Sizing;
}

/** Ways to place the bonds, best first. Warnings and numbers are those of the best. */
export class Placements extends Result {
  /** @internal Made by `placeBonds`. */
  constructor(
    /** Those that hold the limit come first, fewest bonds first; then the coolest. */
    readonly all: readonly Placement[],
  ) {
    const { warnings, provenance } = all[0]!.sizing;
    super({ warnings, provenance });
  }

  /** The mount's name. */
  get name(): string {
    return this.best.sizing.name;
  }

  /** The best; it may still not hold the limit. */
  get best(): Placement {
    return this.all[0]!;
  }

  get summary(): string {
    return `Best are the bonds on ${this.best.words}. ${this.best.sizing.reason}`;
  }

  protected tables(): readonly Table[] {
    return [
      {
        title: "Ways to place the bonds, best first",
        columns: ["bonds on", "bonds needed", "room", "hottest place"],
        numbersFrom: 1,
        rows: this.all.map(({ words, sizing: { count, enough, room, budget } }) => [
          words,
          countCell(count, enough ? `${count}` : "not enough"),
          countCell(room),
          quantityCell(budget.chip.rise, "K"),
        ]),
      },
    ];
  }
}
