/**
 * A mount assembled: its structure with what is made of its numbers, and the network that they describe.
 * What a changed field does not touch is not made again.
 * @module
 */
import type { CondensedDie } from "../chip/condensed-die.js";
import type { MapShare } from "../chip/power-map.js";
import type { Conductor } from "../conductor.js";
import type { Catalogue } from "../materials/types.js";
import type { NetworkDescription } from "../network/description.js";
import { inWords, inWordsOf, writtenAs } from "./as-written.js";
import {
  assemble,
  type Chips,
  type ContactGroup,
  type DieInMount,
  dieModel,
  heatOn,
  heatsOf,
  laidOut,
  type MountHeat,
  type PlacedPath,
  type Structure,
  type WarmPath,
} from "./assemble.js";
import { Cell, VariedField } from "./cells.js";
import { ContactCuts } from "./cuts.js";
import { contactNode } from "./die-contacts.js";
import { Dies } from "./dies.js";
import {
  coolingLink,
  heldTemperatures,
  type Links,
  linksOfMount,
  type Numbers,
  nodesFor,
  touched,
} from "./links.js";
import type { PlainMount } from "./mount.js";
import { lawOn, ownDie } from "./on-die.js";
import type { DescribedDie } from "./operating-point.js";
import { powerMap } from "./power-map.js";
import { type Skeleton, Skeletons } from "./skeletons.js";
import { type Contacts, pick } from "./thing.js";
import { type DieModel, dieSquare, isResolved } from "./things/die.js";
import { type FaceShares, faceShares } from "./things/finish.js";
import { limitOf } from "./things/limit.js";
import { coldest, type StageModel, stageModel } from "./things/stage.js";

/** How a mount is modelled. */
export interface ModelOptions {
  /** Another model of the die than the mount's own. */
  readonly die?: DieModel;
  /** Dies kept from other models of the same die. */
  readonly dies?: Dies;
  /** Cells of the 2-D dies along their longer sides by name, when they are to stay as they are. */
  readonly cells?: ReadonlyMap<string, number>;
}

/** The network of a mount at some temperature of the chip, with what it was made of. */
export interface Described {
  readonly network: NetworkDescription;
  readonly links: Links;
  readonly loads: readonly MountHeat[];
  /** The mount's own die, where it is resolved. */
  readonly die?: DescribedDie;
  /** All resolved dies by their names, which are those of the network's bodies. */
  readonly dies: ReadonlyMap<string, DescribedDie>;
  /** The groups of contacts as they were taken, in pieces where some are cut; none of a die with few nodes. */
  readonly groups: ReadonlyMap<Contacts<PlainMount>, ContactGroup>;
}

/** What dies of flights are made of beside their sides. */
const flown = ["thickness", "bulkLength", "rays"] as const;

/** A mount's structure and what is made of its numbers. */
export class Assembly {
  readonly structure: Structure;
  readonly dies: Dies;
  #mount: PlainMount;
  #catalogue: Catalogue;
  readonly #fixedCells: ReadonlyMap<string, number>;
  protected readonly conductors: ReadonlyMap<PlacedPath, Cell<Conductor>>;
  protected readonly counts: ReadonlyMap<PlacedPath, Cell<number>>;
  protected readonly warmEnds: ReadonlyMap<WarmPath, Cell<number>>;
  protected readonly squares: ReadonlyMap<Contacts<PlainMount>, Cell<Conductor>>;
  readonly #groups: ReadonlyMap<Contacts<PlainMount>, Cell<ContactGroup>>;
  readonly #dieSquares: ReadonlyMap<string, Cell<Conductor>>;
  readonly #faces: ReadonlyMap<string, Cell<FaceShares>>;
  /** Size and cells of each die. */
  readonly #plates: ReadonlyMap<string, Cell<object>>;
  readonly #skeletons = new Skeletons();
  /** Maps of the loads that were described last. */
  #mapped:
    | { readonly loads: readonly MountHeat[]; readonly maps: Map<string, readonly MapShare[]> }
    | undefined;
  protected readonly stageCell: Cell<StageModel>;
  readonly #all: Cell<unknown>[] = [];
  #varied: readonly VariedField[] = [];
  /** Of the contacts of a 2-D die, in the state that was solved last. */
  protected readonly cuts = new ContactCuts();
  /** Cells whose value may be another one since they were last put where they belong. */
  protected readonly expired: Cell<unknown>[] = [];

  /** @param mount - in SI; it is left as it is */
  constructor(mount: PlainMount, catalogue: Catalogue, options: ModelOptions = {}) {
    this.structure = inWordsOf(mount, () => assemble(mount, options.die));
    this.dies = options.dies ?? new Dies();
    this.#fixedCells = options.cells ?? new Map();
    this.#mount = writtenAs(mount, this.#asModelled(mount));
    this.#catalogue = catalogue;
    const { paths, warm, groups, dies } = this.structure;
    const all = [...paths, ...warm];
    const cells = <K, T>(keys: readonly K[], make: (key: K, mount: PlainMount) => T) =>
      new Map(keys.map((key) => [key, this.cell((m) => make(key, m))]));
    const onDies = <T>(make: (die: DieInMount, mount: PlainMount) => T) =>
      new Map(dies.map((die) => [die.name, this.cell((m) => make(die, m))]));
    this.conductors = cells(all, (path, m) => path.conductor(m, this.#catalogue));
    this.counts = cells(
      all.filter(({ count }) => count),
      (path, m) => path.count!(m),
    );
    this.warmEnds = cells(warm, (wire, m) => wire.temperature(m));
    this.#groups = cells(groups, laidOut);
    this.squares = cells(
      groups.filter(({ film }) => film),
      ({ film }, m) => film!.square(m, this.#catalogue),
    );
    this.#dieSquares = onDies(({ name, of }, m) => lawOn(name, dieSquare(of(m), this.#catalogue)));
    this.#plates = onDies<object>(({ of }, m) =>
      pick(of(m).die, "width", "length", "cells", ...flown),
    );
    this.#faces = onDies(({ of }, m) => faceShares(of(m).die, this.#catalogue));
    this.stageCell = this.cell((m) => stageModel(m, this.#catalogue));
  }

  /** The mount with the model of the die that is taken, which decides what a boundary of the die is. */
  #asModelled(mount: PlainMount): PlainMount {
    const { die: model } = this.structure;
    if (dieModel(mount) === model) return mount;
    return { ...mount, die: { ...mount.die, model } };
  }

  /** Something made of the mount's numbers. */
  protected cell<T>(make: (mount: PlainMount) => T): Cell<T> {
    const cell = new Cell(make);
    this.#all.push(cell as Cell<unknown>);
    return cell;
  }

  protected get<T>(cell: Cell<T>): T {
    try {
      return cell.get(this.#mount, this.#varied);
    } catch (error) {
      throw inWords(error, this.#mount);
    }
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
    return isResolved(this.structure.die);
  }

  /** Names of the places, hot to cold. */
  get places(): readonly string[] {
    return this.structure.places.map(({ name }) => name);
  }

  /** Name of the hottest point on the die. */
  get chip(): string {
    return this.structure.chip.name;
  }

  /** Highest temperature allowed for the chip, by the stage's [K]; undefined for a mount without a limit. */
  get limit(): ((stage: number) => number) | undefined {
    return inWordsOf(this.#mount, () => limitOf(this.#mount, this.#catalogue));
  }

  /** The number at a path such as `bonds.length` [SI]. */
  value(field: string): number {
    return new VariedField(this.#mount, field).value;
  }

  /**
   * Says which fields will be set again and again, so that what depends on one of them alone is made once
   * for each of its values.
   */
  vary(...fields: readonly string[]): void {
    const mount = writtenAs(this.#mount, structuredClone(this.#mount));
    this.#mount = mount;
    this.#varied = fields.map((field) => new VariedField(mount, field));
    this.forget();
  }

  /**
   * Changes a numeric field that the mount has. The value must be one that `readMount` accepts: a loop
   * reads its values once, before it begins.
   */
  set(field: string, value: number): void {
    let varied = this.#varied.find(({ path }) => path === field);
    if (!varied) {
      this.vary(...this.#varied.map(({ path }) => path), field);
      varied = this.#varied.at(-1)!;
    }
    if (varied.value === value) return;
    varied.value = value;
    this.changed();
    varied.dependents ??= this.#all.filter((cell) => cell.dependsOn(field));
    for (const cell of varied.dependents) {
      cell.expire();
      this.#wait(cell);
    }
  }

  #wait(cell: Cell<unknown>): void {
    if (cell.isWaiting) return;
    cell.isWaiting = true;
    this.expired.push(cell);
  }

  /** Takes the numbers of another mount of the same structure, and another catalogue. */
  take(mount: PlainMount, catalogue: Catalogue): void {
    this.#mount = writtenAs(mount, this.#asModelled(mount));
    this.#catalogue = catalogue;
    this.#varied = [];
    this.forget();
  }

  private forget(): void {
    this.changed();
    for (const field of this.#varied) field.dependents = undefined;
    for (const cell of this.#all) {
      cell.forget();
      this.#wait(cell);
    }
  }

  /** Called when any number changes. */
  protected changed(): void {}

  /** What its network is made of. */
  get numbers(): Numbers {
    return {
      stage: this.get(this.stageCell),
      temperature: (wire) => this.get(this.warmEnds.get(wire)!),
      conductor: (path) => this.get(this.conductors.get(path)!),
      count: (path) => (path.count ? this.get(this.counts.get(path)!) : 1),
      filmSquare: (group) => this.get(this.squares.get(group)!),
      dieSquare: (die = ownDie) => this.get(this.#dieSquares.get(die)!),
    };
  }

  /**
   * Every law of heat that flows, by path and wire; the 2-D die's and its films' squares and the cooling of
   * the stage by their names.
   */
  get laws(): ReadonlyMap<string, Conductor> {
    const { structure, numbers } = this;
    const { paths, warm } = structure;
    const laws = new Map<string, Conductor>();
    if (this.isResolved) {
      for (const { name, spreading } of structure.dies)
        laws.set(spreading, numbers.dieSquare(name));
      for (const [group, cell] of this.squares) laws.set(group.film!.name, this.get(cell));
    }
    for (const path of [...paths, ...warm]) laws.set(path.name, numbers.conductor(path));
    const { stage } = numbers;
    if ("cooling" in stage) laws.set(coolingLink, stage.cooling.conductor);
    return laws;
  }

  /** Groups of contacts of the die, laid out. */
  get groups(): ReadonlyMap<Contacts<PlainMount>, ContactGroup> {
    return new Map([...this.#groups].map(([group, cell]) => [group, this.get(cell)]));
  }

  /** The loads. @param chips - at which those are taken that depend on them; the coldest there is where absent */
  heats(chips?: Chips): readonly MountHeat[] {
    const { powers } = this.structure;
    const cold = coldest(this.get(this.stageCell));
    return inWordsOf(this.#mount, () => heatsOf(powers, this.#mount, this.#catalogue, cold, chips));
  }

  /**
   * A die of flights as a star: Θ of the mean of the die above a contact is the heat to it over a part of
   * the law, such that heat that comes up evenly leaves, and lifts the die, as it does in flight.
   */
  waysOfFlight(die: DieInMount) {
    const law = this.numbers.dieSquare(die.name);
    const flights = this.#flights(die, groupsOn(die.name, this.groups));
    const even = { kind: "uniform", power: 1 } as const;
    const { meanPath } = flights.source(even);
    const { outflow } = flights.body(law, even);
    const mean = (meanPath * flights.unit) / (4 * flights.box.volume);
    const ways = flights.terminals.map((contact, i) => ({ contact, part: outflow[i]! / mean }));
    return { law, ways: ways.filter(({ part }) => part > 0) };
  }

  #flights(die: DieInMount, laid: readonly ContactGroup[]) {
    const faces = this.get(this.#faces.get(die.name)!);
    return this.dies.flights(die.of(this.#mount), laid, faces, this.#fixedCells.get(die.name));
  }

  /** Where the loads on a die fall, and how much of each. */
  #mapsOn(name: string, loads: readonly MountHeat[]): readonly MapShare[] {
    if (this.#mapped?.loads !== loads) this.#mapped = { loads, maps: new Map() };
    const found =
      this.#mapped.maps.get(name) ??
      loads.flatMap(({ source, load }) => {
        if (source.on !== name) return [];
        const map = powerMap(source.map(this.#mount), 1);
        return [{ map, times: load.power, field: `${source.field}.map` }];
      });
    this.#mapped.maps.set(name, found);
    return found;
  }

  /** What its loads do not change, with its contacts cut as they are now. */
  #skeleton(): Skeleton {
    const { structure, numbers } = this;
    const { dies, paths, warm } = structure;
    const all = [...paths, ...warm];
    const ofPaths = all.flatMap((path) => [numbers.conductor(path), numbers.count(path)]);
    if (!this.isResolved) {
      return this.#skeletons.of("", [...ofPaths, numbers.stage], () => {
        const links = linksOfMount(structure, numbers);
        const held = heldTemperatures(structure, numbers);
        const nodes = new Set([...this.places, ...held.keys()]);
        return { groups: new Map(), condensed: new Map(), links, nodes };
      });
    }
    const { groups: whole } = this;
    const squares = [...this.squares.values()].map((cell) => this.get(cell));
    const madeOf = [
      ...whole.values(),
      ...ofPaths,
      ...dies.map(({ name }) => this.get(this.#plates.get(name)!)),
      ...(structure.die === "flights" ? [...this.#faces.values()].map((f) => this.get(f)) : []),
      ...squares,
      numbers.stage,
    ];
    return this.#skeletons.of(this.cuts.key, madeOf, () => {
      const groups = this.cuts.applied(whole);
      const condense = (die: DieInMount): CondensedDie => {
        const laid = groupsOn(die.name, groups);
        if (structure.die === "flights") return this.#flights(die, laid);
        const cells = this.#fixedCells.get(die.name);
        return this.dies.condensed(die.of(this.#mount), laid, cells);
      };
      const condensed = inWordsOf(
        this.#mount,
        () => new Map(dies.map((die) => [die.name, condense(die)])),
      );
      const links = linksOfMount(structure, numbers, {
        groups,
        at: (group, k) => [{ node: contactNode(group, k), share: 1 }],
      });
      const onDies = [...condensed.values()].flatMap(({ terminals }) => terminals);
      return { groups, condensed, links, nodes: touched(links.links, onDies) };
    });
  }

  /**
   * The network.
   * @param chips - as for `heats`
   * @param loads - taken there
   */
  describe(chips?: Chips, loads: readonly MountHeat[] = this.heats(chips)): Described {
    const { structure, numbers } = this;
    const held = heldTemperatures(structure, numbers);
    const onPlace = new Map(structure.heated.map(({ on, place }) => [place.name, on]));
    const loadOn = (name: string) => {
      const on = onPlace.get(name);
      return on === undefined ? 0 : heatOn(on, loads);
    };
    const { groups, condensed: dies, links, nodes: names } = this.#skeleton();
    const nodes = nodesFor(names, held, (name) => ({ name, load: loadOn(name) }));
    if (!this.isResolved) {
      return { network: { nodes, links: links.links }, links, loads, dies: new Map(), groups };
    }
    const bodies = inWordsOf(this.#mount, () =>
      [...dies].map(([name, condensed]) => {
        const body = condensed.body(numbers.dieSquare(name), this.#mapsOn(name, loads));
        return { name, condensed, body, terminals: condensed.terminals };
      }),
    );
    const network = { nodes, links: links.links, bodies };
    const described = new Map(bodies.map((die) => [die.name, die]));
    return { network, links, loads, die: described.get(ownDie)!, dies: described, groups };
  }
}

/** The groups of contacts of one die. */
export function groupsOn(
  name: string,
  groups: ReadonlyMap<Contacts<PlainMount>, ContactGroup>,
): readonly ContactGroup[] {
  return [...groups.values()].filter(({ die = ownDie }) => die === name);
}
