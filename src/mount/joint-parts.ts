/**
 * Clamps and glue on the die, the wall of the box, and the joint to the stage.
 * @module
 */
import type { Conductor } from "../conductor.js";
import { parallel } from "../joints/combine.js";
import { givenJoint } from "../joints/given.js";
import { glue } from "../joints/glue.js";
import { pressedJoint } from "../joints/pressed-joint.js";
import { strip } from "../joints/strip.js";
import type { Catalogue } from "../materials/types.js";
import { dieAt, type Part, place, purity } from "./part.js";
import type { PlainMount } from "./read.js";

export function clampParts(mount: PlainMount, catalogue: Catalogue): Part[] {
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

export function glueParts(mount: PlainMount, catalogue: Catalogue): Part[] {
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

export function boxParts(_: PlainMount, catalogue: Catalogue): Part[] {
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

/** A joint of pressed faces, of a measured resistance, or of a measured conductance. */
export function stageJoint(
  { count: _, ...joint }: PlainMount["joint"],
  field: string,
  catalogue: Catalogue,
): Conductor {
  return "conductance" in joint ? givenJoint(joint, field) : pressedJoint(joint, catalogue, field);
}
