/**
 * A mount compiled once and solved many times with changed numbers: what sweeps and fits loop over.
 * @module
 */
import type { Conductor, Load } from "../../conductor.js";
import type { Catalogue } from "../../materials/types.js";
import { watch } from "../../mount/dependencies.js";
import { isSheet, place } from "../../mount/part.js";
import type { PlainMount } from "../../mount/read.js";
import { settle } from "../../mount/settle.js";
import { SheetStore } from "../../mount/sheet-model.js";
import { coolingBase, coolingLink, type StageModel, stageModel } from "../../mount/stage.js";
import { heatOn, type Reading, translate } from "../../mount/translate.js";
import { SteadyNetwork } from "../../network/steady.js";

/** One thing of the network that may change: how to make it and where to put it. */
export interface Changing {
  readonly reads: ReadonlySet<string>;
  make(mount: PlainMount): unknown;
  put(made: unknown): void;
}

/** Compiles the network and finds what each of its conductors, counts and loads reads. */
export function prepare(mount: PlainMount, catalogue: Catalogue) {
  const translation = translate(mount, catalogue);
  const network = new SteadyNetwork(translation.network);
  const { structure } = translation;
  const link = (name: string) => network.linkNames.indexOf(name);
  const node = (name: string) => network.nodeNames.indexOf(name);
  const parts: Changing[] = [];
  const { stage } = structure;
  const coldest = "cooling" in stage ? stage.cooling.base : stage.temperature;
  const add = <T>(make: (m: PlainMount) => T, put: (made: T) => void) => {
    const { reads } = watch(mount, make);
    parts.push({ reads, make, put: (made) => put(made as T) });
  };
  for (const part of [...structure.parts, ...structure.warm]) {
    const index = link(part.name);
    add<Conductor>(
      (m) => part.conductor(m),
      (made) => network.setConductor(index, made),
    );
    if (part.count)
      add<number>(
        (m) => part.count!(m),
        (made) => network.setCount(index, made),
      );
  }
  for (const name of new Set(structure.powers.map(({ on }) => on))) {
    const here = structure.powers.filter(({ on }) => on === name);
    const heats = (m: PlainMount) =>
      here.map((source) => ({
        on: name,
        load: source.load(m, coldest),
        ...(source.law && { law: source.law(m) }),
      }));
    add<number | Load>(
      (m) => heatOn(name, heats(m)),
      (made) => network.setLoad(node(name), made),
    );
  }
  const held = (made: StageModel) => {
    if ("cooling" in made) {
      network.setConductor(link(coolingLink), made.cooling.conductor);
      network.setTemperature(node(coolingBase), made.cooling.base);
    } else network.setTemperature(node(place.stage), made.temperature);
  };
  add<StageModel>((m) => stageModel(m, catalogue), held);
  for (const wire of structure.warm) {
    add<number>(
      (m) => wire.temperature(m),
      (made) => network.setTemperature(node(wire.warmEnd), made),
    );
  }
  return { network, parts, translation };
}

/** Puts a number at a path of a mount, which must have it. */
export function setNumber(mount: PlainMount, field: string, value: number): void {
  const keys = field.split(".");
  let at = mount as unknown as Record<string, unknown>;
  for (const key of keys.slice(0, -1)) at = at[key] as Record<string, unknown>;
  at[keys.at(-1)!] = value;
}

/** A point on the die, from its lower left corner [m]. */
export interface DiePoint {
  readonly x: number;
  readonly y: number;
}

/**
 * A mount that is solved again and again. What a changed field does not touch is not made again; a die
 * that is a sheet keeps the sheets it has seen.
 */
export class CompiledMount {
  /** Places of the mount, hot to cold. */
  readonly places: readonly string[];
  /** The hottest place on the die. */
  readonly chip: string;
  readonly #work: PlainMount;
  readonly #quick: ReturnType<typeof prepare> | undefined;
  readonly #sheets = new SheetStore();
  readonly #changed = new Set<string>();
  /** What was set last. */
  readonly #values = new Map<string, number>();
  readonly #catalogue: Catalogue;
  #reading: Reading | undefined;

  /** @param mount - in SI; it is left as it is */
  constructor(mount: PlainMount, catalogue: Catalogue) {
    this.#work = structuredClone(mount);
    this.#catalogue = catalogue;
    this.#quick = isSheet(mount) ? undefined : prepare(this.#work, catalogue);
    const { structure } =
      this.#quick?.translation ?? translate(this.#work, catalogue, this.#sheets);
    this.places = structure.places;
    this.chip = structure.chip;
  }

  /** Changes a numeric field that the mount has [SI]; the next solve sees it. */
  set(field: string, value: number): void {
    if (this.#values.get(field) === value) return;
    this.#values.set(field, value);
    setNumber(this.#work, field, value);
    this.#changed.add(field);
  }

  /**
   * Solves.
   * @throws FieldError for a value that a part refuses; Error when there is no steady state
   */
  solve(): void {
    if (!this.#quick) {
      this.#reading = settle(this.#work, this.#catalogue, this.#sheets).reading;
      return;
    }
    const { network, parts } = this.#quick;
    for (const part of parts) {
      for (const field of this.#changed) {
        if (!part.reads.has(field)) continue;
        part.put(part.make(this.#work));
        break;
      }
    }
    this.#changed.clear();
    if (!network.trySolve()) throw new Error(`${this.#work.name}: ${network.failure}`);
  }

  /** Temperature of a place, or of a point on a sheet, at the last solve [K]. */
  temperature(of: string | DiePoint): number {
    if (typeof of !== "string") return this.#reading!.field!.at(of.x, of.y);
    if (this.#reading) return this.#reading.temperatures.get(of)!;
    const { network } = this.#quick!;
    return network.temperatures[network.nodeNames.indexOf(of)]!;
  }
}
