/**
 * What is made from the fields of a mount, each piece anew only after a field that it read has changed.
 * @module
 */
import type { PlainMount } from "./mount.js";

/** A conductor, a count, a layout or the like, and the fields it was made from. */
export class Cell<T> {
  #value: T | undefined;
  #isMade = false;
  #reads: ReadonlySet<string> | undefined;
  /** Earlier values, by the only varied field that they depend on. */
  #known: { readonly field: VariedField; readonly values: Map<number, T> } | undefined;

  /** Puts its value where it belongs, in a network that is kept. */
  put: ((value: T) => void) | undefined;
  /** Whether it may have another value since it was last put there. */
  isWaiting = false;

  /** @param make - reads only what it depends on */
  constructor(readonly make: (mount: PlainMount) => T) {}

  /** Whether a change of a varied field may change it; true before its reads were watched. */
  dependsOn(field: string): boolean {
    return this.#reads?.has(field) ?? true;
  }

  /** Makes it anew when it is next asked for, and what it was made of is taken to have changed. */
  forget(): void {
    this.#isMade = false;
    this.#known = undefined;
    this.#reads = undefined;
  }

  /** Makes it anew when it is next asked for, after one of the varied fields has changed. */
  expire(): void {
    this.#isMade = false;
  }

  /**
   * The value.
   * @param varied - fields that change again and again; reads are watched when there are any
   */
  get(mount: PlainMount, varied: readonly VariedField[]): T {
    if (this.#isMade) return this.#value!;
    this.#value = varied.length === 0 ? this.make(mount) : this.#watched(mount, varied);
    this.#isMade = true;
    return this.#value;
  }

  #watched(mount: PlainMount, varied: readonly VariedField[]): T {
    const known = this.#known;
    const found = known?.values.get(known.field.value);
    if (found !== undefined) return found;
    const { result, reads } = watch(mount, this.make, varied);
    if (!this.#reads || !sameSet(reads, this.#reads)) {
      for (const field of varied) field.dependents = undefined;
    }
    this.#reads = reads;
    const by = varied.filter(({ path }) => reads.has(path));
    if (by.length !== 1) this.#known = undefined;
    else {
      if (known?.field !== by[0]) this.#known = { field: by[0]!, values: new Map() };
      this.#known!.values.set(by[0]!.value, result);
    }
    return result;
  }
}

function sameSet(some: ReadonlySet<string>, other: ReadonlySet<string>): boolean {
  if (some.size !== other.size) return false;
  for (const each of some) if (!other.has(each)) return false;
  return true;
}

/** A number of a mount that is set again and again. */
export class VariedField {
  readonly #holder: Record<string, unknown>;
  readonly #key: string;
  /** Cells that it may change; undefined until they are asked for. */
  dependents: readonly Cell<unknown>[] | undefined;

  /** @param mount - must have a number there */
  constructor(
    mount: PlainMount,
    readonly path: string,
  ) {
    const keys = path.split(".");
    this.#key = keys.pop()!;
    let at: unknown = mount;
    for (const key of keys) at = (at as Readonly<Record<string, unknown>>)[key];
    this.#holder = at as Record<string, unknown>;
  }

  /** In SI. */
  get value(): number {
    return this.#holder[this.#key] as number;
  }

  set value(value: number) {
    this.#holder[this.#key] = value;
  }
}

/**
 * Runs a computation on a mount and lists the paths it read, such as `bonds.length`.
 * @param only - paths to look out for, and no others, which is quicker; all when absent
 * @returns its result, and the paths of all values it read
 */
export function watch<T>(
  mount: PlainMount,
  compute: (mount: PlainMount) => T,
  only?: readonly VariedField[],
): { readonly result: T; readonly reads: ReadonlySet<string> } {
  const reads = new Set<string>();
  const result = compute(watched(mount, "", reads, only));
  return { result, reads };
}

function watched<T extends object>(
  target: T,
  path: string,
  reads: Set<string>,
  only: readonly VariedField[] | undefined,
): T {
  return new Proxy(target, {
    get(object, key, receiver) {
      const value: unknown = Reflect.get(object, key, receiver);
      if (typeof key === "symbol" || typeof value === "function") return value;
      const at = path === "" ? key : `${path}.${key}`;
      const inside = typeof value === "object" && value !== null;
      if (only) {
        // What holds none of the fields is handed out as it is.
        const holds = only.some(({ path: own }) => own.startsWith(at));
        if (holds && !inside) reads.add(at);
        return holds && inside ? watched(value, at, reads, only) : value;
      }
      reads.add(at);
      return inside ? watched(value, at, reads, only) : value;
    },
  });
}
