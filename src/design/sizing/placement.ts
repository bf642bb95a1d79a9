/**
 * Where the bonds should stand: which edges, and how far apart, among the choices that fit.
 * @module
 */
import { standardCatalogue } from "../../materials/standard.js";
import type { CatalogueChoice } from "../../materials/types.js";
import type { Mount } from "../../mount/mount.js";
import type { Bonds } from "../../mount/things/bonds.js";
import { FieldError } from "../../units/errors.js";
import { formatGiven } from "../../units/format.js";
import { type Length, toSI } from "../../units/quantity.js";
import { Result } from "../../units/result.js";
import { countCell, quantityCell, type Table } from "../../units/table.js";
import { sizeByMedians } from "./size.js";
import type { Sizing } from "./sizing.js";

/** One way to place the bonds, and what it takes. */
export interface Placement {
  /** In words: `4 edges, spread, 300 µm apart at least`. */
  readonly words: string;
  /** The mount with the bonds so placed and as few as meet the limit, or as many as fit. */
  readonly mount: Mount;
  /** How many bonds it needs. */
  readonly sizing: Sizing;
}

/** Ways to place the bonds, best first. Its numbers are those of the best. */
export class Placements extends Result {
  /** @internal Made by `placeBonds`. */
  constructor(
    /** Those that meet the limit come first, smallest number of bonds first; then the coolest. */
    readonly all: readonly Placement[],
  ) {
    const [best, ...others] = all;
    const { warnings, provenance } = best!.sizing;
    const ofOthers = others.flatMap(({ words, sizing }) =>
      sizing.warnings.filter((text) => !warnings.includes(text)).map((text) => `${words}: ${text}`),
    );
    super({ warnings: [...warnings, ...ofOthers], provenance });
  }

  /** The mount's name. */
  get name(): string {
    return this.best.sizing.name;
  }

  /** The best; it may still not meet the limit. */
  get best(): Placement {
    return this.all[0]!;
  }

  protected get answer(): string {
    return `Best are the bonds on ${this.best.words}. ${this.best.sizing.answer}`;
  }

  protected tables(): readonly Table[] {
    return [
      {
        title: "Ways to place the bonds, best first",
        columns: ["bonds on", "bonds needed", "room", "hottest point"],
        numbersFrom: 1,
        rows: this.all.map(({ words, sizing: { count, enough, room, budget } }) => [
          words + budget.inWords.mark,
          countCell(count, enough ? `${count}` : "not enough"),
          countCell(room),
          quantityCell(
            budget.chip.rise,
            "K",
            budget.extrapolated ? budget.inWords.rise(budget.chip.rise) : undefined,
          ),
        ]),
      },
    ];
  }
}

/** What may be chosen; what is left out stays as the mount has it. */
export interface PlacementChoices {
  /** Edges with bonds to try. */
  readonly edges?: readonly NonNullable<Bonds["edges"]>[];
  /** Arrangements to try. */
  readonly arrangements?: readonly NonNullable<Bonds["arrangement"]>[];
  /** Least distances from pad to pad. */
  readonly pitches?: readonly Length[];
}

/**
 * Sizes the bonds for every choice of edges, arrangement and pitch.
 * @throws FieldError for an empty list of choices, and as `sizeBonds` does
 */
export function placeBonds(
  mount: Mount,
  choices: PlacementChoices,
  options: CatalogueChoice = {},
): Placements {
  const catalogue = options.catalogue ?? standardCatalogue();
  const { bonds } = mount;
  if (!bonds) throw new FieldError("bonds", "bonds to place", undefined);
  const { edges = [bonds.edges ?? 4], arrangements = [bonds.arrangement ?? "spread"] } = choices;
  const pitches = choices.pitches ?? [bonds.pitch];
  for (const [name, list] of Object.entries({ edges, arrangements, pitches })) {
    if (list.length === 0) throw new FieldError(name, "at least one choice", list);
  }
  const all: Placement[] = [];
  for (const edge of edges) {
    for (const arrangement of arrangements) {
      for (const pitch of pitches) {
        const placed = {
          ...bonds,
          edges: edge,
          arrangement,
          ...(pitch !== undefined && { pitch }),
        };
        const sizing = sizeByMedians({ ...mount, bonds: placed }, { catalogue });
        const count = Math.min(sizing.count ?? sizing.room, sizing.room);
        const apart =
          pitch === undefined ? "" : `, ${formatGiven(toSI("pitch", pitch, "length"), "m")} apart`;
        all.push({
          words: `${edgesInWords(edge)}, ${arrangement === "row" ? "in a row" : "spread"}${apart}`,
          mount: { ...mount, bonds: { ...placed, count } },
          sizing,
        });
      }
    }
  }
  return new Placements(
    all.sort(
      (a, b) =>
        Number(b.sizing.enough) - Number(a.sizing.enough) ||
        (a.sizing.enough ? a.sizing.count! - b.sizing.count! : 0) ||
        a.sizing.budget.chip.rise - b.sizing.budget.chip.rise,
    ),
  );
}

function edgesInWords(edges: NonNullable<Bonds["edges"]>): string {
  if (typeof edges !== "number") return edges.join(" and ");
  return `${edges} ${edges === 1 ? "edge" : "edges"}`;
}
