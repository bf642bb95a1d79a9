/**
 * The die: how its heat reaches the places where something touches it.
 * @module
 */
import type { Conductor } from "../conductor.js";
import { sheetFactor } from "../joints/spreading.js";
import { stripConductor } from "../joints/strip.js";
import { plateMeanFreePath } from "../materials/phonons.js";
import type { Catalogue, Conductivity } from "../materials/types.js";
import { given } from "../provenance.js";
import { type Part, place } from "./part.js";
import type { PlainMount } from "./read.js";

/** Clamps and glue hold the whole rim or face; bonds only the edges they stand on. */
export function dieParts(mount: PlainMount, catalogue: Catalogue): Part[] {
  if (mount.die.model !== "centre and edge") return [];
  return [
    {
      name: spreading,
      from: place.dieCentre,
      to: place.dieEdge,
      conductor: (m) => {
        const factor = hottestFactor(m.die.width, m.die.length, m.bonds?.edges ?? 4);
        const conductor = stripConductor(dieConductivity(m, catalogue), m.die.thickness / factor);
        return {
          ...conductor,
          provenance: [
            ...(conductor.provenance ?? []),
            given("die: width", m.die.width, "m"),
            given("die: length", m.die.length, "m"),
            given("die: thickness", m.die.thickness, "m"),
          ],
        };
      },
    },
  ];
}

/** Name of the step from the hottest place of the die to where the heat leaves it. */
export const spreading = "spreading in the die";

/** The conductor of one square of the die: Θ = thickness · ∫κ dT. */
export function dieSquare(mount: PlainMount, catalogue: Catalogue): Conductor {
  return stripConductor(dieConductivity(mount, catalogue), mount.die.thickness);
}

function dieConductivity({ die }: PlainMount, catalogue: Catalogue): Conductivity {
  const material = catalogue.material(die.material, "die.material");
  if (die.meanFreePath !== undefined) {
    return material.thermalConductivity({ meanFreePath: die.meanFreePath });
  }
  const meanFreePath = plateMeanFreePath({
    thickness: die.thickness,
    width: Math.min(die.width, die.length),
    specularity: die.specularity ?? 0,
  });
  const conductivity = material.thermalConductivity({ meanFreePath });
  return {
    ...conductivity,
    provenance: conductivity.provenance.map((row) =>
      row.quantity.endsWith("mean free path of phonons") ? { ...row, ...fuchs } : row,
    ),
  };
}

/** Where a mean free path comes from that the mount does not give. */
const fuchs = {
  source:
    "K. Fuchs, The conductivity of thin metallic films according to the electron theory of " +
    "metals, Proc. Camb. Phil. Soc. 34, 100 (1938)",
  where: "thin-film limit",
  note: "computed from the die's thickness, width and specularity",
};

/**
 * ΔΘ·thickness/P between the hottest place and the cooled edges of an evenly heated plate.
 * One edge, or two opposite ones, are sides of `width`: heat runs one way. Three add one side of
 * `length`; mirrored at the free side that is a plate twice as wide, cooled all round.
 */
function hottestFactor(width: number, length: number, edges: 1 | 2 | 3 | 4): number {
  if (edges === 4) return sheetFactor(length / width, "hottest");
  if (edges === 3) return 2 * sheetFactor(length / (2 * width), "hottest");
  return edges === 2 ? length / (8 * width) : length / (2 * width);
}
