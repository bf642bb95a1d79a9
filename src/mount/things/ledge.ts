/**
 * Where the far bond feet stand: the box beside the die, and its plating.
 * @module
 */
import { object, optional, type Plain } from "../../units/fields.js";
import type { Thing } from "../thing.js";
import { filmWords, type Plating, platingFields } from "./film.js";

/** Where the far bond feet stand: the box beside the die. */
export interface Ledge {
  /** Plating under the feet; none when absent. */
  readonly plating?: Plating;
}

/** Heat passes it with the bonds that end on it. */
export const ledge: Thing<Ledge, { readonly ledge?: Plain<Ledge> }> = {
  field: optional(object<Ledge>({ plating: optional(object<Plating>(platingFields)) })),
  drawn({ ledge: own }) {
    if (!own?.plating) return [];
    const { thickness } = own.plating;
    const details = filmWords(own.plating);
    return [
      {
        kind: "plating",
        look: "plating",
        name: "plating of the ledge",
        details,
        places: [],
        thickness,
      },
    ];
  },
};
