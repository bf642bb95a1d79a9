/**
 * Sweeps: the temperatures of a mount over one or two of its numeric fields.
 * @module
 */
import type { CatalogueChoice } from "../../materials/types.js";
import type { Mount } from "../../mount/mount.js";
import type { MountField } from "../field.js";
import type { Axis } from "./axis.js";
import type { Sweep } from "./sweep-result.js";
import { modelOf, readSweep, solvePoints, sweepOf } from "./sweep-work.js";

/**
 * Solves a mount at every value of one field, or every pair of values of two.
 * @throws FieldError for a wrong field or value; Error naming the point that has no steady state
 * @example sweep(mount, { field: "bonds.length", from: "0.5 mm", to: "5 mm", count: 50 })
 */
export function sweep<A extends MountField, B extends MountField>(
  mount: Mount,
  first: Axis<A>,
  second?: Axis<B>,
  options: CatalogueChoice = {},
): Sweep {
  const work = readSweep(mount, first, second, options.catalogue);
  const model = modelOf(work);
  return sweepOf(work, solvePoints(work, 0, work.rows, model), model);
}
