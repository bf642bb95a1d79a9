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
import type { Side } from "./description.js";
import { cooledSides, inMaterial, type Part, place } from "./part.js";
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
        const factor = hottestFactor(m);
        return withSize(stripConductor(dieConductivity(m, catalogue), m.die.thickness / factor), m);
      },
    },
  ];
}

/** Name of the step from the hottest place of the die to where the heat leaves it. */
export const spreading = "spreading in the die";

/** The conductor of one square of the die: Θ = thickness · ∫κ dT. */
export function dieSquare(mount: PlainMount, catalogue: Catalogue): Conductor {
  return withSize(stripConductor(dieConductivity(mount, catalogue), mount.die.thickness), mount);
}

/** A conductor of the die, with the die's size among its numbers. */
function withSize(conductor: Conductor, { die }: PlainMount): Conductor {
  return {
    ...conductor,
    provenance: [
      ...(conductor.provenance ?? []),
      given("die: width", die.width, "m"),
      given("die: length", die.length, "m"),
      given("die: thickness", die.thickness, "m"),
    ],
  };
}

function dieConductivity({ die }: PlainMount, catalogue: Catalogue): Conductivity {
  const material = catalogue.material(die.material, "die.material");
  const along = (meanFreePath: number) =>
    inMaterial(die.material, "die.material", () => material.thermalConductivity({ meanFreePath }));
  if (die.meanFreePath !== undefined) return along(die.meanFreePath);
  const meanFreePath = plateMeanFreePath({
    thickness: die.thickness,
    width: Math.min(die.width, die.length),
    specularity: die.specularity ?? 0,
  });
  const conductivity = along(meanFreePath);
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
 * ΔΘ·thickness/P between the hottest place and the cooled edges of an evenly heated plate. A plate
 * cooled at one side only is half of one twice as long, mirrored at the free side, that is cooled at
 * both; with no cooled side across, heat runs one way.
 */
function hottestFactor(mount: PlainMount): number {
  const sides = cooledSides(mount);
  const count = (...names: Side[]) => names.filter((name) => sides.includes(name)).length;
  const [acrossEnds, alongEnds] = [count("left", "right"), count("lower", "upper")];
  const { width, length } = mount.die;
  if (acrossEnds === 0) return length / width / (alongEnds === 2 ? 8 : 2);
  if (alongEnds === 0) return width / length / (acrossEnds === 2 ? 8 : 2);
  const [wider, longer] = [acrossEnds === 1 ? 2 : 1, alongEnds === 1 ? 2 : 1];
  return wider * longer * sheetFactor((longer * length) / (wider * width), "hottest");
}
