/**
 * A mount as a model: set numbers, solve, read temperatures and flows. Sweeps, sizing, fits, samples and
 * budgets are questions asked of it. With dies.ts, links.ts, reading.ts and in-time.ts beside it, it is
 * all of this layer that knows network/ and chip/.
 * @module
 */
import type { CondensedSheet, SheetBody } from "../chip/condensed-sheet.js";
import type { Conductor, Load } from "../conductor.js";
import type { Catalogue } from "../materials/types.js";
import type { NetworkDescription } from "../network/description.js";
import { SolveError, type SteadySolution } from "../network/solution.js";
import { SteadyNetwork } from "../network/steady.js";
import {
  assemble,
  type ContactGroup,
  heatOn,
  laidOut,
  type MountHeat,
  type PlacedPath,
  type Structure,
  spreading,
  type WarmPath,
} from "./assemble.js";
import { Cell, setNumber, valueAt } from "./cells.js";
import { contactNode, Dies } from "./dies.js";
import {
  coolingBase,
  coolingLink,
  heldTemperatures,
  type Links,
  linksOfMount,
  type Numbers,
  nodesFor,
  touched,
} from "./links.js";
import type { PlainMount } from "./mount.js";
import { powerMap } from "./power-map.js";
import { type Reading, readingOf2D, readingOfNodes } from "./reading.js";
import type { Contacts } from "./thing.js";
import { type DieModel, dieSquare } from "./things/die.js";
import { limitOf } from "./things/limit.js";
import { coldest, type StageModel, stageModel } from "./things/stage.js";

/** A point on the die, from its lower left corner [m]. */
export interface DiePoint {
  readonly x: number;
  readonly y: number;
}

/** A mount in its steady state. */
export interface OperatingPoint {
  readonly mount: PlainMount;
  readonly catalogue: Catalogue;
  readonly structure: Structure;
  /** The network that was solved. */
  readonly network: NetworkDescription;
  /** Temperatures and flows of its nodes and links. */
  readonly solution: SteadySolution;
  /** The same by the mount's own places. */
  readonly reading: Reading;
  /** The loads; those that depend on the chip's temperature are taken there. */
  readonly loads: readonly MountHeat[];
  /** By path and wire; the 2-D die's and its films' squares and the cooling of the stage by their names. */
  readonly conductors: ReadonlyMap<string, Conductor>;
  /** How the stage is held or cooled. */
  readonly cooling: StageModel;
  /** Groups of contacts of the 2-D die, laid out. */
  readonly contacts: readonly ContactGroup[];
  /** Temperature of the chip's hottest place [K]. */
  readonly chip: number;
  /** Temperature of the stage [K]. */
  readonly stage: number;
}

/** How a mount is modelled. */
export interface ModelOptions {
  /** Another model of the die than the mount's own. */
  readonly die?: DieModel;
  /** Dies kept from other models of the same die. */
  readonly dies?: Dies;
  /** Cells of the 2-D die along its longer side, when they are to stay as they are. */
  readonly cells?: number;
}

/** The network of a mount at some temperature of the chip, with what it was made of. */
export interface Described {
  readonly network: NetworkDescription;
  readonly links: Links;
  readonly loads: readonly MountHeat[];
  /** The 2-D die: condensed to its contacts, and under its loads. */
  readonly die?: { readonly condensed: CondensedSheet; readonly body: SheetBody };
}

/** Name of the die among the network's bodies. */
const dieBody = "die";
/** Steps of the search for the steady state; each is one solve, and few are needed. */
const mostSteps = 100;
/** Where chip and loads agree to this part of the temperature, they are steady. */
const tolerance = 1e-10;

/** A mount that is solved again and again. What a changed field does not touch is not made again. */
export class MountModel {
  readonly structure: Structure;
  readonly dies: Dies;
  #mount: PlainMount;
  #catalogue: Catalogue;
  readonly #cells: number | undefined;
  readonly #conductors = new Map<PlacedPath, Cell<Conductor>>();
  readonly #counts = new Map<PlacedPath, Cell<number>>();
  readonly #warmEnds = new Map<WarmPath, Cell<number>>();
  readonly #squares = new Map<Contacts<PlainMount>, Cell<Conductor>>();
  readonly #groups = new Map<Contacts<PlainMount>, Cell<ContactGroup>>();
  readonly #square: Cell<Conductor>;
  readonly #stage: Cell<StageModel>;
  /** Every cell; those of a die with one node or two also say where in its network they go. */
  readonly #all = new Map<Cell<unknown>, ((value: unknown) => void) | undefined>();
  #varied: readonly string[] = [];
  readonly #dependents = new Map<string, readonly Cell<unknown>[]>();
  readonly #expired = new Set<Cell<unknown>>();
  /** The network of a die with one node or two, whose numbers are changed in place. */
  #network: SteadyNetwork | undefined;
  /** Its nodes for the places, in their order. */
  #placeNodes: readonly number[] = [];
  #point: OperatingPoint | undefined;

  /** @param mount - in SI; it is left as it is */
  constructor(mount: PlainMount, catalogue: Catalogue, options: ModelOptions = {}) {
    this.structure = assemble(mount, options.die);
    this.dies = options.dies ?? new Dies();
    this.#cells = options.cells;
    this.#mount = mount;
    this.#catalogue = catalogue;
    const { paths, warm, groups } = this.structure;
    for (const path of [...paths, ...warm]) {
      this.#conductors.set(
        path,
        this.#cell((m) => path.conductor(m, this.#catalogue)),
      );
      if (path.count)
        this.#counts.set(
          path,
          this.#cell((m) => path.count!(m)),
        );
    }
    for (const wire of warm)
      this.#warmEnds.set(
        wire,
        this.#cell((m) => wire.temperature(m)),
      );
    for (const group of groups) {
      this.#groups.set(
        group,
        this.#cell((m) => laidOut(group, m)),
      );
      const { film } = group;
      if (film)
        this.#squares.set(
          group,
          this.#cell((m) => film.square(m, this.#catalogue)),
        );
    }
    this.#square = this.#cell((m) => dieSquare(m, this.#catalogue));
    this.#stage = this.#cell((m) => stageModel(m, this.#catalogue));
  }

  #cell<T>(make: (mount: PlainMount) => T): Cell<T> {
    const cell = new Cell(make);
    this.#all.set(cell, undefined);
    return cell;
  }

  /** The mount as it is now, in SI. */
  get mount(): PlainMount {
    return this.#mount;
  }

  /** The data as they are now. */
  get catalogue(): Catalogue {
    return this.#catalogue;
  }

  /** Whether the temperature of every place on the die is known. */
  get isResolved(): boolean {
    return this.structure.die === "sheet";
  }

  /** Names of the places, hot to cold. */
  get places(): readonly string[] {
    return this.structure.places.map(({ name }) => name);
  }

  /** Name of the hottest place on the die. */
  get chip(): string {
    return this.structure.chip.name;
  }

  /** Highest temperature allowed for the chip, by the stage's [K]; undefined for a mount without a limit. */
  get limit(): ((stage: number) => number) | undefined {
    return limitOf(this.#mount, this.#catalogue);
  }

  /** The number at a path such as `bonds.length` [SI]. */
  value(field: string): number {
    return valueAt(this.#mount, field);
  }

  /**
   * Says which fields will be set again and again, so that what depends on one of them alone is made once
   * for each of its values.
   */
  vary(...fields: readonly string[]): void {
    this.#mount = structuredClone(this.#mount);
    this.#varied = fields;
    this.#forget();
  }

  /**
   * Changes a numeric field that the mount has; the next solve sees it. The value must be one that
   * `readMount` accepts: a loop reads its values once, before it begins.
   */
  set(field: string, value: number): void {
    if (!this.#varied.includes(field)) this.vary(...this.#varied, field);
    if (this.value(field) === value) return;
    setNumber(this.#mount, field, value);
    this.#point = undefined;
    let dependents = this.#dependents.get(field);
    if (!dependents) {
      dependents = [...this.#all.keys()].filter((cell) => cell.dependsOn(field));
      this.#dependents.set(field, dependents);
    }
    for (const cell of dependents) {
      cell.expire();
      this.#expired.add(cell);
    }
  }

  /** Takes the numbers of another mount of the same structure, and another catalogue. */
  take(mount: PlainMount, catalogue: Catalogue): void {
    this.#mount = mount;
    this.#catalogue = catalogue;
    this.#varied = [];
    this.#forget();
  }

  #forget(): void {
    this.#point = undefined;
    this.#dependents.clear();
    for (const cell of this.#all.keys()) {
      cell.forget();
      this.#expired.add(cell);
    }
  }

  readonly #get = <T>(cell: Cell<T>): T =>
    cell.get(this.#mount, this.#varied, () => this.#dependents.clear());

  /** What its network is made of. */
  get numbers(): Numbers {
    return {
      stage: this.#get(this.#stage),
      temperature: (wire) => this.#get(this.#warmEnds.get(wire)!),
      conductor: (path) => this.#get(this.#conductors.get(path)!),
      count: (path) => (path.count ? this.#get(this.#counts.get(path)!) : 1),
      filmSquare: (group) => this.#get(this.#squares.get(group)!),
      dieSquare: () => this.#get(this.#square),
    };
  }

  /** Groups of contacts of the die, laid out. */
  get groups(): ReadonlyMap<Contacts<PlainMount>, ContactGroup> {
    return new Map([...this.#groups].map(([group, cell]) => [group, this.#get(cell)]));
  }

  /** The loads. @param chip - of those that depend on it [K]; the coldest there is when absent */
  heats(chip = coldest(this.#get(this.#stage))): readonly MountHeat[] {
    return this.structure.powers.map((source) => {
      const law = source.law(this.#mount, this.#catalogue);
      const load = law ? law.at(chip) : source.heat(this.#mount, this.#catalogue, chip);
      return { source, load, law };
    });
  }

  /** The 2-D die, seen from its contacts. */
  condensed(): CondensedSheet {
    return this.dies.condensed(this.#mount, [...this.groups.values()], this.#cells);
  }

  /** The network with loads taken at a temperature of the chip [K]; the coldest there is when absent. */
  describe(chip?: number): Described {
    const { structure, numbers } = this;
    const held = heldTemperatures(structure, numbers);
    const loads = this.heats(chip);
    if (!this.isResolved) {
      const links = linksOfMount(structure, numbers);
      const names = new Set([...structure.places.map(({ name }) => name), ...held.keys()]);
      const nodes = nodesFor(names, held, (name) => ({
        name,
        load: this.#loadsOn(name, loads),
      }));
      return { network: { nodes, links: links.links }, links, loads };
    }
    const { groups } = this;
    const condensed = this.condensed();
    const onDie = loads.flatMap(({ source, load }) => {
      if (source.on !== "die") return [];
      const map = powerMap(source.map(this.#mount), 1);
      return [{ map, times: load.power, field: `${source.field}.map` }];
    });
    const body = condensed.body(numbers.dieSquare(), onDie);
    const links = linksOfMount(structure, numbers, {
      groups,
      at: (group, k) => [{ node: contactNode(group, k), share: 1 }],
    });
    const { terminals } = condensed;
    const nodes = nodesFor(touched(links.links, terminals), held, (name) => ({
      name,
      load: name === structure.box.name ? heatOn("box", loads) : 0,
    }));
    const bodies = [{ name: dieBody, terminals, body }];
    return {
      network: { nodes, links: links.links, bodies },
      links,
      loads,
      die: { condensed, body },
    };
  }

  #loadsOn(name: string, loads: readonly MountHeat[]): number | Load {
    if (name === this.structure.box.name) return heatOn("box", loads);
    return name === this.chip ? heatOn("die", loads) : 0;
  }

  /**
   * Brings the model to its steady state. Where loads depend on the chip's temperature it is the coolest.
   * @throws FieldError for a value that a path refuses; SolveError with the solution so far
   */
  solve(): void {
    if (this.isResolved) {
      this.#point ??= this.#solve2D();
      return;
    }
    const network = this.#upToDate();
    // The second solve ends as the first does, and throws with the state it stopped in.
    if (!network.trySolve()) network.solve();
  }

  /** Temperature of a place, or of a point on a 2-D die, after `solve` [K]. */
  temperature(of: string | DiePoint): number {
    if (typeof of !== "string") return this.#point!.reading.field!.at(of.x, of.y);
    if (this.#point) return this.#point.reading.temperatures.get(of)!;
    const network = this.#network!;
    return network.temperatures[network.nodeNames.indexOf(of)]!;
  }

  /** Lowest and highest temperature of a place after `solve` [K]. */
  extent(place: string): readonly [low: number, high: number] {
    if (this.#point) return this.#point.reading.extents.get(place)!;
    const T = this.temperature(place);
    return [T, T];
  }

  /**
   * Writes the temperature of every place in their order, after `solve`, and widens the extents of each [K].
   * @param at - where in `temperatures` the first goes
   */
  readInto(temperatures: Float64Array, at: number, low: Float64Array, high: Float64Array): void {
    const nodes = this.#placeNodes;
    const { length } = this.structure.places;
    for (let n = 0; n < length; n++) {
      let T: number;
      let [coldest, hottest] = [0, 0];
      if (this.#point) {
        const { name } = this.structure.places[n]!;
        T = this.#point.reading.temperatures.get(name)!;
        [coldest, hottest] = this.#point.reading.extents.get(name)!;
      } else {
        T = this.#network!.temperatures[nodes[n]!]!;
        coldest = hottest = T;
      }
      temperatures[at + n] = T;
      if (coldest < low[n]!) low[n] = coldest;
      if (hottest > high[n]!) high[n] = hottest;
    }
  }

  /** The steady state with all that led to it. @throws as `solve` */
  point(): OperatingPoint {
    if (!this.isResolved) this.#point ??= this.#solveNodes();
    else this.solve();
    return this.#point!;
  }

  /** The network of a die with one node or two, with the numbers of now; for loops that change it. */
  lumped(): SteadyNetwork {
    return this.#upToDate();
  }

  #upToDate(): SteadyNetwork {
    if (!this.#network) this.#compile();
    for (const cell of this.#expired) this.#all.get(cell)?.(this.#get(cell));
    this.#expired.clear();
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
    const put = <T>(cell: Cell<T>, into: (value: T) => void) =>
      this.#all.set(cell as Cell<unknown>, into as (value: unknown) => void);
    for (const [path, cell] of this.#conductors) {
      const index = link(path.name);
      put(cell, (made) => network.setConductor(index, made));
    }
    for (const [path, cell] of this.#counts) {
      const index = link(path.name);
      put(cell, (made) => network.setCount(index, made));
    }
    for (const [wire, cell] of this.#warmEnds) {
      const index = node(wire.from.name);
      put(cell, (T) => network.setTemperature(index, T));
    }
    for (const on of ["die", "box"] as const) {
      const here = structure.powers.filter((source) => source.on === on);
      if (here.length === 0) continue;
      const index = node(on === "die" ? this.chip : structure.box.name);
      const cell = this.#cell((m) => {
        const chip = coldest(stageModel(m, this.#catalogue));
        const heats = here.map((source) => ({
          source,
          load: source.heat(m, this.#catalogue, chip),
          law: source.law(m, this.#catalogue),
        }));
        return heatOn(on, heats);
      });
      put(cell, (made) => network.setLoad(index, made));
    }
    put(this.#stage, (model) => {
      if ("cooling" in model) {
        network.setConductor(link(coolingLink), model.cooling.conductor);
        network.setTemperature(node(coolingBase), model.cooling.base);
      } else network.setTemperature(node(structure.stage.name), model.temperature);
    });
  }

  #solveNodes(): OperatingPoint {
    const solution = this.#upToDate().solve();
    const chip = solution.temperatures.get(this.chip)!;
    return this.#pointOf(this.describe(chip), solution, readingOfNodes(solution));
  }

  /**
   * Loads that depend on the chip's temperature are followed from the cold up: as long as the chip comes
   * out warmer than its loads were taken at, they are taken at a warmer one, by secants; once it comes out
   * colder, the steady state lies between, and false position closes in on it.
   */
  #solve2D(): OperatingPoint {
    const at = (chip?: number): OperatingPoint => {
      const described = this.describe(chip);
      const solution = this.dies.network(described.network).solve();
      const { condensed, body } = described.die!;
      const field = () => condensed.fieldOf(body, solution, dieBody);
      return this.#pointOf(
        described,
        solution,
        readingOf2D(this.structure, described.links, solution, field),
      );
    };
    const cold = at();
    if (!cold.loads.some(({ law }) => law)) return cold;
    let low = { assumed: cold.stage, off: cold.chip - cold.stage };
    let high: typeof low | undefined;
    let assumed = cold.chip;
    let now = cold;
    for (let step = 0; step < mostSteps; step++) {
      now = at(assumed);
      const off = now.chip - assumed;
      if (Math.abs(off) <= tolerance * now.chip) return now;
      const slope = (off - low.off) / (assumed - low.assumed);
      if (off < 0) {
        // The Illinois rule: an end that stays is counted at half, so that both ends move.
        if (high) low = { ...low, off: low.off / 2 };
        high = { assumed, off };
      } else {
        if (high) high = { ...high, off: high.off / 2 };
        low = { assumed, off };
      }
      if (high)
        assumed = low.assumed + ((high.assumed - low.assumed) * low.off) / (low.off - high.off);
      else assumed = slope < 0 ? assumed - off / slope : now.chip;
    }
    const message = `${this.#mount.name}: chip and readout found no steady state in ${mostSteps} steps.`;
    throw new SolveError({ ...now.solution, status: "not converged", message });
  }

  #pointOf(
    { network, loads }: Described,
    solution: SteadySolution,
    reading: Reading,
  ): OperatingPoint {
    const { structure, numbers } = this;
    const squares: [string, Conductor][] = this.isResolved
      ? [
          [spreading, numbers.dieSquare()],
          ...[...this.#squares].map(
            ([group, cell]) => [group.film!.name, this.#get(cell)] as [string, Conductor],
          ),
        ]
      : [];
    const own = [...structure.paths, ...structure.warm].map(
      (path) => [path.name, numbers.conductor(path)] as const,
    );
    const { stage: cooling } = numbers;
    const taken = "cooling" in cooling ? [[coolingLink, cooling.cooling.conductor] as const] : [];
    return {
      mount: this.#mount,
      catalogue: this.#catalogue,
      structure,
      network,
      solution,
      reading,
      loads,
      conductors: new Map([...squares, ...own, ...taken]),
      cooling,
      contacts: this.isResolved ? [...this.groups.values()] : [],
      chip: reading.temperatures.get(this.chip)!,
      stage: reading.temperatures.get(structure.stage.name)!,
    };
  }
}
