/**
 * A mount whose changes are formulas: some microseconds a sample where its die has one or two nodes, some
 * tens of them where it is 2-D and seen from its contacts.
 * @module
 */
import { heatOn } from "../../mount/assemble.js";
import { coolingBase, coolingLink } from "../../mount/links.js";
import type { OperatingPoint } from "../../mount/operating-point.js";
import { placedLaws } from "../../mount/ranges.js";
import { limitOf } from "../../mount/things/limit.js";
import { coldest, stageModel } from "../../mount/things/stage.js";
import { SteadyNetwork } from "../../network/steady.js";
import { type Evaluated, evaluated, type Formulas, type Span, unsettled } from "./evaluated.js";
import { FastSheet } from "./fast-sheet.js";
import { fitLaw, type InputLaw, type LawRange, lawValue } from "./input-law.js";
import type { MergedMount } from "./merged-mount.js";
import { bondCounts, type ConductorPiece, type Piece } from "./mount-pieces.js";
import { asFactor, asPower, type Formulator, tolerance, type Update } from "./piece-formulas.js";
import { type PieceLinks, pieceLinks } from "./piece-links.js";
import { RangeGuard } from "./sampled-ranges.js";
import {
  fromSeen,
  heldExtent,
  type Inputs,
  type Sample,
  tail,
  toSeen,
} from "./uncertain-inputs.js";

/** The compiled mount. */
export class FastMount {
  readonly #network: SteadyNetwork;
  /** An input above this is seen by the logarithm of how far it is; as it is where this is not a number. */
  readonly #above: Float64Array;
  readonly #ranges: readonly LawRange[];
  readonly #seen: Float64Array;
  readonly #updates: readonly Update[];
  readonly #counts: Float64Array;
  /** Between what temperatures nodes lie for which the formulas were checked [K]. */
  readonly #low: Float64Array;
  readonly #high: Float64Array;
  /** Node of the chip; −1 where a 2-D die tells it. */
  readonly #chip: number;
  readonly #stage: number;
  /** Temperatures of the free nodes at the medians [K]. */
  readonly #start: Float64Array;
  readonly #guard: RangeGuard;
  readonly #sheet: FastSheet | undefined;
  #limit: (stage: number) => number;
  #bonds: number | undefined;
  readonly #bondCounts: ReadonlyMap<string, (count: number) => number> | undefined;

  /** What was found; plain data. */
  readonly formulas: { laws: (InputLaw | undefined)[]; spans: Record<string, Span> } = {
    laws: [],
    spans: {},
  };

  /**
   * @param moved - for each piece, the inputs that move it
   * @param point - its steady state at the medians, with any number of bonds
   * @param inFull - solves a sample without formulas
   * @param known - formulas of the same mount, or with another number of bonds, found before
   * @param merged - the network in the place of the point's, for a 2-D die
   */
  constructor(
    readonly inputs: Inputs,
    pieces: readonly Piece[],
    moved: readonly (readonly number[])[],
    readonly point: Pick<
      OperatingPoint,
      "structure" | "network" | "conductors" | "cooling" | "stage"
    >,
    readonly inFull: (values: Float64Array, bonds: number | undefined) => Evaluated,
    readonly known: Formulas | undefined,
    readonly merged?: MergedMount,
  ) {
    const { structure } = point;
    const network = new SteadyNetwork(merged?.network ?? point.network);
    this.#network = network;
    this.#chip = this.#node(structure.chip.name);
    this.#stage = this.#node(structure.stage.name);
    const placed = placedLaws(structure, point.conductors);
    this.#sheet = merged && new FastSheet(merged, network, placed);
    this.#guard = new RangeGuard(placed, this.#sheet?.places ?? network.nodeNames);
    const { list, mount, catalogue } = inputs;
    this.#above = Float64Array.from(list, ({ quantile, above = 0 }) =>
      quantile(tail) > above ? above : Number.NaN,
    );
    this.#ranges = list.map(({ quantile, median }, i) => ({
      low: toSeen(quantile(tail), this.#above[i]!),
      middle: toSeen(median, this.#above[i]!),
      high: toSeen(quantile(1 - tail), this.#above[i]!),
    }));
    this.#seen = new Float64Array(list.length);
    network.trySolve();
    this.#start = network.temperatures.slice(0, network.freeCount);
    this.#low = network.temperatures.map((T) => 0.7 * T);
    this.#high = network.temperatures.map(() => Number.POSITIVE_INFINITY);

    const hold = (name: string, temperature: (mount: typeof inputs.mount) => number) => {
      const [low, high] = heldExtent(inputs, temperature);
      this.#low[this.#node(name)] = low;
      this.#high[this.#node(name)] = high;
    };
    for (const { from, temperature } of structure.warm) hold(from.name, temperature);
    hold("cooling" in point.cooling ? coolingBase : structure.stage.name, (m) =>
      coldest(stageModel(m, catalogue)),
    );

    this.#bonds = mount.bonds?.count;
    this.#counts = Float64Array.from(network.linkNames, (_, l) => network.balance.count(l));
    this.#bondCounts = merged ? undefined : bondCounts(inputs, structure);
    this.#limit = limitOf(mount, catalogue) ?? (() => Number.NaN);
    const loads = new Map<string, readonly number[]>();
    const updates = pieces.map((piece, k) => {
      const by = moved[k]!;
      if (piece.kind === "load") loads.set(piece.name, by);
      return by.length > 0 ? this.#updateOf(piece, by) : undefined;
    });
    const heats = structure.heated.map(({ on, place }) => this.#heatOn(on, place.name, loads));
    this.#updates = [...updates, ...heats].flatMap((update) => update ?? []);
  }

  /** @param bonds - how many, which needs `countsBonds`; the mount's own number when absent */
  evaluate(values: Float64Array, bonds = this.inputs.mount.bonds?.count): Evaluated {
    if (bonds !== undefined && bonds !== this.#bonds) this.#takeBonds(bonds);
    const seen = this.#seen;
    for (let i = 0; i < seen.length; i++) {
      const v = toSeen(values[i]!, this.#above[i]!);
      const { low, high } = this.#ranges[i]!;
      if (!(v >= low && v <= high)) return this.inFull(values, bonds);
      seen[i] = v;
    }
    for (let u = 0; u < this.#updates.length; u++) this.#updates[u]!(seen, values);
    const network = this.#network;
    const sheet = this.#sheet;
    if (!(sheet ? sheet.trySolve() : this.#trySolve())) {
      // Whether there is a steady state is for the whole model to say.
      return sheet ? this.inFull(values, bonds) : unsettled;
    }
    const { temperatures, freeCount } = network;
    for (let n = 0; n < freeCount; n++) {
      const T = temperatures[n]!;
      if (!(T >= this.#low[n]! && T <= this.#high[n]!)) return this.inFull(values, bonds);
    }
    const stage = temperatures[this.#stage]!;
    if (sheet) {
      if (!sheet.read()) return this.inFull(values, bonds);
      const left = this.#guard.left(sheet.low, sheet.high);
      return evaluated(sheet.chip, stage, this.#limit(stage), left);
    }
    const left = this.#guard.left(temperatures);
    return evaluated(temperatures[this.#chip]!, stage, this.#limit(stage), left);
  }

  /** Solves from the state at the medians, which takes half the steps; from the cold as `MountModel.solve`. */
  #trySolve(): boolean {
    const network = this.#network;
    if (network.balance.hasLoadLaws) return network.trySolve();
    network.temperatures.set(this.#start);
    return network.trySolve(undefined, "present");
  }

  /** Whether it serves at the medians. */
  get isSound(): boolean {
    return this.#sheet?.isSound ?? true;
  }

  /** Whether the number of bonds only changes how many conductors stand side by side. */
  get countsBonds(): boolean {
    return this.#bondCounts !== undefined;
  }

  #takeBonds(count: number): void {
    for (const [name, countOf] of this.#bondCounts!) {
      const link = this.#network.linkNames.indexOf(name);
      this.#counts[link] = countOf(count);
      this.#network.setCount(link, this.#counts[link]!);
    }
    this.#bonds = count;
  }

  #node(name: string): number {
    return this.#network.nodeNames.indexOf(name);
  }

  /**
   * A number as a formula of some inputs; undefined when it is none. Rows of the catalogue come first: they
   * can be moved as far as their group reaches.
   */
  #law(by: readonly number[], f: (sample: Sample) => number, most?: number) {
    const { medians, list } = this.inputs;
    const { laws } = this.formulas;
    const turn = laws.length;
    const isField = (i: number) => Number(list[i]!.row === undefined);
    const ordered = [...by].sort((a, b) => isField(a) - isField(b));
    const sample = this.inputs.moving(by);
    const values = medians.slice();
    const moved = (seen: Float64Array) => {
      for (const i of by) values[i] = fromSeen(seen[i]!, this.#above[i]!);
      return f(sample(values));
    };
    const law = this.known
      ? this.known.laws[turn]
      : fitLaw(moved, ordered, this.#ranges, tolerance, most);
    laws.push(law);
    return law && { value: lawValue(law), isConstant: law.slopes.length + law.series.length === 0 };
  }

  /** What changes in the network when some inputs move a piece; loads are changed by their places. */
  #updateOf(piece: Piece, by: readonly number[]): Update | undefined {
    const network = this.#network;
    const sample = this.inputs.moving(by);
    switch (piece.kind) {
      case "conductor": {
        const links = this.#linkOf(piece);
        // A film between contacts that are alike carries nothing.
        if (!links) return undefined;
        const formulator: Formulator = {
          inputs: this.inputs,
          law: (f, most) => this.#law(by, f, most),
        };
        return (
          asFactor(piece, links, formulator) ??
          asPower(piece, links, formulator) ??
          ((_, values) => links.put(piece.conductor(sample(values))))
        );
      }
      case "warm end": {
        const node = this.#node(piece.ends[0]);
        return (_, values) => network.setTemperature(node, piece.numbers(sample(values), [])[0]!);
      }
      case "stage": {
        const [i] = by;
        if (typeof this.inputs.mount.stage === "number") {
          return (_, values) => network.setTemperature(this.#stage, values[i!]!);
        }
        const base = this.#node(coolingBase);
        const link = network.linkNames.indexOf(coolingLink);
        return (_, values) => {
          const { mount, catalogue } = sample(values);
          const model = stageModel(mount, catalogue);
          if ("cooling" in model) {
            network.setConductor(link, model.cooling.conductor);
            network.setTemperature(base, model.cooling.base);
          } else network.setTemperature(this.#stage, model.temperature);
        };
      }
      case "limit": {
        const own = this.inputs.mount.limit!;
        if ("rise" in own || "temperature" in own) {
          const [[i], above] = [by, "rise" in own ? 1 : 0];
          return (_, values) => {
            const given = values[i!]!;
            this.#limit = (stage) => above * stage + given;
          };
        }
        const highest = (s: Sample) => limitOf(s.mount, s.catalogue)!(this.point.stage);
        const law = this.#law(by, (s) => Math.log(highest(s)));
        return (seen, values) => {
          const now = law ? Math.exp(law.value(seen)) : highest(sample(values));
          this.#limit = () => now;
        };
      }
      case "load":
        return undefined;
    }
  }

  /** The links of a piece, or the die that it is, and the temperatures that its ends may have [K]. */
  #linkOf({ name }: ConductorPiece): PieceLinks | undefined {
    const die = this.#sheet?.dies.find(({ merged }) => merged.spreading === name);
    const names = this.merged ? (this.merged.linksOf.get(name) ?? []) : [name];
    if (!die && names.length === 0) return undefined;
    const of = { low: this.#low, high: this.#high, counts: this.#counts };
    const found = pieceLinks(this.#network, of, names, die, this.known?.spans[name]);
    this.formulas.spans[name] = found.own;
    return found;
  }

  /** @param moving - the inputs that move each load */
  #heatOn(
    on: string,
    place: string,
    moving: ReadonlyMap<string, readonly number[]>,
  ): Update | undefined {
    const network = this.#network;
    const { mount, catalogue } = this.inputs;
    const { structure, cooling } = this.point;
    const cold = coldest(cooling);
    const here = structure.powers.filter((source) => source.on === on);
    const all = here.flatMap(({ name }) => moving.get(name)!);
    if (all.length === 0) return undefined;
    const node = this.#node(place);
    const sheet = this.#sheet?.dies.find(({ merged }) => merged.name === on);
    if (here.some((source) => source.law(mount, catalogue))) {
      const sample = this.inputs.moving(all);
      return (_, values) => {
        const s = sample(values);
        const heats = here.map((source) => ({
          source,
          load: source.heat(s.mount, s.catalogue, cold),
          law: source.law(s.mount, s.catalogue),
        }));
        network.setLoad(node, heatOn(on, heats));
      };
    }
    const powers = here.map(({ name, heat }): ((...of: Parameters<Update>) => number) => {
      const by = moving.get(name)!;
      const power = (s: Sample) => heat(s.mount, s.catalogue, cold).power;
      const given = power({ mount, catalogue });
      if (by.length === 0) return () => given;
      const law = given > 0 ? this.#law(by, (s) => Math.log(power(s))) : undefined;
      const sample = this.inputs.moving(by);
      return law ? (seen) => Math.exp(law.value(seen)) : (_, values) => power(sample(values));
    });
    if (sheet) return (seen, values) => sheet.heat(here.map((_, k) => powers[k]!(seen, values)));
    return (seen, values) => {
      let sum = 0;
      for (let k = 0; k < powers.length; k++) sum += powers[k]!(seen, values);
      network.setLoad(node, sum);
    };
  }
}
