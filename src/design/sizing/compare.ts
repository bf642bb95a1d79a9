/**
 * Mounts compared: ranked by the hottest place, with what governs each and what it costs over the best.
 * @module
 */

import type { CatalogueChoice } from "../../materials/types.js";
import { type Budget, thermalBudget } from "../../mount/budget.js";
import type { Mount } from "../../mount/description.js";
import { FieldError } from "../../units/errors.js";
import { formatQuantity } from "../../units/format.js";

/** Budgets of several mounts. */
export class Comparison {
  constructor(
    /** In the order given. */
    readonly budgets: readonly Budget[],
  ) {}

  /** Coolest hottest place first. */
  get ranked(): readonly Budget[] {
    return [...this.budgets].sort((a, b) => a.chip.rise - b.chip.rise);
  }

  /** The budget of a mount by its name. @throws FieldError */
  of(name: string): Budget {
    const found = this.budgets.find((budget) => budget.name === name);
    if (found) return found;
    const names = this.budgets.map((budget) => JSON.stringify(budget.name)).join(", ");
    throw new FieldError("comparison", `the name of a mount: ${names}`, name);
  }

  /** A line a mount, best first, for a notebook. */
  toMarkdown(): string {
    const head = [
      [
        "rank",
        "mount",
        "bonds",
        "hottest place",
        "die, mean",
        "governs",
        "margin",
        "over the best",
      ],
      ["---:", "---", "---:", "---:", "---:", "---", "---:", "---:"],
    ];
    return [...head, ...this.#rows()].map((row) => `| ${row.join(" | ")} |`).join("\n");
  }

  /** The same for a terminal. */
  toText(): string {
    return this.#rows()
      .map((row) => row.filter((cell) => cell !== "").join("  "))
      .join("\n");
  }

  #rows(): string[][] {
    const best = this.ranked[0]!.chip.rise;
    return this.ranked.map((budget, i) => {
      const { name, chip, field, stage, governs, margin } = budget;
      const bonds = budget.elements.find((element) => element.name === "bonds");
      return [
        `${i + 1}`,
        name.replace(/\|/g, "\\|"),
        bonds ? `${bonds.count}` : "none",
        kelvin(chip.rise),
        field ? kelvin(field.mean - stage) : "",
        `${governs.name}, ${kelvin(governs.drop)}`,
        margin === undefined ? "" : margin < 0 ? `−${kelvin(-margin)}` : kelvin(margin),
        i === 0 ? "" : kelvin(chip.rise - best),
      ];
    });
  }
}

function kelvin(difference: number): string {
  return formatQuantity(difference, "K", Math.abs(difference) < 1e-4 ? 2 : 3);
}

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
