/**
 * Films on the die, pads, a ring or a plated back, and what carries heat from them to the box.
 * @module
 */
import type { Conductor } from "../conductor.js";
import { boundary } from "../joints/boundary.js";
import { parallel, series } from "../joints/combine.js";
import { electronPhonon } from "../joints/electron-phonon.js";
import { padFilm } from "../joints/pad-film.js";
import { constriction, radialSpreading } from "../joints/spreading.js";
import { strip, stripConductor } from "../joints/strip.js";
import { wireBond } from "../joints/wire-bond.js";
import type { Catalogue } from "../materials/types.js";
import { FieldError } from "../units/errors.js";
import { stageJoint } from "./joint-parts.js";
import { dieAt, inMaterial, type Part, pick, place, purity } from "./part.js";
import type { PlainMount } from "./read.js";

/** From the die through the film that the bonds stand on, pads or a ring, to the box. */
export function bondParts(mount: PlainMount, catalogue: Catalogue): Part[] {
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
        const radius = footRadius(m);
        // Feet that crowd a ring leave no film to cross: each still drains a little more than itself.
        const drained = onRing
          ? Math.max(area(m) / m.bonds!.count, 1.02 * Math.PI * radius ** 2)
          : area(m) / (m.bonds!.perPad ?? 1);
        const shape = { metal: material, area: drained, thickness, footRadius: radius };
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
        return inMaterial(material, `${field}.material`, () =>
          boundary({ ...law, area: area(m) }, catalogue, `${field}.boundary`),
        );
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
        if (!coupling) {
          return inMaterial(metal, `${field}.material`, () =>
            electronPhonon(body, catalogue, field),
          );
        }
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
export function backParts(mount: PlainMount, catalogue: Catalogue): Part[] {
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
