/**
 * Which fields of a mount a computation reads, found by watching it read them.
 *
 * A sweep changes one or two fields thousands of times; only the conductors that read those fields
 * need to be made again.
 * @module
 */
import type { PlainMount } from "./read.js";

/**
 * Runs a computation on a mount and lists the paths it read, such as `bonds.length`.
 * @returns its result, and the paths of all plain values it read
 */
export function watch<T>(
  mount: PlainMount,
  compute: (mount: PlainMount) => T,
): { readonly result: T; readonly reads: ReadonlySet<string> } {
  const reads = new Set<string>();
  const result = compute(watched(mount, "", reads));
  return { result, reads };
}

function watched<T extends object>(target: T, path: string, reads: Set<string>): T {
  return new Proxy(target, {
    get(object, key, receiver) {
      const value: unknown = Reflect.get(object, key, receiver);
      if (typeof key === "symbol" || typeof value === "function") return value;
      const at = path === "" ? key : `${path}.${key}`;
      reads.add(at);
      return typeof value === "object" && value !== null ? watched(value, at, reads) : value;
    },
  });
}
