/**
 * A mount with a heater and thermometers, as a model to fit: solved again and again for its inputs.
 * @module
 */
import type { Catalogue } from "../../materials/types.js";
import { dieModel } from "../../mount/assemble.js";
import { mountWarnings } from "../../mount/budget.js";
import { MountModel } from "../../mount/model.js";
import type { Mount, PlainMount } from "../../mount/mount.js";
import type { DiePoint } from "../../mount/operating-point.js";
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
  readingsLess,
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
  readonly precision: FittedModel["precision"];
  /** Whether the temperature of every place on the die is known, and each solve takes long. */
  readonly isResolved: boolean;
  readonly #model: MountModel;
  readonly #mount: PlainMount;
  /** Path of the heater among the loads. */
  readonly #heater: string;
  /** Fields of the heat that resistance thermometers bring, with its values by line. */
  readonly #heating: readonly { readonly field: string; readonly heats: Float64Array }[];
  /** Where the lines led since values were last set. */
  readonly #reach: Reach;
  #values: readonly number[];
  /** What was predicted last, since a line is asked for its deviations and then for its temperatures. */
  #last: { readonly key: string; readonly found: Prediction } | undefined;

  /**
   * @param parameters - inputs by their fields, then the shared errors
   * @param die - another model of it than the mount's
   * @throws FieldError, UnknownNameError naming thermometer or field
   */
  constructor(
    private readonly asGiven: Mount,
    readonly data: Thermometry,
    readonly parameters: readonly Parameter[],
    private readonly setUp: SetUp,
    private readonly catalogue: Catalogue,
    die?: "two nodes",
  ) {
    const { heater = {}, without = [], thermometers = {} } = setUp;
    for (const name of [...without, ...Object.keys(thermometers)]) {
      if (data.thermometers.has(name)) continue;
      throw new UnknownNameError("thermometers", "column", name, [...data.thermometers.keys()]);
    }
    this.#values = valuesOf(parameters);
    this.stage = without.includes(stageName) ? undefined : data.thermometers.get(stageName);
    const power = data.power.values[0]!;
    const load = { kind: "given", name: "heater", power, ...heater } as const;
    const started = withInputs(asGiven, parameters, this.#values);
    const held = this.stage ? { ...started, stage: this.stage.values[0]! } : started;
    const placed = [...data.thermometers]
      .filter(([name]) => !without.includes(name) && !(this.stage && name === stageName))
      .map(([name, readings]) => {
        const at = Object.hasOwn(thermometers, name) ? thermometers[name]! : name;
        return { name, at, readings };
      });
    const { width } = readMount(held).die;
    const heating = placed.flatMap(({ name, at, readings: { heats } }) => {
      const falls = heats && excitationLoad(at, width);
      return falls ? [{ heats, load: { name: `excitation of ${name}`, ...falls } }] : [];
    });
    const first = held.loads.length;
    this.#mount = readMount({
      ...held,
      loads: [
        ...held.loads,
        load,
        ...heating.map((each) => ({ kind: "given", power: each.heats[0]!, ...each.load }) as const),
      ],
    });
    this.#heater = `loads.${first}`;
    this.#heating = heating.map(({ heats }, i) => ({
      field: `loads.${first + 1 + i}.power`,
      heats,
    }));
    this.#model = new MountModel(this.#mount, catalogue, die && { die });
    this.isResolved = this.#model.isResolved;
    this.precision = {
      tolerance: 1e-6,
      reach: 20,
      damping: [1e-2, 1e-6],
      unmoved: 1e-3,
      sparing: this.isResolved,
    };
    this.#reach = new Reach(this.#model);
    this.thermometers = placed.map(({ name, at, readings }) => ({
      name,
      at: die ? placeOrChip(this.#model, at) : this.#placeOf(`thermometers.${name}`, at),
      readings,
    }));
    if (this.thermometers.length === 0) {
      throw new FieldError(data.file, "a thermometer beside that of the stage", "none");
    }
  }

  /** The same with a die of two nodes, on which a place that only a 2-D die has is the chip. */
  withFewNodes(): HeatedMount {
    const { asGiven, data, parameters, setUp, catalogue } = this;
    return new HeatedMount(asGiven, data, parameters, setUp, catalogue, "two nodes");
  }

  /**
   * The mount by a die of few nodes, quick enough for thousands of estimates: its stage [K], the heat that it
   * takes beside the heater's [W], and how warm a thermometer is by all heat that it takes [W] and, where it
   * was measured, the stage [K]; undefined where that can't be solved. A place on a 2-D die is the chip.
   */
  estimate() {
    const few = isResolved(dieModel(this.#mount)) ? ({ die: "two nodes" } as const) : {};
    const heater = this.#mount.loads[Number(this.#heater.split(".")[1])]!;
    const others = new MountModel(this.#mount, this.catalogue, few)
      .heats()
      .filter(({ source }) => source.field.replace(/\[(\d+)\]/, ".$1") !== this.#heater);
    const loads = others.reduce((sum, { load }) => sum + load.power, 0);
    // All heat by the heater, so that it may be less than the loads, too.
    const wires = this.#mount.loads.filter(({ kind }) => kind === "conduction");
    const heated = { ...this.#mount, loads: [...wires, heater] };
    const model = new MountModel(heated, this.catalogue, few);
    const power = `loads.${wires.length}.power`;
    const at = this.thermometers.map((each) => placeOrChip(model, each.at));
    const temperature = (heat: number, stage: number | undefined, thermometer: number) => {
      model.set(power, heat);
      if (stage !== undefined && this.stage) model.set(stageName, stage);
      return isSolved(model) ? model.temperature(at[thermometer]!) : undefined;
    };
    const cold = temperature(loads || 1e-15, this.stage?.values[0], 0);
    const stage = this.stage?.values[0] ?? (cold === undefined ? 0 : model.temperature(stageName));
    return { stage, loads, temperature };
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
    const { model, width, length } = this.#mount.die;
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
    this.#last = undefined;
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
   * @param line - whose excitation heats; that of the nearest power when absent
   */
  temperatures(
    power: number,
    stage: number | undefined,
    at: readonly SolvedPlace[],
    line?: number,
  ): readonly number[] | undefined {
    this.#model.set(`${this.#heater}.power`, power);
    if (this.#heating.length > 0) {
      const heated = line ?? this.#lineNear(power, stage);
      for (const { field, heats } of this.#heating) this.#model.set(field, heats[heated]!);
    }
    if (stage !== undefined && this.stage) this.#model.set(stageName, stage);
    if (!isSolved(this.#model)) return undefined;
    this.#reach.add(this.#model);
    return at.map((each) => this.#model.temperature(each));
  }

  /** The line whose stage and, of those, whose power is nearest. */
  #lineNear(power: number, stage: number | undefined): number {
    const off = this.data.places.map((_, line) => {
      const there = this.stage && stage ? Math.log(this.stage.values[line]! / stage) : 0;
      return [Math.abs(there) > 0.03 ? 1 : 0, Math.abs(this.data.power.values[line]! - power)];
    });
    return off.reduce(
      (best, [far, by], i) =>
        far! < off[best]![0]! || (far === off[best]![0] && by! < off[best]![1]!) ? i : best,
      0,
    );
  }

  predict(power: number, stage: number | undefined, line?: number): Prediction | undefined {
    const key = `${power} ${stage} ${line}`;
    if (this.#last?.key === key) return this.#last.found;
    const at = [stageName, ...this.thermometers.map((each) => each.at)];
    const solved = this.temperatures(power, stage, at, line);
    if (!solved) return undefined;
    const temperatures = this.thermometers.map(({ name }, k) => {
      const { gain, offset } = this.#errorOf(name);
      return solved[k + 1]! * (1 + gain) + offset;
    });
    const found = { stage: solved[0]!, temperatures };
    this.#last = { key, found };
    return found;
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
    return readingsLess(this, line);
  }

  influences(line: number, deviations?: readonly number[]): readonly Influence[] {
    const [power, stage] = [this.data.power.values[line]!, this.stageAt(line)];
    // A prediction known from the deviations is not solved for again.
    const here = deviations && {
      stage: stage ?? 0,
      temperatures: deviations.map((off, k) => this.thermometers[k]!.readings.values[line]! - off),
    };
    const of = (readings: Readings | undefined) => readings?.uncertainties?.[line] ?? 0;
    const [ofPower, ofStage] = [of(this.data.power), of(this.stage)];
    const up = Math.max(power * 1e-4, 0.1 * ofPower);
    const by = 1e-4 * (stage ?? 0);
    return [
      ...this.thermometers.map(({ readings }, k) => ({
        uncertainty: of(readings),
        slopes: this.thermometers.map((_, l) => (k === l ? 1 : 0)),
      })),
      ...influence(ofPower, (more) => this.predict(power + more, stage, line), up, here),
      ...influence(ofStage, (more) => this.predict(power, stage! + more, line), by, here),
    ];
  }
}

/**
 * Where a thermometer's excitation falls: on the box, at its point of the die [m wide], evenly on the die where
 * no point is given; nowhere where the stage takes it.
 */
function excitationLoad(at: ThermometerPlace, width: number) {
  if (typeof at === "string") {
    if (at === stageName) return undefined;
    return at.startsWith("box") ? ({ on: "box" } as const) : ({ on: "die" } as const);
  }
  return { on: "die", map: { kind: "spot", ...at, radius: width / 100 } } as const;
}

/** A source of uncertainty, by the difference of two predictions. @param here - the one without a change */
function influence(
  uncertainty: number,
  predict: (more: number) => Prediction | undefined,
  by: number,
  here: Prediction | undefined,
): readonly Influence[] {
  if (!(uncertainty > 0)) return [];
  const [low, high] = [here ?? predict(0), predict(by)];
  if (!low || !high) return [];
  const slopes = high.temperatures.map((T, k) => (T - low.temperatures[k]!) / by);
  return [{ uncertainty, slopes }];
}

/** A place of a model with a die of few nodes; the chip where that has none such. */
function placeOrChip({ places, chip }: MountModel, given: ThermometerPlace): string {
  return typeof given === "string" && places.includes(given) ? given : chip;
}

/** Solves a model; false where it has no steady state. */
function isSolved(model: MountModel): boolean {
  try {
    model.solve();
    return true;
  } catch (error) {
    if (error instanceof TypeError || error instanceof ReferenceError) throw error;
    return false;
  }
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
