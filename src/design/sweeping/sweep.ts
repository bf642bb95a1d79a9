/**
 * Sweeps: the temperatures of a mount over one or two of its numeric fields.
 *
 * The network is compiled once. Each conductor and load is made again only when a field it reads
 * has changed, so a map over bond count and bond length costs little more than its solves.
 * @module
 */
import { standardCatalogue } from "../../materials/standard.js";
import type { CatalogueChoice } from "../../materials/types.js";
import { mountWarnings } from "../../mount/budget.js";
import { MountModel } from "../../mount/model.js";
import type { Mount, PlainMount } from "../../mount/mount.js";
import { provenanceOf } from "../../mount/numbers.js";
import { Reach } from "../../mount/ranges.js";
import { readMount } from "../../mount/read.js";
import { SolveError } from "../../network/solution.js";
import { anObject } from "../../units/checks.js";
import { FieldError, UnknownNameError } from "../../units/errors.js";
import {
  isWholeNumber,
  type MountField,
  numberAt,
  type OneFieldValue,
  readWith,
} from "../field.js";
import { Sweep } from "./sweep-result.js";

/** One axis of a sweep: a field, and the values it takes or the range they are spread over. */
export type Axis<Field extends MountField> = {
  /** Field of the mount that is swept. */
  readonly field: Field;
} & (
  | {
      /** The values one by one, as the field takes them. */
      readonly values: readonly OneFieldValue<Field>[];
    }
  | {
      /** First value, as the field takes it. */
      readonly from: OneFieldValue<Field>;
      /** Last value, as the field takes it. */
      readonly to: OneFieldValue<Field>;
      /** How many values, ends included. */
      readonly count: number;
      /** `"linear"` when absent. Values of a whole-number field are rounded, doubles left out. */
      readonly spacing?: "linear" | "logarithmic";
    }
);

/**
 * Solves a mount at every value of one field, or every pair of values of two.
 * @throws FieldError for a wrong field or value; Error naming the point that has no steady state
 * @example sweep(mount, { field: "bonds.length", from: "0.5 mm", to: "5 mm", count: 50 })
 */
export function sweep<A extends MountField, B extends MountField>(
  mount: Mount,
  first: Axis<A>,
  second?: Axis<B>,
  options: CatalogueChoice = {},
): Sweep {
  const work = readSweep(mount, first, second, options.catalogue);
  const model = modelOf(work);
  return sweepOf(work, solvePoints(work, 0, work.rows, model), model);
}

/** The swept mount, with what no axis touches made once. */
function modelOf({ mount, catalogue, axes }: SweepWork): MountModel {
  const model = new MountModel(mount, catalogue);
  model.vary(...axes.map(({ field }) => field));
  return model;
}

/** A sweep as it is to be done: the mount in SI with the first values on its axes, and how many points. */
type SweepWork = ReturnType<typeof readSweep>;

/** Reads and checks what is to be swept. @throws FieldError, UnknownNameError */
export function readSweep<A extends MountField, B extends MountField>(
  mount: Mount,
  first: Axis<A>,
  second: Axis<B> | undefined,
  catalogue = standardCatalogue(),
) {
  anObject("sweep", first);
  if (second && (second.field as string) === first.field) {
    throw new FieldError("sweep", "two different fields", first.field);
  }
  const plain = readMount(mount);
  const axes = [first, ...(second ? [second] : [])].map((axis) => readAxis(mount, plain, axis));
  const [outer, inner = { field: "", values: Float64Array.of(0) }] = axes;
  const base = readWith(mount, outer!.field, outer!.values[0]);
  return {
    mount: inner.field ? readWith(base as Mount, inner.field, inner.values[0]) : base,
    axes,
    catalogue,
    rows: outer!.values.length * inner.values.length,
  };
}

/** A point's search starts from the point before, but for the first of so many. */
const block = 32;

/**
 * The points from one row up to another, on one model whose fields are set. Of a die with few nodes blocks
 * are solved from their first point, so that a part of a sweep has the bits of the whole.
 * @returns temperatures [K] point by point, every place, and the extents of every node
 * @throws SolveError naming the point that has no steady state, with the solution so far
 */
export function solvePoints(work: SweepWork, from: number, to: number, model = modelOf(work)) {
  const [outer, inner] = work.axes;
  const { places } = model;
  const size = places.length;
  const temperatures = new Float64Array((to - from) * size);
  const reach = new Reach(model);
  const ofInner = inner?.values.length ?? 1;
  const first = model.isResolved ? from : from - (from % block);
  for (let row = first, j = first % ofInner; row < to; row++, j++) {
    if (j === ofInner) j = 0;
    if (row === first || j === 0) model.set(outer!.field, outer!.values[(row - j) / ofInner]!);
    if (inner) model.set(inner.field, inner.values[j]!);
    try {
      model.solve(row % block === 0 ? "cold" : "present");
    } catch (error) {
      if (!(error instanceof SolveError) || !("imbalance" in error.solution)) throw error;
      const where = work.axes.map(({ field }) => `${field} = ${model.value(field)}`);
      const message = `sweep: no steady state at ${where.join(", ")}: ${error.message}`;
      throw new SolveError({ ...error.solution, message });
    }
    if (row < from) continue;
    model.readInto(temperatures, (row - from) * size);
    reach.add(model);
  }
  return { places, temperatures, low: reach.low, high: reach.high };
}

/** A sweep of all its points. @param model - that solved some of them, if one did */
export function sweepOf(
  work: SweepWork,
  {
    places,
    temperatures,
    low,
    high,
  }: { readonly places: readonly string[] } & Record<"temperatures" | "low" | "high", Float64Array>,
  model = modelOf(work),
): Sweep {
  const { mount, catalogue, axes } = work;
  for (const { field, values } of axes) model.set(field, values[0]!);
  const reach = new Reach(model);
  reach.addExtents({ low, high });
  const warnings = mountWarnings(model.point());
  // A number that moves a range, such as a force, moves it furthest at an end of its axis.
  const [outer, inner] = axes.map(({ field, values }) => {
    const sorted = values.slice().sort();
    return [sorted[0]!, sorted.at(-1)!].map((value) => [field, value] as const);
  });
  for (const first of outer!) {
    for (const corner of inner ?? [undefined]) {
      for (const [field, value] of [first, ...(corner ? [corner] : [])]) model.set(field, value);
      reach.withLaws(model);
    }
  }
  return new Sweep({
    name: mount.name,
    axes,
    places,
    chip: model.chip,
    temperatures,
    warnings: [...reach.warnings(), ...warnings],
    provenance: () => provenanceOf(new MountModel(mount, catalogue).point()),
  });
}

/** Most points on one axis: more than a screen has, and a map of them still fits in memory. */
const mostValues = 100_000;

/** Any axis, for the code that reads it: the types above guard the caller, these lines the data. */
interface LooseAxis {
  readonly field: string;
  readonly values?: readonly unknown[];
  readonly from?: unknown;
  readonly to?: unknown;
  readonly count?: number;
  readonly spacing?: string;
}

const axisFields = ["field", "values", "from", "to", "count", "spacing"];

function readAxis(mount: Mount, plain: PlainMount, axis: LooseAxis) {
  const { field } = anObject("sweep", axis);
  if (typeof field !== "string") {
    throw new FieldError("sweep.field", 'a numeric field such as "bonds.count"', field);
  }
  for (const name of Object.keys(axis)) {
    if (!axisFields.includes(name)) {
      throw new UnknownNameError(`sweep of ${field}`, "field", name, axisFields);
    }
  }
  // Numbers in SI are read several times faster than texts; errors speak of the texts.
  const read = (value: unknown) => {
    try {
      return numberAt(readWith(plain as Mount, field, value), field);
    } catch {
      return numberAt(readWith(mount, field, value), field);
    }
  };
  if (axis.values !== undefined) {
    if (
      !Array.isArray(axis.values) ||
      axis.values.length === 0 ||
      axis.values.length > mostValues
    ) {
      throw new FieldError(`${field} values`, `1 to ${mostValues} values`, axis.values);
    }
    return { field, values: Float64Array.from(axis.values, read) };
  }
  const { count = 0, spacing = "linear" } = axis;
  if (!Number.isInteger(count) || count < 2 || count > mostValues) {
    throw new FieldError(`${field} count`, `a whole number from 2 to ${mostValues}`, count);
  }
  if (spacing !== "linear" && spacing !== "logarithmic") {
    throw new FieldError(`${field} spacing`, '"linear" or "logarithmic"', spacing);
  }
  const [from, to] = [read(axis.from), read(axis.to)];
  const whole = isWholeNumber(mount, field, axis.from);
  const values = Array.from({ length: count }, (_, i) => {
    const s = i / (count - 1);
    const value =
      spacing === "linear"
        ? from + s * (to - from)
        : Math.exp(Math.log(from) * (1 - s) + Math.log(to) * s);
    return whole ? Math.round(value) : value;
  });
  return { field, values: Float64Array.from(whole ? new Set(values) : values, read) };
}
