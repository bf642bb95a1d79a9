/**
 * What a mount costs: bonds, gold or force.
 * @module
 */

import { crossSection } from "../../joints/strip.js";
import { wireLength } from "../../joints/wire-length.js";
import type { PlainMount } from "../../mount/mount.js";
import { footInset } from "../../mount/things/edges.js";
import { FieldError } from "../../units/errors.js";

/** A cost of one's own. */
export interface OwnCost {
  /** What it is, in words, for prints and axes. */
  readonly name: string;
  /** Its SI unit; empty for a pure number. */
  readonly unit: string;
  /** What a mount in SI costs, above 0; counts may be other than whole. */
  of(mount: PlainMount): number;
}

/**
 * What is to be least: the number of bonds, the volume of gold in bonds and pads, the force of all clamps
 * together, or a cost of one's own.
 */
export type Cost = "bonds" | "gold" | "force" | OwnCost;

/** A cost as it is reckoned with. */
export type CostRule = OwnCost;

const rules: Readonly<Record<Exclude<Cost, OwnCost>, CostRule>> = {
  bonds: { name: "bonds", unit: "", of: ({ bonds }) => need(bonds, "bonds").count },
  gold: { name: "gold in bonds and pads", unit: "m^3", of: goldIn },
  force: {
    name: "force of all clamps",
    unit: "N",
    of: ({ clamps }) =>
      need(clamps, "clamps").reduce(
        (sum, clamp) => sum + ("force" in clamp ? clamp.force * (clamp.count ?? 1) : 0),
        0,
      ),
  },
};

/** The rule of a cost. @throws FieldError for one that is none */
export function costOf(least: Cost): CostRule {
  if (typeof least === "object" && least !== null && typeof least.of === "function") return least;
  const rule = typeof least === "string" && Object.hasOwn(rules, least) ? rules[least] : undefined;
  if (rule) return rule;
  const wanted = `"${Object.keys(rules).join('", "')}" or a cost with name, unit and of(mount)`;
  throw new FieldError("least", wanted, least);
}

function need<T>(part: T | undefined, field: string): T {
  if (part !== undefined) return part;
  throw new FieldError(field, `${field}, which are to cost least`, undefined);
}

/** Volume of the gold in bonds and pads of the mount's own die [m³]; a pad more with each `perPad` bonds. */
function goldIn(mount: PlainMount): number {
  const bonds = need(mount.bonds, "bonds");
  const { pads } = mount;
  const { length, count, perPad = 1 } = bonds;
  const along = typeof length === "number" ? length : wireLength(length, footInset(mount));
  const wire = bonds.material === "gold" ? crossSection("bonds", bonds).area * along : 0;
  const pad = pads?.material === "gold" ? pads.width * pads.length * pads.thickness : 0;
  return count * (wire + pad / perPad);
}
