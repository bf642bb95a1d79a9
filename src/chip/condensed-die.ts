/**
 * What is asked of a die that was condensed to its contacts, by whichever model.
 * @module
 */
import type { CondensedBody, Conductor } from "../conductor.js";
import { FieldError } from "../units/errors.js";
import type { SheetField } from "./field.js";
import type { Grid } from "./grid.js";
import type { MapShare, PowerMap } from "./power-map.js";

/** A die condensed to its contacts; `B` is its body under a heat load. */
export interface CondensedDie<B extends CondensedBody = CondensedBody> {
  /** Names of the contacts in the order of Y and s: the body's terminals. */
  readonly terminals: readonly string[];
  /** Cells of its field. */
  readonly grid: Grid;
  /** The body for a network. @param law - Θ [W] @param power - map of the heat load, or several */
  body(law: Conductor, power: PowerMap | readonly (PowerMap | MapShare)[]): B;
  /** The temperature of every place. @param temperatures - of the contacts [K] */
  field(body: B, temperatures: ArrayLike<number>): SheetField;
  /** Influence of the contacts on a place. @param weights - of the field's cells, which sum to 1 */
  influence(weights: Float64Array): PlaceInfluence<B>;
  /** The same from a solution. @param name - of the body in the network */
  fieldOf(body: B, solution: NetworkSolution, name: string): SheetField;
}

/** Influence of the contacts and of the power on Θ of a place of the die. */
export interface PlaceInfluence<B extends CondensedBody = CondensedBody> {
  /** a, by contact; sums to 1. */
  readonly shares: Float64Array;
  /** b: Θ of the place above the weighted mean of the contacts, from the body's power [W]. */
  own(body: B): number;
}

/** The parts of a network's solution that a field needs. */
export interface NetworkSolution {
  /** Of every node, by name [K]. */
  readonly temperatures: ReadonlyMap<string, number>;
  /** Heat into each condensed body at each of its terminals. */
  readonly bodyFlows: readonly {
    /** Body, by its name. */
    readonly body: string;
    /** Terminal, by its name. */
    readonly terminal: string;
    /** Heat flow [W], positive into the body */
    readonly power: number;
  }[];
}

/** @throws FieldError for a terminal of a body that has none */
export function terminalValues(
  values: ReadonlyMap<string, number>,
  terminals: readonly string[],
  body: string,
): number[] {
  return terminals.map((terminal) => {
    const value = values.get(terminal);
    if (value !== undefined) return value;
    throw new FieldError(`${body}.${terminal}`, "a contact of this body in the solution", value);
  });
}
