/**
 * Inputs of a mount as fitted to measurements: how sure they are, and the mount that holds them.
 * @module
 */
import type { Mount } from "../../mount/mount.js";
import { FieldError } from "../../units/errors.js";
import { formatInterval, formatNumber, formatQuantity } from "../../units/format.js";
import { withField } from "../field.js";
import {
  type DrawnFit,
  type FitCurve,
  type FitPoint,
  type FittedParameter,
  formatFitted,
  goodnessWords,
  groupOf,
  powersAlong,
  stageGroups,
} from "./fit.js";
import { inputRows, measuredKey, rowsCsv, sourcesCsv, spreadOf } from "./saved-fit.js";

/** A shared error of thermometers as the fit has it. */
export interface FittedError {
  /** Thermometers that share it. */
  readonly thermometers: readonly string[];
  /** Share by which the readings are too high. */
  readonly gain?: number;
  /** What they are too high by [K]. */
  readonly offset?: number;
  /** The same in its stated standard uncertainty: far beyond 1 it is more than was stated. */
  readonly inUncertainties: number;
}

/** What a fit found. */
interface Found {
  readonly name: string;
  readonly file: string;
  readonly parameters: readonly FittedParameter[];
  readonly covariance: readonly Float64Array[];
  readonly chiSquared: number;
  readonly degreesOfFreedom: number;
  readonly probability?: number | undefined;
  readonly points: readonly FitPoint[];
  readonly sharedErrors: readonly FittedError[];
  readonly measured: Mount;
  readonly date: string | undefined;
  along(stage: number, powers: readonly number[]): readonly FitCurve[];
}

/** Fitted inputs of a mount. */
export class MountFit implements DrawnFit {
  /** Of the mount. */
  readonly name: string;
  /** Name of the measurements' file. */
  readonly file: string;
  /** The inputs, in the order asked for. */
  readonly parameters: readonly FittedParameter[];
  /** Of the inputs, of the logarithm of those fitted so; row by row. */
  readonly covariance: readonly Float64Array[];
  readonly chiSquared: number;
  /** Readings less fitted numbers. */
  readonly degreesOfFreedom: number;
  readonly probability: number | undefined;
  /** Readings beside what the fit says. */
  readonly points: readonly FitPoint[];
  /** What the fit says of errors that readings share. */
  readonly sharedErrors: readonly FittedError[];
  readonly #found: Found;

  /** @internal Made by `calibrate`. */
  constructor(found: Found) {
    this.name = found.name;
    this.file = found.file;
    this.parameters = found.parameters;
    this.covariance = found.covariance;
    this.chiSquared = found.chiSquared;
    this.degreesOfFreedom = found.degreesOfFreedom;
    this.probability = found.probability;
    this.points = found.points;
    this.sharedErrors = found.sharedErrors;
    this.#found = found;
  }

  /** A fitted input. @throws FieldError for a field that was not fitted */
  of(field: string): FittedParameter {
    const found = this.parameters.find(({ name }) => name === field);
    if (found) return found;
    const names = this.parameters.map(({ name }) => name).join(", ");
    throw new FieldError("fit.of", `a fitted field: ${names}`, field);
  }

  /** How two inputs are correlated, −1 to 1. */
  correlation(a: string, b: string): number {
    const [i, j] = [a, b].map((field) => this.parameters.indexOf(this.of(field)));
    const c = this.covariance;
    return c[i!]![j!]! / Math.sqrt(c[i!]![i!]! * c[j!]![j!]!);
  }

  /**
   * The mount with the fitted inputs in place of its own, each as a spread of its own: a later budget
   * takes the values, a later sampling the spreads. That inputs were fitted together, and so vary
   * together, is in `covariance` only.
   */
  get mount(): Mount {
    return this.parameters.reduce<Mount>(
      (mount, parameter) => withField(mount, parameter.name, spreadOf(parameter)),
      this.#found.measured,
    );
  }

  /** The fitted mount as lines over the readings, to draw. */
  curves(): readonly FitCurve[] {
    const groups = stageGroups(this.points.map(({ stage }) => stage));
    return groups.flatMap((stage) => {
      const of = this.points.filter((point) => groupOf(groups, point.stage) === stage);
      return this.#found.along(stage, powersAlong(of.map(({ power }) => power)));
    });
  }

  /** Lowest and highest reading [K]. */
  get range(): { readonly from: number; readonly to: number } {
    const all = this.points.flatMap(({ measured, stage }) => [measured, stage]);
    return { from: Math.min(...all), to: Math.max(...all) };
  }

  /** How good the fit is, and what it rests on. */
  get summary(): string {
    const { from, to } = this.range;
    const thermometers = new Set(this.points.map(({ thermometer }) => thermometer)).size;
    return (
      `${this.points.length} readings of ${thermometers === 1 ? "1 thermometer" : `${thermometers} thermometers`} ` +
      `from ${formatQuantity(from, "K")} to ${formatQuantity(to, "K")} (${this.file}). ` +
      [goodnessWords(this), ...this.#notes()].join(" ")
    );
  }

  #notes(): readonly string[] {
    const notes: string[] = [];
    this.parameters.forEach(({ name }, i) => {
      for (const other of this.parameters.slice(i + 1)) {
        const r = this.correlation(name, other.name);
        if (Math.abs(r) < 0.7) continue;
        const sign = r < 0 ? "as one rises the other falls" : "they rise together";
        notes.push(
          `${name} and ${other.name} are known less well apart than together ` +
            `(correlation ${formatNumber(r, 2)}: ${sign}).`,
        );
      }
    });
    for (const { thermometers, gain, offset, inUncertainties } of this.sharedErrors) {
      if (Math.abs(inUncertainties) < 2) continue;
      const by =
        gain === undefined ? formatQuantity(offset!, "K", 2) : `${formatNumber(100 * gain, 2)} %`;
      notes.push(
        `${thermometers.join(" and ")} would read ${by} too high, ` +
          `${formatNumber(Math.abs(inUncertainties), 2)} times what was stated.`,
      );
    }
    return notes;
  }

  #rows(): string[][] {
    return this.parameters.map((parameter) => {
      const { name, low, high, unit } = parameter;
      return [name, formatFitted(parameter), formatInterval(low, high, unit)];
    });
  }

  /** The inputs and how good the fit is, for a terminal. */
  toText(): string {
    const rows = [["fitted input", "value and standard uncertainty", "90 %"], ...this.#rows()];
    const widths = [0, 1].map((i) => Math.max(...rows.map((row) => row[i]!.length)));
    return [
      ...rows.map(([a, b, c]) => `${a!.padEnd(widths[0]!)}  ${b!.padEnd(widths[1]!)}  ${c}`),
      this.summary,
    ].join("\n");
  }

  /** The same for a notebook. */
  toMarkdown(): string {
    const rows = this.#rows().map((row) => `| ${row.join(" | ")} |`);
    const head = [
      "| fitted input | value and standard uncertainty | 90 % |",
      "| --- | ---: | ---: |",
    ];
    return [[...head, ...rows].join("\n"), this.summary].join("\n\n");
  }

  /**
   * The inputs as text in the catalogue's columns, with their 90 % intervals: `withMeasured` puts them
   * into a mount, and `catalogue.withLaws("joints", "measured", csv, sources)` takes them.
   * @param date - of the measurement, when the fit was not told
   * @throws FieldError without a date
   */
  toCsv(date = this.#found.date): { readonly csv: string; readonly sources: string } {
    measuredKey(date);
    const others = (of: FittedParameter) =>
      this.parameters
        .filter((other) => other !== of)
        .map((other) => `${other.name} ${formatNumber(this.correlation(of.name, other.name), 2)}`);
    const rows = inputRows(this.parameters, {
      date: date!,
      file: this.file,
      mount: this.name,
      ...this.range,
      note: (parameter) =>
        [
          `fitted to ${this.points.length} readings`,
          ...(others(parameter).length > 0
            ? [`correlation with ${others(parameter).join(", ")}`]
            : []),
        ].join("; "),
    });
    return {
      csv: rowsCsv(rows, `Inputs of ${this.name}, fitted by coldpath to ${this.file}.`),
      sources: sourcesCsv(date!, `fit to ${this.file}`),
    };
  }
}
