/**
 * Reads a mount: checks every field and turns strings with units into numbers in SI. It knows no thing by
 * name.
 * @module
 */
import { FieldError, UnknownNameError } from "../units/errors.js";
import { object, type ReadNumber, text, type Visitor } from "../units/fields.js";
import type { Distribution } from "../units/spread.js";
import { inWords, keepWriting } from "./as-written.js";
import { allThings, type Mount, type PlainMount } from "./mount.js";

const field = object<Mount>(
  Object.fromEntries([
    ["name", text],
    ...allThings.map(([key, thing]) => [key, thing.field]),
  ]) as never,
);

/**
 * Checks a mount and turns it into plain numbers in SI, spreads into their medians.
 * @param visit - is told of every number
 * @throws FieldError or UnknownNameError naming the field, what came and what was wanted
 */
export function readMount(mount: Mount | unknown, visit?: Visitor): PlainMount {
  const plain = field.read(mount, "", visit);
  keepWriting(plain, mount, takes);
  try {
    for (const [, { rules }] of allThings) rules?.(plain);
    refuseAdrift(plain);
  } catch (error) {
    throw inWords(error, plain);
  }
  return plain;
}

/** Whether a mount may have a field at a path, by what its reader says when something stands there. */
function takes(mount: unknown, keys: readonly string[]): boolean {
  const path = keys.join(".");
  try {
    field.read(withNothingAt(mount, keys), "");
  } catch (error) {
    if (error instanceof UnknownNameError && error.kind === "field") {
      return error.field.replace(/\[(\d+)\]/g, ".$1") !== path;
    }
  }
  return true;
}

/** A copy with a value that no field takes. */
function withNothingAt(at: unknown, [key, ...rest]: readonly string[]): unknown {
  if (key === undefined) return Number.NaN;
  const copy = (Array.isArray(at) ? [...at] : { ...(at as object) }) as Record<string, unknown>;
  copy[key] = withNothingAt(copy[key], rest);
  return copy;
}

const holders = allThings.filter(([, { holds }]) => holds !== undefined);

/** @throws FieldError for a die that nothing holds */
function refuseAdrift(mount: PlainMount): void {
  const held = holders.some(([, { parts }]) =>
    parts?.(mount).paths?.some(({ to }) => "shared" in to),
  );
  if (held) return;
  const words = holders.map(([, { holds }]) => holds);
  const list = `${words.slice(0, -1).join(", ")} or ${words.at(-1)}`;
  throw new FieldError("mount", `${list} for the heat`, undefined);
}

/** A quantity of a mount that has a spread. */
export interface MountSpread {
  /** Its path: `bonds.residualResistivityRatio`, `loads.0.power`. */
  readonly field: string;
  /** SI unit; empty for a pure number. */
  readonly unit: string;
  /** Which distribution the spread stands for. */
  readonly distribution: Distribution;
  /** Of a pure number that acts by how far it is above a bound: the bound. */
  readonly above?: number;
}

/** Every number of a mount by its path, such as `loads.0.power`. @throws as `readMount` */
export function numbersOf(mount: Mount): ReadonlyMap<string, ReadNumber> {
  const found = new Map<string, ReadNumber>();
  readMount(mount, (number) => {
    const path = number.field.replace(/\[(\d+)\]/g, ".$1");
    found.set(path, { ...number, field: path });
  });
  return found;
}

/**
 * Every spread in a mount, in SI and in the order of its fields.
 * @throws FieldError or UnknownNameError as `readMount`
 * @example spreadsOf(mount).map(({ field }) => field) // ["pads.thickness"]
 */
export function spreadsOf(mount: Mount): readonly MountSpread[] {
  return [...numbersOf(mount).values()].flatMap(({ field, unit, distribution, above }) =>
    distribution ? [{ field, unit, distribution, ...(above !== undefined && { above }) }] : [],
  );
}
