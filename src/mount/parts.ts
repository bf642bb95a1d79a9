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
import type { Catalogue } from "../materials/types.js";
import { dieParts } from "./die-parts.js";
import { backParts, bondParts } from "./film-parts.js";
import { boxParts, clampParts, glueParts } from "./joint-parts.js";
import type { Part } from "./part.js";
import type { PlainMount } from "./read.js";

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
