/**
 * The parts of a mount: from a description, each heat path once, in the order the heat takes.
 *
 *   die centre → die edge → pad phonons → pad electrons → pad foot → ledge foot
 *                    ↓ clamps, glue                                      ↓ ledge
 *                    └────────────────────────────→ box by the die → box by the bolts → stage
 *
 * To add a heat path, add a part here.
 * @module
 */
import type { Conductor } from "../conductor.js";
import { boundary } from "../joints/boundary.js";
import { parallel, series } from "../joints/combine.js";
import { electronPhonon } from "../joints/electron-phonon.js";
import { givenJoint } from "../joints/given.js";
import { glue } from "../joints/glue.js";
import { padFilm } from "../joints/pad-film.js";
import { pressedJoint } from "../joints/pressed-joint.js";
import { constriction, radialSpreading, sheetFactor } from "../joints/spreading.js";
import { strip, stripConductor } from "../joints/strip.js";
import { wireBond } from "../joints/wire-bond.js";
import { plateMeanFreePath } from "../materials/phonons.js";
import type { Catalogue, Conductivity, ResidualResistivityRatio } from "../materials/types.js";
import { given } from "../provenance.js";
import { FieldError } from "../units/errors.js";
import type { PlainMount } from "./read.js";

/** Names of the places in a mount. */
export const place = {
  die: "die",
  dieCentre: "die centre",
  dieEdge: "die edge",
  padPhonons: "pad phonons",
  padElectrons: "pad electrons",
  padFoot: "pad foot",
  ledgeFoot: "ledge foot",
  boxByDie: "box by the die",
  boxByBolts: "box by the bolts",
  stage: "stage",
} as const;

/** One heat path of a mount. */
export interface Part {
  /** As the budget shows it. */
  readonly name: string;
  readonly from: string;
  readonly to: string;
  /** The conductor of one of them. */
  conductor(mount: PlainMount): Conductor;
  /** How many stand side by side; 1 when absent. */
  count?(mount: PlainMount): number;
}

/** Every heat path of a mount, hot to cold. */
export function partsOf(mount: PlainMount, catalogue: Catalogue): readonly Part[] {
  return [
    ...dieParts(mount, catalogue),
    ...bondParts(mount, catalogue),
    ...clampParts(mount, catalogue),
    ...glueParts(mount, catalogue),
    ...boxParts(mount, catalogue),
  ];
}

/** The place whose temperature is the chip's: the hottest on the die. */
export function chipPlace(mount: PlainMount): string {
  return mount.die.model === "one node" ? place.die : place.dieCentre;
}

/** The place on the die where pads, clamps and glue take the heat. */
function dieRim(mount: PlainMount): string {
  return mount.die.model === "one node" ? place.die : place.dieEdge;
}

/** Clamps and glue hold the whole rim or face; bonds only the edges they stand on. */
function dieParts(mount: PlainMount, catalogue: Catalogue): Part[] {
  if (mount.die.model === "one node") return [];
  return [
    {
      name: "spreading in the die",
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

function bondParts(mount: PlainMount, catalogue: Catalogue): Part[] {
  if (!mount.bonds || !mount.pads) return [];
  const padCount = ({ bonds }: PlainMount) => Math.ceil(bonds!.count / (bonds!.perPad ?? 1));
  const bondCount = ({ bonds }: PlainMount) => bonds!.count;
  return [
    {
      name: "pad boundary",
      from: dieRim(mount),
      to: place.padPhonons,
      conductor: ({ die, pads }) => {
        const area = pads!.width * pads!.length;
        const kind = pads!.boundary ?? "diffuse mismatch";
        const law =
          kind === "diffuse mismatch" ? { between: [die.material, pads!.material] as const } : kind;
        return boundary({ ...law, area }, catalogue, "pads.boundary");
      },
      count: padCount,
    },
    {
      name: "electron-phonon coupling",
      from: place.padPhonons,
      to: place.padElectrons,
      conductor: ({ pads }) => {
        const { material: metal, width, length, thickness, coupling } = pads!;
        const film = { metal, area: width * length, thickness };
        if (!coupling) return electronPhonon(film, catalogue, "pads");
        const own = "sample" in coupling ? coupling : { coupling };
        return electronPhonon({ ...film, ...own }, catalogue, "pads");
      },
      count: padCount,
    },
    {
      name: "pad film",
      from: place.padElectrons,
      to: place.padFoot,
      conductor: (m) => {
        const { material, width, length, thickness } = m.pads!;
        const area = (width * length) / (m.bonds!.perPad ?? 1);
        const film = { metal: material, area, thickness, footRadius: footRadius(m) };
        return padFilm({ ...film, ...purity(m.pads!) }, catalogue, "pads");
      },
      count: bondCount,
    },
    {
      name: "bonds",
      from: place.padFoot,
      to: place.ledgeFoot,
      conductor: ({ bonds }) =>
        wireBond(
          {
            metal: bonds!.material,
            length: bonds!.length,
            ...pick(bonds!, "diameter", "width", "thickness", "footResistance"),
            ...pick(bonds!, "residualResistivityRatio"),
          },
          catalogue,
          "bonds",
        ),
      count: bondCount,
    },
    {
      name: "ledge",
      from: place.ledgeFoot,
      to: place.boxByDie,
      conductor: (m) => ledge(m, catalogue),
      count: bondCount,
    },
  ];
}

/** A foot is flattened to about twice the wire: common practice, no source. */
function footRadius({ bonds }: PlainMount): number {
  const { diameter, width, footRadius } = bonds!;
  if (footRadius !== undefined) return footRadius;
  if (diameter !== undefined) return diameter;
  if (width !== undefined) return width / 2;
  throw new FieldError(
    "bonds.diameter",
    'a length such as "25 um", or a ribbon\'s width',
    undefined,
  );
}

/**
 * From a foot into the box: through the plating into the metal below, and beside that along the
 * plating, which is all there is when the metal below is a superconductor.
 */
function ledge(m: PlainMount, catalogue: Catalogue): Conductor {
  const radius = footRadius(m);
  const below = constriction(
    { material: m.box.material, radius, ...purity(m.box) },
    catalogue,
    "box",
  );
  const plating = m.ledge?.plating;
  if (!plating) return below;
  const film = { material: plating.material, thickness: plating.thickness, ...purity(plating) };
  const through = strip(
    {
      material: plating.material,
      length: plating.thickness,
      area: Math.PI * radius ** 2,
      ...purity(plating),
    },
    catalogue,
    "ledge.plating",
  );
  const reach = Math.max(m.bonds!.pitch ?? 1.5 * m.pads!.width, 3 * radius);
  const along = radialSpreading(
    { ...film, innerRadius: radius, outerRadius: reach },
    catalogue,
    "ledge.plating",
  );
  return parallel(series(through, below), along);
}

function clampParts(mount: PlainMount, catalogue: Catalogue): Part[] {
  return (mount.clamps ?? []).map((clamp, i) => ({
    name: clamp.name ?? (mount.clamps!.length > 1 ? `clamps ${i + 1}` : "clamps"),
    from: dieRim(mount),
    to: place.boxByDie,
    conductor: (m) => {
      const { faces, force } = m.clamps![i]!;
      return pressedJoint({ faces, force }, catalogue, `clamps[${i}]`);
    },
    count: (m) => m.clamps![i]!.count ?? 1,
  }));
}

function glueParts(mount: PlainMount, catalogue: Catalogue): Part[] {
  if (!mount.glue) return [];
  return [
    {
      name: "glue",
      from: dieRim(mount),
      to: place.boxByDie,
      conductor: (m) => {
        const { count: _, ...layer } = m.glue!;
        return glue(layer, catalogue, "glue");
      },
      count: (m) => m.glue!.count ?? 1,
    },
  ];
}

function boxParts(_: PlainMount, catalogue: Catalogue): Part[] {
  return [
    {
      name: "box wall",
      from: place.boxByDie,
      to: place.boxByBolts,
      conductor: ({ box }) => {
        const length = box.pathLength;
        const metal = strip(
          { material: box.material, length, area: box.crossSection, ...purity(box) },
          catalogue,
          "box",
        );
        if (!box.plating) return metal;
        const { material, width, thickness } = box.plating;
        const film = { material, length, width, thickness, ...purity(box.plating) };
        return parallel(metal, strip(film, catalogue, "box.plating"));
      },
    },
    {
      name: "joint to the stage",
      from: place.boxByBolts,
      to: place.stage,
      conductor: ({ joint: { count: _, ...joint } }) =>
        "conductance" in joint
          ? givenJoint(joint, "joint")
          : pressedJoint(joint, catalogue, "joint"),
      count: ({ joint }) => joint.count ?? 1,
    },
  ];
}

/** The named fields that are there, and no others: a part must read only what it depends on. */
function pick<T extends object, K extends keyof T>(from: T, ...names: K[]): Pick<T, K> {
  const picked: Partial<Pick<T, K>> = {};
  for (const name of names) if (from[name] !== undefined) picked[name] = from[name];
  return picked as Pick<T, K>;
}

function purity<R extends { readonly residualResistivityRatio?: ResidualResistivityRatio }>(
  metal: R,
) {
  return pick(metal, "residualResistivityRatio");
}
