/**
 * One hit on a mount in its steady state: how high, how long, and how it comes back.
 * @module
 */
import { standardCatalogue } from "../../materials/standard.js";
import type { CatalogueChoice } from "../../materials/types.js";
import { followed, loadedNetwork } from "../../mount/follow.js";
import { inTime } from "../../mount/in-time.js";
import { MountModel } from "../../mount/model.js";
import type { Mount } from "../../mount/mount.js";
import { readMount } from "../../mount/read.js";
import type { Place } from "../../mount/things/spots.js";
import type { PlaceTime, TimeCourse } from "../../mount/time-course.js";
import { eigenTimes } from "../../network/eigen-times.js";
import { distinct } from "../../provenance.js";
import { notNegative, positive } from "../../units/checks.js";
import { elementaryCharge } from "../../units/constants.js";
import { formatQuantity, formatTemperature } from "../../units/format.js";
import type { Energy, Time } from "../../units/quantity.js";
import { Result } from "../../units/result.js";
import { quantityCell, type Table } from "../../units/table.js";

import type { PhononBurst } from "./burst.js";
import { heatAfter } from "./burst-heat.js";
import type { BurstOptions } from "./burst-options.js";
import { type FollowedBurst, followBurstIn } from "./phonon-burst.js";

/** A place's pulse: it rises, and comes back. */
export interface PlacePulse {
  /** Of the place's mean above the baseline [K]. */
  readonly height: number;
  /** From 10 % to 90 % of the height [s]; 0 where the heat enters. */
  readonly rise: number;
  /** When it is highest [s]. */
  readonly peak: number;
  /** From the highest to 1/e of it [s]; undefined when the run ends before. */
  readonly toOneOverE: number | undefined;
  /** From the highest to a tenth of it [s]; undefined when the run ends before. */
  readonly toTenth: number | undefined;
}

/** What one hit does. */
export class Pulse extends Result {
  /** @internal Made by `heatPulse`. */
  constructor(
    /** The mount in the time after the hit. */
    readonly course: TimeCourse,
    /** Energy of the hit [J]. */
    readonly energy: number,
    /** Its first phonons, where they were followed. */
    readonly burst?: PhononBurst,
  ) {
    const { warnings } = course;
    super({
      warnings: [...warnings, ...(burst?.warnings ?? [])],
      provenance: () => distinct([...course.provenance, ...(burst?.provenance ?? [])]),
    });
  }

  /** The mount's name. */
  get name(): string {
    return this.course.name;
  }

  /** The pulse of the chip: the mean of its die. */
  get chip(): PlacePulse {
    return this.at(this.course.places[0]!);
  }

  /**
   * The pulse of a place of the mount, such as `"pad electrons"`.
   * @throws FieldError listing the places
   */
  at(place: string): PlacePulse {
    const { times } = this.course;
    const rises = this.course.mean(place);
    const rest = rises[0]!;
    for (let i = 0; i < rises.length; i++) rises[i] = rises[i]! - rest;
    let top = 0;
    rises.forEach((rise, i) => {
      if (rise > rises[top]!) top = i;
    });
    const height = rises[top]!;
    const up = (share: number) => crossing(times, rises, 0, top, share * height);
    const down = (share: number) => {
      const at = crossing(times, rises, top, times.length - 1, share * height);
      return at === undefined ? undefined : at - times[top]!;
    };
    return {
      height,
      rise: height > 0 ? up(0.9)! - up(0.1)! : 0,
      peak: times[top]!,
      toOneOverE: down(1 / Math.E),
      toTenth: down(0.1),
    };
  }

  /** Highest temperature of the die's hottest point above the baseline [K]; more than the mean on a 2-D die. */
  get hottest(): number {
    return this.course.peak.temperature - this.course.before;
  }

  /** How long the chip is above its limit [s]; undefined without limit. */
  get timeAbove(): number | undefined {
    return this.course.limit === undefined ? undefined : this.course.timeAbove();
  }

  /** The thermal time constants, slowest first. */
  get eigenTimes(): readonly PlaceTime[] {
    return this.course.eigenTimes;
  }

  /**
   * When no place of the die has risen by more than its mean and a share of that, after the hit [s];
   * undefined when the run ends before.
   */
  uniformAfter(share = 0.2): number | undefined {
    return this.course.uniformAfter(0, share);
  }

  protected get answer(): string {
    const { chip, course, eigenTimes } = this;
    const energy = formatQuantity(this.energy / elementaryCharge, "eV");
    const start =
      `${energy} warm the die by ${formatQuantity(chip.height, "K")} from ` +
      `${formatTemperature(course.before)}`;
    const back =
      chip.toOneOverE === undefined
        ? ""
        : `; it is back to 1/e of that after ${formatQuantity(chip.toOneOverE, "s")}`;
    const slowest = eigenTimes[0];
    const tail = slowest
      ? ` Its slowest time is ${formatQuantity(slowest.time, "s")} (${slowest.places[0]!.name}).`
      : "";
    const first = this.burst ? `${this.burst.summary} ` : "";
    return `${first}${start}${back}.${course.limitInWords}${tail}`;
  }

  protected tables(): readonly Table[] {
    const first = this.burst ? [this.burst.table] : [];
    const time = (value: number | undefined) =>
      value === undefined ? "later" : quantityCell(value, "s", value === 0 ? "at once" : undefined);
    return [
      ...first,
      {
        title: "Pulse of each place",
        columns: ["place", "height", "rise 10-90 %", "to 1/e", "to 1/10"],
        numbersFrom: 1,
        rows: this.course.places.flatMap((name) => {
          const { height, rise, toOneOverE, toTenth } = this.at(name);
          // What moves by less than the solver's tolerance would be noise in a table.
          if (!(height > 1e-6 * this.course.before)) return [];
          const times = [rise, toOneOverE, toTenth].map(time);
          return [[this.course.label(name), quantityCell(height, "K"), ...times]];
        }),
      },
      {
        title: "Thermal time constants, and where that heat is",
        columns: ["time", "where"],
        numbersFrom: 2,
        rows: this.eigenTimes.map(({ time, places }) => {
          const most = places.filter(({ share }) => share > 0.1).slice(0, 3);
          const where = most.map(({ name, share }) => `${name} ${Math.round(100 * share)} %`);
          return [quantityCell(time, "s"), where.join(", ")];
        }),
      },
    ];
  }
}

/** The first time between two steps at which a level is reached, in a straight line between steps. */
function crossing(
  times: Float64Array,
  values: Float64Array,
  from: number,
  to: number,
  level: number,
): number | undefined {
  const side = Math.sign(values[from]! - level);
  if (side === 0) return times[from];
  for (let i = from + 1; i <= to; i++) {
    if (side * (values[i]! - level) > 0) continue;
    const s = (level - values[i - 1]!) / (values[i]! - values[i - 1]!);
    return times[i - 1]! + s * (times[i]! - times[i - 1]!);
  }
  return undefined;
}

/** A hit, and how to follow it. */
export interface PulseOptions extends CatalogueChoice {
  /** Energy of the hit that becomes heat [J]. */
  readonly energy: Energy;
  /** Where on the die, when it is a sheet; all over it when absent. */
  readonly place?: Place;
  /** Followed for so long [s]; until the slowest of the mount's times has passed ten times when absent. */
  readonly duration?: Time;
  /** Of a temperature, 1e-8 when absent: a pulse may be small beside the temperature. */
  readonly relativeTolerance?: number;
  /** Cells of a 2-D die along its longer side, 4 to 128; 32 when absent. */
  readonly cells?: number;
  /**
   * Follows the first phonons of the hit (`phononBurst`), and lets the pulse start from where they bring the
   * energy; `true` as is usual, or how. When absent all is heat at once, where the hit falls.
   */
  readonly flights?: boolean | BurstOptions;
}

/**
 * Lets one hit fall on a mount in its steady state and follows it.
 * @throws FieldError or UnknownNameError naming a wrong field; RangeError when a temperature, such as
 * that of the peak, is where a law is refused; SolveError
 * @example heatPulse(mount, { energy: "150 keV" }).toText()
 */
export function heatPulse(mount: Mount, options: PulseOptions): Pulse {
  const { relativeTolerance = 1e-8, cells, duration } = options;
  const energy = positive("energy", options.energy, "energy");
  const place = options.place && {
    x: notNegative("place.x", options.place.x, "length"),
    y: notNegative("place.y", options.place.y, "length"),
  };
  const catalogue = options.catalogue ?? standardCatalogue();
  const model = new MountModel(readMount(mount), catalogue);
  const whole = inTime(model, cells);
  whole.hit(place, "place");
  const followedBurst = options.flights ? firstPhonons(model, energy, options) : undefined;
  const { gradual = [], atEnd } = followedBurst ? heatAfter(followedBurst, whole) : {};
  const run = atEnd ? { ...whole, hit: () => atEnd.nodes } : whole;
  const atOnce = { at: 0, energy, ...(place && { place }) };
  const slowest = () => eigenTimes(loadedNetwork(run, run.loads), { count: 1 })[0]!.time;
  const course = followed(
    run,
    {
      duration: duration ?? 10 * slowest(),
      hits: atEnd ? [{ at: atEnd.at, energy: atEnd.energy }] : followedBurst ? [] : [atOnce],
      relativeTolerance,
    },
    gradual,
  );
  return new Pulse(course, energy, followedBurst?.burst);
}

/** Cells of a 2-D die hold heat that spreads further by itself: it takes over as soon as phonons have left theirs. */
const untilSheet = 2e-6;

function firstPhonons(
  model: MountModel,
  energy: number,
  { place, flights }: PulseOptions,
): FollowedBurst {
  const { mount, catalogue, structure } = model;
  const flying =
    structure.die === "flights" ? model : new MountModel(mount, catalogue, { die: "flights" });
  const how = typeof flights === "object" ? flights : {};
  return followBurstIn(
    flying,
    energy,
    place,
    how,
    structure.die === "sheet" ? untilSheet : undefined,
  );
}
