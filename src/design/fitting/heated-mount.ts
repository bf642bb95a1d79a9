/**
 * A mount with a heater and thermometers, as a model to fit: solved again and again for its inputs.
 * @module
 */
import type { Catalogue } from "../../materials/types.js";
import { mountWarnings } from "../../mount/budget.js";
import { type DiePoint, MountModel } from "../../mount/model.js";
import type { Mount, PlainMount } from "../../mount/mount.js";
import { Reach } from "../../mount/ranges.js";
import { readMount } from "../../mount/read.js";
import { isResolved } from "../../mount/things/die.js";
import { FieldError, UnknownNameError } from "../../units/errors.js";
import { formatQuantity } from "../../units/format.js";
import { toSI } from "../../units/quantity.js";
import { withField } from "../field.js";
import type { SetUp, ThermometerPlace } from "./fit-inputs.js";
import {
  type FittedModel,
  type Influence,
  type NamedReadings,
  type Parameter,
  type Prediction,
  valuesOf,
} from "./fitted-model.js";
import type { Readings, Thermometry } from "./thermometry.js";

/** Where the model has a temperature: a place by its name, or a point on a 2-D die [m]. */
export type SolvedPlace = string | DiePoint;

/** Name of the stage, among places and among columns. */
const stageName = "stage";

/** The model of `calibrate`. Its deviations are temperatures [K]. */
export class HeatedMount implements FittedModel {
  readonly thermometers: readonly (NamedReadings & { readonly at: SolvedPlace })[];
  /** Readings of the stage's thermometer; absent where the mount's own stage holds. */
  readonly stage: Readings | undefined;
  /**
   * A solved mount has fewer digits than a double, so differences reach wide. It is expensive, so later
   * passes, which start near their answer, are damped little.
   */
  readonly precision = {
    tolerance: 1e-6,
    reach: 20,
    damping: [1e-2, 1e-6],
    unmoved: 1e-3,
  } as const;
  readonly #model: MountModel;
  readonly #mount: PlainMount;
  readonly #heater: string;
  /** Where the lines led since values were last set. */
  readonly #reach: Reach;
  #values: readonly number[];

  /**
   * @param parameters - inputs by their fields, then the shared errors
   * @throws FieldError, UnknownNameError naming thermometer or field
   */
  constructor(
    mount: Mount,
    readonly data: Thermometry,
    readonly parameters: readonly Parameter[],
    setUp: SetUp,
    catalogue: Catalogue,
  ) {
    const { heater = {}, without = [], thermometers = {} } = setUp;
    for (const name of [...without, ...Object.keys(thermometers)]) {
      if (data.thermometers.has(name)) continue;
      throw new UnknownNameError("thermometers", "column", name, [...data.thermometers.keys()]);
    }
    this.#values = valuesOf(
      parameters,
      Float64Array.from(parameters, ({ start }) => start),
    );
    this.stage = without.includes(stageName) ? undefined : data.thermometers.get(stageName);
    const power = data.power.values[0]!;
    const load = { kind: "given", name: "heater", power, ...heater } as const;
    const started = withInputs(mount, parameters, this.#values);
    const held = this.stage ? { ...started, stage: this.stage.values[0]! } : started;
    this.#mount = readMount({ ...held, loads: [...held.loads, load] });
    this.#heater = `loads.${held.loads.length}.power`;
    this.#model = new MountModel(this.#mount, catalogue);
    this.#reach = new Reach(this.#model);
    this.thermometers = [...data.thermometers]
      .filter(([name]) => !without.includes(name) && !(this.stage && name === stageName))
      .map(([name, readings]) => {
        const at = Object.hasOwn(thermometers, name) ? thermometers[name]! : name;
        return { name, at: this.#placeOf(`thermometers.${name}`, at), readings };
      });
    if (this.thermometers.length === 0) {
      throw new FieldError(data.file, "a thermometer beside that of the stage", "none");
    }
  }

  /**
   * Units are mistaken by factors of a thousand: the start may be wrong, but not by as much.
   * @throws FieldError naming the columns where even a thousandth of the heater power makes a place warmer
   * than it was read, or a thousand times the power leaves it colder
   */
  refuseWrongUnits(): void {
    const { power, places } = this.data;
    const line = power.values.indexOf(Math.max(...power.values));
    const watts = power.values[line]!;
    const [less, more] = [1e-3, 1e3].map((by) => this.predict(watts * by, this.stageAt(line)));
    this.thermometers.forEach(({ name, readings }, k) => {
      const read = readings.values[line]!;
      const noise = Math.max(0.1 * read, 5 * (readings.uncertainties?.[line] ?? 0));
      const tooCold = less && less.temperatures[k]! > read + noise;
      const tooWarm = more && more.temperatures[k]! < read - noise;
      if (!(watts > 0) || !(tooCold || tooWarm)) return;
      const wanted =
        `${readings.column} ${tooCold ? "above" : "below"} ` +
        `${formatQuantity((tooCold ? less : more)!.temperatures[k]!, "K")}, which the mount as it starts gives ` +
        `with ${tooCold ? "a thousandth" : "a thousand times"} of ${power.column} (are their units right?)`;
      throw new FieldError(`${places[line]!} ${name}`, wanted, formatQuantity(read, "K", 4));
    });
  }

  /** What to know of the stage, where no column holds its temperature. */
  get readingWarnings(): readonly string[] {
    if (this.stage) return [];
    const { file } = this.data;
    const at = this.predict(this.data.power.values[0]!, undefined)?.stage;
    const kelvin = at === undefined ? "" : `, ${formatQuantity(at, "K", 4)} in the first line`;
    return [`${file} has no column ${stageName} [mK]: the stage of the mount was taken${kelvin}.`];
  }

  #placeOf(field: string, given: ThermometerPlace): SolvedPlace {
    const { places, chip } = this.#model;
    if (given === "chip") return chip;
    if (typeof given === "string") {
      if (places.includes(given)) return given;
      throw new UnknownNameError(field, "place", given, ["chip", ...places]);
    }
    const { model = "sheet", width, length } = this.#mount.die;
    if (!isResolved(model)) {
      throw new FieldError(field, "the name of a place, for a die that is no sheet", given);
    }
    const side = (name: "x" | "y", most: number) => {
      const at = toSI(`${field}.${name}`, given[name], "length");
      if (at >= 0 && at <= most) return at;
      throw new FieldError(`${field}.${name}`, "a place on the die", given[name]);
    };
    return { x: side("x", width), y: side("y", length) };
  }

  get weighted(): boolean {
    const all = [this.data.power, ...this.data.thermometers.values()];
    if (!all.some(({ uncertainties }) => uncertainties)) return false;
    const without = this.thermometers.find(({ readings }) => !readings.uncertainties);
    if (!without) return true;
    const wanted = `a column "${without.name} uncertainty", since others have one`;
    throw new FieldError(this.data.file, wanted, "none");
  }

  /** Places where no thermometer sits, but one could. */
  get otherPlaces(): readonly string[] {
    const taken = this.thermometers.map(({ at }) => at);
    return this.#model.places.filter((name) => name !== stageName && !taken.includes(name));
  }

  set(values: readonly number[]): boolean {
    try {
      readMount(withInputs(this.#mount as Mount, this.parameters, values));
    } catch (error) {
      if (error instanceof FieldError) return false;
      throw error;
    }
    this.parameters.forEach(({ name, shared }, j) => {
      if (!shared) this.#model.set(name, values[j]!);
    });
    this.#values = values;
    this.#reach.forget();
    return true;
  }

  /**
   * What is told of the states since values were last set.
   * @throws RangeError where a law is refused in one
   */
  warnings(): readonly string[] {
    const point = this.#model.point();
    return [...this.#reach.withLaws(this.#model).warnings(), ...mountWarnings(point)];
  }

  /**
   * Temperatures at places [K], without errors of readings, for a heater power [W] and, where it was
   * measured, a stage temperature [K]; undefined without steady state.
   */
  temperatures(
    power: number,
    stage: number | undefined,
    at: readonly SolvedPlace[],
  ): readonly number[] | undefined {
    this.#model.set(this.#heater, power);
    if (stage !== undefined && this.stage) this.#model.set(stageName, stage);
    try {
      this.#model.solve();
    } catch (error) {
      if (error instanceof TypeError || error instanceof ReferenceError) throw error;
      return undefined;
    }
    this.#reach.add(this.#model);
    return at.map((each) => this.#model.temperature(each));
  }

  predict(power: number, stage: number | undefined): Prediction | undefined {
    const at = [stageName, ...this.thermometers.map((each) => each.at)];
    const solved = this.temperatures(power, stage, at);
    if (!solved) return undefined;
    const temperatures = this.thermometers.map(({ name }, k) => {
      const { gain, offset } = this.#errorOf(name);
      return solved[k + 1]! * (1 + gain) + offset;
    });
    return { stage: solved[0]!, temperatures };
  }

  stageAt(line: number): number | undefined {
    const read = this.stage?.values[line];
    if (read === undefined) return undefined;
    const { gain, offset } = this.#errorOf(stageName);
    return (read - offset) / (1 + gain);
  }

  /** Shared errors of a thermometer. */
  #errorOf(thermometer: string) {
    let [gain, offset] = [0, 0];
    this.parameters.forEach(({ shared }, j) => {
      if (!shared?.thermometers.includes(thermometer)) return;
      gain += this.#values[j]! * shared.gain;
      offset += this.#values[j]! * shared.offset;
    });
    return { gain, offset };
  }

  deviations(line: number): readonly number[] | undefined {
    const predicted = this.predict(this.data.power.values[line]!, this.stageAt(line));
    return predicted?.temperatures.map((T, k) => this.thermometers[k]!.readings.values[line]! - T);
  }

  influences(line: number): readonly Influence[] {
    const [power, stage] = [this.data.power.values[line]!, this.stageAt(line)];
    const of = (readings: Readings | undefined) => readings?.uncertainties?.[line] ?? 0;
    const [ofPower, ofStage] = [of(this.data.power), of(this.stage)];
    const up = Math.max(power * 1e-4, 0.1 * ofPower);
    const by = 1e-4 * (stage ?? 0);
    return [
      ...this.thermometers.map(({ readings }, k) => ({
        uncertainty: of(readings),
        slopes: this.thermometers.map((_, l) => (k === l ? 1 : 0)),
      })),
      ...influence(ofPower, (more) => this.predict(power + more, stage), 0, up),
      ...influence(ofStage, (more) => this.predict(power, stage! + more), -by, by),
    ];
  }
}

/** A source of uncertainty, by the difference of two predictions. */
function influence(
  uncertainty: number,
  predict: (more: number) => Prediction | undefined,
  from: number,
  to: number,
): readonly Influence[] {
  const [low, high] = uncertainty > 0 ? [predict(from), predict(to)] : [];
  if (!low || !high) return [];
  const slopes = high.temperatures.map((T, k) => (T - low.temperatures[k]!) / (to - from));
  return [{ uncertainty, slopes }];
}

/** A mount with values of its inputs. */
function withInputs(
  mount: Mount,
  parameters: readonly Parameter[],
  values: readonly number[],
): Mount {
  return parameters.reduce<Mount>(
    (changed, { name, shared }, j) => (shared ? changed : withField(changed, name, values[j]!)),
    mount,
  );
}
