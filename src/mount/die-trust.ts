/**
 * What a budget tells of the models of its die.
 * @module
 */

/** How far phonons fly, and what that says of the models of the die. */
export interface DieModels {
  /** Mean free path that a sheet takes [m]. */
  readonly meanFreePath: number;
  /** The same over the die's shorter side. */
  readonly overDie: number;
  /** Over the side of the smallest contact, of its area's square. */
  readonly overContact: number;
  /** Over the distance between the nearest contacts' middles; absent where there is one contact. */
  readonly overPitch?: number;
  /** Why the one that was taken was; absent where `die.model` says which. */
  readonly since?: string;
  /** The one to trust: a sheet where phonons scatter several times over the smallest of these. */
  readonly trusted: "sheet" | "flights";
  /** Rise of the chip by the other model that tells every place, where it was asked [K]. */
  readonly otherRise?: number;
  /** What was flown, for a die of flights. */
  readonly flown?: FlownPhonons;
}

/** Phonons of a die of flights. */
export interface FlownPhonons {
  /** For each heat source. */
  readonly rays: number;
  /** Flights from face to face of one phonon, in the mean. */
  readonly flights: number;
  /** From where it starts to a contact, in the mean [m]. */
  readonly meanPath: number;
  /** The same [s]. */
  readonly time: number;
  /**
   * Standard error of the chip's temperature by the chance of the flights, of those from heat sources and of
   * those from contact to contact [K]; computed when first read. It is of the scatter alone: the hottest
   * point of a map that scatters is also found too hot, by about as much, or twice that where two contacts
   * are far apart in temperature.
   */
  readonly error: number;
}
