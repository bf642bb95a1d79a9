/**
 * Clamps that press on the die.
 * @module
 */
import { heatStore, type Volume, volumes } from "../../joints/heat-store.js";
import * as read from "../../units/fields.js";
import { formatGiven } from "../../units/format.js";
import type { Length } from "../../units/quantity.js";
import type { Uncertain } from "../../units/spread.js";
import { boxByDie, type Contacts, pick, rectanglesOf, type Thing } from "../thing.js";
import { metres, times } from "./film.js";
import {
  jointWords,
  type OneJoint,
  oneJoint,
  oneJointField,
  screwWarnings,
  screwWords,
} from "./joint.js";
import {
  checkPlaces,
  type Place,
  places,
  refuseTooMany,
  spots,
  squares,
  usualSize,
} from "./spots.js";

/** Clamps alike, and where they press on the die. */
export interface ClampPlaces {
  /** Shown in the budget; `clamps` when absent. */
  readonly name?: string;
  /** 1 when absent, or as many as there are places. */
  readonly count?: number;
  /** Middles of the clamps; from the corners on around the edges when absent. */
  readonly places?: readonly Place[];
  /** Side of the square of the die that a clamp covers [m]; 1 mm when absent. */
  readonly size?: Uncertain<Length>;
  /** What stores heat in one of them, at the box; nothing when absent. */
  readonly body?: ClampBody;
}

/** The body of a clamp. */
export interface ClampBody {
  /** Material, by its name in the catalogue. */
  readonly material: string;
  /** Of one clamp [m³]. */
  readonly volume: Uncertain<Volume>;
}

/**
 * A clamp that presses on the die; it may lie over pads, and both then take heat there. One of them is a joint
 * by its faces and the force on it, or the screws that press it together, or as measured.
 */
export type Clamp = ClampPlaces & OneJoint;

interface WithClamps {
  readonly die: { readonly width: number; readonly length: number };
  readonly clamps?: readonly read.Plain<Clamp>[];
}

/** Name of the i-th clamp's contacts. */
const groupName = ({ clamps }: WithClamps, i: number) =>
  clamps!.length > 1 ? `clamps ${i + 1}` : "clamps";

function contactsOf(mount: WithClamps, i: number): Contacts<WithClamps> {
  return {
    name: groupName(mount, i),
    layer: "clamps",
    field: (k) => `clamps[${i}].places[${k}]`,
    lay(m) {
      m.clamps!.forEach((clamp, k) => {
        refuseTooMany(`clamps[${k}].count`, clamp.count);
      });
      return { patches: squares(middlesOf(m, i), m.clamps![i]!.size ?? usualSize) };
    },
  };
}

/** Clamps without places share the edges between them, in the order they are written. */
function middlesOf({ die, clamps = [] }: WithClamps, i: number) {
  const own = clamps[i]!;
  if (own.places) return own.places;
  const unplaced = (end: number) => clamps.slice(0, end).filter(({ places: given }) => !given);
  const upTo = (end: number) => unplaced(end).reduce((sum, clamp) => sum + (clamp.count ?? 1), 0);
  const all = clamps.length;
  const size = Math.max(usualSize, ...unplaced(all).map((clamp) => clamp.size ?? usualSize));
  const first = upTo(i);
  return aroundEdges(die, upTo(all), size).slice(first, first + (own.count ?? 1));
}

/** The first four at the corners, more of them evenly around the edges. */
function aroundEdges(die: WithClamps["die"], total: number, size: number) {
  const [w, l] = [die.width - size, die.length - size];
  const corners = [
    [0, 0],
    [1, 1],
    [1, 0],
    [0, 1],
  ];
  return Array.from({ length: total }, (_, k) => {
    if (total <= 4) {
      const [x, y] = corners[k]!;
      return { x: size / 2 + x! * w, y: size / 2 + y! * l };
    }
    const at = ((2 * (w + l)) / total) * k;
    const x = at < w ? at : at < w + l ? w : at < 2 * w + l ? 2 * w + l - at : 0;
    const y = at < w ? 0 : at < w + l ? at - w : at < 2 * w + l ? l : 2 * (w + l) - at;
    return { x: size / 2 + x, y: size / 2 + y };
  });
}

/** One clamp as a joint, without its place: a path must read only what it depends on. */
function jointOf(clamp: read.Plain<Clamp>): read.Plain<OneJoint> {
  if ("screws" in clamp) return pick(clamp, "faces", "sample", "screws");
  if ("faces" in clamp) return pick(clamp, "faces", "sample", "force");
  if ("resistance" in clamp) return { resistance: clamp.resistance };
  return pick(clamp, "conductance", "at", "exponent");
}

const screwsOf = (clamp: read.Plain<Clamp>) => ("screws" in clamp ? (clamp.screws.count ?? 1) : 1);

/** How one is pressed, or what it conducts, as a drawing says it. */
function pressWords(clamp: read.Plain<Clamp>): readonly string[] {
  if ("screws" in clamp) return [clamp.faces, screwWords(clamp.screws)];
  if ("faces" in clamp) return [clamp.faces, formatGiven(clamp.force, "N")];
  return jointWords(jointOf(clamp)).map((words) => words.replace(/^1 joint, /, ""));
}

export const clamps: Thing<readonly Clamp[], WithClamps> = {
  holds: "clamps",
  field: read.optional(
    read.list(
      read.together<ClampPlaces, OneJoint>(
        read.object<ClampPlaces>({
          name: read.optional(read.text),
          count: read.optional(read.count),
          places: read.optional(places),
          size: read.optional(read.quantity("length")),
          body: read.optional(
            read.object<ClampBody>({ material: read.text, volume: read.rareQuantity(volumes) }),
          ),
        }),
        oneJointField,
      ),
      "a list of clamps",
    ),
  ),
  rules({ clamps: own = [] }) {
    own.forEach((clamp, i) => {
      checkPlaces(`clamps[${i}]`, clamp);
    });
  },
  parts(mount) {
    const own = mount.clamps ?? [];
    const contacts = own.map((_, i) => contactsOf(mount, i));
    return {
      contacts,
      paths: own.map((clamp, i) => ({
        name: clamp.name ?? groupName(mount, i),
        from: { on: contacts[i]! },
        to: boxByDie,
        conductor(m, catalogue) {
          const clamp = m.clamps![i]!;
          return oneJoint(jointOf(clamp), `clamps[${i}]`, catalogue, screwsOf(clamp));
        },
        count: (m) => spots(m.clamps![i]!),
      })),
      stores: own.flatMap((clamp, i) =>
        clamp.body
          ? [
              {
                name: clamp.name ?? groupName(mount, i),
                at: boxByDie,
                field: `clamps[${i}].body.material`,
                store: (m, catalogue) =>
                  heatStore(
                    { ...m.clamps![i]!.body!, count: spots(m.clamps![i]!) },
                    catalogue,
                    `clamps[${i}].body`,
                  ),
              },
            ]
          : [],
      ),
    };
  },
  warnings: ({ clamps: own = [] }, catalogue) =>
    own.flatMap((clamp, i) => screwWarnings(jointOf(clamp), `clamps[${i}]`, catalogue)),
  drawn(mount) {
    return (mount.clamps ?? []).map((clamp, i) => {
      const covered = rectanglesOf(contactsOf(mount, i), mount);
      const each = covered.length > 1 ? " each" : "";
      const side = covered[0]!.right - covered[0]!.left;
      return {
        kind: `clamps ${i}`,
        look: "clamp",
        name: clamp.name ?? times(covered.length, "clamp"),
        details: [
          ...(clamp.name && covered.length > 1 ? [times(covered.length, "clamp")] : []),
          ...pressWords(clamp).map((words, k, all) =>
            k < all.length - 1 ? words : `${words}${each}, on ${metres(side)} square`,
          ),
        ],
        places: covered,
      };
    });
  },
};
