/**
 * Reads a mount: checks every field and turns strings with units into numbers in SI. It knows no thing by
 * name.
 * @module
 */
import { overlapOf, span } from "../chip/grid.js";
import { FieldError, UnknownNameError } from "../units/errors.js";
import { object, type ReadNumber, text, type Visitor } from "../units/fields.js";
import type { Distribution } from "../units/spread.js";
import { inWords, keepWriting } from "./as-written.js";
import { allThings, type Mount, type PlainMount } from "./mount.js";
import { ownDie, seenFrom } from "./on-die.js";
import { dieNames } from "./things/stack.js";

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
  const read = field.read(mount, "", visit) as PlainMount;
  const complete = allThings.flatMap(([key, thing]) =>
    thing.withDefaults ? [[key, thing.withDefaults(read)] as const] : [],
  );
  const plain: PlainMount = { ...read, ...Object.fromEntries(complete) };
  keepWriting(plain, mount, takes);
  try {
    for (const [, { rules }] of allThings) rules?.(plain);
    refuseAdrift(plain);
    refuseOverlaps(plain);
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

/** @throws FieldError for a die that nothing holds, by itself or by a die that it is joined to */
function refuseAdrift(mount: PlainMount): void {
  const { between = [] } = mount;
  const held = new Set(
    dieNames(mount).filter((name) => {
      const seen = seenFrom(mount, name);
      return holders.some(([, { parts }]) => parts?.(seen).paths?.some(({ to }) => "shared" in to));
    }),
  );
  for (let before = -1; before !== held.size; ) {
    before = held.size;
    for (const { from, to } of between) {
      if (held.has(from)) held.add(to);
      else if (held.has(to)) held.add(from);
    }
  }
  const adrift = dieNames(mount).find((name) => !held.has(name));
  if (adrift === undefined) return;
  const words = holders.map(([, { holds }]) => holds);
  const list = `${words.slice(0, -1).join(", ")} or ${words.at(-1)}`;
  if (!mount.dies) throw new FieldError("mount", `${list} for the heat`, undefined);
  const field = adrift === ownDie ? "die" : `dies.${adrift}`;
  const wanted = `${list} for the heat, or something between it and a die that has them`;
  throw new FieldError(field, wanted, "a die without a path");
}

/** @throws FieldError for what joins two dies and lies on something else on a face of one of them */
function refuseOverlaps(mount: PlainMount): void {
  if (!mount.between) return;
  const groups = allThings.flatMap(([, { parts }]) => parts?.(mount).contacts ?? []);
  const placed = groups.map((group) => ({
    group,
    areas: group.lay(mount).patches.map(({ area }) => ("left" in area ? [area] : area)),
  }));
  placed.forEach(({ group, areas }, g) => {
    if (group.pair === undefined) return;
    for (const [h, other] of placed.entries()) {
      const { die, layer, pair } = other.group;
      if (die !== group.die || layer !== group.layer || (pair !== undefined && h >= g)) continue;
      areas.forEach((pieces, k) => {
        other.areas.forEach((others, n) => {
          for (const shared of pieces.flatMap((a) =>
            others.flatMap((b) => overlapOf(a, b) ?? []),
          )) {
            const wanted = `a place apart from ${other.group.field(n)}, on ${die ?? "the mount's own die"}`;
            throw new FieldError(group.field(k), wanted, `an overlap at ${span(shared)}`);
          }
        });
      });
    }
  });
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
