/**
 * An axis of a sweep, and its values.
 * @module
 */
import type { Mount, PlainMount } from "../../mount/mount.js";
import { anObject } from "../../units/checks.js";
import { FieldError, UnknownNameError } from "../../units/errors.js";
import {
  isWholeNumber,
  type MountField,
  numberAt,
  type OneFieldValue,
  readWith,
} from "../field.js";

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

/** The values of an axis in SI, in their order. @throws FieldError, UnknownNameError */
export function readAxis(mount: Mount, plain: PlainMount, axis: LooseAxis) {
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
