/**
 * The smallest mount as a model to fit: one conductor P = a(T₁ⁿ − T₂ⁿ) between a heated node and a stage
 * node. Its solution is a formula.
 * @module
 */
import { FieldError } from "../../units/errors.js";
import type {
  FittedModel,
  Influence,
  NamedReadings,
  Parameter,
  Prediction,
} from "./fitted-model.js";
import type { Readings, Thermometry } from "./thermometry.js";

/**
 * The model of `fitConductor`. Its deviations are heats [W], so that data without uncertainties are
 * weighted alike in power. In place of a it has G at a temperature amid the readings, which is nearly
 * independent of n.
 */
export class ConductorModel implements FittedModel {
  readonly parameters: readonly Parameter[];
  readonly thermometers: readonly NamedReadings[];
  readonly weighted: boolean;
  readonly precision = { tolerance: 1e-12, reach: 1, unmoved: 1e-4 } as const;
  /** Where G is a parameter [K]. */
  readonly middle: number;
  /** G [W/K], n, and the background [W]. */
  #values: readonly number[] = [];

  /**
   * @param hot, cold - readings at the heated node and at the stage node
   * @throws FieldError where no line has heat, or the heated node cools with it
   */
  constructor(
    readonly data: Thermometry,
    readonly hot: Readings,
    readonly cold: Readings,
    { from, background }: { readonly from: string; readonly background: boolean },
  ) {
    this.thermometers = [{ name: from, readings: hot }];
    this.weighted = [data.power, hot, cold].some(({ uncertainties }) => uncertainties);
    const logs = [...hot.values, ...cold.values].map(Math.log);
    this.middle = Math.exp(logs.reduce((sum, x) => sum + x, 0) / logs.length);
    const most = Math.max(...data.power.values);
    if (!(most > 0)) throw new FieldError("heater power", "a line with the heater on", 0);
    const { g, n } = this.#start();
    const scale = (value: number) => Math.max(Math.abs(value), most);
    this.parameters = [
      { name: "the conductance", logarithmic: true, start: Math.log(g) },
      { name: "the exponent", logarithmic: false, start: n },
      ...(background ? [{ name: "the background", logarithmic: false, start: 0, scale }] : []),
    ];
  }

  /** The best straight line for each of a few exponents, and of these the best. */
  #start() {
    const powers = [...this.data.power.values];
    const lines = Array.from({ length: 20 }, (_, i) => {
      const n = 1.25 + 0.25 * i;
      const heats = powers.map((_, line) => this.#heat(n, line));
      const dot = (values: readonly number[]) =>
        heats.reduce((sum, q, j) => sum + q * values[j]!, 0);
      const g = dot(powers) / dot(heats);
      const sum = heats.reduce((total, q, j) => total + (powers[j]! - g * q) ** 2, 0);
      return { n, g, sum };
    }).filter(({ g }) => g > 0);
    if (lines.length > 0) return lines.reduce((best, line) => (line.sum < best.sum ? line : best));
    const wanted = "the thermometer that gets warmer with heater power";
    throw new FieldError("from", wanted, "it cools");
  }

  /** Heat of a line for G = 1 W/K, by the exponent [W]. */
  #heat(n: number, line: number): number {
    const power = (of: Readings) => (of.values[line]! / this.middle) ** n;
    return (this.middle / n) * (power(this.hot) - power(this.cold));
  }

  set(values: readonly number[]): boolean {
    this.#values = values;
    return values[1]! > 0.05 && values[1]! < 30;
  }

  stageAt(line: number): number {
    return this.cold.values[line]!;
  }

  predict(power: number, stage: number): Prediction {
    const [g, n, background = 0] = this.#values;
    const a = g! / n! / this.middle ** (n! - 1);
    const base = (power + background) / a + stage ** n!;
    return { stage, temperatures: [Math.max(base, 0) ** (1 / n!)] };
  }

  deviations(line: number): readonly number[] {
    const [g, n, background = 0] = this.#values;
    return [g! * this.#heat(n!, line) - background - this.data.power.values[line]!];
  }

  influences(line: number): readonly Influence[] {
    const [g, n] = this.#values;
    const of = (readings: Readings, slope: (T: number) => number) => ({
      uncertainty: readings.uncertainties?.[line] ?? 0,
      slopes: [slope(readings.values[line]!)],
    });
    const conductance = (T: number) => g! * (T / this.middle) ** (n! - 1);
    return [of(this.data.power, () => 1), of(this.hot, conductance), of(this.cold, conductance)];
  }
}
