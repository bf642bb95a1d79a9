/**
 * A heat path as measured between two places: P = a(T₁ⁿ − T₂ⁿ), its uncertainty, and ways to use it.
 * @module
 */
import type { Conductor } from "../../conductor.js";
import { positive, positiveNumber, wholeCount } from "../../units/checks.js";
import { formatQuantity } from "../../units/format.js";
import type { Area, Force, Length } from "../../units/quantity.js";
import { ninety, type Spread, spread } from "../../units/spread.js";
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
import {
  digits,
  measuredKey,
  rowsCsv,
  type SavedRow,
  sourcesCsv,
  uncertaintyText,
} from "./saved-fit.js";

/** The law that was found. */
export class ConductorFit implements DrawnFit {
  constructor(
    /** The conductor. */
    readonly name: string,
    /** Name of the measurements' file. */
    readonly file: string,
    /** a [W/Kⁿ], n, and the background [W] where it was fitted. */
    readonly parameters: readonly FittedParameter[],
    /** Of ln a, n and the background [W], row by row. */
    readonly covariance: readonly Float64Array[],
    readonly chiSquared: number,
    /** Readings less fitted numbers. */
    readonly degreesOfFreedom: number,
    readonly probability: number | undefined,
    /** Readings beside what the fit says. */
    readonly points: readonly FitPoint[],
    /** Θ = a Tⁿ, with the temperatures that were measured as its range. */
    readonly conductor: Conductor,
    /** Temperatures that were measured [K]. */
    readonly range: {
      /** Lowest temperature [K]. */
      readonly from: number;
      /** Highest temperature [K]. */
      readonly to: number;
    },
    /** Day of the measurement, when given. */
    readonly date: string | undefined,
  ) {}

  /** a, of P = a(T₁ⁿ − T₂ⁿ) [W/Kⁿ] */
  get coefficient(): number {
    return this.parameters[0]!.value;
  }

  /** n */
  get exponent(): number {
    return this.parameters[1]!.value;
  }

  /**
   * The temperature [K] at which conductance and exponent are known independently of each other, with
   * G there [W/K] and its standard uncertainty as a share. Extrapolations fan out from here.
   */
  get pivot(): { readonly at: number; readonly conductance: number; readonly uncertainty: number } {
    const [a, n] = [this.coefficient, this.exponent];
    // ln G = ln a + ln n + (n − 1) ln T
    const [vA, c, vN] = [this.covariance[0]![0]!, this.covariance[0]![1]!, this.covariance[1]![1]!];
    const slope = vN > 0 ? -c / vN - 1 / n : 0;
    const at = Math.exp(slope);
    const variance = vA + 2 * c * (1 / n + slope) + vN * (1 / n + slope) ** 2;
    return {
      at,
      conductance: a * n * at ** (n - 1),
      uncertainty: Math.sqrt(Math.max(0, variance)),
    };
  }

  /**
   * The path as a joint of a mount, with its spreads: `mount.joint`, `mount.back.joint`.
   * Where it stands several times side by side, the conductance is that of all, so leave out the count.
   */
  get joint(): {
    readonly conductance: Spread<number>;
    readonly at: number;
    readonly exponent: Spread<number>;
  } {
    const { at, conductance, uncertainty } = this.pivot;
    const { value, uncertainty: of } = this.parameters[1]!;
    const factor = Math.exp(ninety * uncertainty);
    return {
      conductance: spread(conductance / factor, conductance * factor),
      at,
      exponent: spread(value - 1 - ninety * of, value - 1 + ninety * of, {
        distribution: "normal",
      }),
    };
  }

  /** Heat from hot to cold by the fit, the background not counted [W]. */
  heat(hot: number, cold: number): number {
    return this.conductor.integral(hot) - this.conductor.integral(cold);
  }

  /** The fitted law as a line over the readings, to draw. */
  curves(): readonly FitCurve[] {
    const [a, n, background] = this.parameters.map(({ value }) => value);
    const groups = stageGroups(this.points.map(({ stage }) => stage));
    const thermometer = this.points[0]!.thermometer;
    return groups.map((stage) => {
      const of = this.points.filter((point) => groupOf(groups, point.stage) === stage);
      const powers = powersAlong(of.map(({ power }) => power));
      const hot = (power: number) => ((power + (background ?? 0)) / a! + stage ** n!) ** (1 / n!);
      return { thermometer, stage, powers, temperatures: powers.map(hot) };
    });
  }

  /** The law and how good it is. */
  get summary(): string {
    const { at, conductance, uncertainty } = this.pivot;
    const [, n, background] = this.parameters;
    const { from, to } = this.range;
    return (
      `${this.name}: P = a(T₁ⁿ − T₂ⁿ) with n = ${formatFitted(n!)} and a conductance of ` +
      `${formatQuantity(conductance, "W/K")} ± ${(100 * uncertainty).toPrecision(2)} % at ` +
      `${formatQuantity(at, "K")}; measured from ${formatQuantity(from, "K")} to ` +
      `${formatQuantity(to, "K")}. ` +
      (background ? `Heat with the heater off: ${formatFitted(background)}. ` : "") +
      goodnessWords(this)
    );
  }

  /** For a terminal. */
  toText(): string {
    return this.summary;
  }

  /** For a notebook. */
  toMarkdown(): string {
    return this.summary;
  }

  /**
   * As a pressed joint in the columns of data/joints/pressed.csv: for
   * `catalogue.withLaws("joints", "pressed", csv, sources)`, after which a mount names `faces`.
   * @param joint - `force` on each of `count` joints (1 when absent) as measured; `forceExponent` m of
   * G ∝ Fᵐ, 1 when absent, as for metals that yield: this was not measured
   * @throws FieldError
   */
  toJointCsv(joint: {
    readonly faces: string;
    readonly force: Force;
    readonly count?: number;
    readonly forceExponent?: number;
    /** Day of the measurement, when given. */
    readonly date?: string;
  }): { readonly csv: string; readonly sources: string } {
    const date = joint.date ?? this.date;
    const force = positive("force", joint.force, "force");
    const count = wholeCount("count", joint.count);
    const m = positiveNumber("forceExponent", joint.forceExponent ?? 1, "an exponent of the force");
    const [a, n] = this.parameters;
    const row = this.#row({ property: joint.faces, form: "pressed" }, date);
    const atOneKelvin = a!.value * n!.value;
    return {
      csv: rowsCsv(
        [
          row("conductance", atOneKelvin / count, "W/K", this.#factorAtOneKelvin, this.#fan()),
          row("reference_force", force, "N", "", "as given"),
          row("force_exponent", m, "", "", "not measured: given or taken as 1"),
          row("temperature_exponent", n!.value - 1, "", uncertaintyText(n!), ""),
        ],
        `${this.name}: fitted by coldpath to ${this.file}.`,
      ),
      sources: sourcesCsv(measuredKey(date) && date!, `fit to ${this.file}`),
    };
  }

  /**
   * As the thermal conductivity of a rod of one material: κ = a n Tⁿ⁻¹ L/A, in the columns of
   * data/materials: for `catalogue.withMaterial(name, csv, sources)`.
   * @throws FieldError
   */
  toMaterialCsv(rod: {
    readonly length: Length;
    readonly area: Area;
    readonly sample?: string;
    /** Day of the measurement, when given. */
    readonly date?: string;
  }): { readonly csv: string; readonly sources: string } {
    const date = rod.date ?? this.date;
    const shape = positive("length", rod.length, "length") / positive("area", rod.area, "area");
    const [a, n] = this.parameters;
    const row = this.#row(
      { property: "thermal_conductivity", form: "power", sample: rod.sample ?? "" },
      date,
    );
    const uncertainty = this.#factorAtOneKelvin;
    return {
      csv: rowsCsv(
        [
          row("coefficient", a!.value * n!.value * shape, "W/(m K)", uncertainty, this.#fan()),
          row("exponent", n!.value - 1, "", uncertaintyText(n!), ""),
        ],
        `${this.name}: fitted by coldpath to ${this.file}.`,
      ),
      sources: sourcesCsv(measuredKey(date) && date!, `fit to ${this.file}`),
    };
  }

  /**
   * Of the conductance at 1 K by itself, as the catalogue writes its 90 % interval. It moves with the
   * exponent: where it was measured the path is known far better.
   */
  get #factorAtOneKelvin(): string {
    const n = this.exponent;
    const [[vA, c], [, vN]] = this.covariance as readonly [Float64Array, Float64Array];
    const variance = vA! + (2 * c!) / n + vN! / n ** 2;
    return `x${Number(Math.exp(ninety * Math.sqrt(variance)).toPrecision(6))}`;
  }

  #fan(): string {
    const { at, conductance, uncertainty } = this.pivot;
    return (
      `at 1 K; measured where it matters: ${formatQuantity(conductance, "W/K")} ± ` +
      `${(100 * uncertainty).toPrecision(2)} % at ${formatQuantity(at, "K")}`
    );
  }

  #row(
    of: { readonly property: string; readonly form: string; readonly sample?: string },
    date: string | undefined,
  ) {
    const source = measuredKey(date);
    return (
      parameter: string,
      value: number,
      unit: string,
      uncertainty: string,
      note: string,
    ): SavedRow => ({
      property: of.property,
      form: of.form,
      valid_from: digits(this.range.from),
      valid_to: digits(this.range.to),
      parameter,
      value: digits(value),
      unit,
      uncertainty,
      sample: of.sample ?? "",
      source,
      where: this.file,
      note,
    });
  }
}
