/**
 * What joins two dies that lie over each other: bumps, glue, or pressed faces. Each spot, or each tile of a
 * whole face, is a contact on both dies.
 * @module
 */
import type { Conductor } from "../../conductor.js";
import { behindRadiation, boundary, phononRadiation } from "../../joints/boundary.js";
import { series } from "../../joints/combine.js";
import { glue as glueJoint } from "../../joints/glue.js";
import { materialConductivity, stripConductor } from "../../joints/strip.js";
import type { Catalogue } from "../../materials/types.js";
import { given } from "../../provenance.js";
import { FieldError } from "../../units/errors.js";
import { optional, type Plain } from "../../units/fields.js";
import { formatGiven } from "../../units/format.js";
import { ownDie } from "../on-die.js";
import { type Contacts, type DrawnPart, inMaterial, type Thing } from "../thing.js";
import {
  bumpArea,
  bumpMiddles,
  checkSpots,
  contactAreas,
  countOf,
  glueArea,
  glueMiddles,
  sharedBy,
} from "./die-joint-places.js";
import {
  type BetweenDies,
  type BumpsBetween,
  type DieJoint,
  dieJoints,
  facesOf,
  type GlueBetween,
  kindOf,
  type MetalBumps,
  nameOf,
  type WithBetween,
} from "./die-joints.js";
import { metres, purityWords, times } from "./film.js";
import { halfOfLayer } from "./glue.js";
import { jointWords, screwWarnings, stageJoint } from "./joint.js";
import { square } from "./spots.js";
import { checkDie, faceOfDie, moved, plate } from "./stack.js";

/** The contacts of a joint on one of its dies. */
function contactsOf(own: Plain<DieJoint>, i: number, end: "from" | "to"): Contacts<WithBetween> {
  const die = own[end];
  const name = nameOf(own);
  const inPlaces = "bumps" in own && own.bumps.places;
  return {
    name,
    ...(die !== ownDie && { die }),
    pair: `between[${i}]`,
    layer: facesOf(own)[end] === "back" ? "back" : "face",
    field: (k) => (inPlaces ? `between[${i}].bumps.places[${k}]` : `between[${i}]`),
    lay(mount) {
      const corner = faceOfDie(mount, die);
      return {
        patches: contactAreas(mount, i).map(({ area: pieces, share }) => ({
          area: pieces.map((piece) => moved(piece, corner, -1)),
          share,
          bonds: 0,
        })),
      };
    },
  };
}

/** One bump, one spot of glue, or the joint. */
function conductorOf(mount: WithBetween, i: number, catalogue: Catalogue): Conductor {
  const own = mount.between![i]!;
  const at = `between[${i}]`;
  if ("joint" in own) return stageJoint(own.joint, `${at}.joint`, catalogue);
  const materials = [own.from, own.to].map((name) => plate(mount, name).material) as [
    string,
    string,
  ];
  if ("glue" in own) {
    const { count: _, places: __, ...layer } = { ...own.glue, area: glueArea(mount, own, i) };
    if (!("material" in layer)) {
      const { heatOf: ___, ...named } = layer;
      return glueJoint(named, catalogue, `${at}.glue`);
    }
    const { boundary: faces, ...more } = layer;
    if (!faces) return glueJoint(more, catalogue, `${at}.glue`);
    return inMaterial(more.material, `${at}.glue.material`, () =>
      glueJoint({ ...more, between: materials }, catalogue, `${at}.glue`),
    );
  }
  const field = `${at}.bumps`;
  const size = bumpArea(own.bumps);
  if ("measured" in own.bumps) {
    const { measured, sample, height } = own.bumps;
    return glueJoint(
      {
        glue: measured,
        area: size,
        ...(sample !== undefined && { sample }),
        ...(height !== undefined && { thickness: height }),
      },
      catalogue,
      field,
    );
  }
  return throughBump(mount, { ...own, bumps: own.bumps }, materials, field, catalogue);
}

/**
 * Through the boundary of the upper die, the metal and the boundary of the lower one. A bump is mostly
 * narrower than phonons fly: what spreads from it in the die is counted by the boundary and by the cells.
 */
function throughBump(
  mount: WithBetween,
  own: Plain<BetweenDies> & { readonly bumps: Plain<MetalBumps> },
  materials: readonly [string, string],
  field: string,
  catalogue: Catalogue,
): Conductor {
  const { material, height, boundary: kind = "diffuse mismatch" } = own.bumps;
  const size = bumpArea(own.bumps);
  const conductivity = materialConductivity("material", own.bumps, catalogue, field);
  const provenance = [
    ...conductivity.provenance,
    given(`${field}: height`, height, "m"),
    given(`${field}: diameter`, own.bumps.diameter, "m"),
  ];
  const metal = { ...stripConductor(conductivity, size / height), provenance };
  const face = (name: string) => {
    const law = kind === "diffuse mismatch" ? { between: [name, material] as const } : kind;
    const through = inMaterial(material, `${field}.material`, () =>
      boundary({ area: size, ...law }, catalogue, `${field}.boundary`),
    );
    if (mount.die.model !== "flights") return through;
    const speeds = catalogue.material(name, `${field}.material`).soundSpeeds();
    return behindRadiation(through, size * phononRadiation(speeds));
  };
  return series(face(materials[0]), metal, face(materials[1]));
}

/** Half of what a joint stores, which its temperature falls across. */
const half = (i: number) => ({
  field: `between[${i}]`,
  store(mount: WithBetween, catalogue: Catalogue) {
    const own = mount.between![i]! as Plain<BumpsBetween | GlueBetween>;
    const [key, layer] = "bumps" in own ? ["bumps", own.bumps] : ["glue", own.glue];
    const high =
      "diameter" in layer
        ? (["height", layer.height] as const)
        : (["thickness", layer.thickness] as const);
    const size = "bumps" in own ? bumpArea(own.bumps) : glueArea(mount, own, i);
    const area = countOf(mount, i) * size;
    return halfOfLayer(layer, area, high, `between[${i}].${key}`, catalogue);
  },
});

/** What a joint is made of, as a drawing says it. */
function detailsOf(mount: WithBetween, own: Plain<DieJoint>, i: number): readonly string[] {
  const where = `from ${own.from} down to ${own.to}`;
  if ("joint" in own) return [...jointWords(own.joint), where];
  if ("glue" in own) {
    const { thickness } = own.glue;
    const size = `${formatGiven(1e6 * glueArea(mount, own, i), "")} mm²`;
    const high = thickness === undefined ? "" : `, ${metres(thickness)} thick`;
    return ["glue" in own.glue ? own.glue.glue : own.glue.material, `${size}${high}`, where];
  }
  const { diameter, height } = own.bumps;
  const high = height === undefined ? "" : `, ${metres(height)} high`;
  return [
    "measured" in own.bumps ? own.bumps.measured : own.bumps.material,
    `${metres(diameter)} in diameter${high}`,
    ...("material" in own.bumps ? purityWords(own.bumps.residualResistivityRatio) : []),
    where,
  ];
}

const wholeName = { bumps: "bump", glue: "spot of glue", joint: "joint" };

export const between: Thing<readonly DieJoint[], WithBetween> = {
  field: optional(dieJoints),
  rules(mount) {
    const { between: all = [] } = mount;
    all.forEach((own, i) => {
      const at = `between[${i}]`;
      for (const end of ["from", "to"] as const) checkDie(mount, own[end], `${at}.${end}`);
      if (own.from === own.to) throw new FieldError(`${at}.to`, "another die", own.to);
      if (all.findIndex((other) => nameOf(other) === nameOf(own)) !== i) {
        const words = "a name that nothing else between dies has";
        throw new FieldError(`${at}.name`, words, nameOf(own));
      }
      sharedBy(mount, own, i);
      if (!("joint" in own)) checkSpots(mount, own, i);
      if ("glue" in own && "material" in own.glue && own.glue.boundary) {
        if (own.glue.boundaryResistance === undefined) return;
        const words = "none, since its faces are given by boundary";
        throw new FieldError(`${at}.glue.boundaryResistance`, words, own.glue.boundaryResistance);
      }
    });
  },
  parts({ between: all = [] }) {
    const ends = all.map((own, i) => ({
      from: contactsOf(own, i, "from"),
      to: contactsOf(own, i, "to"),
    }));
    return {
      contacts: ends.flatMap(({ from, to }) => [from, to]),
      paths: all.map((own, i) => ({
        name: nameOf(own),
        from: { on: ends[i]!.from },
        to: { on: ends[i]!.to, in: true },
        conductor: (mount, catalogue) => conductorOf(mount, i, catalogue),
        count: (mount) => countOf(mount, i),
      })),
      stores: all.flatMap((own, i) =>
        "joint" in own
          ? []
          : (["from", "to"] as const).map((end) => ({
              name: `${nameOf(own)}, half by ${own[end]}`,
              at: { on: ends[i]![end] },
              ...half(i),
            })),
      ),
    };
  },
  warnings: ({ between: all = [] }, catalogue) =>
    all.flatMap((own, i) =>
      "joint" in own ? screwWarnings(own.joint, `between[${i}].joint`, catalogue) : [],
    ),
  drawn: (mount) =>
    (mount.between ?? []).map((own, i): DrawnPart => {
      const total = countOf(mount, i);
      const places =
        "bumps" in own
          ? bumpMiddles(mount, own, i).map((middle) => square(middle, own.bumps.diameter))
          : "glue" in own && own.glue.area !== undefined
            ? glueMiddles(mount, own, sharedBy(mount, own, i)).map((middle) =>
                square(middle, Math.sqrt(own.glue.area!)),
              )
            : [sharedBy(mount, own, i)];
      const high =
        "bumps" in own ? own.bumps.height : "glue" in own ? own.glue.thickness : undefined;
      const kind = kindOf(own);
      const name =
        own.name ?? times(total, wholeName[kind], kind === "glue" ? "spots of glue" : undefined);
      return {
        kind: `between ${i}`,
        look: "bump",
        name: own.name && total > 1 ? `${name}, ${times(total, wholeName[kind])}` : name,
        details: detailsOf(mount, own, i),
        places,
        below: own.from,
        ...(high !== undefined && { thickness: high }),
      };
    }),
};
