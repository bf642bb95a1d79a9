/**
 * What a mount says a fit's thermometers read, by its inputs: solved again and again.
 * @module
 */
import type { Catalogue } from "../../materials/types.js";
import type { LoadMap, Mount } from "../../mount/mount.js";
import { place } from "../../mount/part.js";
import type { PlainMount } from "../../mount/mount.js";
import { readMount } from "../../mount/read.js";
import { FieldError, UnknownNameError } from "../../units/errors.js";
import { type Length, toSI } from "../../units/quantity.js";
import { withField } from "../field.js";
import { CompiledMount, type DiePoint } from "../sweeping/compiled-mount.js";
import type { Readings, Thermometry } from "./thermometry.js";

/** Where a thermometer sits: a place of the mount by name, or a point on a die that is a sheet. */
export type ThermometerPlace =
  | string
  | {
      /** From the die's left edge [m]. */
      readonly x: Length;
      /** From the die's lower edge [m]. */
      readonly y: Length;
    };

/** What the measurements were made with. */
export interface SetUp {
  /**
   * Where each thermometer sits, by its column. Left out where the column is called as the place is;
   * `chip` is the hottest place on the die. A column `stage` holds the stage temperature of each line.
   */
  readonly thermometers?: Readonly<Record<string, ThermometerPlace>>;
  /** Columns to leave out. */
  readonly without?: readonly string[];
  /** Where the heater's power falls; evenly on the die when absent. */
  readonly heater?: { readonly on?: "die" | "box"; readonly map?: LoadMap };
}

/** A thermometer with its readings. */
export interface PlacedThermometer {
  readonly name: string;
  readonly at: string | DiePoint;
  readonly readings: Readings;
}

/** The model behind a fit. */
export class FittedModel {
  readonly thermometers: readonly PlacedThermometer[];
  /** What the stage's thermometer said; absent where the mount's own stage holds. */
  readonly stage: Readings | undefined;
  readonly #compiled: CompiledMount;
  readonly #mount: PlainMount;
  readonly #heater: string;

  /**
   * @param mount - with every fitted field in it
   * @throws FieldError, UnknownNameError naming thermometer or field
   */
  constructor(mount: Mount, data: Thermometry, setUp: SetUp, catalogue: Catalogue) {
    const { heater = {}, without = [] } = setUp;
    for (const name of [...without, ...Object.keys(setUp.thermometers ?? {})]) {
      if (data.thermometers.has(name)) continue;
      throw new UnknownNameError("thermometers", "column", name, [...data.thermometers.keys()]);
    }
    this.stage = without.includes(place.stage) ? undefined : data.thermometers.get(place.stage);
    const power = {
      kind: "given",
      name: "heater",
      power: data.power.values[0]!,
      ...heater,
    } as const;
    const held = this.stage ? { ...mount, stage: this.stage.values[0]! } : mount;
    this.#mount = readMount({ ...held, loads: [...held.loads, power] });
    this.#heater = `loads.${held.loads.length}.power`;
    this.#compiled = new CompiledMount(this.#mount, catalogue);
    this.thermometers = [...data.thermometers]
      .filter(([name]) => !without.includes(name) && !(this.stage && name === place.stage))
      .map(([name, readings]) => ({ name, at: this.#placeOf(name, setUp), readings }));
    if (this.thermometers.length === 0) {
      throw new FieldError(data.file, "a thermometer beside that of the stage", "none");
    }
  }

  /** Places where no thermometer sits, but one could. */
  get otherPlaces(): readonly string[] {
    const taken = this.thermometers.map(({ at }) => at);
    return this.#compiled.places.filter((name) => name !== place.stage && !taken.includes(name));
  }

  #placeOf(name: string, { thermometers = {} }: SetUp): string | DiePoint {
    const given: ThermometerPlace | undefined = Object.hasOwn(thermometers, name)
      ? thermometers[name]
      : undefined;
    const field = `thermometers.${name}`;
    const { places, chip } = this.#compiled;
    if (typeof given === "object") {
      if ((this.#mount.die.model ?? "sheet") !== "sheet") {
        throw new FieldError(field, "the name of a place, for a die that is no sheet", given);
      }
      const [x, y] = (["x", "y"] as const).map((side) => {
        const at = toSI(`${field}.${side}`, given[side], "length");
        const most = side === "x" ? this.#mount.die.width : this.#mount.die.length;
        if (at >= 0 && at <= most) return at;
        throw new FieldError(`${field}.${side}`, "a place on the die", given[side]);
      });
      return { x: x!, y: y! };
    }
    const wanted = given ?? name;
    if (wanted === "chip") return chip;
    if (places.includes(wanted)) return wanted;
    throw new UnknownNameError(field, "place", wanted, ["chip", ...places]);
  }

  /**
   * Changes inputs.
   * @returns whether the mount takes these values
   */
  set(fields: readonly string[], values: ArrayLike<number>): boolean {
    try {
      readMount(
        fields.reduce<Mount>(
          (changed, field, i) => withField(changed, field, values[i]!),
          this.#mount as Mount,
        ),
      );
    } catch (error) {
      if (error instanceof FieldError) return false;
      throw error;
    }
    fields.forEach((field, i) => {
      this.#compiled.set(field, values[i]!);
    });
    return true;
  }

  /**
   * Temperatures at the thermometers, or at other places, for a heater power [W] and, where it was
   * measured, a stage temperature [K].
   * @returns undefined where there is no steady state
   */
  solve(
    power: number,
    stage: number | undefined,
    at: readonly (string | DiePoint)[] = this.thermometers.map((each) => each.at),
  ): readonly number[] | undefined {
    this.#compiled.set(this.#heater, power);
    if (stage !== undefined && this.stage) this.#compiled.set(place.stage, stage);
    try {
      this.#compiled.solve();
    } catch (error) {
      if (error instanceof TypeError || error instanceof ReferenceError) throw error;
      return undefined;
    }
    return at.map((each) => this.#compiled.temperature(each));
  }

  /** Temperature of the stage at the last solve [K]. */
  get stageTemperature(): number {
    return this.#compiled.temperature(place.stage);
  }
}
