/**
 * What the first phonons of a hit did: where and when their energy went, and what broke pairs.
 * @module
 */
import type { Superconductor } from "../../device/superconductor.js";
import { elementaryCharge } from "../../units/constants.js";
import { FieldError } from "../../units/errors.js";
import { formatQuantity, formatShare } from "../../units/format.js";
import { Result, type ResultContent, type ResultRow } from "../../units/result.js";
import { quantityCell, shareCell, type Table } from "../../units/table.js";

/** One taker of phonons: a group of contacts, or the pixels. */
export interface BurstShare {
  /** Its contacts' name, such as `pads`; `pixels`. */
  readonly name: string;
  /** Of the energy, what it took. */
  readonly share: number;
  /** Standard error of that. */
  readonly error: number;
  /** When half of that had come [s]; absent where nothing came. */
  readonly half?: number;
  /** Share of all energy by the `times` of the burst. */
  readonly course: Float64Array;
}

/** Pixels of a superconducting film, as phonons meet them. */
export interface BurstPixels {
  readonly superconductor: Superconductor;
  /** Δ [J] */
  readonly gap: number;
  /** How many along x. */
  readonly columns: number;
  /** How many along y. */
  readonly rows: number;
  /** Along x [m]: the middle of pixel (i, j) is at ((i + ½) width, (j + ½) length). */
  readonly width: number;
  /** Along y [m]. */
  readonly length: number;
  /** Of the film of one pixel [m³]. */
  readonly volume: number;
  /** Share of the energy of broken pairs that stays with quasiparticles. */
  readonly efficiency: number;
  /** Every packet that broke pairs, in order of time: when [s], in which pixel, row by row from the lower left. */
  readonly broken: { readonly times: Float64Array; readonly pixels: Int32Array };
}

/** The first phonons of a hit. */
export class PhononBurst extends Result {
  /** The mount's name. */
  declare readonly name: string;
  /** Of the hit [J]. */
  declare readonly energy: number;
  /** Where it fell [m]. */
  declare readonly place: { readonly x: number; readonly y: number };
  /** Of one packet [J]. */
  declare readonly packet: number;
  /** How long it was followed [s]. */
  declare readonly until: number;
  /** Times of the courses [s]. */
  declare readonly times: Float64Array;
  /** Who took what, the most first. */
  declare readonly shares: readonly BurstShare[];
  /** Share of the energy that still flies in the die at the end. */
  declare readonly flying: number;
  /** Median frequency of those phonons [Hz]; absent where none fly. */
  declare readonly frequency?: number;
  /** The pixels, where they were asked for. */
  declare readonly pixels?: BurstPixels;

  /** @internal Made by `phononBurst`. */
  constructor(content: ResultContent<PhononBurst, "quasiparticles" | "pixelsAbove" | "table">) {
    super(content);
  }

  #pixels(): BurstPixels {
    if (this.pixels) return this.pixels;
    throw new FieldError("film", "a film with pixels in the burst's options", undefined);
  }

  /** Quasiparticles that were made in each pixel up to a time. @param time - [s]; to the end when absent */
  quasiparticles(time: number = this.until): Float64Array {
    const { columns, rows, efficiency, gap, broken } = this.#pixels();
    const each = (efficiency * this.packet) / gap;
    const counts = new Float64Array(columns * rows);
    broken.times.forEach((at, k) => {
      if (at <= time) counts[broken.pixels[k]!]! += each;
    });
    return counts;
  }

  /**
   * Pixels in which more quasiparticles were made than a density, and how far the furthest is from the hit.
   * @param density - [1/m³]
   * @param time - up to which [s]; to the end when absent
   */
  pixelsAbove(
    density: number,
    time: number = this.until,
  ): { readonly count: number; readonly reach: number } {
    const { columns, width, length, volume } = this.#pixels();
    let [count, reach] = [0, 0];
    this.quasiparticles(time).forEach((number, k) => {
      if (!(number / volume > density)) return;
      count++;
      const x = ((k % columns) + 0.5) * width;
      const y = (Math.floor(k / columns) + 0.5) * length;
      reach = Math.max(reach, Math.hypot(x - this.place.x, y - this.place.y));
    });
    return { count, reach };
  }

  protected get answer(): string {
    const { energy, shares, flying, until, frequency, pixels } = this;
    const most = shares
      .filter(({ share }) => share > 0.005)
      .slice(0, 3)
      .map(({ name, share, half }) => {
        const when = half === undefined ? "" : ` (half of it within ${formatQuantity(half, "s")})`;
        return `${formatShare(share)} into the ${name}${when}`;
      });
    const left =
      flying > 0
        ? ` After ${formatQuantity(until, "s")} ${formatShare(flying)} of it still flies in the die, at ` +
          `${formatQuantity(frequency!, "Hz")}.`
        : "";
    const broke = pixels
      ? ` Phonons make ${formatQuantity(
          this.quasiparticles().reduce((sum, each) => sum + each, 0),
          "",
          2,
        )} quasiparticles in ${this.pixelsAbove(0).count} of ${pixels.columns * pixels.rows} pixels.`
      : "";
    const taken = most.length > 0 ? `go ${most.join(", ")}` : "nothing is taken";
    return `Of ${formatQuantity(energy / elementaryCharge, "eV")} of phonons ${taken}.${left}${broke}`;
  }

  /** @internal Who took what. */
  get table(): Table {
    return {
      title: "Energy of the first phonons",
      columns: ["taken by", "share", "± of it", "half of it within"],
      numbersFrom: 1,
      rows: [
        ...this.shares.map(({ name, share, error, half }) => [
          name,
          shareCell(share),
          formatShare(error),
          half === undefined ? "" : quantityCell(half, "s"),
        ]),
        ["still in the die", shareCell(this.flying), "", ""],
      ],
    };
  }

  protected tables(): readonly Table[] {
    return [this.table];
  }

  protected override *csvRows(): Generator<ResultRow> {
    yield* super.csvRows();
    for (const { name, course } of this.shares) {
      for (const [k, share] of course.entries()) {
        yield ["burst", name, `share by ${this.times[k]} s`, share, ""];
      }
    }
  }
}
