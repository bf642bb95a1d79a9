/**
 * A wire or support from a warm end: a load whose heat comes out of the network.
 * @module
 */
import { type Strip, strip, stripFields } from "../../joints/strip.js";
import * as read from "../../units/fields.js";
import { formatGiven } from "../../units/format.js";
import type { Temperature } from "../../units/quantity.js";
import type { Uncertain } from "../../units/spread.js";
import { boxByDie, type Contacts, type DrawnPart, type HeatPath } from "../thing.js";
import { metres } from "./film.js";
import { placeBefore, type WithPath } from "./path.js";
import { type Place, place, squares, usualSize } from "./spots.js";

/** Wires or supports from a warmer place, along which heat conducts in; length and shape of each. */
export interface ConductionLoad extends Strip {
  readonly kind: "conduction";
  /** Shown in the budget; the kind when absent. */
  readonly name?: string;
  /** What it ends on: `"die"` (default), `"box"`, or the end by the box of a piece of `path` by its name. */
  readonly on?: string;
  /** Temperature of the warm end [K]. */
  readonly from: Uncertain<Temperature>;
  /** Where it touches the die; the middle when absent. */
  readonly place?: Place;
}

export const conductionField: read.Field<ConductionLoad> = read.object<ConductionLoad>({
  kind: read.oneOf("conduction"),
  name: read.optional(read.text),
  on: read.optional(read.text),
  place: read.optional(place),
  ...stripFields,
  from: read.quantity("temperature"),
});

interface WithWires extends WithPath {
  readonly die: { readonly width: number; readonly length: number };
  readonly loads: readonly (
    | read.Plain<ConductionLoad>
    | { readonly kind: string; readonly name?: string }
  )[];
}

/** A wire from a warm end as a heat path, and where it touches the die. */
export interface WarmWire extends HeatPath<WithWires> {
  /** Its warm end. */
  readonly from: { readonly held: string; temperature(mount: WithWires): number };
  /** Absent when it ends on the box. */
  readonly contacts?: Contacts<WithWires>;
  count(mount: WithWires): number;
}

function isWire(load: WithWires["loads"][number]): load is read.Plain<ConductionLoad> {
  return load.kind === "conduction";
}

/** The wires of a mount. @param names - of all its loads, in the budget */
export function warmWires(mount: WithWires, names: readonly string[]): readonly WarmWire[] {
  const { loads: all } = mount;
  return all.flatMap((load, i): readonly WarmWire[] => {
    if (!isWire(load)) return [];
    const name = names[i]!;
    const own = (mount: WithWires) => mount.loads[i] as read.Plain<ConductionLoad>;
    // Contacts bear the name of the load's field, which no other thing has.
    const contacts: Contacts<WithWires> = {
      name: `loads[${i}]`,
      layer: "clamps",
      field: () => `loads[${i}].place`,
      lay: (mount) => ({ patches: squares([middleOf(own(mount), mount.die)], usualSize) }),
    };
    const onDie = isOnDie(load);
    return [
      {
        name,
        from: { held: `warm end of ${name}`, temperature: (mount) => own(mount).from },
        to: onDie ? { on: contacts } : load.on === "box" ? boxByDie : placeBefore(mount, load.on!),
        ...(onDie && { contacts }),
        conductor(mount, catalogue) {
          const { kind, name: _, on, from, count: __, place: ___, ...wire } = own(mount);
          return strip(wire, catalogue, `loads[${i}]`);
        },
        count: (mount) => own(mount).count ?? 1,
      },
    ];
  });
}

const isOnDie = ({ on = "die" }: read.Plain<ConductionLoad>) => on === "die";

function middleOf({ place: given }: read.Plain<ConductionLoad>, die: WithWires["die"]) {
  return given ?? { x: die.width / 2, y: die.length / 2 };
}

/** The wires that touch the die, as they are drawn. */
export function drawnWires({ die, loads: all }: WithWires): readonly DrawnPart[] {
  return all.flatMap((load, i): readonly DrawnPart[] => {
    if (!isWire(load) || !isOnDie(load)) return [];
    const { x, y } = middleOf(load, die);
    return [
      {
        kind: `warm ${i}`,
        look: "warm",
        name: load.name ?? "warm wire",
        details: [
          load.material,
          `${metres(load.length)} long`,
          `from ${formatGiven(load.from, "K")}`,
        ],
        places: [{ left: x, right: x, bottom: y, top: y }],
      },
    ];
  });
}
