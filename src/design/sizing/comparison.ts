/**
 * Mounts compared: ranked by the hottest point, each with its largest drop and its excess over the best.
 * @module
 */
import type { CatalogueChoice } from "../../materials/types.js";
import { thermalBudget } from "../../mount/budget.js";
import type { Budget } from "../../mount/budget-result.js";
import type { Mount } from "../../mount/mount.js";
import { distinct } from "../../provenance.js";
import { FieldError } from "../../units/errors.js";
import { Result } from "../../units/result.js";
import { countCell, quantityCell, type Table } from "../../units/table.js";

/** Budgets of several mounts. */
export class Comparison extends Result {
  /** @internal Made by `compareMounts`. */
  constructor(
    /** In the order given. */
    readonly budgets: readonly Budget[],
  ) {
    super({
      warnings: budgets.flatMap(({ name, warnings }) => warnings.map((text) => `${name}: ${text}`)),
      provenance: () => distinct(budgets.flatMap(({ provenance }) => provenance)),
    });
  }

  get name(): string {
    return `Comparison of ${this.budgets.length} mounts`;
  }

  /** Coolest hottest point first. */
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

  protected get answer(): string {
    const { name, chip, inWords } = this.ranked[0]!;
    const rise = inWords.rise(chip.rise);
    return `${name} is the coolest: ${rise} above the stage at its hottest point${inWords.mark}.`;
  }

  protected tables(): readonly Table[] {
    const best = this.ranked[0]!.chip.rise;
    return [
      {
        title: "Mounts, coolest first",
        columns: [
          "rank",
          "mount",
          "bonds",
          "hottest point",
          "die, mean",
          "largest drop",
          "margin",
          "excess over the best",
        ],
        numbersFrom: 2,
        rows: this.ranked.map((budget, i) => {
          const { name, chip, field, stage, largestDrop, margin, elements, inWords } = budget;
          const bonds = elements.find((element) => element.name === "bonds")?.count;
          const rise = (difference: number) =>
            quantityCell(difference, "K", inWords.rise(difference));
          const held =
            inWords.mark && margin !== undefined && margin < 0
              ? inWords.margin
              : inWords.rise(margin ?? 0).replace("-", "−");
          return [
            countCell(i + 1),
            name + inWords.mark,
            countCell(bonds, `${bonds ?? "none"}`),
            rise(chip.rise),
            field ? rise(field.mean - stage) : "",
            quantityCell(largestDrop.drop, "K", `${largestDrop.name}, ${inWords.largestDrop}`),
            margin === undefined ? "" : quantityCell(margin, "K", held),
            i === 0
              ? ""
              : quantityCell(
                  chip.rise - best,
                  "K",
                  (inWords.mark ? inWords : this.ranked[0]!.inWords).rise(chip.rise - best),
                ),
          ];
        }),
      },
    ];
  }
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
