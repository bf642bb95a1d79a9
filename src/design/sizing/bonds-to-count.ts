/**
 * What a question about the number of bonds needs of a mount.
 * @module
 */

import type { PlainMount } from "../../mount/mount.js";
import { bondRoom } from "../../mount/things/edges.js";
import { FieldError } from "../../units/errors.js";

/**
 * How many bonds have room.
 * @throws FieldError for a mount without bonds or limit, or without room for a bond
 */
export function roomToCount(mount: PlainMount): number {
  const { bonds, limit } = mount;
  if (!bonds) throw new FieldError("bonds", "bonds to count", undefined);
  if (!limit) throw new FieldError("limit", "a limit to hold", undefined);
  const room = bondRoom(mount);
  if (room < 1) throw new FieldError("bonds.pitch", "room for at least one bond", bonds.pitch);
  return room;
}
