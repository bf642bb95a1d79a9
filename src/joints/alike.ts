/**
 * Joints alike side by side, with what the user gave of one.
 * @module
 */
import type { Conductor } from "../conductor.js";
import { given, givenCount } from "../provenance.js";
import { wholeCount } from "../units/checks.js";
import { times } from "./combine.js";

/**
 * `count` joints alike side by side, with the numbers that the user gave of one in its provenance.
 * @param field - path of the joint in the user's description
 * @param count - as the user wrote it; 1 when undefined
 * @param numbers - what each is, its value, its SI unit, and a note on it
 * @throws FieldError unless the count is a whole number of at least 1
 */
export function alike(
  field: string,
  count: number | undefined,
  one: Conductor,
  numbers: readonly (readonly [what: string, value: number, unit: string, note?: string])[],
): Conductor {
  const whole = wholeCount(`${field}.count`, count);
  const provenance = [
    ...(one.provenance ?? []),
    ...numbers.map(([what, ...rest]) => given(`${field}: ${what}`, ...rest)),
    ...givenCount(field, whole),
  ];
  return times({ ...one, provenance }, whole);
}
