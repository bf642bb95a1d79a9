/**
 * The spreads in a mount, and where they stand.
 * @module
 */
import type { Distribution } from "../units/spread.js";
import type { Mount } from "./description.js";
import { type Hearing, heard } from "./fields.js";
import { replaced } from "./medians.js";
import { readMount } from "./read.js";

/** A quantity of a mount that has a spread. */
export interface MountSpread {
  /** Its path: `bonds.residualResistivityRatio`, `loads.0.power`. */
  readonly field: string;
  /** SI unit; empty for a pure number. */
  readonly unit: string;
  /** Which distribution the spread stands for. */
  readonly distribution: Distribution;
}

/**
 * Every spread in a mount, in SI and in the order of its fields.
 * @throws FieldError or UnknownNameError as `readMount`
 * @example spreadsOf(mount).map(({ field }) => field) // ["pads.thickness"]
 */
export function spreadsOf(mount: Mount): readonly MountSpread[] {
  const found = new Map<string, MountSpread>();
  const hear: Hearing = (path, unit, distribution) => {
    const field = path.replace(/\[(\d+)\]/g, ".$1");
    found.set(field, { field, unit, distribution });
  };
  readMount(replaced(mount, "", (spread) => ({ ...spread, [heard]: hear })));
  return [...found.values()];
}
