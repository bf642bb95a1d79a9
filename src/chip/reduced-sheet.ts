/**
 * The die as a sheet, seen from its contacts.
 *
 * In Θ = t ∫κ dT [W] conduction along the die is linear, whatever κ(T) is. With the Green's operator
 * G of the sheet with insulated rims (mean 0), the powers q of the cells, and the shares W of the
 * contacts in the cells (rows sum to 1), heat f that leaves at the contacts, Σf = Σq, leaves them at
 *   Θ̄ = W G q − S f + c,  S = W G Wᵀ,
 * with one constant c. Solved for f this is a body that joins the contacts, f = s − Y Θ̄, where
 *   Y = S⁻¹ − u uᵀ/Σu,  u = S⁻¹1,  s = Y W G q + u Σq/Σu.
 * So a network with the contacts as nodes, and whatever lies behind each, holds the whole die exactly;
 * and only Y, of the contacts, enters a solve. Y needs the geometry alone; s the map of the power too.
 *
 * A contact has one temperature, that of its mean Θ, and takes its heat evenly. Not included: how heat
 * spreads in the thickness below a contact narrower than the die is thick (add `constriction` behind
 * it), and phonons that fly further than the contacts are apart.
 * @module
 */
import type { Body, Conductor } from "../conductor.js";
import { FieldError } from "../units/errors.js";
import { inverseOfPositive } from "./cholesky.js";
import type { CheckedContact } from "./contact.js";
import { SheetField } from "./field.js";
import { areaOf, type Grid } from "./grid.js";
import { keyOf, type Laplacian, type Patch } from "./laplacian.js";
import { asShare, type MapShare, type PowerMap, sameMap } from "./power-map.js";
import type { Sheet } from "./sheet.js";

/** A sheet reduced to its contacts: made once, used with any power and any network behind them. */
export class ReducedSheet {
  /** Names of the contacts in the order of Y and s: the body's terminals. */
  readonly terminals: readonly string[];
  /** Y, row by row; symmetric, rows sum to 0. */
  readonly admittance: Float64Array;
  /** u/Σu: what of evenly spread heat leaves at each contact if all have one temperature. */
  readonly #even: Float64Array;
  readonly #stacks: readonly Stack[];
  /** One number for each wave. */
  readonly #ofWaves: Float64Array;

  readonly #laplacian: Laplacian;
  /** The maps of the last body. */
  readonly #known: ({ readonly map: PowerMap } & SeenPower)[] = [];

  /** @internal Made by `Sheet.reduce`. */
  constructor(
    /** The sheet that was reduced. */
    readonly sheet: Sheet,
    laplacian: Laplacian,
    /** Where heat enters and leaves it. */
    readonly contacts: readonly CheckedContact[],
  ) {
    const n = contacts.length;
    this.#laplacian = laplacian;
    this.terminals = contacts.map((contact) => contact.name);
    const pieces = contacts.map((contact) =>
      contact.pieces.map((piece) => ({
        ...laplacian.patch(piece),
        share: areaOf(piece) / contact.size,
      })),
    );
    this.#stacks = stacksOf(pieces);
    this.#ofWaves = new Float64Array(sheet.grid.cellsY);
    const coupling = couplingOf(laplacian, pieces);
    // G of mean 0 does not see an even share of heat; the same constant on every entry changes only c.
    let constant = 0;
    for (let i = 0; i < n; i++) constant += coupling[i * n + i]! / n;
    if (!(constant > 0)) constant = 1;
    for (let i = 0; i < n * n; i++) coupling[i] = coupling[i]! + constant;
    const inverse = inverseOfPositive(coupling, n);
    if (typeof inverse === "number") throw tooNear(contacts, coupling, inverse, sheet.grid);

    const even = new Float64Array(n);
    let total = 0;
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < n; j++) even[i] = even[i]! + inverse[i * n + j]!;
      total += even[i]!;
    }
    const admittance = inverse;
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < i; j++) {
        const entry = inverse[i * n + j]! - (even[i]! * even[j]!) / total;
        admittance[i * n + j] = entry;
        admittance[j * n + i] = entry;
      }
    }
    for (let i = 0; i < n; i++) {
      let rest = 0;
      for (let j = 0; j < n; j++) if (j !== i) rest += admittance[i * n + j]!;
      admittance[i * n + i] = -rest;
    }
    for (let i = 0; i < n; i++) even[i] = even[i]! / total;
    this.admittance = admittance;
    this.#even = even;
  }

  /**
   * The body for a network. Its law is that of a square of the die, Θ = t ∫κ dT [W]. While of its maps
   * only the power changes, none is worked out again.
   * @param power - map of the heat that falls on the die, or the cells' powers from `sheet.powers`
   * @throws FieldError for a wrong map
   */
  body(law: Conductor, power: PowerMap | readonly PowerMap[] | Float64Array): SheetBody {
    if (power instanceof Float64Array) {
      if (power.length !== this.sheet.grid.cells) {
        const wanted = `${this.sheet.grid.cells} numbers, one for each cell`;
        throw new FieldError("power", wanted, `${power.length} numbers`);
      }
      return { law, admittance: this.admittance, ...this.#seenFromContacts(power.slice()) };
    }
    const shares =
      "kind" in power
        ? [asShare(power, "power")]
        : power.map((map, i) => asShare(map, `power[${i}]`));
    return this.bodyUnder(law, shares);
  }

  /**
   * The same under several maps, each times a number.
   * @throws FieldError for a wrong map, by the name that is given to it
   */
  bodyUnder(law: Conductor, shares: readonly MapShare[]): SheetBody {
    const { cells } = this.sheet.grid;
    const seen = shares.map(({ map, times, field }, k) => {
      if (!Number.isFinite(times)) throw new FieldError(field, "a finite number of times", times);
      let known = this.#known[k];
      if (known === undefined || !sameMap(known.map, map)) {
        known = {
          map: structuredClone(map),
          ...this.#seenFromContacts(this.sheet.powers(map, field)),
        };
        this.#known[k] = known;
      }
      return { times, ...known };
    });
    const sum = (size: number, part: keyof SeenPower) => {
      const sums = new Float64Array(size);
      for (const each of seen) addTimes(sums, each[part], each.times);
      return sums;
    };
    let powers: Float64Array | undefined;
    return {
      law,
      admittance: this.admittance,
      outflow: sum(this.terminals.length, "outflow"),
      waves: sum(cells, "waves"),
      // Few look at the cells themselves.
      get powers() {
        powers ??= sum(cells, "powers");
        return powers;
      },
    };
  }

  #seenFromContacts(powers: Float64Array): SeenPower {
    const waves = powers.slice();
    this.#laplacian.toWaves(waves);
    return { powers, waves, outflow: this.#outflow(powers, waves) };
  }

  /** s: what leaves at each contact when all have one temperature [W]. */
  #outflow(powers: Float64Array, waves: Float64Array): Float64Array {
    const n = this.terminals.length;
    let total = 0;
    for (let i = 0; i < powers.length; i++) total += powers[i]!;
    const potential = waves.slice();
    this.#laplacian.solveWaves(potential);
    const means = this.#means(potential);
    const outflow = heatBetween(this.admittance, means);
    let rest = total;
    for (let i = 0; i < n; i++) rest -= outflow[i]!;
    for (let i = 0; i < n; i++) outflow[i] = outflow[i]! + rest * this.#even[i]!;
    return outflow;
  }

  /** Means over the contacts of a number of every cell. */
  means(cells: Float64Array): Float64Array {
    const waves = cells.slice();
    this.#laplacian.toWaves(waves);
    return this.#means(waves);
  }

  #means(waves: Float64Array): Float64Array {
    const means = new Float64Array(this.terminals.length);
    const ofWaves = this.#ofWaves;
    for (const { columns, pieces } of this.#stacks) {
      this.#laplacian.meansOfWaves(columns, waves, ofWaves);
      for (const { contact, share, waves: own } of pieces) {
        let mean = 0;
        for (let wave = 0; wave < own.length; wave++) mean += own[wave]! * ofWaves[wave]!;
        means[contact]! += share * mean;
      }
    }
    return means;
  }

  /** Adds heat at the contacts [W] to the waves of the power. */
  #addHeat(heat: ArrayLike<number>, power: Float64Array): void {
    const ofWaves = this.#ofWaves;
    for (const { columns, pieces } of this.#stacks) {
      ofWaves.fill(0);
      for (const { contact, share, waves } of pieces) {
        addTimes(ofWaves, waves, share * heat[contact]!);
      }
      this.#laplacian.addHeat({ columns, waves: ofWaves }, power);
    }
  }

  /**
   * A place on the die, seen from the contacts: Θ = Σ aₚ Θₚ + b, where the shares a sum to 1 and b
   * depends on the power alone. With the place's weights w of the cells less the mean of the contacts',
   * z = G (w − Wᵀ1/n), these are a = 1/n + Y W z and b = z·q − (W z)·s.
   * @param weights - of the cells, which sum to 1, such as a field's `hottestWeights`
   * @throws FieldError for another number of weights than cells
   */
  seen(weights: Float64Array): SeenPlace {
    const n = this.terminals.length;
    if (weights.length !== this.sheet.grid.cells) {
      const wanted = `${this.sheet.grid.cells} numbers, one for each cell`;
      throw new FieldError("weights", wanted, `${weights.length} numbers`);
    }
    const potential = weights.slice();
    this.#laplacian.toWaves(potential);
    this.#addHeat(new Float64Array(n).fill(-1 / n), potential);
    this.#laplacian.solveWaves(potential);
    const means = this.#means(potential);
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
    const potential = body.waves.slice();
    this.#addHeat(heat, potential);
    this.#laplacian.solveWaves(potential);
    const anchors = Array.from(this.#means(potential), (mean, p) => ({
      mean,
      temperature: temperatures[p]!,
    }));
    this.#laplacian.toCells(potential);
    return new SheetField(this.sheet.grid, body.law, potential, anchors);
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
    const found = <T>(value: T | undefined, terminal: string): T => {
      if (value !== undefined) return value;
      throw new FieldError(`${name}.${terminal}`, "a contact of this body in the solution", value);
    };
    return this.field(
      body,
      this.terminals.map((t) => found(solution.temperatures.get(t), t)),
      this.terminals.map((t) => found(flows.get(t), t)),
    );
  }
}

/** A body, and the powers of the cells that its outflow is made of [W]. */
export interface SheetBody extends Body {
  /** Of each cell [W]. */
  readonly powers: Float64Array;
  /** The same as waves along y. */
  readonly waves: Float64Array;
}

/** Heat on the die, in its cells and as it comes out at the contacts. */
type SeenPower = Pick<SheetBody, "powers" | "waves" | "outflow">;

/** A place on a die, seen from its contacts. */
export interface SeenPlace {
  /** a, by contact; sums to 1. */
  readonly shares: Float64Array;
  /** b: Θ of the place above the shares of the contacts, from the body's power [W]. */
  own(body: SheetBody): number;
}

/** What a field needs of a network's solution. */
export interface NetworkSolution {
  /** Of every node, by name [K]. */
  readonly temperatures: ReadonlyMap<string, number>;
  /** Heat into each body at each of its terminals. */
  readonly bodyFlows: readonly {
    /** Body, by its name. */
    readonly body: string;
    /** Terminal, by its name. */
    readonly terminal: string;
    /** Heat flow [W], positive into the body */
    readonly power: number;
  }[];
}

interface Piece extends Patch {
  /** Part of its contact. */
  readonly share: number;
}

/** Pieces of contacts that lie in the same columns, as those along a rim do. */
interface Stack {
  readonly columns: Patch["columns"];
  readonly pieces: (Piece & { readonly contact: number })[];
}

function stacksOf(contacts: readonly (readonly Piece[])[]): readonly Stack[] {
  const stacks = new Map<string, Stack>();
  contacts.forEach((pieces, contact) => {
    for (const piece of pieces) {
      const key = keyOf(piece.columns);
      const stack = stacks.get(key) ?? { columns: piece.columns, pieces: [] };
      stack.pieces.push({ ...piece, contact });
      stacks.set(key, stack);
    }
  });
  return [...stacks.values()];
}

function addTimes(sums: Float64Array, numbers: Float64Array, times: number): void {
  for (let i = 0; i < sums.length; i++) sums[i] = sums[i]! + times * numbers[i]!;
}

/** S = W G Wᵀ of contacts made of pieces. */
function couplingOf(laplacian: Laplacian, contacts: readonly (readonly Piece[])[]): Float64Array {
  const pieces = contacts.flat();
  const fine = laplacian.coupling(pieces);
  const n = contacts.length;
  if (pieces.length === n) return fine;
  const owner = contacts.flatMap((own, c) => own.map(() => c));
  const coupling = new Float64Array(n * n);
  for (let i = 0; i < pieces.length; i++) {
    for (let j = 0; j < pieces.length; j++) {
      const place = owner[i]! * n + owner[j]!;
      const weight = pieces[i]!.share * pieces[j]!.share;
      coupling[place] = coupling[place]! + weight * fine[i * pieces.length + j]!;
    }
  }
  return coupling;
}

/** Heat into a body from its places, Σⱼ Yᵢⱼ Θ(Tⱼ) − sᵢ [W]. */
export function heatInto(body: Body, temperatures: ArrayLike<number>): Float64Array {
  const { law, admittance, outflow } = body;
  const n = outflow.length;
  const theta = new Float64Array(n);
  for (let i = 0; i < n; i++) theta[i] = law.integral(temperatures[i]!);
  const heat = heatBetween(admittance, theta);
  for (let i = 0; i < n; i++) heat[i]! -= outflow[i]!;
  return heat;
}

/** Σⱼ Yᵢⱼ (Θⱼ − Θᵢ): the rows of Y sum to 0, so differences lose no digit. */
function heatBetween(admittance: Float64Array, theta: Float64Array): Float64Array {
  const n = theta.length;
  const heat = new Float64Array(n);
  for (let i = 0, at = 0; i < n; i++) {
    const own = theta[i]!;
    let sum = 0;
    for (let j = 0; j < n; j++, at++) sum += admittance[at]! * (theta[j]! - own);
    heat[i] = sum;
  }
  return heat;
}

/** The grid cannot tell a contact from others: name the one it is nearest to. */
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
