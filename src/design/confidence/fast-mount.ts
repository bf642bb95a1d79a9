/**
 * A lumped mount whose changes are formulas: some microseconds a sample.
 * @module
 */
import type { Conductor, PowerTerm } from "../../conductor.js";
import { heatOn, type PlacedPath, type Structure } from "../../mount/assemble.js";
import { watch } from "../../mount/cells.js";
import { coolingBase, coolingLink } from "../../mount/links.js";
import type { OperatingPoint } from "../../mount/model.js";
import { limitOf } from "../../mount/things/limit.js";
import { coldest, stageModel } from "../../mount/things/stage.js";
import { SteadyNetwork } from "../../network/steady.js";
import { InputLaw, type InputLawData, type LawRange } from "./input-law.js";
import { numbersOf, type Piece, spreadOver } from "./mount-pieces.js";
import { heldExtent, type Inputs, type Sample, tail } from "./uncertain-inputs.js";

/** What a mount does at one set of values. */
export interface Evaluated {
  /** Hottest place on the die [K]; infinite when there is no steady state. */
  readonly chip: number;
  /** Temperature of the stage [K]. */
  readonly stage: number;
  /** Highest temperature allowed [K]; NaN for a mount without a limit. */
  readonly limit: number;
  /** Limit less chip [K]. */
  readonly margin: number;
}

/** No steady state: warmer than anything. */
export const unsettled: Evaluated = {
  chip: Number.POSITIVE_INFINITY,
  stage: Number.NaN,
  limit: Number.NaN,
  margin: Number.NEGATIVE_INFINITY,
};

export function evaluated(chip: number, stage: number, limit: number): Evaluated {
  return { chip, stage, limit, margin: limit - chip };
}

type InFull = (values: Float64Array, bonds: number | undefined) => Evaluated;

/**
 * Most by which the logarithm of a formula may be off. A conductor's error moves temperatures by less,
 * in parts of themselves, since the drops of all together are less than the chip's temperature.
 */
const tolerance = 5e-10;
/** Temperatures up to which formulas are checked, in parts of the highest at the medians. */
const rooms = [3, 1.6, 1.2];

/**
 * What of a factor may be a formula: its logarithm, where things multiply; its inverse, where they stand
 * one behind the other; itself, where they stand side by side. The tolerance is that of the logarithm,
 * so the factor of the other two must be near 1.
 */
const near = (factor: number) => (factor > 0.4 && factor < 2.5 ? factor : Number.NaN);
const scales: readonly {
  readonly of: (factor: number) => number;
  readonly back: (value: number) => number;
  readonly most: number;
}[] = [
  { of: Math.log, back: Math.exp, most: 400 },
  { of: (factor) => 1 / near(factor), back: (value) => 1 / value, most: 400 },
  { of: near, back: (value) => value, most: 400 },
  { of: Math.log, back: Math.exp, most: 2000 },
];

/** Changes the network for one sample. */
type Update = (seen: Float64Array, values: Float64Array) => void;

/** A conductor, and how it is made for a sample. */
interface Link {
  readonly index: number;
  readonly base: Conductor;
  readonly nodes: readonly [number, number];
  readonly inputs: readonly number[];
  make(sample: Sample): Conductor;
}

/** The compiled mount. */
export class FastMount {
  readonly #network: SteadyNetwork;
  readonly #inputs: Inputs;
  readonly #inFull: InFull;
  /** Whether an input is seen by its logarithm. */
  readonly #logarithmic: readonly boolean[];
  readonly #ranges: readonly LawRange[];
  readonly #seen: Float64Array;
  readonly #updates: Update[] = [];
  readonly #counts: Float64Array;
  /** Between what temperatures nodes lie for which the formulas were checked [K]. */
  readonly #low: Float64Array;
  readonly #high: Float64Array;
  readonly #chip: number;
  readonly #stage: number;
  #limit: (stage: number) => number = () => Number.NaN;
  #bonds: number | undefined;
  readonly #bondCounts: ReadonlyMap<number, (count: number) => number> | undefined;

  readonly #known: readonly (InputLawData | undefined)[];

  /** The formulas in the order in which they were asked for; undefined for what is none. */
  readonly laws: (InputLawData | undefined)[] = [];

  /**
   * @param moved - for each piece, the inputs that move it
   * @param point - its steady state at the medians
   * @param inFull - solves a sample without formulas
   * @param known - `laws` of the same mount, found before
   */
  constructor(
    inputs: Inputs,
    pieces: readonly Piece[],
    moved: readonly ReadonlySet<number>[],
    point: OperatingPoint,
    inFull: InFull,
    known: readonly (InputLawData | undefined)[] = [],
  ) {
    this.#known = known;
    const { structure } = point;
    const network = new SteadyNetwork(point.network);
    this.#network = network;
    this.#inputs = inputs;
    this.#inFull = inFull;
    const node = (name: string) => network.nodeNames.indexOf(name);
    this.#chip = node(structure.chip.name);
    this.#stage = node(structure.stage.name);
    const { list } = inputs;
    this.#logarithmic = list.map(({ quantile }) => quantile(tail) > 0);
    const see = (value: number, i: number) => (this.#logarithmic[i] ? Math.log(value) : value);
    this.#ranges = list.map(({ quantile, median }, i) => ({
      low: see(quantile(tail), i),
      middle: see(median, i),
      high: see(quantile(1 - tail), i),
    }));
    this.#seen = new Float64Array(list.length);
    network.trySolve();
    this.#low = network.temperatures.map((T) => 0.7 * T);
    this.#high = network.temperatures.map(() => Number.POSITIVE_INFINITY);

    const hold = (name: string, temperature: (mount: typeof inputs.mount) => number) => {
      const [low, high] = heldExtent(inputs, temperature);
      this.#low[node(name)] = low;
      this.#high[node(name)] = high;
    };
    for (const { from, temperature } of structure.warm) hold(from.name, temperature);
    hold("cooling" in point.cooling ? coolingBase : structure.stage.name, (m) =>
      coldest(stageModel(m, inputs.catalogue)),
    );

    const inputsOf = (kind: Piece["kind"], name: string) => {
      const k = pieces.findIndex((piece) => piece.kind === kind && piece.name === name);
      return k < 0 ? [] : [...moved[k]!];
    };
    const { mount } = inputs;
    this.#bonds = mount.bonds?.count;
    const paths: readonly PlacedPath[] = [...structure.paths, ...structure.warm];
    this.#counts = Float64Array.from(
      network.linkNames,
      (name) => paths.find((path) => path.name === name)?.count?.(mount) ?? 1,
    );
    this.#bondCounts = bondCounts(inputs, network, structure);
    for (const path of paths) {
      this.#addLink(path.name, inputsOf("conductor", path.name), (s) =>
        path.conductor(s.mount, s.catalogue),
      );
    }
    for (const { name, from, temperature } of structure.warm) {
      const ends = new Set(inputsOf("warm end", name));
      if (ends.size === 0) continue;
      this.#updates.push((_, values) => {
        network.setTemperature(node(from.name), temperature(inputs.at(values, ends).mount));
      });
    }
    this.#addLoads(structure, coldest(point.cooling), inputsOf);
    this.#addStage(structure, inputsOf("stage", "stage"), node);
    this.#addLimit(inputsOf("limit", "limit"), point.stage);
  }

  /** @param bonds - how many, which needs `countsBonds`; the mount's own number when absent */
  evaluate(values: Float64Array, bonds = this.#inputs.mount.bonds?.count): Evaluated {
    if (bonds !== undefined && bonds !== this.#bonds) this.#takeBonds(bonds);
    const seen = this.#seen;
    for (let i = 0; i < seen.length; i++) {
      const v = this.#logarithmic[i] ? Math.log(values[i]!) : values[i]!;
      const { low, high } = this.#ranges[i]!;
      if (!(v >= low && v <= high)) return this.#inFull(values, bonds);
      seen[i] = v;
    }
    for (let u = 0; u < this.#updates.length; u++) this.#updates[u]!(seen, values);
    const network = this.#network;
    if (!network.trySolve()) return unsettled;
    const { temperatures, freeCount } = network;
    for (let n = 0; n < freeCount; n++) {
      const T = temperatures[n]!;
      if (!(T >= this.#low[n]! && T <= this.#high[n]!)) return this.#inFull(values, bonds);
    }
    const stage = temperatures[this.#stage]!;
    return evaluated(temperatures[this.#chip]!, stage, this.#limit(stage));
  }

  /** Whether the number of bonds only changes how many conductors stand side by side. */
  get countsBonds(): boolean {
    return this.#bondCounts !== undefined;
  }

  #takeBonds(count: number): void {
    for (const [link, countOf] of this.#bondCounts!) {
      this.#counts[link] = countOf(count);
      this.#network.setCount(link, this.#counts[link]!);
    }
    this.#bonds = count;
  }

  /**
   * A number as a formula of some inputs; undefined when it is none. Rows of the catalogue come first:
   * they can be moved as far as their group reaches, where a field may have bounds.
   */
  #law(
    unsorted: readonly number[],
    f: (sample: Sample) => number,
    most?: number,
  ): InputLaw | undefined {
    const { medians, list } = this.#inputs;
    const inputs = [
      ...unsorted.filter((i) => list[i]!.row !== undefined),
      ...unsorted.filter((i) => list[i]!.row === undefined),
    ];
    const only = new Set(inputs);
    const values = medians.slice();
    const turn = this.laws.length;
    if (turn < this.#known.length) {
      const data = this.#known[turn];
      this.laws.push(data);
      return data && InputLaw.from(data);
    }
    const fitted = InputLaw.fit(
      (seen) => {
        inputs.forEach((i, k) => {
          values[i] = this.#logarithmic[i] ? Math.exp(seen[k]!) : seen[k]!;
        });
        const result = f(this.#inputs.at(values, only));
        for (const i of inputs) values[i] = medians[i]!;
        return result;
      },
      inputs.map((i) => this.#ranges[i]!),
      tolerance,
      most,
    );
    const law = fitted?.among(inputs, this.#seen.length);
    this.laws.push(law?.toData());
    return law;
  }

  #addLink(name: string, inputs: readonly number[], make: Link["make"]): void {
    if (inputs.length === 0) return;
    const network = this.#network;
    const index = network.linkNames.indexOf(name);
    const base = make({ mount: this.#inputs.mount, catalogue: this.#inputs.catalogue });
    const link = { index, base, nodes: network.ends(index), inputs, make };
    const update = this.#asFactor(link) ?? this.#asPower(link);
    if (update) this.#updates.push(update);
    else {
      const only = new Set(inputs);
      this.#updates.push((_, values) => {
        network.setConductor(index, make(this.#inputs.at(values, only)));
      });
    }
  }

  /** Temperatures that a link's ends may have [K]. */
  #span({ nodes }: Link, room: number): readonly [number, number] {
    const { temperatures, freeCount } = this.#network;
    const ends = nodes.map((n) => [
      this.#low[n]!,
      n < freeCount ? room * temperatures[n]! : this.#high[n]!,
    ]);
    return [Math.min(...ends.map(([a]) => a!)), Math.max(...ends.map(([, b]) => b!))];
  }

  #limitTo({ nodes }: Link, room: number): void {
    const { temperatures, freeCount } = this.#network;
    for (const n of nodes) {
      if (n < freeCount) this.#high[n] = Math.min(this.#high[n]!, room * temperatures[n]!);
    }
  }

  /** The whole law in proportion: Θ(T; x) = f(x)·Θ(T). */
  #asFactor(link: Link): Update | undefined {
    const network = this.#network;
    const { index } = link;
    for (const room of rooms) {
      const temperatures = spreadOver(...this.#span(link, room));
      const base = numbersOf(link.base, temperatures);
      const factorOf = (sample: Sample) => {
        const now = numbersOf(link.make(sample), temperatures);
        const factor = now[0]! / base[0]!;
        const alike = now.every(
          (x, j) => Math.abs(x / base[j]! - factor) <= 0.1 * tolerance * factor,
        );
        return alike ? factor : Number.NaN;
      };
      for (const { of, back, most } of scales) {
        const law = this.#law(link.inputs, (sample) => of(factorOf(sample)), most);
        if (!law) continue;
        this.#limitTo(link, room);
        return (seen) => network.setCount(index, this.#counts[index]! * back(law.value(seen)));
      }
    }
    return undefined;
  }

  /** Powers whose coefficients, or whose only exponent, change. */
  #asPower(link: Link): Update | undefined {
    const { base, index } = link;
    const terms = base.powers?.length ?? 0;
    if (terms === 0) return undefined;
    const room = rooms.find(
      (r) => this.#span(link, r)[1] <= (base.powersUpTo ?? Number.POSITIVE_INFINITY),
    );
    if (room === undefined) return undefined;
    const [low, high] = this.#span(link, room);
    const termOf = (sample: Sample, k: number): PowerTerm | undefined => {
      const { powers, powersUpTo = Number.POSITIVE_INFINITY } = link.make(sample);
      return powers?.length === terms && powersUpTo >= high ? powers[k] : undefined;
    };
    const coefficients: InputLaw[] = [];
    const exponents: (InputLaw | number)[] = [];
    // At a temperature of the mount, where coefficient and exponent hardly pull against each other.
    const T = Math.sqrt(low * high);
    for (let k = 0; k < terms; k++) {
      const given = base.powers![k]!.exponent;
      const exponent = this.#law(link.inputs, (s) => termOf(s, k)?.exponent ?? Number.NaN);
      const coefficient = this.#law(link.inputs, (s) => {
        const term = termOf(s, k);
        return term ? Math.log(term.coefficient) + term.exponent * Math.log(T) : Number.NaN;
      });
      if (!coefficient || !exponent) return undefined;
      coefficients.push(coefficient);
      exponents.push(exponent.isConstant ? given : exponent);
    }
    this.#limitTo(link, room);
    const network = this.#network;
    return (seen) => {
      const powers = coefficients.map((law, k) => {
        const given = exponents[k]!;
        const exponent = typeof given === "number" ? given : given.value(seen);
        return { coefficient: Math.exp(law.value(seen)) * T ** -exponent, exponent };
      });
      network.setConductor(index, sumOfPowers(powers), this.#counts[index]!);
    };
  }

  #addLoads(
    { powers, chip, box }: Structure,
    cold: number,
    inputsOf: (kind: Piece["kind"], name: string) => readonly number[],
  ): void {
    const network = this.#network;
    const { mount, catalogue } = this.#inputs;
    for (const on of ["die", "box"] as const) {
      const here = powers.filter((source) => source.on === on);
      const moving = new Set(here.flatMap(({ name }) => inputsOf("load", name)));
      if (moving.size === 0) continue;
      const index = network.nodeNames.indexOf((on === "die" ? chip : box).name);
      if (here.some((source) => source.law(mount, catalogue))) {
        this.#updates.push((_, values) => {
          const s = this.#inputs.at(values, moving);
          const heats = here.map((source) => ({
            source,
            load: source.heat(s.mount, s.catalogue, cold),
            law: source.law(s.mount, s.catalogue),
          }));
          network.setLoad(index, heatOn(on, heats));
        });
        continue;
      }
      const laws = here.map((source) => {
        const inputs = inputsOf("load", source.name);
        const power = (s: Sample) => source.heat(s.mount, s.catalogue, cold).power;
        const given = power({ mount, catalogue });
        if (inputs.length === 0) return () => given;
        const law = given > 0 ? this.#law(inputs, (s) => Math.log(power(s))) : undefined;
        const only = new Set(inputs);
        return law
          ? (seen: Float64Array) => Math.exp(law.value(seen))
          : (_: Float64Array, values: Float64Array) => power(this.#inputs.at(values, only));
      });
      this.#updates.push((seen, values) => {
        let sum = 0;
        for (let k = 0; k < laws.length; k++) sum += laws[k]!(seen, values);
        network.setLoad(index, sum);
      });
    }
  }

  #addStage({ stage }: Structure, inputs: readonly number[], node: (name: string) => number): void {
    if (inputs.length === 0) return;
    const network = this.#network;
    const only = new Set(inputs);
    if (typeof this.#inputs.mount.stage === "number") {
      const [i] = inputs;
      this.#updates.push((_, values) => network.setTemperature(node(stage.name), values[i!]!));
      return;
    }
    this.#updates.push((_, values) => {
      const { mount, catalogue } = this.#inputs.at(values, only);
      const model = stageModel(mount, catalogue);
      if ("cooling" in model) {
        network.setConductor(network.linkNames.indexOf(coolingLink), model.cooling.conductor);
        network.setTemperature(node(coolingBase), model.cooling.base);
      } else network.setTemperature(node(stage.name), model.temperature);
    });
  }

  #addLimit(inputs: readonly number[], stage: number): void {
    const { mount, catalogue } = this.#inputs;
    const limit = limitOf(mount, catalogue);
    if (!limit || !mount.limit) return;
    this.#limit = limit;
    if (inputs.length === 0) return;
    if ("rise" in mount.limit || "temperature" in mount.limit) {
      const [i] = inputs;
      let given = 0;
      const above = "rise" in mount.limit ? 1 : 0;
      this.#updates.push((_, values) => {
        given = values[i!]!;
      });
      this.#limit = (T) => above * T + given;
      return;
    }
    const only = new Set(inputs);
    const highest = (s: Sample) => limitOf(s.mount, s.catalogue)!(stage);
    const law = this.#law(inputs, (s) => Math.log(highest(s)));
    let now = 0;
    this.#updates.push((seen, values) => {
      now = law ? Math.exp(law.value(seen)) : highest(this.#inputs.at(values, only));
    });
    this.#limit = () => now;
  }
}

/** A sum of powers at all temperatures. */
function sumOfPowers(powers: readonly PowerTerm[]): Conductor {
  return {
    powers,
    conductance: (T) =>
      powers.reduce((sum, { coefficient: c, exponent: n }) => sum + c * n * T ** (n - 1), 0),
    integral: (T) => powers.reduce((sum, { coefficient: c, exponent: n }) => sum + c * T ** n, 0),
  };
}

/** How many of each link stand side by side for a number of bonds; undefined when more than that changes. */
function bondCounts(
  { mount, catalogue }: Inputs,
  network: SteadyNetwork,
  { paths }: Structure,
): ReadonlyMap<number, (count: number) => number> | undefined {
  const counts = new Map<number, (count: number) => number>();
  for (const path of paths) {
    const { reads } = watch(mount, (m) => path.conductor(m, catalogue));
    if (reads.has("bonds.count")) return undefined;
    if (!path.count || !watch(mount, (m) => path.count!(m)).reads.has("bonds.count")) continue;
    counts.set(network.linkNames.indexOf(path.name), (count) =>
      path.count!({ ...mount, bonds: { ...mount.bonds!, count } }),
    );
  }
  return counts;
}
