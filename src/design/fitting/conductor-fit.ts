/**
 * A heat path as measured between two places: P = a(T₁ⁿ − T₂ⁿ), its uncertainty, and ways to use it.
 * @module
 */
import { type Conductor, powerConductor } from "../../conductor.js";
import { positive, positiveNumber, wholeNumber } from "../../units/checks.js";
import { formatQuantity } from "../../units/format.js";
import type { Area, Force, Length } from "../../units/quantity.js";
import { spread, z95 } from "../../units/spread.js";
import { Fit, type FitNumbers, formatFitted, goodnessWords } from "./fit.js";
import { digits, type SavedFit, type SavedRow, savedFit, uncertaintyText } from "./saved-fit.js";

type Row = Partial<SavedRow>;

/** The law that was found. Its `parameters` are a [W/Kⁿ], n, and the background [W] where it was fitted. */
export class ConductorFit extends Fit {
  /** Θ = a Tⁿ, with the temperatures that were measured as its range. */
  readonly conductor: Conductor;

  /** @internal Made by `fitConductor`. */
  constructor(numbers: FitNumbers) {
    super(numbers);
    const { name, date, file, range, coefficient, exponent } = this;
    const provenance = this.parameters.slice(0, 2).map((parameter) => ({
      quantity: `${name}: ${parameter.name}`,
      value: parameter.value,
      unit: parameter.unit,
      uncertainty: uncertaintyText(parameter),
      source: date === undefined ? "measured" : `measured, ${date}`,
      where: file,
      note: `fitted to ${this.points.length} readings`,
    }));
    const ranges = [{ ...range, of: `${name}, as measured`, outside: "warn" } as const];
    this.conductor = powerConductor(coefficient, exponent, { ranges, provenance });
  }

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
  get joint() {
    const { at, conductance, uncertainty } = this.pivot;
    const { low, high } = this.parameters[1]!;
    const factor = Math.exp(z95 * uncertainty);
    return {
      conductance: spread(conductance / factor, conductance * factor),
      at,
      exponent: spread(low - 1, high - 1, { distribution: "normal" }),
    } as const;
  }

  /** Heat from hot to cold by the fit, the background not counted [W]. */
  heat(hot: number, cold: number): number {
    return this.conductor.integral(hot) - this.conductor.integral(cold);
  }

  /** The law and how good it is. */
  protected get answer(): string {
    const [, n, background] = this.parameters;
    const { from, to } = this.range;
    return (
      `${this.name}: P = a(T₁ⁿ − T₂ⁿ) with n = ${formatFitted(n!)} and a conductance of ` +
      `${this.#pivotWords}; measured from ${formatQuantity(from, "K")} to ` +
      `${formatQuantity(to, "K")}. ` +
      (background ? `Heat with the heater off: ${formatFitted(background)}. ` : "") +
      goodnessWords(this)
    );
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
  }): SavedFit {
    const force = positive("force", joint.force, "force");
    const count = wholeNumber("count", joint.count ?? 1);
    const m = positiveNumber("forceExponent", joint.forceExponent ?? 1, "an exponent of the force");
    const assumed = "not measured: given or taken as 1";
    return this.#saved({ property: joint.faces, form: "pressed" }, joint.date, [
      { parameter: "conductance", unit: "W/K", ...this.#atOneKelvin(1 / count) },
      { parameter: "reference_force", value: digits(force), unit: "N", note: "as given" },
      { parameter: "force_from", value: digits(force), unit: "N", note: "the one force measured" },
      { parameter: "force_to", value: digits(force), unit: "N", note: "likewise" },
      { parameter: "force_exponent", value: digits(m), note: assumed },
      { parameter: "temperature_exponent", ...this.#temperatureExponent },
    ]);
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
  }): SavedFit {
    const shape = positive("length", rod.length, "length") / positive("area", rod.area, "area");
    const law = { property: "thermal_conductivity", form: "power", sample: rod.sample ?? "" };
    return this.#saved(law, rod.date, [
      { parameter: "coefficient", unit: "W/(m K)", ...this.#atOneKelvin(shape) },
      { parameter: "exponent", ...this.#temperatureExponent },
    ]);
  }

  /**
   * Conductance at 1 K, times a factor. Its 90 % interval by itself is wide, since it moves with the
   * exponent; at the pivot the path is known far better.
   */
  #atOneKelvin(factor: number) {
    const [a, n] = [this.coefficient, this.exponent];
    const [[vA, c], [, vN]] = this.covariance as readonly [Float64Array, Float64Array];
    const deviation = Math.sqrt(vA! + (2 * c!) / n + vN! / n ** 2);
    return {
      value: digits(a * n * factor),
      uncertainty: `x${Number(Math.exp(z95 * deviation).toPrecision(6))}`,
      note: `at 1 K; measured where it matters: ${this.#pivotWords}`,
    };
  }

  get #temperatureExponent() {
    return { value: digits(this.exponent - 1), uncertainty: uncertaintyText(this.parameters[1]!) };
  }

  get #pivotWords(): string {
    const { at, conductance, uncertainty } = this.pivot;
    const share = `${(100 * uncertainty).toPrecision(2)} %`;
    return `${formatQuantity(conductance, "W/K")} ± ${share} at ${formatQuantity(at, "K")}`;
  }

  #saved(law: Row, date = this.date, rows: readonly Row[]): SavedFit {
    const fit = { what: `${this.name}:`, file: this.file, date };
    const all = rows.map((row) => ({ ...law, ...row }));
    return savedFit(fit, this.range, all);
  }
}
