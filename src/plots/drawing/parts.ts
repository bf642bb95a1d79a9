/**
 * What a mount is made of, as a drawing lists it: each part with its number, its look and its words.
 * @module
 */
import type { Rectangle } from "../../chip/grid.js";
import { bondFeet, contactGroups } from "../../mount/layout.js";
import type { PlainMount } from "../../mount/read.js";
import { formatGiven } from "../../units/format.js";
import { areasOf, boundsOf } from "./outline.js";

/** How a part is drawn; each look is a fill of its own, in colour, in grey and by its hatching. */
export type Look =
  | "die"
  | "film"
  | "wire"
  | "clamp"
  | "glue"
  | "back"
  | "warm"
  | "box"
  | "plating"
  | "joint"
  | "stage";

/** One entry of the drawing's list. */
export interface DrawnPart {
  readonly kind: string;
  readonly look: Look;
  /** First words, heavy. */
  readonly name: string;
  /** Material, dimensions and the like. */
  readonly details: readonly string[];
  /** Where it lies on the die [m]; empty for what is beside or under it. */
  readonly places: readonly Rectangle[];
  /** Thickness [m], where one is given; for the section. */
  readonly thickness?: number;
}

const metres = (value: number) => formatGiven(value, "m");

type Purity = number | { readonly value: number } | undefined;
const purity = (ratio: Purity) =>
  ratio === undefined ? [] : [`RRR ${typeof ratio === "number" ? ratio : ratio.value}`];

const times = (count: number, one: string, many = `${one}s`) =>
  count === 1 ? `1 ${one}` : `${count} ${many}`;

type Joint = PlainMount["joint"];

function jointWords(joint: Joint): readonly string[] {
  const count = joint.count ?? 1;
  const each = count > 1 ? " each" : "";
  if ("faces" in joint && joint.faces !== undefined) {
    return [joint.faces, `${times(count, "bolt")}, ${formatGiven(joint.force, "N")}${each}`];
  }
  if ("resistance" in joint && joint.resistance !== undefined) {
    return [
      `${times(count, "joint")}, ${formatGiven(joint.resistance, "ohm")}${each}`.replace(
        "ohm",
        "Ω",
      ),
    ];
  }
  const { conductance, at } = joint as { readonly conductance: number; readonly at: number };
  return [
    `${times(count, "joint")}, ${formatGiven(conductance, "W/K")}${each} at ${formatGiven(at, "K")}`,
  ];
}

/** Parts in the order of their numbers, from the die outwards. */
export function drawnParts(mount: PlainMount): readonly DrawnPart[] {
  const { die, pads, ring, bonds, ledge, clamps = [], glue, back, box, joint, stage } = mount;
  const groups = new Map(contactGroups(mount).map((group) => [group.name, group]));
  const areas = (name: string) => areasOf(groups.get(name)!.contacts);
  const parts: DrawnPart[] = [
    {
      kind: "die",
      look: "die",
      name: "die",
      details: [
        die.material,
        `${metres(die.width)} × ${metres(die.length)}, ${metres(die.thickness)} thick`,
      ],
      places: [{ left: 0, right: die.width, bottom: 0, top: die.length }],
      thickness: die.thickness,
    },
  ];
  if (pads && bonds) {
    const places = areas("pads");
    parts.push({
      kind: "pads",
      look: "film",
      name: times(places.length, "pad"),
      details: [
        pads.material,
        `${metres(pads.width)} along the edge × ${metres(pads.length)}, ${metres(pads.thickness)} thick`,
        ...purity(pads.residualResistivityRatio),
      ],
      places,
      thickness: pads.thickness,
    });
  }
  if (ring) {
    parts.push({
      kind: "ring",
      look: "film",
      name: "ring",
      details: [
        ring.material,
        `${metres(ring.width)} wide, ${metres(ring.thickness)} thick`,
        ...purity(ring.residualResistivityRatio),
      ],
      places: areas("ring"),
      thickness: ring.thickness,
    });
  }
  if (bonds) {
    const wire =
      bonds.diameter !== undefined
        ? `${metres(bonds.diameter)} wire`
        : `ribbon ${metres(bonds.width!)} × ${metres(bonds.thickness!)}`;
    parts.push({
      kind: "bonds",
      look: "wire",
      name: times(bonds.count, "bond"),
      details: [
        bonds.material,
        `${wire}, ${metres(bonds.length)} long`,
        ...purity(bonds.residualResistivityRatio),
      ],
      places: bondFeet(mount).map(({ x, y }) => ({ left: x, right: x, bottom: y, top: y })),
    });
  }
  clamps.forEach((clamp, i) => {
    const places = areas(clamps.length > 1 ? `clamps ${i + 1}` : "clamps");
    const each = places.length > 1 ? " each" : "";
    const side = places[0]!.right - places[0]!.left;
    parts.push({
      kind: `clamps ${i}`,
      look: "clamp",
      name: clamp.name ?? times(places.length, "clamp"),
      details: [
        ...(clamp.name && places.length > 1 ? [times(places.length, "clamp")] : []),
        clamp.faces,
        `${formatGiven(clamp.force, "N")}${each}, on ${metres(side)} square`,
      ],
      places,
    });
  });
  if (glue) {
    const tiles = areas("glue");
    const count = glue.places?.length ?? glue.count ?? 1;
    const each = tiles.length / count;
    parts.push({
      kind: "glue",
      look: "glue",
      name: times(count, "spot of glue", "spots of glue"),
      details: [
        "glue" in glue && glue.glue !== undefined
          ? glue.glue
          : (glue as { material: string }).material,
        `${formatGiven(1e6 * glue.area, "")} mm²${count > 1 ? " each" : ""}` +
          (glue.thickness === undefined ? "" : `, ${metres(glue.thickness)} thick`),
        "under the die",
      ],
      places: Array.from({ length: count }, (_, k) =>
        boundsOf(tiles.slice(k * each, (k + 1) * each)),
      ),
      ...(glue.thickness !== undefined && { thickness: glue.thickness }),
    });
  }
  if (back) {
    parts.push({
      kind: "back",
      look: "back",
      name: "film on the back, pressed on the box",
      details: [
        back.film.material,
        `${metres(back.film.thickness)} thick`,
        ...purity(back.film.residualResistivityRatio),
        ...(back.frame === undefined ? [] : [`touches in a band of ${metres(back.frame)}`]),
        ...jointWords(back.joint as Joint).map((text) =>
          text.replace(/^1 bolt, /, "pressed with "),
        ),
      ],
      places: areas("back"),
      thickness: back.film.thickness,
    });
  }
  for (const load of mount.loads) {
    if (load.kind !== "conduction" || load.on === "box") continue;
    const { x, y } = load.place ?? { x: die.width / 2, y: die.length / 2 };
    parts.push({
      kind: `warm ${parts.length}`,
      look: "warm",
      name: load.name ?? "warm wire",
      details: [
        load.material,
        `${metres(load.length)} long`,
        `from ${formatGiven(load.from, "K")}`,
      ],
      places: [{ left: x, right: x, bottom: y, top: y }],
    });
  }
  if (ledge?.plating) {
    const { material, thickness, residualResistivityRatio } = ledge.plating;
    parts.push({
      kind: "plating",
      look: "plating",
      name: "plating of the ledge",
      details: [material, `${metres(thickness)} thick`, ...purity(residualResistivityRatio)],
      places: [],
      thickness,
    });
  }
  parts.push({
    kind: "box",
    look: "box",
    name: bonds ? "box with its ledge" : "box",
    details: [
      box.material,
      ...purity(box.residualResistivityRatio),
      `${formatGiven(1e6 * box.crossSection, "")} mm² over ${metres(box.pathLength)} to the bolts`,
      ...(box.plating
        ? [`plated with ${metres(box.plating.thickness)} of ${box.plating.material}`]
        : []),
    ],
    places: [],
  });
  parts.push({
    kind: "joint",
    look: "joint",
    name: "joint to the stage",
    details: jointWords(joint),
    places: [],
  });
  parts.push({
    kind: "stage",
    look: "stage",
    name: "stage",
    details: [
      typeof stage === "number"
        ? `held at ${formatGiven(stage, "K")}`
        : "as warm as its cooling leaves it",
    ],
    places: [],
  });
  return parts;
}
