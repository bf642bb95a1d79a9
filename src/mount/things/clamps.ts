/**
 * Clamps that press on the die.
 * @module
 */
import { pressedJoint } from "../../joints/pressed-joint.js";
import { count, list, object, optional, type Plain, quantity, text } from "../../units/fields.js";
import { formatGiven } from "../../units/format.js";
import type { Force, Length } from "../../units/quantity.js";
import type { Uncertain } from "../../units/spread.js";
import { boxByDie, type Contacts, rectanglesOf, type Thing } from "../thing.js";
import { metres, times } from "./film.js";
import {
  checkPlaces,
  type Place,
  places,
  refuseTooMany,
  spots,
  squares,
  usualSize,
} from "./spots.js";

/** A clamp that presses on the die; it may lie over pads, and both then take heat there. */
export interface Clamp {
  /** Shown in the budget; `clamps` when absent. */
  readonly name?: string;
  /** Pair of faces of data/joints/pressed.csv, for example `"sapphire on copper"`. */
  readonly faces: string;
  /** On each clamp [N]. */
  readonly force: Uncertain<Force>;
  /** 1 when absent, or as many as there are places. */
  readonly count?: number;
  /** Middles of the clamps; from the corners on around the edges when absent. */
  readonly places?: readonly Place[];
  /** Side of the square of the die that a clamp covers [m]; 1 mm when absent. */
  readonly size?: Uncertain<Length>;
}

interface WithClamps {
  readonly die: { readonly width: number; readonly length: number };
  readonly clamps?: readonly Plain<Clamp>[];
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

export const clamps: Thing<readonly Clamp[], WithClamps> = {
  holds: "clamps",
  field: optional(
    list(
      object<Clamp>({
        name: optional(text),
        faces: text,
        force: quantity("force"),
        count: optional(count),
        places: optional(places),
        size: optional(quantity("length")),
      }),
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
          const { faces, force } = m.clamps![i]!;
          return pressedJoint({ faces, force }, catalogue, `clamps[${i}]`);
        },
        count: (m) => spots(m.clamps![i]!),
      })),
    };
  },
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
          clamp.faces,
          `${formatGiven(clamp.force, "N")}${each}, on ${metres(side)} square`,
        ],
        places: covered,
      };
    });
  },
};
