/**
 * A mount as a model: set numbers, solve, read temperatures and flows. Sweeps, sizing, fits, samples and
 * budgets are questions asked of it. With assembly.ts, dies.ts, links.ts, reading.ts and in-time.ts beside
 * it, and the types in operating-point.ts and timed.ts, it is all of this layer that knows network/ and chip/.
 * @module
 */
import type { NetworkDescription } from "../network/description.js";
import { SolveError, type SteadySolution } from "../network/solution.js";
import { SteadyNetwork } from "../network/steady.js";
import { conductionLaw } from "../numerics/temperature-law.js";
import { FieldError } from "../units/errors.js";
import { inWords, inWordsOf } from "./as-written.js";
import { type Chips, heatOn, heatsOf } from "./assemble.js";
import { Assembly, type Described, groupsOn } from "./assembly.js";
import type { Cell } from "./cells.js";
import { coolingBase, coolingLink } from "./links.js";
import { ownDie } from "./on-die.js";
import type { DiePoint, OperatingPoint } from "./operating-point.js";
import { type Reading, readingOf2D, readingOfNodes } from "./reading.js";
import { type Groups, startOfPieces } from "./skeletons.js";
import { coldest, stageModel } from "./things/stage.js";

/** Steps of the search for the steady state; each is one solve, and few are needed. */
const mostSteps = 100;
/** Where chip and loads agree to this part of the temperature, they are steady. */
const tolerance = 1e-10;
/** The same where the load changes so steeply that temperatures run out of digits. */
const narrowTolerance = 1e-6;

/**
 * By how much of the die's rise a place may be below what cools it: contacts are cut beyond the first, which
 * is what the cells leave uncertain anyhow; the solve is refused beyond the second below the coldest of all.
 */
const cutBeyond = 1e-3;
const refusedBeyond = 0.02;

const tooCold =
  "die: it conducts too badly, or its cells are too coarse, for the heat that is drawn from it: " +
  "some of it would be colder than all that cools it. Raise die.cells, die.thickness or " +
  "die.meanFreePath, or spread the load.";

/** A mount that is solved again and again. */
export class MountModel extends Assembly {
  /** The network of a die with one node or two, whose numbers are changed in place. */
  #network: SteadyNetwork | undefined;
  /** Its nodes for the places, in their order. */
  #placeNodes: readonly number[] = [];
  #point: OperatingPoint | undefined;
  /** Nodes of the network by the names last asked for. */
  #widened: { readonly names: readonly string[]; readonly nodes: readonly number[] } | undefined;

  protected override changed(): void {
    this.#point = undefined;
  }

  /** Whether contacts are cut where one would draw from its middle what does not reach it. */
  protected get cutsContacts(): boolean {
    return true;
  }

  /**
   * Brings the model to its steady state. Where loads depend on the chip's temperature it is the coolest.
   * @param start - "present" starts from the state solved last, where that can only end in the same one:
   * half the steps where little has changed, and another last bit
   * @throws FieldError for a value that a path refuses; SolveError with the solution so far
   */
  solve(start: "cold" | "present" = "cold"): void {
    if (this.isResolved) {
      this.#point ??= this.#solve2D();
      return;
    }
    const network = this.#upToDate();
    // With loads that depend on temperature another state may be nearer than the coolest.
    const from = network.balance.hasLoadLaws ? "cold" : start;
    // The second solve ends as the first does, and throws with the state it stopped in.
    if (!network.trySolve(undefined, from)) network.solve();
  }

  /** Temperature of a place, or of a point on a 2-D die, after `solve` [K]. */
  temperature(of: string | DiePoint): number {
    if (typeof of !== "string")
      return this.#point!.reading.fields.get(of.die ?? ownDie)!.at(of.x, of.y);
    if (this.#point) return this.#point.reading.temperatures.get(of)!;
    const network = this.#network!;
    return network.temperatures[network.nodeNames.indexOf(of)]!;
  }

  /**
   * Writes the temperature of every place in their order, after `solve` [K].
   * @param at - where in `temperatures` the first goes
   */
  readInto(temperatures: Float64Array, at: number): void {
    if (this.#point) {
      const { reading, structure } = this.#point;
      structure.places.forEach(({ name }, n) => {
        temperatures[at + n] = reading.temperatures.get(name)!;
      });
      return;
    }
    const from = this.#network!.temperatures;
    const nodes = this.#placeNodes;
    for (let n = 0; n < nodes.length; n++) temperatures[at + n] = from[nodes[n]!]!;
  }

  /** Widens the extents of some nodes by the state that `solve` found [K]. @param names - the same array in a loop */
  widen(names: readonly string[], low: Float64Array, high: Float64Array): void {
    const point = this.#point;
    if (point && this.isResolved) {
      names.forEach((name, n) => {
        // One that is held has one temperature.
        const held = () => point.network.nodes.find((node) => node.name === name)!.temperature!;
        const [coldest, hottest] = point.reading.extents.get(name) ?? [held(), held()];
        low[n] = Math.min(low[n]!, coldest);
        high[n] = Math.max(high[n]!, hottest);
      });
      return;
    }
    const { nodeNames, temperatures } = this.#network!;
    if (this.#widened?.names !== names) {
      this.#widened = { names, nodes: names.map((name) => nodeNames.indexOf(name)) };
    }
    const { nodes } = this.#widened;
    for (let n = 0; n < nodes.length; n++) {
      const T = temperatures[nodes[n]!]!;
      if (T < low[n]!) low[n] = T;
      if (T > high[n]!) high[n] = T;
    }
  }

  /** The steady state with all that led to it. @throws as `solve` */
  point(): OperatingPoint {
    if (!this.isResolved) this.#point ??= this.#solveNodes();
    else this.solve();
    return this.#point!;
  }

  #upToDate(): SteadyNetwork {
    try {
      if (!this.#network) this.#compile();
      for (const cell of this.expired) if (cell.put) cell.put(this.get(cell));
    } catch (error) {
      throw inWords(error, this.mount);
    }
    for (const cell of this.expired) cell.isWaiting = false;
    this.expired.length = 0;
    return this.#network!;
  }

  /** Compiles the network once, and notes where in it each cell goes. */
  #compile(): void {
    const { structure } = this;
    const network = new SteadyNetwork(this.describe().network);
    this.#network = network;
    const link = (name: string) => network.linkNames.indexOf(name);
    const node = (name: string) => network.nodeNames.indexOf(name);
    this.#placeNodes = this.places.map(node);
    const put = <T>(cell: Cell<T>, into: (value: T) => void) => {
      cell.put = into;
    };
    for (const [path, cell] of this.conductors) {
      const index = link(path.name);
      put(cell, (made) => network.setConductor(index, made));
    }
    for (const [path, cell] of this.counts) {
      const index = link(path.name);
      put(cell, (made) => network.setCount(index, made));
    }
    for (const [wire, cell] of this.warmEnds) {
      const index = node(wire.from.name);
      put(cell, (T) => network.setTemperature(index, T));
    }
    for (const { on, place } of structure.heated) {
      const here = structure.powers.filter((source) => source.on === on);
      if (here.length === 0) continue;
      const index = node(place.name);
      const cell = this.cell((m) => {
        const cold = coldest(stageModel(m, this.catalogue));
        return heatOn(on, heatsOf(here, m, this.catalogue, cold));
      });
      put(cell, (made) => network.setLoad(index, made));
    }
    put(this.stageCell, (model) => {
      if ("cooling" in model) {
        network.setConductor(link(coolingLink), model.cooling.conductor);
        network.setTemperature(node(coolingBase), model.cooling.base);
      } else network.setTemperature(node(structure.stage.name), model.temperature);
    });
  }

  #solveNodes(): OperatingPoint {
    const solution = this.#upToDate().solve();
    const reading = readingOfNodes(solution);
    return this.#pointOf(this.describe(this.#chipsOf(reading)), solution, reading);
  }

  #solve2D(): OperatingPoint {
    this.cuts.clear();
    const loads = this.heats();
    const followed = new Set(loads.flatMap(({ source, law }) => (law ? source.on : [])));
    const names = this.structure.dies.map(({ name }) => name);
    const those = names.filter((name) => followed.has(name));
    return those.length === 0 ? this.#solveAt(new Map(), loads) : this.#follow(those, new Map());
  }

  /**
   * Loads that depend on a die's temperature are followed from the cold up: as long as the die comes out
   * warmer than its loads were taken at, they are taken at a warmer one, by secants; once it comes out
   * colder, the steady state lies between, and false position closes in on it, or halving where a load
   * changes so steeply, as below T_c, that false position would not. Of several dies the loads of the others
   * are followed for each temperature of the first.
   * @param dies - whose loads are to be followed
   * @param taken - at which those of the others are taken
   */
  #follow([die, ...others]: readonly string[], taken: Chips): OperatingPoint {
    if (die === undefined) return this.#solveAt(taken);
    const at = (chip?: number) =>
      this.#follow(others, chip === undefined ? taken : new Map([...taken, [die, chip]]));
    const chipOf = ({ chips }: OperatingPoint) => chips.get(die)!;
    const cold = at();
    let low = { assumed: cold.stage, off: chipOf(cold) - cold.stage };
    let high: typeof low | undefined;
    let assumed = chipOf(cold);
    let now = cold;
    for (let step = 0; step < mostSteps; step++) {
      now = at(assumed);
      const off = chipOf(now) - assumed;
      if (Math.abs(off) <= tolerance * chipOf(now)) return now;
      // So steep that no number between the two ends is closer.
      const isNarrow = high && high.assumed - low.assumed <= 1e-15 * assumed;
      if (isNarrow && Math.abs(off) <= narrowTolerance * chipOf(now)) return now;
      const slope = (off - low.off) / (assumed - low.assumed);
      if (off < 0) {
        // The Illinois rule: an end that stays is counted at half, so that both ends move.
        if (high) low = { ...low, off: low.off / 2 };
        high = { assumed, off };
      } else {
        if (high) high = { ...high, off: high.off / 2 };
        low = { assumed, off };
      }
      if (high && step > 8 && step % 2 === 0) assumed = (low.assumed + high.assumed) / 2;
      else if (high)
        assumed = low.assumed + ((high.assumed - low.assumed) * low.off) / (low.off - high.off);
      else assumed = slope < 0 ? assumed - off / slope : chipOf(now);
    }
    const hot = die === ownDie ? "chip" : die;
    const message = `${this.mount.name}: ${hot} and readout found no steady state in ${mostSteps} steps.`;
    throw new SolveError({ ...now.solution, status: "not converged", message });
  }

  /**
   * Resolved dies with their loads taken at temperatures of the dies, contacts cut where they must be.
   * @param before - the state with contacts that were cut less, from which the search starts
   */
  #solveAt(
    chips: Chips,
    loads = this.heats(chips),
    before?: { readonly solution: SteadySolution; readonly groups: Groups },
  ): OperatingPoint {
    const described = this.describe(chips, loads);
    const network = inWordsOf(this.mount, () => this.dies.network(described.network));
    const start = before && startOfPieces(before.solution.temperatures, before.groups, described);
    const solution = network.solve(start ? { start } : {});
    const fields = new Map(
      [...described.dies].map(([name, { condensed, body }]) => [
        name,
        condensed.fieldOf(body, solution, name),
      ]),
    );
    const pointOf = () =>
      this.#pointOf(
        described,
        solution,
        readingOf2D(this.structure, described.links, solution, fields),
      );
    // With heat coming in, no place of the die is colder than all that cools it; of flights none can be.
    if (!this.cutsContacts || this.structure.die === "flights") return pointOf();
    let tooColdBy = 0;
    for (const [name, { condensed, body }] of described.dies) {
      const law = conductionLaw(body.law);
      const beside = coldestBeside(solution, described.network, condensed.terminals);
      const least = law.value(beside.linked);
      const field = fields.get(name)!;
      const [lowest, hottest] = field.span;
      const highest = Math.max(hottest, least);
      const below = (bound: number) => (bound - lowest) / (highest - bound);
      if (!(below(least) > cutBeyond && least - lowest > 1e-9 * Math.abs(least))) continue;
      const message = name === ownDie ? tooCold : `dies.${name}.${tooCold}`;
      const asItIs = () => {
        // So little heat may be left below that no temperature has it.
        const exists = law.temperature(lowest, 0.1) > 0;
        if (below(law.value(beside.ofAll)) > refusedBeyond || !exists) {
          throw new SolveError({ ...solution, status: "not converged", message });
        }
        tooColdBy = Math.max(tooColdBy, below(least));
      };
      const goBack = this.cuts.saved();
      if (!this.cuts.refine(this.groups, field, least, name)) {
        goBack();
        asItIs();
        continue;
      }
      try {
        return this.#solveAt(chips, loads, { solution, groups: described.groups });
      } catch (error) {
        if (!(error instanceof FieldError)) throw error;
        // Pieces that the cells of the die cannot tell apart.
        goBack();
        asItIs();
      }
    }
    if (tooColdBy > 0) return { ...pointOf(), tooColdBy };
    return pointOf();
  }

  #chipsOf({ temperatures }: Reading): Chips {
    return new Map(
      this.structure.dies.map(({ name, chip }) => [name, temperatures.get(chip.name)!]),
    );
  }

  #pointOf(
    { network, loads, die, dies }: Described,
    solution: SteadySolution,
    reading: Reading,
  ): OperatingPoint {
    const { structure } = this;
    return {
      mount: this.mount,
      catalogue: this.catalogue,
      structure,
      network,
      solution,
      reading,
      loads,
      conductors: this.laws,
      cooling: this.numbers.stage,
      ...(die && { die }),
      dies,
      contacts: this.isResolved ? groupsOn(ownDie, this.groups) : [],
      contactsOn: (die) => groupsOn(die, this.groups),
      chip: reading.temperatures.get(this.chip)!,
      chips: this.#chipsOf(reading),
      stage: reading.temperatures.get(structure.stage.name)!,
    };
  }
}

/** The coldest node that links to the die, and the coldest of all beside it [K]. */
function coldestBeside(
  { temperatures }: SteadySolution,
  { links }: NetworkDescription,
  onDie: readonly string[],
): { readonly linked: number; readonly ofAll: number } {
  const contacts = new Set(onDie);
  let [linked, ofAll] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
  for (const { from, to } of links) {
    for (const [near, far] of [
      [from, to],
      [to, from],
    ] as const) {
      // What cools the stage is not a place: at its temperature the stage takes no heat.
      if (contacts.has(far) || far === coolingBase) continue;
      const T = temperatures.get(far)!;
      ofAll = Math.min(ofAll, T);
      if (contacts.has(near)) linked = Math.min(linked, T);
    }
  }
  return { linked, ofAll };
}
