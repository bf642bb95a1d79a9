/**
 * Contacts of a mount's die as each model of the die takes them.
 * @module
 */
import { checkContacts, withoutHole } from "../chip/contact.js";
import type { FlightOptions } from "../chip/flights/box.js";
import type { FaceContact } from "../chip/flights/face-contacts.js";
import { Grid, type Rectangle } from "../chip/grid.js";
import { FieldError } from "../units/errors.js";
import type { ContactGroup } from "./assemble.js";
import type { PlainMount } from "./mount.js";
import { ownDie } from "./on-die.js";
import { faceOf } from "./thing.js";
import type { FaceShares } from "./things/finish.js";

/** Name of contact k's node on its die. */
export function contactNode(
  { name, die = ownDie }: Pick<ContactGroup, "name" | "die">,
  k: number,
): string {
  return `${die} at the ${name} ${k + 1}`;
}

/** The contacts of groups as the chip takes them. */
export function contactsOf(groups: readonly ContactGroup[]) {
  return groups.flatMap((group) =>
    group.contacts.map(({ area }, k) => ({
      name: contactNode(group, k),
      area,
      layer: group.layer,
    })),
  );
}

/**
 * A die of flights.
 * @param cells - along the longer side of its temperature map
 * @param oneRayOf - of how many phonons one is flown
 */
export function flightOptions(
  { die: { width, length, thickness, bulkLength, rays } }: PlainMount,
  { front, back, sides }: FaceShares,
  cells: number,
  oneRayOf = 1,
): FlightOptions {
  return {
    width,
    length,
    thickness,
    specularity: { front, back, left: sides, right: sides, lower: sides, upper: sides },
    ...(bulkLength !== undefined && { bulkLength }),
    ...(rays !== undefined && { rays }),
    ...(oneRayOf !== 1 && { oneRayOf }),
    cells,
  };
}

/**
 * Contacts as they lie on the faces: those of the back on the back, all others on the front. What an
 * earlier one covers is not a later one's, as where a clamp presses on a pad.
 * @throws FieldError for one that is covered all over
 */
export function onFaces(
  { die }: PlainMount,
  groups: readonly ContactGroup[],
): readonly FaceContact[] {
  const contacts = contactsOf(groups);
  const grid = new Grid(die.width, die.length, 1, 1, "die");
  const covered = new Map<string, Rectangle[]>();
  return checkContacts(grid, contacts, "die").map(({ name, pieces }, i) => {
    const face = faceOf(contacts[i]!.layer);
    const others = covered.get(face) ?? [];
    const free = others.reduce<readonly Rectangle[]>(withoutHole, pieces);
    if (free.length === 0) {
      throw new FieldError(name, "a place that no other contact covers", "none that is left");
    }
    covered.set(face, [...others, ...free]);
    return { name, area: free.map((piece) => ({ ...piece, face })) };
  });
}
