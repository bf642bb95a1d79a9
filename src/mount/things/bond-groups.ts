/**
 * Bonds on groups of pads: each kind on every pad of its group.
 * @module
 */
import { FieldError, UnknownNameError } from "../../units/errors.js";
import { list, object, optional, type Plain, text } from "../../units/fields.js";
import { formatGiven } from "../../units/format.js";
import type { Thing } from "../thing.js";
import {
  alike,
  type Bond,
  type BondsIn,
  bondFields,
  bondLength,
  bondPaths,
  bondStores,
  checkFeet,
  drawnBonds,
  type WithBonds,
} from "./bonds.js";
import type { Box } from "./box.js";
import { bondFeet, bondsOnEach, type OnEdges, padsIn, padsOfGroup } from "./edges.js";
import type { Ledge } from "./ledge.js";
import { groupFilms, type PadGroup } from "./pad-groups.js";

/** Bonds alike on every pad of a group. */
export interface BondGroup extends Bond {
  /** Shown in the budget; the name of its pads when absent. */
  readonly name?: string;
  /** Name of the group of pads they stand on. */
  readonly pads: string;
}

/** What groups of bonds read of a mount. */
interface WithBondGroups extends OnEdges {
  readonly die: OnEdges["die"] & { readonly material: string };
  readonly padGroups?: readonly Plain<PadGroup>[];
  readonly bondGroups?: readonly Plain<BondGroup>[];
  readonly ledge?: Plain<Ledge>;
  readonly box: Plain<Box>;
}

const nameOf = ({ name, pads }: Plain<BondGroup>) => name ?? pads;

/** A group as bonds of one kind. @throws UnknownNameError for pads that there are not */
function kindOf({ padGroups = [], bondGroups: all }: WithBondGroups, i: number) {
  const key = `bondGroups[${i}]`;
  const own = all![i]!;
  const on = own.pads;
  const g = padGroups.findIndex((pads) => pads.name === on);
  if (g < 0) {
    const known = padGroups.map((pads) => pads.name);
    throw new UnknownNameError(`${key}.pads`, "group of pads", on, known);
  }
  const film = groupFilms(padGroups)[g]!;
  const name = nameOf(own);
  const of = (mount: WithBondGroups) => mount.bondGroups![i]!;
  const pads = (mount: WithBondGroups) => mount.padGroups![g]!;
  const kind: BondsIn<WithBondGroups> = {
    key,
    names: {
      film: `pad film to bonds ${name}`,
      bonds: `bonds ${name}`,
      ledge: `ledge at bonds ${name}`,
      foot: `foot of bonds ${name}`,
      farFoot: `ledge foot of bonds ${name}`,
    },
    film,
    of,
    count: (mount) => padsIn(pads(mount)) * (of(mount).perPad ?? 1),
    drained(mount) {
      const { width, length } = pads(mount);
      return { width: width / bondsOnEach(mount, on), length };
    },
    inwards(mount) {
      const all = padsOfGroup(mount, pads(mount), `padGroups[${g}]`).map(({ inwards }) => inwards);
      const [least, most] = [Math.min(...all), Math.max(...all)];
      if (most - least <= 1e-6 * most) return most;
      const wanted = "a length, or groups of pads at one distance from the edge each";
      const got = `pads from ${formatGiven(least, "m")} to ${formatGiven(most, "m")} from it`;
      throw new FieldError(`${key}.length`, wanted, got);
    },
    apart: (mount) => 1.5 * pads(mount).width,
  };
  return kind;
}

/** Bonds of all kinds on a die: those that are all alike, and each group. */
export function bondKinds<M extends WithBonds & WithBondGroups>(mount: M): readonly BondsIn<M>[] {
  return [...(mount.bonds ? [alike(mount)] : []), ...kindsOf(mount)];
}

const kindsOf = (mount: WithBondGroups) => (mount.bondGroups ?? []).map((_, i) => kindOf(mount, i));

export const bondGroups: Thing<readonly BondGroup[], WithBondGroups> = {
  holds: "groups of bonds",
  field: optional(
    list(
      object<BondGroup>({ ...bondFields, name: optional(text), pads: text }),
      "a list of groups of bonds",
      1,
    ),
  ),
  rules(mount) {
    const kinds = kindsOf(mount);
    kinds.forEach((kind, i) => {
      if (kinds.findIndex(({ names }) => names.bonds === kind.names.bonds) !== i) {
        const words = "a name that no other group has; by default that of its pads";
        throw new FieldError(`${kind.key}.name`, words, nameOf(mount.bondGroups![i]!));
      }
      const own = mount.bondGroups![i]!;
      const pad = mount.padGroups!.find(({ name }) => name === own.pads)!;
      const perPad = bondsOnEach(mount, own.pads);
      checkFeet({ ...own, perPad }, kind.key, { pad }, bondLength(kind, mount));
    });
  },
  parts(mount) {
    const kinds = kindsOf(mount);
    return { paths: kinds.flatMap(bondPaths), stores: kinds.flatMap(bondStores) };
  },
  drawn(mount) {
    const feet = bondFeet(mount);
    return kindsOf(mount).map((kind, i) => {
      const own = feet.filter(({ group }) => group === i);
      return drawnBonds(kind, mount, own, { group: i, name: nameOf(mount.bondGroups![i]!) });
    });
  },
};
