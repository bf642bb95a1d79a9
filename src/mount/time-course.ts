/**
 * What a mount did in time: the temperatures of its places, how long its chip was warm, and its
 * thermal time constants.
 * @module
 */
import type { Grid } from "../chip/grid.js";
import type { NetworkDescription } from "../network/description.js";
import { type EigenTime, eigenTimes } from "../network/eigen-times.js";
import type { TransientSolution } from "../network/trajectory.js";
import { FieldError } from "../units/errors.js";
import { formatAboutTemperature, formatQuantity, formatTemperature } from "../units/format.js";
import { Result, type ResultBasis, type ResultRow } from "../units/result.js";
import type { Table } from "../units/table.js";
import type { InTime } from "./timed.js";

/** From a time to a later one. */
export interface Segment {
  /** Begin [s]. */
  readonly from: number;
  /** End [s]. */
  readonly to: number;
}

/** How a mount comes back to the steady state: one exponential, and which places take part in it. */
export interface PlaceTime {
  /** Time constant [s]. */
  readonly time: number;
  /** Share of each place in it, largest first; they sum to 1. */
  readonly places: readonly {
    /** Place of the mount. */
    readonly name: string;
    /** Its share, 0 to 1. */
    readonly share: number;
  }[];
}

/** What happened in a run, as it was asked for. */
export interface Happened {
  /** Hits on the die. */
  readonly hits: readonly {
    /** When [s]. */
    readonly at: number;
    /** Energy [J]. */
    readonly energy: number;
  }[];
  /** Length of the run [s]. */
  readonly duration: number;
}

/** What a mount did. */
export class TimeCourse extends Result {
  /** The mount's name. */
  declare readonly name: string;
  /** Temperatures of the network's nodes in time. */
  declare readonly solution: TransientSolution;
  /** Highest allowed chip temperature [K], when the mount gives one. */
  declare readonly limit: number | undefined;
  /** What happened, as it was asked for, in SI. */
  declare readonly happened: Happened;
  /** Whether a law was used beyond its range: no more than two digits of a rise are then printed. */
  declare readonly extrapolated: boolean;
  readonly #inTime: InTime;
  readonly #network: NetworkDescription;
  readonly #chip: Float64Array;
  #eigenTimes: readonly PlaceTime[] | undefined;

  /**
   * @internal Made by `timeCourse` and `heatPulse`.
   * @param inTime - the mount translated
   * @param network - with the loads that do not change
   */
  constructor(
    content: ResultBasis &
      Pick<TimeCourse, "name" | "solution" | "limit" | "happened" | "extrapolated">,
    inTime: InTime,
    network: NetworkDescription,
  ) {
    super(content);
    this.#inTime = inTime;
    this.#network = network;
    this.#chip = this.hottest(inTime.structure.chip.name);
  }

  /** Ends of the solver's steps [s]; the time of a jump stands twice, before and after it. */
  get times(): Float64Array {
    return this.solution.times;
  }

  /** The chip's temperature, that of the hottest point on its die, at `times` [K]. */
  get chip(): Float64Array {
    return this.#chip;
  }

  /** Places of the mount, hot to cold. */
  get places(): readonly string[] {
    return [...this.#inTime.nodes.keys()];
  }

  /** A place in words: of a 2-D die, whose cells are one place here, simply the die. */
  label(name: string): string {
    return this.grid && name === this.#inTime.structure.chip.name ? "die" : name;
  }

  /** Cells of the die, when it is a sheet. */
  get grid(): Grid | undefined {
    return this.#inTime.grid;
  }

  /** Mean temperature of a place at `times` [K]. */
  mean(name: string): Float64Array {
    const nodes = this.nodesOf(name);
    const mean = new Float64Array(this.times.length);
    for (const node of nodes) {
      this.solution.temperatures(node).forEach((T, i) => {
        mean[i] = mean[i]! + T / nodes.length;
      });
    }
    return mean;
  }

  /** Highest temperature of a place at `times` [K]. */
  hottest(name: string): Float64Array {
    return this.#extreme(name, Math.max);
  }

  /** Lowest temperature of a place at `times` [K]. */
  coldest(name: string): Float64Array {
    return this.#extreme(name, Math.min);
  }

  /** Mean temperature of a place at a time of the run, between steps too [K]. */
  meanAt(name: string, time: number): number {
    const nodes = this.nodesOf(name);
    return (
      nodes.reduce((sum, node) => sum + this.solution.temperature(node, time), 0) / nodes.length
    );
  }

  /** Temperature of a place at a time of the run, of its hottest node [K]. */
  temperature(name: string, time: number): number {
    return Math.max(...this.nodesOf(name).map((node) => this.solution.temperature(node, time)));
  }

  /** Temperatures of the die's cells, row by row from the lower left [K]; when it is a sheet. */
  die(time: number): Float64Array {
    const nodes = this.nodesOf(this.#inTime.structure.chip.name);
    return Float64Array.from(nodes, (node) => this.solution.temperature(node, time));
  }

  /** The same above where each cell began [K]. */
  dieRise(time: number): Float64Array {
    const nodes = this.nodesOf(this.#inTime.structure.chip.name);
    return this.die(time).map((T, i) => T - this.solution.temperatures(nodes[i]!)[0]!);
  }

  /** The highest temperature of the chip and when [K, s]. */
  get peak(): { readonly temperature: number; readonly time: number } {
    const at = indexOfHighest(this.#chip);
    return { temperature: this.#chip[at]!, time: this.times[at]! };
  }

  /** The chip's temperature at the start of the run, before a hit at time 0 [K]. */
  get before(): number {
    return this.#chip[0]!;
  }

  /** When the chip was above a temperature; above its limit when none is given. */
  above(temperature: number | undefined = this.limit): readonly Segment[] {
    if (temperature === undefined) throw new FieldError("limit", "a limit in the mount", undefined);
    return segmentsAbove(
      this.times,
      this.#chip,
      (time) => this.temperature(this.#inTime.structure.chip.name, time),
      temperature,
    );
  }

  /** How long the chip was above a temperature, its limit when none is given [s]. */
  timeAbove(temperature: number | undefined = this.limit): number {
    return this.above(temperature).reduce((sum, { from, to }) => sum + to - from, 0);
  }

  /**
   * @internal ` It is above its limit of 150 mK for 2.00 ms.`; empty without a limit. Where it begins or
   * ends above it, the run does not tell for how long.
   */
  get limitInWords(): string {
    const { limit, before } = this;
    if (limit === undefined) return "";
    const above = this.timeAbove();
    const said = `above its limit of ${formatTemperature(limit)}`;
    const time = formatQuantity(above, "s");
    const isBelowAtEnd = !(this.#chip.at(-1)! > limit);
    if (above === 0) return ` It stays below its limit of ${formatTemperature(limit)}.`;
    if (!(before > limit)) {
      return ` It is ${said} for ${time}${isBelowAtEnd ? "" : ", to the end of the run"}.`;
    }
    const whole = !(above < this.happened.duration * (1 - 1e-9));
    return whole
      ? ` It is ${said} from the start to the end of the run.`
      : ` It is ${said} from the start, and for ${time} of the run.`;
  }

  /**
   * How long after a time no place of the die has risen further than the die's mean and a share of it
   * above where each began: when a hot spot has spread [s]; undefined when the run ends before.
   */
  uniformAfter(from: number, share: number): number | undefined {
    const rises = this.nodesOf(this.#inTime.structure.chip.name).map((node) => {
      const T = this.solution.temperatures(node);
      return T.map((each) => each - T[0]!);
    });
    const excess = (i: number) => {
      const [mean, highest] = rises.reduce(
        ([sum, most], rise) => [sum + rise[i]! / rises.length, Math.max(most, rise[i]!)],
        [0, Number.NEGATIVE_INFINITY],
      );
      return highest - (1 + share) * mean;
    };
    // The last of the steps up to `from`: of a jump, the one after it.
    let first = 0;
    while (first + 1 < this.times.length && this.times[first + 1]! <= from) first++;
    for (let i = first; i < this.times.length; i++) {
      if (excess(i) > 0) continue;
      if (i === first) return 0;
      const [a, b] = [excess(i - 1), excess(i)];
      const [start, end] = [this.times[i - 1]!, this.times[i]!];
      return Math.max(0, start + ((end - start) * a) / (a - b) - from);
    }
    return undefined;
  }

  /** The thermal time constants from a small push, slowest first. */
  get eigenTimes(): readonly PlaceTime[] {
    if (this.#eigenTimes) return this.#eigenTimes;
    const storing = this.#network.nodes.filter(({ store }) => store);
    const count = Math.min(6, storing.length);
    const temperatures = new Map(
      storing.map(({ name }) => [name, this.solution.temperatures(name)[0]!]),
    );
    this.#eigenTimes = eigenTimes(this.#network, { temperatures, count }).map((eigen) =>
      this.#byPlace(eigen),
    );
    return this.#eigenTimes;
  }

  get #stageAtFirst(): number {
    return this.solution.temperature(this.#inTime.structure.stage.name, 0);
  }

  /** A temperature, with the digits that its rise above another has by its laws. */
  #printed(temperature: number, from: number): string {
    return this.extrapolated && temperature !== from
      ? formatAboutTemperature(temperature, temperature - from)
      : formatTemperature(temperature);
  }

  protected get answer(): string {
    const { before, peak } = this;
    const stage = this.#stageAtFirst;
    const about = this.extrapolated ? " (extrapolated)" : "";
    return (
      `The chip starts at ${this.#printed(before, stage)} and is warmest, ` +
      `${this.#printed(peak.temperature, stage)}${about}, at ${formatQuantity(peak.time, "s")} of ` +
      `${formatQuantity(this.happened.duration, "s")}.${this.limitInWords}`
    );
  }

  protected tables(): readonly Table[] {
    const stage = this.#stageAtFirst;
    return [
      {
        title: "Temperatures, of each place at its hottest",
        columns: ["place", "start", "highest", "at", "end"],
        numbersFrom: 1,
        rows: this.places.map((name) => {
          const temperatures = this.hottest(name);
          const at = indexOfHighest(temperatures);
          return [
            this.label(name),
            this.#printed(temperatures[0]!, stage),
            this.#printed(temperatures[at]!, stage),
            formatQuantity(this.times[at]!, "s"),
            this.#printed(temperatures.at(-1)!, stage),
          ];
        }),
      },
    ];
  }

  protected override *csvRows(): Generator<ResultRow> {
    const { hits } = this.happened;
    for (const [i, { at, energy }] of hits.entries()) {
      yield [`hit ${i + 1}`, "die", "time", at, "s"];
      yield [`hit ${i + 1}`, "die", "energy", energy, "J"];
    }
    yield ["limit", this.label(this.places[0]!), "temperature", this.limit, "K"];
    const columns = this.places.map((name) => ({
      label: this.label(name),
      mean: this.mean(name),
      highest: this.nodesOf(name).length > 1 ? this.hottest(name) : undefined,
    }));
    for (const [i, time] of this.times.entries()) {
      const section = `step ${i}`;
      yield [section, "time", "time", time, "s"];
      for (const { label, mean, highest } of columns) {
        yield [section, label, "temperature", mean[i], "K"];
        yield [section, label, "highest temperature", highest?.[i], "K"];
      }
    }
  }

  private nodesOf(name: string): readonly string[] {
    const nodes = this.#inTime.nodes.get(name);
    if (nodes) return nodes;
    throw new FieldError("place", `one of ${this.places.join(", ")}`, name);
  }

  #extreme(name: string, better: (a: number, b: number) => number): Float64Array {
    let extreme: Float64Array | undefined;
    for (const node of this.nodesOf(name)) {
      const own = this.solution.temperatures(node);
      const so = extreme;
      extreme = so ? so.map((T, i) => better(T, own[i]!)) : Float64Array.from(own);
    }
    return extreme!;
  }

  #byPlace({ time, weights }: EigenTime): PlaceTime {
    const places = [...this.#inTime.nodes].map(([name, nodes]) => ({
      name: this.label(name),
      share: nodes.reduce((sum, node) => sum + (weights.get(node) ?? 0), 0),
    }));
    return { time, places: places.sort((a, b) => b.share - a.share) };
  }
}

function indexOfHighest(values: Float64Array): number {
  let at = 0;
  values.forEach((value, i) => {
    if (value > values[at]!) at = i;
  });
  return at;
}

/** Segments above a level, their ends found between steps on the dense output. */
function segmentsAbove(
  times: Float64Array,
  values: Float64Array,
  at: (time: number) => number,
  level: number,
): readonly Segment[] {
  const segments: Segment[] = [];
  let from = values[0]! > level ? times[0]! : undefined;
  for (let i = 1; i < times.length; i++) {
    const above = values[i]! > level;
    if (above === (from !== undefined)) continue;
    const cross = crossing(times[i - 1]!, times[i]!, (time) => at(time) > level === above);
    if (from === undefined) from = cross;
    else {
      segments.push({ from, to: cross });
      from = undefined;
    }
  }
  if (from !== undefined) segments.push({ from, to: times.at(-1)! });
  return segments;
}

/** The time from which on something holds that does not at `low` and does at `high`, by halving. */
function crossing(low: number, high: number, holds: (time: number) => boolean): number {
  for (let i = 0; i < 50 && high > low; i++) {
    const middle = low + (high - low) / 2;
    if (middle === low || middle === high) break;
    if (holds(middle)) high = middle;
    else low = middle;
  }
  return high;
}
