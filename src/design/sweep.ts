/**
 * Sweeps: the temperatures of a mount over one or two of its numeric fields.
 *
 * The network is compiled once. Each conductor and load is made again only when a field it reads
 * has changed, so a map over bond count and bond length costs little more than its solves.
 * @module
 */
import { standardCatalogue } from "../materials/standard.js";
import type { Catalogue } from "../materials/types.js";
import type { Mount } from "../mount/description.js";
import { isSheet, place } from "../mount/part.js";
import { readingWarnings } from "../mount/ranges.js";
import type { PlainMount } from "../mount/read.js";
import { settle } from "../mount/settle.js";
import { SheetStore } from "../mount/sheet-model.js";
import { type Reading, translate } from "../mount/translate.js";
import { FieldError, UnknownNameError } from "../units/errors.js";
import { prepare, setNumber } from "./compiled-mount.js";
import {
  type FieldValue,
  type MountField,
  numberAt,
  readWith,
  wholeNumberFields,
} from "./field.js";

/** One axis of a sweep: a field, and the values it takes or the range they are spread over. */
export type Axis<Field extends MountField> = { readonly field: Field } & (
  | { readonly values: readonly FieldValue<Field>[] }
  | {
      readonly from: FieldValue<Field>;
      readonly to: FieldValue<Field>;
      /** How many values, ends included. */
      readonly count: number;
      /** `"linear"` when absent. Values of a whole-number field are rounded, doubles left out. */
      readonly spacing?: "linear" | "logarithmic";
    }
);

/** Temperatures over the points of a sweep. */
export class Sweep {
  constructor(
    /** One or two: the field and its values in SI. */
    readonly axes: readonly { readonly field: string; readonly values: Float64Array }[],
    /** Places of the mount, hot to cold. */
    readonly places: readonly string[],
    /** The hottest place on the die. */
    readonly chip: string,
    /** [K]; point by point, the last axis fastest, and at each point every place. */
    readonly temperatures: Float64Array,
    readonly warnings: readonly string[],
  ) {}

  /**
   * Temperature of a place [K]
   * @param i - index on the first axis
   * @param j - index on the second axis, 0 when there is none
   */
  temperature(i: number, j = 0, name = this.chip): number {
    const row = i * (this.axes[1]?.values.length ?? 1) + j;
    return this.temperatures[row * this.places.length + this.places.indexOf(name)]!;
  }

  /** Chip above the stage [K]. */
  rise(i: number, j = 0): number {
    return this.temperature(i, j) - this.temperature(i, j, place.stage);
  }
}

/**
 * Solves a mount at every value of one field, or every pair of values of two.
 * @throws FieldError for a wrong field or value; Error naming the point that has no steady state
 * @example sweep(mount, { field: "bonds.length", from: "0.5 mm", to: "5 mm", count: 50 })
 */
export function sweep<A extends MountField, B extends MountField>(
  mount: Mount,
  first: Axis<A>,
  second?: Axis<B>,
  options: { readonly catalogue?: Catalogue } = {},
): Sweep {
  const catalogue = options.catalogue ?? standardCatalogue();
  if (second && (second.field as string) === first.field) {
    throw new FieldError("sweep", "two different fields", first.field);
  }
  const axes = [first, ...(second ? [second] : [])].map((axis) => readAxis(mount, axis));
  const [outer, inner = { field: "", values: Float64Array.of(0) }] = axes;
  const base = readWith(mount, outer!.field, outer!.values[0]);
  const work = structuredClone(
    inner.field ? readWith(base, inner.field, inner.values[0]) : base,
  ) as PlainMount;
  return (isSheet(work) ? sweepSheet : sweepQuick)(work, axes, catalogue);
}

type ReadAxis = { readonly field: string; readonly values: Float64Array };

/** A sheet is reduced to its contacts once for each layout of them; every point is a network of its own. */
function sweepSheet(work: PlainMount, axes: readonly ReadAxis[], catalogue: Catalogue): Sweep {
  const [outer, inner = { field: "", values: Float64Array.of(0) }] = axes;
  const sheets = new SheetStore();
  const readings: Reading[] = [];
  let translation = translate(work, catalogue, sheets);
  for (const x of outer!.values) {
    setNumber(work, outer!.field, x);
    for (const y of inner.values) {
      if (inner.field) setNumber(work, inner.field, y);
      const settled = settle(work, catalogue, sheets);
      ({ translation } = settled);
      readings.push(settled.reading);
    }
  }
  const { places, chip } = translation.structure;
  const temperatures = Float64Array.from(
    readings.flatMap((reading) => places.map((name) => reading.temperatures.get(name)!)),
  );
  return new Sweep(axes, places, chip, temperatures, readingWarnings(translation, readings));
}

/** One network, compiled once; only what reads a swept field is made again. */
function sweepQuick(work: PlainMount, axes: readonly ReadAxis[], catalogue: Catalogue): Sweep {
  const [outer, inner = { field: "", values: Float64Array.of(0) }] = axes;
  const { network, parts, translation } = prepare(work, catalogue);
  const { places, chip } = translation.structure;
  const nodes = places.map((name) => network.nodeNames.indexOf(name));
  const readsOuter = parts.filter(({ reads }) => reads.has(outer!.field));
  const onlyOuter = readsOuter.filter(({ reads }) => !reads.has(inner.field));
  const both = readsOuter.filter(({ reads }) => reads.has(inner.field));
  // What reads the inner field alone is made once for each of its values, not once for each point.
  const ready = parts
    .filter(({ reads }) => reads.has(inner.field) && !reads.has(outer!.field))
    .map((part) => {
      const made = Array.from(inner.values, (value) => {
        setNumber(work, inner.field, value);
        return part.make(work);
      });
      return { part, made };
    });

  const temperatures = new Float64Array(outer!.values.length * inner.values.length * places.length);
  const low = new Float64Array(places.length).fill(Number.POSITIVE_INFINITY);
  const high = new Float64Array(places.length);
  let at = 0;
  for (const x of outer!.values) {
    setNumber(work, outer!.field, x);
    for (const part of onlyOuter) part.put(part.make(work));
    for (let j = 0; j < inner.values.length; j++) {
      for (const { part, made } of ready) part.put(made[j]);
      if (both.length > 0) {
        setNumber(work, inner.field, inner.values[j]!);
        for (const part of both) part.put(part.make(work));
      }
      if (!network.trySolve()) {
        throw new Error(
          `sweep: no steady state at ${outer!.field} = ${x}` +
            `${inner.field && `, ${inner.field} = ${inner.values[j]}`}: ${network.failure}`,
        );
      }
      for (let n = 0; n < places.length; n++) {
        const T = network.temperatures[nodes[n]!]!;
        temperatures[at++] = T;
        if (T < low[n]!) low[n] = T;
        if (T > high[n]!) high[n] = T;
      }
    }
  }
  const extents = new Map(places.map((name, n) => [name, [low[n]!, high[n]!] as const]));
  const warnings = readingWarnings(translation, [{ extents }]);
  return new Sweep(axes, places, chip, temperatures, warnings);
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

function readAxis(mount: Mount, axis: LooseAxis) {
  const { field } = axis;
  for (const name of Object.keys(axis)) {
    if (!axisFields.includes(name)) {
      throw new UnknownNameError(`sweep of ${field}`, "field", name, axisFields);
    }
  }
  const read = (value: unknown) => numberAt(readWith(mount, field, value), field);
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
  const whole = wholeNumberFields.test(field);
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
