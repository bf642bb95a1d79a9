/**
 * The parts of a mount: from a description, each heat path once, in the order the heat takes.
 *
 *   die → pad phonons → pad electrons → pad foot → ledge foot
 *    ↓ clamps, glue, pressed back                      ↓ ledge
 *    └─────────────────────────────────────────→ box by the die → box by the bolts → stage
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

/** Names of the places that every mount of a kind has; films add their own. */
export const place = {
  hottest: "die, hottest place",
  die: "die",
  dieCentre: "die centre",
  dieEdge: "die edge",
  ledgeFoot: "ledge foot",
  boxByDie: "box by the die",
  boxByBolts: "box by the bolts",
  stage: "stage",
} as const;

/** Places that all paths share; any other behind the die belongs to one group of contacts. */
export const sharedPlaces: readonly string[] = [place.boxByDie, place.boxByBolts, place.stage];

/** One heat path of a mount. */
export interface Part {
  /** As the budget shows it. */
  readonly name: string;
  readonly from: string;
  readonly to: string;
  /** The group of contacts of the die that it stands behind; absent when it stands behind none. */
  readonly group?: string;
  /** Shared among the contacts of its group by their bonds; by their area when absent. */
  readonly byBonds?: boolean;
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
    ...backParts(mount, catalogue),
    ...boxParts(mount, catalogue),
  ];
}

/** Whether the die is a sheet, which is so when nothing is said. */
export function isSheet({ die }: PlainMount): boolean {
  return (die.model ?? "sheet") === "sheet";
}

/** The place whose temperature is the chip's: the hottest on the die. */
export function chipPlace(mount: PlainMount): string {
  if (isSheet(mount)) return place.hottest;
  return mount.die.model === "one node" ? place.die : place.dieCentre;
}

/** The place on the die where a group of contacts takes the heat. */
export function dieAt(mount: PlainMount, group: string): string {
  if (isSheet(mount)) return `die at the ${group}`;
  return mount.die.model === "one node" ? place.die : place.dieEdge;
}

/** Clamps and glue hold the whole rim or face; bonds only the edges they stand on. */
function dieParts(mount: PlainMount, catalogue: Catalogue): Part[] {
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

/** From the die through the film that the bonds stand on, pads or a ring, to the box. */
function bondParts(mount: PlainMount, catalogue: Catalogue): Part[] {
  if (!mount.bonds) return [];
  const onRing = mount.ring !== undefined;
  const group = onRing ? "ring" : "pads";
  const film = onRing ? "ring" : "pad";
  const footed = { group, byBonds: true };
  const bondCount = ({ bonds }: PlainMount) => bonds!.count;
  // A ring is one film, however many bonds; pads are as many as they must be.
  const padCount = ({ bonds }: PlainMount) => Math.ceil(bonds!.count / (bonds!.perPad ?? 1));
  const count = onRing ? () => 1 : padCount;
  const area = (m: PlainMount) => (onRing ? ringArea(m) : m.pads!.width * m.pads!.length);
  return [
    ...filmParts(
      film,
      { group, count },
      dieAt(mount, group),
      (m) => m[onRing ? "ring" : "pads"]!,
      area,
      catalogue,
    ),
    {
      name: `${film} film`,
      from: `${film} electrons`,
      to: `${film} foot`,
      ...footed,
      conductor: (m) => {
        const { material, thickness } = m[onRing ? "ring" : "pads"]!;
        const drained = onRing ? area(m) / m.bonds!.count : area(m) / (m.bonds!.perPad ?? 1);
        const shape = { metal: material, area: drained, thickness, footRadius: footRadius(m) };
        return padFilm({ ...shape, ...purity(m[onRing ? "ring" : "pads"]!) }, catalogue, group);
      },
      count: bondCount,
    },
    {
      name: "bonds",
      from: `${film} foot`,
      to: place.ledgeFoot,
      ...footed,
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
      ...footed,
      conductor: (m) => ledge(m, catalogue),
      count: bondCount,
    },
  ];
}

type PlainFilm = NonNullable<PlainMount["back"]>["film"];

/** Through the boundary into a film's phonons, and on to its electrons. */
function filmParts(
  film: string,
  shared: { readonly group: string; readonly count: (mount: PlainMount) => number },
  from: string,
  filmOf: (mount: PlainMount) => PlainFilm,
  area: (mount: PlainMount) => number,
  catalogue: Catalogue,
): Part[] {
  const field = film === "pad" ? "pads" : film;
  return [
    {
      name: `${film} boundary`,
      from,
      to: `${film} phonons`,
      ...shared,
      conductor: (m) => {
        const { material, boundary: kind = "diffuse mismatch" } = filmOf(m);
        const law =
          kind === "diffuse mismatch" ? { between: [m.die.material, material] as const } : kind;
        return boundary({ ...law, area: area(m) }, catalogue, `${field}.boundary`);
      },
    },
    {
      name: film === "back" ? "electron-phonon coupling at the back" : "electron-phonon coupling",
      from: `${film} phonons`,
      to: `${film} electrons`,
      ...shared,
      conductor: (m) => {
        const { material: metal, thickness, coupling } = filmOf(m);
        const body = { metal, area: area(m), thickness };
        if (!coupling) return electronPhonon(body, catalogue, field);
        const own = "sample" in coupling ? coupling : { coupling };
        return electronPhonon({ ...body, ...own }, catalogue, field);
      },
    },
  ];
}

function ringArea({ die, ring }: PlainMount): number {
  const { width: band, inset = 0 } = ring!;
  const [w, l] = [die.width - 2 * inset, die.length - 2 * inset];
  return w * l - (w - 2 * band) * (l - 2 * band);
}

/** Area of the back that touches the box [m²]. */
function backArea({ die, back }: PlainMount): number {
  const { frame } = back!;
  const whole = die.width * die.length;
  return frame === undefined ? whole : whole - (die.width - 2 * frame) * (die.length - 2 * frame);
}

/** The sheet conductance of a film along the die: Θ of one square. */
export function filmSquare(mount: PlainMount, group: string, catalogue: Catalogue): Conductor {
  const film = group === "back" ? mount.back!.film : mount.ring!;
  const conductivity = catalogue
    .material(film.material, `${group}.material`)
    .thermalConductivity(purity(film));
  return stripConductor(conductivity, film.thickness);
}

/** From the back's film, pressed on the box. */
function backParts(mount: PlainMount, catalogue: Catalogue): Part[] {
  if (!mount.back) return [];
  const group = "back";
  return [
    ...filmParts(
      "back",
      { group, count: () => 1 },
      dieAt(mount, group),
      (m) => m.back!.film,
      backArea,
      catalogue,
    ),
    {
      name: "pressed back",
      from: "back electrons",
      to: place.boxByDie,
      group,
      conductor: (m) => stageJoint(m.back!.joint, "back.joint", catalogue),
      count: (m) => m.back!.joint.count ?? 1,
    },
  ];
}

/** A joint of pressed faces, of a measured resistance, or of a measured conductance. */
function stageJoint(
  { count: _, ...joint }: PlainMount["joint"],
  field: string,
  catalogue: Catalogue,
): Conductor {
  return "conductance" in joint ? givenJoint(joint, field) : pressedJoint(joint, catalogue, field);
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
  const reach = Math.max(m.bonds!.pitch ?? 1.5 * (m.pads?.width ?? 4 * radius), 3 * radius);
  const along = radialSpreading(
    { ...film, innerRadius: radius, outerRadius: reach },
    catalogue,
    "ledge.plating",
  );
  return parallel(series(through, below), along);
}

function clampParts(mount: PlainMount, catalogue: Catalogue): Part[] {
  const clamps = mount.clamps ?? [];
  return clamps.map((clamp, i) => {
    const group = clamps.length > 1 ? `clamps ${i + 1}` : "clamps";
    return {
      name: clamp.name ?? group,
      from: dieAt(mount, group),
      to: place.boxByDie,
      group,
      conductor: (m) => {
        const { faces, force } = m.clamps![i]!;
        return pressedJoint({ faces, force }, catalogue, `clamps[${i}]`);
      },
      count: (m) => spots(m.clamps![i]!),
    };
  });
}

/** How many clamps or spots of glue: as many as are placed, or as the count says, or one. */
function spots(holder: { readonly count?: number; readonly places?: readonly unknown[] }): number {
  return holder.places?.length ?? holder.count ?? 1;
}

function glueParts(mount: PlainMount, catalogue: Catalogue): Part[] {
  if (!mount.glue) return [];
  return [
    {
      name: "glue",
      from: dieAt(mount, "glue"),
      to: place.boxByDie,
      group: "glue",
      conductor: (m) => {
        const { count: _, places, ...layer } = m.glue!;
        return glue(layer, catalogue, "glue");
      },
      count: (m) => spots(m.glue!),
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
      conductor: (m) => stageJoint(m.joint, "joint", catalogue),
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
