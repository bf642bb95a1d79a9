/**
 * The unit in which an axis reads best.
 * @module
 */

/** A unit by its name and its size in SI. */
export interface AxisUnit {
  readonly name: string;
  readonly size: number;
}

/** For times up to this one [s]. */
export function unitOfTime(time: number): AxisUnit {
  if (time < 1e-4) return { name: "µs", size: 1e-6 };
  if (time < 0.5) return { name: "ms", size: 1e-3 };
  if (time < 1000) return { name: "s", size: 1 };
  return { name: "h", size: 3600 };
}

/** For powers up to this one [W]. */
export function unitOfPower(power: number): AxisUnit {
  if (power < 1e-9) return { name: "pW", size: 1e-12 };
  if (power < 1e-6) return { name: "nW", size: 1e-9 };
  return power < 1e-3 ? { name: "µW", size: 1e-6 } : { name: "mW", size: 1e-3 };
}
