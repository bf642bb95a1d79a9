/**
 * Where the bonds should stand: which edges, and how far apart, among the choices that fit.
 * @module
 */
import { standardCatalogue } from "../../materials/standard.js";
import type { CatalogueChoice } from "../../materials/types.js";
import type { Bonds, Mount } from "../../mount/description.js";
import { FieldError } from "../../units/errors.js";
import { formatGiven } from "../../units/format.js";
import { type Length, toSI } from "../../units/quantity.js";
import { type Placement, Placements } from "./placements.js";
import { sizeBonds } from "./size.js";

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
        const sizing = sizeBonds({ ...mount, bonds: placed }, { catalogue });
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
