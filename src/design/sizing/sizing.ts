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
  /** Fewest bonds that hold the limit; undefined when none does. */
  readonly count: number | undefined;
  /** How many would have room; 0 when the change is impossible, such as a foot larger than its pad. */
  readonly room: number;
  /** Whether a law of the mount with so many was used outside of its range, or is refused there. */
  readonly outside?: "extrapolated" | "refused" | undefined;
}

/** The answer to: how many bonds? */
export class Sizing extends Result {
  /**
   * Fewest bonds that hold the limit; undefined when no number does. The quick model counts beyond
   * the room there is; a sheet can't place them, and then it is undefined too.
   */
  declare readonly count: number | undefined;
  /** How many have room on the edges. */
  declare readonly room: number;
  /** At `count`, or at as many as have room when that is not enough. */
  readonly budget: Budget;
  /**
   * Rise of the chip above the stage with bonds without number [K]: what bonds can't help. On a 2-D die
   * they stand where as many stand as have room.
   */
  declare readonly floor: number;
  /**
   * Bonds at which half of the rise is that floor: more hardly help; undefined on a 2-D die that has room,
   * or cells, for fewer.
   */
  declare readonly knee: number | undefined;
  /** What single changes to the mount would do, fewest bonds first. */
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

  /** Whether some number of bonds both holds the limit and has room. */
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
    const { governs, chip, inWords } = budget;
    const most =
      `most falls over ${governs.name}, ` +
      `${inWords.governs} of ${inWords.rise(chip.rise)}${inWords.mark}`;
    const { limit, stage } = budget;
    if (count === undefined && limit !== undefined && stage + this.floor <= limit) {
      return `The ${room} bonds that have room do not hold the limit. With those, ${most}.`;
    }
    if (count === undefined) {
      return (
        `No number of bonds holds the limit: with infinitely many bonds the chip is still ` +
        `${inWords.rise(this.floor)} above the stage. With the ${room} that have room, ${most}.`
      );
    }
    const bonds = count === 1 ? "1 bond" : `${count} bonds`;
    return count > room
      ? `${bonds} would hold the limit, but the edges have room for ${room}. With those, ${most}.`
      : `${bonds} ${count === 1 ? "holds" : "hold"} the limit, of ${room} that have room; ${most}.`;
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
    yield ["bonds", "without number", "rise", this.floor, "K"];
    yield* super.csvRows();
  }
}

function needed({ count, room, outside }: Alternative): string {
  if (room === 0) return "does not fit";
  if (outside === "refused") return "a law is refused there";
  const mark = outside ? ", extrapolated" : "";
  if (count === undefined) return `no number is enough${mark}`;
  return (count > room ? `${count}, with room for ${room}` : `${count}`) + mark;
}
