/**
 * Contacts of a 2-D die cut into pieces where they must be. A contact takes its heat evenly over its area;
 * one that is wide against how far heat comes from through the die would draw from its middle what does
 * not reach it, and leave it colder than anything that cools it. Its pieces each take their own share.
 * @module
 */
import { tiles } from "../chip/contact.js";
import type { SheetField } from "../chip/field.js";
import { areaOf, type Rectangle } from "../chip/grid.js";
import type { ContactGroup } from "./assemble.js";
import type { PlainMount } from "./mount.js";
import { ownDie } from "./on-die.js";
import type { Contacts } from "./thing.js";

/** Most pieces in all: their number cubed is the cost of condensing the die. */
const mostPieces = 600;

type Groups = ReadonlyMap<Contacts<PlainMount>, ContactGroup>;

/** Into how many pieces along either side each contact is cut, by its node. */
export class ContactCuts {
  readonly #cuts = new Map<string, number>();

  /** The same for equal cuts. */
  get key(): string {
    return JSON.stringify([...this.#cuts]);
  }

  /** Takes every contact as a whole again. */
  clear(): void {
    this.#cuts.clear();
  }

  /** The cuts as they are, to go back to. */
  saved(): () => void {
    const before = [...this.#cuts];
    return () => {
      this.#cuts.clear();
      for (const [key, cut] of before) this.#cuts.set(key, cut);
    };
  }

  /** The groups with their contacts in pieces. */
  applied(groups: Groups): Groups {
    if (this.#cuts.size === 0) return groups;
    return new Map([...groups].map(([key, group]) => [key, this.#pieces(group)]));
  }

  /**
   * Cuts the contacts in which the die is below a value of Θ [W] once more.
   * @param groups - as they are laid out, whole
   * @param die - of which the field is
   * @returns whether there was anything to cut, and the pieces are not too many
   */
  refine(groups: Groups, field: SheetField, least: number, die = ownDie): boolean {
    let found = false;
    let pieces = 0;
    for (const group of groups.values()) {
      const isOther = (group.die ?? ownDie) !== die;
      for (const [k, { area }] of group.contacts.entries()) {
        const key = keyOf(group, k);
        let cut = this.#cuts.get(key) ?? 1;
        // Of bumps taken together the pieces on both dies might not be the same.
        const isTogether = group.pair !== undefined && rectangles(area).length > 1;
        if (
          !isOther &&
          !isTogether &&
          rectangles(area).some((each) => lowestIn(field, each) < least)
        ) {
          cut *= 2;
          found = true;
          this.#cuts.set(key, cut);
        }
        pieces += cut ** 2;
      }
    }
    return found && pieces <= mostPieces;
  }

  #pieces(group: ContactGroup): ContactGroup {
    const contacts = group.contacts.flatMap((contact, k) => {
      const cut = this.#cuts.get(keyOf(group, k)) ?? 1;
      const pieces = tiles(contact.area, cut, cut);
      const sizes = pieces.map((piece) => piece.reduce((sum, each) => sum + areaOf(each), 0));
      const size = sizes.reduce((sum, each) => sum + each, 0);
      return pieces.map((area, i) => ({
        area,
        share: (contact.share * sizes[i]!) / size,
        bonds: (contact.bonds * sizes[i]!) / size,
        of: k,
      }));
    });
    return { ...group, contacts };
  }
}

/** Contacts that join two dies are cut alike on both. */
const keyOf = ({ name, die, pair }: ContactGroup, k: number) =>
  pair ? `${pair} ${k}` : `${die ?? ownDie} ${name} ${k}`;

const rectangles = (area: Rectangle | readonly Rectangle[]) =>
  "left" in area ? [area] : (area as readonly Rectangle[]);

/** Lowest Θ of the cells that a rectangle touches [W]. */
function lowestIn({ grid, theta }: SheetField, over: Rectangle): number {
  const [columns, rows] = [grid.columns(over), grid.rows(over)];
  let lowest = Number.POSITIVE_INFINITY;
  for (let j = 0; j < rows.shares.length; j++) {
    const row = (rows.first + j) * grid.cellsX + columns.first;
    for (let i = 0; i < columns.shares.length; i++) lowest = Math.min(lowest, theta[row + i]!);
  }
  return lowest;
}
