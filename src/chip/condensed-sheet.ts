/**
 * The die in 2-D, condensed to its contacts (static condensation).
 *
 * In Θ = t ∫κ dT [W] conduction along the die is linear, whatever κ(T) is. With the Green's operator
 * G of the sheet with insulated rims (mean 0), the powers q of the cells, and the shares W of the
 * contacts in the cells (rows sum to 1), heat f that leaves at the contacts, Σf = Σq, leaves them at
 *   Θ̄ = W G q − S f + c,  S = W G Wᵀ,
 * with one constant c. Solved for f this is a condensed body, f = s − Y Θ̄, where
 *   Y = S⁻¹ − u uᵀ/Σu,  u = S⁻¹1,  s = Y W G q + u Σq/Σu.
 * So a network with the contacts as nodes contains the whole die exactly, and only Y, of the contacts,
 * enters a solve. Y needs the geometry alone; s the map of the power too.
 *
 * A contact has one temperature, that of its mean Θ, and takes its heat evenly. Not included: spreading
 * of heat in the thickness below a contact narrower than the die is thick (add `constriction` behind
 * it), and phonons that fly further than the contacts are apart.
 * @module
 */
import type { CondensedBody, Conductor } from "../conductor.js";
import { FieldError } from "../units/errors.js";
import {
  type CondensedDie,
  type NetworkSolution,
  type PlaceInfluence,
  terminalValues,
} from "./condensed-die.js";
import type { CheckedContact } from "./contact.js";
import { addTimes, admittanceOf, ContactMeans, heatBetween, heatInto } from "./contact-means.js";
import { SheetField } from "./field.js";
import type { Grid } from "./grid.js";
import type { Laplacian } from "./laplacian.js";
import { asShare, cellPowers, type MapShare, type PowerMap, sameMap } from "./power-map.js";

/** A sheet condensed to its contacts: made once, used with any power and any network behind them. */
export class CondensedSheet implements CondensedDie<SheetBody> {
  /** Cells of the sheet. */
  readonly grid: Grid;
  /** Names of the contacts in the order of Y and s: the body's terminals. */
  readonly terminals: readonly string[];
  /** Y, row by row; symmetric, rows sum to 0. */
  readonly admittance: Float64Array;
  /** u/Σu, by contact. */
  readonly #even: Float64Array;
  readonly #means: ContactMeans;
  readonly #laplacian: Laplacian;
  readonly #maps: MapModes;
  /** Condensed maps of the last body. */
  readonly #known: CondensedPower[] = [];

  /** @internal Made by `Sheet.condense`. */
  constructor(
    maps: MapModes,
    /** Where heat enters and leaves it. */
    readonly contacts: readonly CheckedContact[],
  ) {
    const { laplacian } = maps;
    this.grid = laplacian.grid;
    this.#laplacian = laplacian;
    this.#maps = maps;
    this.terminals = contacts.map((contact) => contact.name);
    this.#means = new ContactMeans(laplacian, contacts);
    const coupling = this.#means.coupling();
    const found = admittanceOf(coupling, contacts.length);
    if (typeof found === "number") throw tooNear(contacts, coupling, found, this.grid);
    this.admittance = found.admittance;
    this.#even = found.even;
  }

  /**
   * The condensed body for a network. Its law is that of a square of the die, Θ = t ∫κ dT [W]. A map of
   * which only the power or the number of times has changed since the last call is not condensed again.
   * @param power - map of the heat load on the die, or several, each as it is or a number of times
   * @throws FieldError for a wrong map
   */
  body(law: Conductor, power: PowerMap | readonly (PowerMap | MapShare)[]): SheetBody {
    const shares =
      "kind" in power
        ? [asShare(power, "power")]
        : power.map((each, i) => ("map" in each ? each : asShare(each, `power[${i}]`)));
    const parts = shares.map(({ map, times, field }, k) => {
      if (!Number.isFinite(times)) throw new FieldError(field, "a finite number of times", times);
      let known = this.#known[k];
      if (known === undefined || !sameMap(known.map, map)) {
        known = this.#condense(this.#maps.of(map, field));
        this.#known[k] = known;
      }
      return { times, ...known };
    });
    const sum = (size: number, part: "powers" | "outflow") => {
      const sums = new Float64Array(size);
      for (const each of parts) addTimes(sums, each[part], each.times);
      return sums;
    };
    const { cells } = this.grid;
    let powers: Float64Array | undefined;
    return {
      law,
      admittance: this.admittance,
      outflow: sum(this.terminals.length, "outflow"),
      modes: this.#maps.sum(parts),
      // Summed when asked for, since a solve does not need them.
      get powers() {
        powers ??= sum(cells, "powers");
        return powers;
      },
    };
  }

  /** With s: what leaves at each contact when all have one temperature [W]. */
  #condense({ map, powers, modes, potential }: SpreadPower): CondensedPower {
    const outflow = heatBetween(this.admittance, this.#means.of(potential));
    let rest = 0;
    for (let i = 0; i < powers.length; i++) rest += powers[i]!;
    for (let i = 0; i < outflow.length; i++) rest -= outflow[i]!;
    addTimes(outflow, this.#even, rest);
    return { map, powers, modes, outflow };
  }

  /** Mean over each contact of a number of every cell. */
  means(cells: Float64Array): Float64Array {
    const modes = cells.slice();
    this.#laplacian.toModes(modes);
    return this.#means.of(modes);
  }

  /**
   * Influence of the contacts on a place of the die: Θ = Σ aₚ Θₚ + b, where the weights a sum to 1 and b
   * depends on the power alone. With the place's weights w of the cells less the mean of the contacts',
   * z = G (w − Wᵀ1/n), these are a = 1/n + Y W z and b = z·q − (W z)·s.
   * @param weights - of the cells, which sum to 1, such as a field's `hottestWeights`
   * @throws FieldError unless there is one weight for each cell
   */
  influence(weights: Float64Array): PlaceInfluence<SheetBody> {
    const n = this.terminals.length;
    if (weights.length !== this.grid.cells) {
      const wanted = `${this.grid.cells} numbers, one for each cell`;
      throw new FieldError("weights", wanted, `${weights.length} numbers`);
    }
    const potential = weights.slice();
    this.#laplacian.toModes(potential);
    this.#means.addHeat(new Float64Array(n).fill(-1 / n), potential);
    this.#laplacian.solveModes(potential);
    const means = this.#means.of(potential);
    this.#laplacian.toCells(potential);
    return {
      shares: heatBetween(this.admittance, means).map((share) => 1 / n + share),
      own: ({ powers, outflow }) => {
        let theta = 0;
        for (let c = 0; c < powers.length; c++) theta += potential[c]! * powers[c]!;
        for (let i = 0; i < n; i++) theta -= means[i]! * outflow[i]!;
        return theta;
      },
    };
  }

  /**
   * The temperature of every place, from what a network solver found.
   * @param temperatures - of the contacts [K]
   * @param heat - into the body at each contact [W]; found from the temperatures when not given
   */
  field(
    body: SheetBody,
    temperatures: ArrayLike<number>,
    heat: ArrayLike<number> = heatInto(body, temperatures),
  ): SheetField {
    const { cells: potential, means } = this.potential(body, heat);
    return SheetField.levelled(this.grid, body.law, potential, means, temperatures);
  }

  /**
   * Θ of every cell up to a constant, and its mean over each contact, both linear in the power and the heat [W].
   * @param heat - into the body at each contact [W]
   */
  potential(
    { modes }: Pick<SheetBody, "modes">,
    heat: ArrayLike<number>,
  ): { readonly cells: Float64Array; readonly means: Float64Array } {
    const cells = modes.slice();
    this.#means.addHeat(heat, cells);
    this.#laplacian.solveModes(cells);
    const means = this.#means.of(cells);
    this.#laplacian.toCells(cells);
    return { cells, means };
  }

  /**
   * The same from a network's solution: contacts are found by their names.
   * @param name - of the body in the network
   * @throws FieldError when the solution has no such body or contact
   */
  fieldOf(body: SheetBody, solution: NetworkSolution, name: string): SheetField {
    const flows = new Map(
      solution.bodyFlows.filter((flow) => flow.body === name).map((f) => [f.terminal, f.power]),
    );
    return this.field(
      body,
      terminalValues(solution.temperatures, this.terminals, name),
      terminalValues(flows, this.terminals, name),
    );
  }
}

/** A condensed sheet under its heat load. */
export interface SheetBody extends CondensedBody {
  /** Power of each cell [W]. */
  readonly powers: Float64Array;
  /** Cosine modes of the power along y. */
  readonly modes: Float64Array;
}

/** A map of heat on the die: in its cells, in cosine modes up to the last, and as it leaves at the contacts. */
interface CondensedPower extends Pick<SheetBody, "powers" | "modes" | "outflow"> {
  readonly map: PowerMap;
}

/** The same without contacts, and the Θ that it would have, in cosine modes. */
interface SpreadPower extends Omit<CondensedPower, "outflow"> {
  readonly potential: Float64Array;
}

/** Modes of a map, so many times. */
interface MapTimes {
  readonly modes: Float64Array;
  readonly times: number;
}

/** Maps that are kept; a mount has a few. */
const mostMaps = 8;

/** Loads in the modes of a 2-D die, which no contact changes: each made once for all contacts. */
export class MapModes {
  readonly #known: SpreadPower[] = [];

  /** The sum made last, and of what. */
  #sum: { readonly of: readonly MapTimes[]; readonly modes: Float64Array } | undefined;

  constructor(readonly laplacian: Laplacian) {}

  /** Modes of several maps together; the same sum is asked for whenever contacts alone have changed. */
  sum(of: readonly MapTimes[]): Float64Array {
    const last = this.#sum;
    const isLast = (part: MapTimes, k: number) =>
      part.modes === last!.of[k]!.modes && part.times === last!.of[k]!.times;
    if (last?.of.length === of.length && of.every(isLast)) return last.modes;
    const modes = new Float64Array(this.laplacian.grid.cells);
    for (const part of of) addTimes(modes, part.modes, part.times);
    this.#sum = { of: of.map((part) => ({ modes: part.modes, times: part.times })), modes };
    return modes;
  }

  /** @throws FieldError for a wrong map */
  of(map: PowerMap, field: string): SpreadPower {
    const known = this.#known.find((each) => sameMap(each.map, map));
    if (known) return known;
    const powers = cellPowers(this.laplacian.grid, map, field);
    const modes = powers.slice();
    this.laplacian.toModes(modes);
    const potential = modes.slice();
    this.laplacian.solveModes(potential);
    const made = { map: structuredClone(map), powers, modes: upToLast(modes), potential };
    if (this.#known.push(made) > mostMaps) this.#known.shift();
    return made;
  }
}

/** The modes up to the last that is not 0: of even heat one row of them. */
function upToLast(modes: Float64Array): Float64Array {
  let count = modes.length;
  while (count > 0 && modes[count - 1] === 0) count--;
  return modes.subarray(0, count);
}

/** The error for a contact that the grid cannot tell from others; names the nearest. */
function tooNear(
  contacts: readonly CheckedContact[],
  coupling: Float64Array,
  row: number,
  grid: Grid,
): FieldError {
  const n = contacts.length;
  let nearest = row === 0 ? 1 : 0;
  for (let i = 0; i < row; i++) {
    if (coupling[row * n + i]! > coupling[row * n + nearest]!) nearest = i;
  }
  return new FieldError(
    contacts[row]!.name,
    `a place that cells of ${(grid.cellWidth * 1e6).toPrecision(4)} by ` +
      `${(grid.cellLength * 1e6).toPrecision(4)} µm can tell from ${contacts[nearest]!.name} ` +
      "(more cells, or one contact for both)",
    "contacts in the same cells",
  );
}
