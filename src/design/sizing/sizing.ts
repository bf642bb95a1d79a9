/**
 * The answer to: how many bonds?
 * @module
 */
import type { Budget } from "../../mount/budget-result.js";
import { Result, type ResultRow } from "../../units/result.js";
import { countCell, type Table } from "../../units/table.js";

/** A single change to the mount, and how many bonds it would then need. */
export interface Alternative {
  /** In words: `pads twice as thick`. */
  readonly change: string;
  /** Smallest number of bonds that meet the limit; undefined when none does. */
  readonly count: number | undefined;
  /** How many would fit; 0 when the change is impossible, such as a foot larger than its pad. */
  readonly room: number;
  /** Whether a law of the mount with so many was used outside of its range, or is refused there. */
  readonly outside?: "extrapolated" | "refused" | undefined;
}

/** The answer to: how many bonds? */
export class Sizing extends Result {
  /**
   * Smallest number of bonds that meet the limit; undefined when no number does. The two-node model counts beyond
   * the room there is; a sheet can't place them, and then it is undefined too.
   */
  declare readonly count: number | undefined;
  /** How many fit on the edges. */
  declare readonly room: number;
  /** At `count`, or at as many as fit when that is not enough. */
  readonly budget: Budget;
  /**
   * Rise of the chip above the stage with infinitely many bonds [K]: what bonds can't help. On a 2-D die
   * they stand where as many stand as fit.
   */
  declare readonly floor: number;
  /**
   * Bonds at which half of the rise is that floor: more hardly help; undefined on a 2-D die on which
   * fewer fit, or that has too few cells.
   */
  declare readonly knee: number | undefined;
  /** What single changes to the mount would do, smallest number of bonds first. */
  declare readonly alternatives: readonly Alternative[];

  /** @internal Made by `sizeBonds`. */
  constructor(
    { budget, ...content }: Pick<Sizing, "count" | "room" | "budget" | "alternatives">,
    /** What takes runs beside those that count the bonds. */
    beside: {
      floor(): number;
      knee(): number | undefined;
      /** What is told of all runs that the answer rests on. */
      told(): readonly string[];
    },
  ) {
    super({ ...content, provenance: () => budget.provenance });
    this.budget = budget;
    this.later("floor", () => beside.floor());
    this.later("knee", () => beside.knee());
    this.later("warnings", () => [...budget.warnings, ...beside.told()]);
  }

  /** The mount's name. */
  get name(): string {
    return this.budget.name;
  }

  /** Whether some number of bonds both meets the limit and fits. */
  get enough(): boolean {
    return this.count !== undefined && this.count <= this.room;
  }

  /** The answer in a sentence or two; the same as `summary`. */
  get reason(): string {
    return this.summary;
  }

  /** The answer without the number of warnings. */
  get answer(): string {
    const { count, room, budget } = this;
    const { largestDrop, chip, inWords } = budget;
    const most =
      `most falls over ${largestDrop.name}, ` +
      `${inWords.largestDrop} of ${inWords.rise(chip.rise)}${inWords.mark}`;
    const { limit, stage } = budget;
    if (count === undefined && limit !== undefined && stage + this.floor <= limit) {
      return `The ${room} bonds that fit do not meet the limit. With those, ${most}.`;
    }
    if (count === undefined) {
      return (
        `No number of bonds meets the limit: with infinitely many bonds the chip is still ` +
        `${inWords.rise(this.floor)} above the stage. With the ${room} that fit, ${most}.`
      );
    }
    const bonds = count === 1 ? "1 bond" : `${count} bonds`;
    return count > room
      ? `${bonds} would meet the limit, but the edges have space for ${room}. With those, ${most}.`
      : `${bonds} ${count === 1 ? "meets" : "meet"} the limit, of ${room} that fit; ${most}.`;
  }

  protected tables(): readonly Table[] {
    return [
      {
        title: "What one change would do",
        columns: ["one change", "bonds needed"],
        numbersFrom: 1,
        rows: this.alternatives.map((a) => [
          a.change,
          countCell(a.outside === "refused" ? undefined : a.count, needed(a)),
        ]),
      },
    ];
  }

  protected override *csvRows(): Generator<ResultRow> {
    yield ["bonds", "needed", "number", this.count, ""];
    yield ["bonds", "room", "number", this.room, ""];
    yield ["bonds", "knee", "number", this.knee, ""];
    yield ["bonds", "infinitely many", "rise", this.floor, "K"];
    yield* super.csvRows();
  }
}

function needed({ count, room, outside }: Alternative): string {
  if (room === 0) return "does not fit";
  if (outside === "refused") return "a law is refused there";
  const mark = outside ? ", extrapolated" : "";
  if (count === undefined) return `no number is enough${mark}`;
  return (count > room ? `${count}, of at most ${room}` : `${count}`) + mark;
}
