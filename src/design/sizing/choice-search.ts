/**
 * The search of `cheapest` on the two-node model of the die: samples and slopes at a choice, the steps from one
 * to the next, and whole numbers at the end.
 * @module
 */
import type { Catalogue } from "../../materials/types.js";
import { dieModel } from "../../mount/assemble.js";
import { MountModel } from "../../mount/model.js";
import type { Mount, PlainMount } from "../../mount/mount.js";
import { readMount } from "../../mount/read.js";
import { isResolved } from "../../mount/things/die.js";
import { limitOf } from "../../mount/things/limit.js";
import { random } from "../../numerics/random.js";
import { FieldError } from "../../units/errors.js";
import { draws } from "../confidence/samples.js";
import { SteadyStateSlopes } from "../confidence/slopes.js";
import { Inputs, type Sample } from "../confidence/uncertain-inputs.js";
import { type UncertainRows, uncertainMount } from "../confidence/uncertain-mount.js";
import { type MountField, numberAt, replaced, withField } from "../field.js";
import type { ChosenField } from "./cheapest-result.js";
import { convexStep } from "./convex-step.js";
import type { CostRule } from "./costs.js";

/** Samples of the two-node model at each choice that is tried. */
const fewSamples = 512;
/** Of these, so many about the percentile say how it follows the fields. */
const about = 8;
/** Steps of the search: most, and the change of a field that ends it, in parts of it. */
const steps = { most: 25, end: 3e-3 };
/** Largest change of a field in one step, as a factor. */
const largestStep = 2;

/** A field of the search, in SI. */
export type SearchedField = Omit<ChosenField, "name" | "value"> & { readonly name: MountField };

/** What q is at a choice, and how its logarithm follows the logarithm of each field. */
interface Ratio {
  readonly value: number;
  readonly slopes: readonly number[];
}

/** A mount in SI with another value at a path. */
const withPlain = (mount: PlainMount, field: string, value: unknown) =>
  replaced(mount, field.split("."), value) as PlainMount;

/** Choices tried on the two-node model of the die. */
export class ChoiceSearch {
  /** Solves of the two-node model so far. */
  solves = 0;
  readonly #ratios = new Map<string, Ratio>();
  #rows: UncertainRows;

  constructor(
    readonly mount: Mount,
    readonly fields: readonly SearchedField[],
    readonly cost: CostRule,
    readonly how: {
      readonly catalogue: Catalogue;
      readonly rows: UncertainRows;
      readonly seed: number;
      readonly probability: number;
    },
  ) {
    this.#rows = how.rows;
  }

  /** What the mount has, as far as it lies within the bounds. */
  get start(): readonly number[] {
    const plain = readMount(this.mount);
    return this.fields.map(({ name, from, to }) =>
      Math.min(to, Math.max(from, numberAt(plain, name))),
    );
  }

  /** The mount with a choice; of what counts, the next whole number. */
  mountAt(values: readonly number[]): Mount {
    return this.fields.reduce(
      (m, { name, whole }, i) =>
        withField(m, name, whole ? Math.ceil(values[i]! - 1e-9) : values[i]!),
      this.mount,
    );
  }

  costAt(values: readonly number[]): number {
    return this.cost.of(this.#plain(readMount(this.mount), values));
  }

  /** Temperature of the stage, and rise that the limit allows, at the medians [K]. */
  nominal(values: readonly number[]): { readonly stage: number; readonly allowed: number } {
    const plain = readMount(this.mountAt(values));
    const { catalogue } = this.how;
    const model = new MountModel(plain, catalogue, this.#few(plain));
    const { stage } = model.point();
    return { stage, allowed: limitOf(plain, catalogue)!(stage) - stage };
  }

  /** Whether every field is where it cools best. */
  isBest(values: readonly number[]): boolean {
    const { slopes } = this.ratio(values);
    return this.fields.every(({ from, to }, i) => {
      const best = slopes[i]! < 0 ? to : from;
      return Math.abs(values[i]! / best - 1) < 1e-6;
    });
  }

  #few(plain: PlainMount) {
    return isResolved(dieModel(plain)) ? ({ die: "two nodes" } as const) : {};
  }

  /** A choice in a mount in SI; counts as they are. */
  #plain(plain: PlainMount, values: readonly number[]): PlainMount {
    return this.fields.reduce((m, { name }, i) => withPlain(m, name, values[i]!), plain);
  }

  /** q at a choice, whose counts are whole. */
  ratio(given: readonly number[]): Ratio {
    const values = given.map((value, i) => (this.fields[i]!.whole ? Math.round(value) : value));
    const key = values.join();
    const found = this.#ratios.get(key);
    if (found) return found;
    const { catalogue, seed, probability } = this.how;
    const mount = this.mountAt(values);
    const plain = readMount(mount);
    const few = this.#few(plain);
    const model = uncertainMount(mount, { catalogue, rows: this.#rows, ...few });
    this.#rows = model.recipe.rows;
    const samples: { readonly q: number; readonly values: Float64Array }[] = [];
    for (const drawn of draws(model, fewSamples, random(seed, 2048))) {
      const { chip, stage, limit } = model.evaluate(drawn);
      const q = (chip - stage) / (limit - stage);
      samples.push({ q: Number.isFinite(q) ? q : Number.POSITIVE_INFINITY, values: drawn.slice() });
    }
    this.solves += fewSamples;
    samples.sort((a, b) => a.q - b.q);
    const middle = Math.round(probability * fewSamples);
    const near = samples.slice(
      Math.max(0, Math.min(middle - about / 2, fewSamples - about)),
      Math.min(fewSamples, middle + about / 2),
    );
    const inputs = new Inputs(model.inputs, plain, catalogue);
    const each = near
      .filter(({ q }) => Number.isFinite(q))
      .map((sample) => this.#slopes(inputs.at(sample.values)));
    if (each.length === 0) {
      throw new FieldError("choices", "bounds where the mount has a steady state", key);
    }
    const mean = (of: readonly number[]) => of.reduce((sum, x) => sum + x, 0) / of.length;
    const made = {
      value: Math.exp(mean(near.map(({ q }) => Math.log(q)))),
      slopes: this.fields.map((_, i) => mean(each.map((slopes) => slopes[i]!))),
    };
    this.#ratios.set(key, made);
    return made;
  }

  /** How ln q of one sample follows the logarithm of each field. */
  #slopes({ mount, catalogue }: Sample): readonly number[] {
    const model = dieModel(mount);
    const own = isResolved(model) ? withPlain(mount, "die.model", "two nodes") : mount;
    const state = new SteadyStateSlopes(own, catalogue);
    this.solves++;
    const { chip, stage, limit } = state.at;
    return this.fields.map(({ name, whole }) => {
      const x = numberAt(own, name);
      const change = (value: number) => ({ mount: withPlain(own, name, value), catalogue });
      if (whole) {
        // Pads come with bonds, one by one: by the whole number above.
        const more = x + (name === "bonds.count" ? (own.bonds?.perPad ?? 1) : 1);
        const there = new MountModel(change(more).mount, catalogue).point();
        this.solves++;
        const most = limitOf(change(more).mount, catalogue)!(there.stage);
        const q = (there.chip - there.stage) / (most - there.stage);
        return Math.log((q * (limit - stage)) / (chip - stage)) / Math.log(more / x);
      }
      const by = state.slopes(change, x, 1e-3 * x);
      return x * ((by.chip - by.stage) / (chip - stage) - (by.limit - by.stage) / (limit - stage));
    });
  }

  /**
   * The least cost with q at most a target, counts not whole.
   * @param fixed - fields that stay as they are
   */
  least(
    from: readonly number[],
    target: number,
    fixed: ReadonlySet<number> = new Set(),
  ): readonly number[] {
    let at = from;
    let reach = largestStep;
    let before: readonly number[] = [];
    for (let step = 0; step < steps.most; step++) {
      const { value, slopes } = this.ratio(at);
      const here = at.map((x, i) => (this.fields[i]!.whole ? Math.round(x) : x));
      const cost = this.costAt(here);
      const costs = here.map((x, i) => {
        const [up, down] = [1e-4, -1e-4].map((by) =>
          this.costAt(here.map((each, j) => (j === i ? x * Math.exp(by) : each))),
        );
        return (up! - down!) / (2e-4 * cost);
      });
      const bounds = here.map((x, i): readonly [number, number] => {
        const { from: low, to: high } = this.fields[i]!;
        if (fixed.has(i)) return [1, 1];
        return [Math.max(low / x, 1 / reach), Math.min(high / x, reach)];
      });
      const factors = convexStep({ costs, ratio: value, slopes, target, bounds });
      const moved = factors.map((factor) => Math.log(factor));
      at = here.map((x, i) => x * factors[i]!);
      // A step back and forth is one that was too long.
      if (moved.some((by, i) => by * (before[i] ?? 0) < 0)) reach = Math.max(1.02, reach ** 0.6);
      before = moved;
      const isDone = moved.every((by, i) => {
        const { whole } = this.fields[i]!;
        return Math.abs(by) < (whole ? Math.max(steps.end, 0.6 / here[i]!) : steps.end);
      });
      if (isDone) break;
    }
    return at;
  }

  /** The cheapest of the choices with whole numbers beside one, which meets the target where any does. */
  whole(values: readonly number[], target: number): readonly number[] {
    const counted = this.fields.flatMap(({ whole }, i) => (whole ? [i] : []));
    if (counted.length === 0) return values;
    let combinations: (readonly number[])[] = [values];
    for (const i of counted) {
      const { from, to } = this.fields[i]!;
      combinations = combinations.flatMap((choice) =>
        [Math.floor(values[i]!), Math.ceil(values[i]!)]
          .filter((count, k, all) => count >= from && count <= to && all.indexOf(count) === k)
          .map((count) => choice.map((x, j) => (j === i ? count : x))),
      );
    }
    const fixed = new Set(counted);
    const all = fixed.size === this.fields.length;
    const tried = combinations.map((choice) => {
      const made = all ? choice : this.least(choice, target, fixed);
      return { made, cost: this.costAt(made), q: this.ratio(made).value };
    });
    const met = tried.filter(({ q }) => q <= target * (1 + 2e-3));
    const best = met.length > 0 ? met : [tried.reduce((a, b) => (b.q < a.q ? b : a))];
    return best.reduce((a, b) => (b.cost < a.cost ? b : a)).made;
  }
}
