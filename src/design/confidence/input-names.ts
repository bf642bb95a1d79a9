/**
 * What uncertain inputs are called, and how they are found by what they are called.
 * @module
 */

import type { PlainMount } from "../../mount/mount.js";
import { sourceNames } from "../../mount/things/load.js";
import { FieldError } from "../../units/errors.js";

/** What an input may be called by. */
export interface Named {
  /** In words. */
  readonly name: string;
  /** Path of the field, when it is one of a mount. */
  readonly field?: string;
  /** Key of the row, when it is one of the catalogue. */
  readonly row?: string;
}

/** A field in words, by its part or load and its own name: `pads: thickness`, `infrared leak: power`. */
export function nameOfField(field: string, { loads }: PlainMount): string {
  const words = (key: string) =>
    /^\d+$/.test(key)
      ? `${Number(key) + 1}`
      : key.replace(/([A-Z])/g, (letter) => ` ${letter.toLowerCase()}`);
  const [first, ...rest] = field.split(".");
  if (rest.length === 0) return words(first!);
  const [of, ...own] =
    first === "loads"
      ? [sourceNames(loads)[Number(rest[0])]!, ...rest.slice(1)]
      : [words(first!), ...rest];
  return `${of}: ${own.map(words).join(", ")}`;
}

/** Inputs of the same name, such as rows of two ranges, with the key or path of each behind it. */
export function withOwnNames<Input extends Named>(inputs: readonly Input[]): Input[] {
  const often = new Map<string, number>();
  for (const { name } of inputs) often.set(name, (often.get(name) ?? 0) + 1);
  return inputs.map((input) =>
    often.get(input.name) === 1
      ? input
      : { ...input, name: `${input.name} (${input.row ?? input.field})` },
  );
}

/**
 * The input of a name, a field or a row.
 * @param asked - who asks, for the error
 * @throws FieldError for what no input is called by
 */
export function inputNamed<Input extends Named>(
  inputs: readonly Input[],
  name: string,
  asked: string,
): Input {
  const found = inputs.find((input) => [input.name, input.field, input.row].includes(name));
  if (found) return found;
  const names = inputs.map((input) => JSON.stringify(input.name)).join(", ");
  throw new FieldError(asked, `the name of an input: ${names}`, name);
}
