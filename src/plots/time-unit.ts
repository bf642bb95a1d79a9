/**
 * The unit in which an axis of time reads best.
 * @module
 */

/** A unit by its name and its size [s]. */
export function unitOfTime(time: number): { readonly name: string; readonly size: number } {
  if (time < 1e-4) return { name: "µs", size: 1e-6 };
  if (time < 0.5) return { name: "ms", size: 1e-3 };
  if (time < 1000) return { name: "s", size: 1 };
  return { name: "h", size: 3600 };
}
