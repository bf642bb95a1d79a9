/**
 * Compares mounts by their budgets.
 * @module
 */
import type { CatalogueChoice } from "../../materials/types.js";
import { thermalBudget } from "../../mount/budget.js";
import type { Mount } from "../../mount/description.js";
import { FieldError } from "../../units/errors.js";
import { Comparison } from "./comparison.js";

/**
 * The budgets of several mounts.
 * @throws FieldError for none, or two of one name; and as `thermalBudget` does
 */
export function compareMounts(mounts: readonly Mount[], options: CatalogueChoice = {}): Comparison {
  if (mounts.length === 0) throw new FieldError("mounts", "at least one mount", mounts);
  const names = mounts.map(({ name }) => name);
  const twice = names.find((name, i) => names.indexOf(name) !== i);
  if (twice !== undefined) throw new FieldError("mounts", "a name of its own for each", twice);
  return new Comparison(mounts.map((mount) => thermalBudget(mount, options)));
}
