/**
 * Solves a mount and makes its thermal budget.
 * @module
 */
import type { Conductor } from "../conductor.js";
import { type Resonator, resonator } from "../device/quality.js";
import { quasiparticleDensity } from "../device/quasiparticles.js";
import { steadyStates } from "../loads/steady-states.js";
import { standardCatalogue } from "../materials/standard.js";
import type { Catalogue, CatalogueChoice } from "../materials/types.js";
import { SolveError } from "../network/solution.js";
import { solveSteady } from "../network/steady.js";
import { isExtrapolated } from "../ranges.js";
import { formatQuantity, formatShare } from "../units/format.js";
import { inWordsOf } from "./as-written.js";
import {
  type Chips,
  type DieInMount,
  heatOn,
  type PlacedPath,
  type Structure,
} from "./assemble.js";
import {
  Budget,
  type BudgetDetector,
  type BudgetElement,
  type BudgetStage,
} from "./budget-result.js";
import { dieModels } from "./die-models.js";
import { largest, mainPath } from "./main-path.js";
import { MountModel } from "./model.js";
import { allThings, type Mount, type PlainMount } from "./mount.js";
import { provenanceOf } from "./numbers.js";
import { fieldOn, nameOn, ownDie, seenFrom } from "./on-die.js";
import type { OperatingPoint } from "./operating-point.js";
import { riseWithOtherPhonons } from "./other-phonons.js";
import { pointRanges, pointWarnings } from "./ranges.js";
import { readMount } from "./read.js";
import { type DieModel, isResolved } from "./things/die.js";
import { filmsOf } from "./things/films.js";
import { limitOf } from "./things/limit.js";
import { readoutResonators } from "./things/readout.js";
import { dieNames } from "./things/stack.js";
import type { StageModel } from "./things/stage.js";
import { bondWires } from "./things/wires.js";

/** How to make a budget. */
export interface BudgetOptions extends CatalogueChoice {}

/**
 * Solves a mount and makes its budget.
 * @throws FieldError or UnknownNameError naming a wrong field; RangeError when a temperature is where
 * a law is refused; SolveError when no steady state was reached
 * @example thermalBudget(mount).summary
 */
export function thermalBudget(mount: Mount, options: BudgetOptions = {}): Budget {
  const catalogue = options.catalogue ?? standardCatalogue();
  const plain = readMount(mount);
  const model = new MountModel(plain, catalogue);
  const riseWith = (die: DieModel) => riseOf(new MountModel(plain, catalogue, { die }));
  const point = model.point();
  const otherPhononsRise = () => riseWithOtherPhonons(point, model.dies);
  if (!model.isResolved) return budgetOf(point, { otherPhononsRise });
  const rises = { twoNodeRise: riseWith("two nodes"), otherPhononsRise };
  if (plain.die.model !== "flights") return budgetOf(point, rises);
  try {
    return budgetOf(point, { ...rises, sheetRise: riseWith("sheet") });
  } catch (error) {
    // A sheet may conduct too badly for a heat that flights carry.
    if (error instanceof SolveError) return budgetOf(point, rises);
    throw error;
  }
}

/** Rise of the chip in the steady state of a model [K]. */
function riseOf(model: MountModel): number {
  model.solve();
  return model.temperature(model.chip) - model.temperature(model.structure.stage.name);
}

/** Rises of the chip by other models than the mount's own [K]. */
interface OtherRises extends Partial<Pick<Budget, "twoNodeRise">> {
  /** With the other choice of phonons. */
  readonly otherPhononsRise?: () => Budget["otherPhononsRise"];
  /** With a sheet, beside flights. */
  readonly sheetRise?: number;
}

/**
 * The budget of a mount in its steady state.
 * @param rises - of the chip by other models, to be shown beside [K]
 */
export function budgetOf(point: OperatingPoint, rises: OtherRises = {}): Budget {
  return inWordsOf(point.mount, () => budgetAt(point, rises));
}

function budgetAt(
  point: OperatingPoint,
  { twoNodeRise, otherPhononsRise, sheetRise }: OtherRises,
): Budget {
  const { mount, catalogue, structure, reading, stage } = point;
  const temperature = (name: string) => reading.temperatures.get(name)!;
  const flow = (name: string) => reading.flows.get(name)!;
  const ranges = pointRanges(point);
  const left = new Set(ranges.filter(isExtrapolated).map(({ name }) => name));
  const known = point.loads.map(({ source, load, law }) => {
    const { place } = structure.heated.find(({ on }) => on === source.on)!;
    return {
      extrapolated: load.warnings.length > 0,
      name: load.name,
      on: loadPlace(structure, source.on),
      power: law ? law.power(temperature(place.name)) : load.power,
    };
  });
  // A wire whose far end is colder than what it ends on is a path that takes heat away.
  const taking = structure.warm.filter(({ name }) => flow(name) < 0);
  const conducted = structure.warm
    .filter((wire) => !taking.includes(wire))
    .map(({ name, to }) => ({
      extrapolated: left.has(name),
      name,
      on: to.onDie ? loadPlace(structure, to.die) : to.name,
      power: flow(name),
    }));
  const sources = [...known, ...conducted];
  const total = sources.reduce((sum, { power }) => sum + power, 0);
  const shareOf = (power: number) => (total > 0 ? power / total : 0);
  const toStage = taking.reduce((sum, { name }) => sum + flow(name), total);

  refuseTooMuch(point.cooling, toStage);
  const main = mainPath(structure, flow);
  const element = (
    path: PlacedPath,
    of: Pick<BudgetElement, "from" | "to" | "power" | "count">,
    [hot, cold]: readonly [number, number],
  ): BudgetElement => ({
    ...of,
    name: path.name,
    share: shareOf(of.power),
    drop: hot - cold,
    conductance: conductanceOf(point.conductors.get(path.name)!, of, hot - cold, cold),
    main: main.includes(path),
    extrapolated: left.has(path.name),
  });
  const elements = structure.paths.map((path) => {
    const [from, to] = [path.from.name, path.to.name];
    const of = { from, to, power: flow(path.name), count: path.count?.(mount) ?? 1 };
    return element(path, of, [temperature(from), temperature(to)]);
  });
  for (const wire of taking) {
    const { name, from, to } = wire;
    const of = { from: to.name, to: `far end of ${name}`, power: -flow(name), count: 1 };
    const cold = point.solution.temperatures.get(from.name)!;
    elements.push(element(wire, of, [temperature(to.name), cold]));
  }
  for (const die of reading.field ? [...structure.dies].reverse() : []) {
    const inside = spreadingIn(point, die, main, shareOf);
    const before =
      die.name === ownDie
        ? 0
        : elements.findIndex(({ name }) =>
            structure.paths.some((path) => path.name === name && path.from.die === die.name),
          );
    elements.splice(before, 0, { ...inside, extrapolated: left.has(die.spreading) });
  }
  const places = structure.places.map(({ name }) => ({
    name,
    temperature: temperature(name),
    rise: temperature(name) - stage,
  }));
  const limit = limitOf(mount, catalogue)?.(stage);
  const content = {
    name: mount.name,
    places,
    chip: places.find(({ name }) => name === structure.chip.name)!,
    stage,
    limit,
    sources: sources.map((source) => ({ share: shareOf(source.power), ...source })),
    elements,
    warnings: [
      ...pointWarnings(point, ranges),
      ...mountWarnings(point),
      ...dieNames(mount).flatMap((die) => otherStates(mount, die, catalogue)),
    ],
    provenance: () => provenanceOf(point),
    solution: point.solution,
    field: reading.field,
    contacts: point.contacts,
    dies: structure.dies.slice(1).map((die) => ({
      name: die.name,
      hottest: places.find(({ name }) => name === die.chip.name)!,
      field: reading.fields.get(die.name),
      contacts: point.contactsOn(die.name),
      stage,
    })),
    twoNodeRise,
    dieModels: dieModels(point, sheetRise),
    cooling: stageInBudget(point.cooling, toStage),
    wires: bondWires(mount),
    detectors: detectors(mount, point.chips, catalogue),
  };
  return new Budget(content, otherPhononsRise);
}

/** What is told of a mount in its steady state beside the ranges of its laws. */
export function mountWarnings(point: OperatingPoint): readonly string[] {
  const { mount, catalogue, stage, cooling, tooColdBy, structure } = point;
  const sharing = filmsOf(mount).filter(({ phonons }) => phonons === "shared");
  return [
    ...(structure.die === "flights" ? sharing : []).map(
      ({ key }) =>
        `${key}: shares the die's phonons, but flights take it as a film that all phonons which meet it ` +
        "enter: the way from the die into it is counted beside its coupling, so the chip comes out too warm.",
    ),
    ...(tooColdBy === undefined
      ? []
      : [
          `die: a place comes out colder than what cools it, by ${formatShare(tooColdBy)} of what ` +
            "drives the heat: contacts are wide for how the die conducts. Raise die.cells.",
        ]),
    ...allThings.flatMap(([, { warnings }]) => warnings?.(mount, catalogue) ?? []),
    ...loadWarnings(point),
    ...limitWarnings(limitOf(mount, catalogue)?.(stage), stage),
    ...("salt" in cooling ? cooling.salt.warnings : []),
  ];
}

/** What a load falls on, as the budget says it: a resolved die by its name, else the place. */
function loadPlace({ die, dies, heated }: Structure, on = ownDie): string {
  if (isResolved(die) && dies.some(({ name }) => name === on)) return on;
  return heated.find((each) => each.on === on)!.place.name;
}

/**
 * Inside a 2-D die, from the hottest point, or where the main path comes in, to where that takes the heat; of
 * a die on a parallel path, to where most heat leaves it.
 */
function spreadingIn(
  { structure, reading }: OperatingPoint,
  { name: die, chip, spreading }: DieInMount,
  main: readonly PlacedPath[],
  shareOf: (power: number) => number,
): Omit<BudgetElement, "extrapolated"> {
  const isOn = (place: PlacedPath["from"]) => place.onDie && (place.die ?? ownDie) === die;
  const flow = ({ name }: PlacedPath) => reading.flows.get(name)!;
  const leaving = structure.paths.filter(({ from }) => isOn(from));
  const back = structure.paths.filter(({ from, to }) => from.onDie && isOn(to));
  const total =
    leaving.reduce((sum, path) => sum + flow(path), 0) +
    back.reduce((sum, path) => sum + Math.max(0, -flow(path)), 0);
  const incoming = main.find(({ to }) => isOn(to));
  const outgoing = main.find(({ from }) => isOn(from));
  const from = (incoming?.to ?? chip).name;
  const to = (outgoing?.from ?? largest(leaving, flow)?.from ?? structure.stage).name;
  const hottest = reading.temperatures.get(from)!;
  const drop = hottest - reading.temperatures.get(to)!;
  return {
    name: spreading,
    from,
    to,
    power: total,
    share: shareOf(total),
    drop,
    // Where heat is too little to make a drop, there is nothing to divide by.
    conductance: drop > 1e-12 * hottest ? total / drop : Number.NaN,
    count: 1,
    main: die === ownDie || outgoing !== undefined,
  };
}

/** Heat over drop; where there is no drop to divide by, G at that temperature. */
function conductanceOf(
  conductor: Conductor,
  { power, count }: Pick<BudgetElement, "power" | "count">,
  drop: number,
  cold: number,
): number {
  return Math.abs(drop) > 1e-9 * cold && power / drop > 0
    ? power / drop
    : count * conductor.conductance(cold);
}

/** Maps that a die with few nodes cannot show, and wires that end colder or warmer than what they end on. */
function loadWarnings({ mount, structure, reading }: OperatingPoint): readonly string[] {
  const { powers, die, heated } = structure;
  const maps = powers.some((source) => source.map(mount) !== undefined);
  const spread =
    "loads: the two-node model of the die spreads them evenly; their maps need the sheet.";
  const ends = powers.flatMap((source) => {
    const end = source.coldEnd(mount);
    const { place } = heated.find(({ on }) => on === source.on)!;
    const meets = reading.temperatures.get(place.name)!;
    if (end === undefined || Math.abs(end - meets) <= 0.25 * meets) return [];
    return [
      `${source.name}: its coldest end is given at ${formatQuantity(end, "K")}, ` +
        `but what it ends on is at ${formatQuantity(meets, "K")}.`,
    ];
  });
  return [...(!isResolved(die) && maps ? [spread] : []), ...ends];
}

function limitWarnings(limit: number | undefined, stage: number): readonly string[] {
  if (limit === undefined || limit > stage) return [];
  return [
    `limit: ${formatQuantity(limit, "K", 4)} is not above the stage itself, ` +
      `${formatQuantity(stage, "K", 4)}; no mount holds it.`,
  ];
}

/** @throws RangeError with what to do when the stage is not known to take the heat */
function refuseTooMuch(stage: StageModel, total: number): void {
  if (!("cooling" in stage) || total <= stage.cooling.largestPower) return;
  throw new RangeError(
    `stage: ${formatQuantity(total, "W")} is more than it is known to take, ` +
      `${formatQuantity(stage.cooling.largestPower, "W")}. Lower the loads, sink the wiring at a ` +
      "warmer stage, or give a cooling curve that goes further.",
  );
}

function stageInBudget(stage: StageModel, total: number): BudgetStage | undefined {
  if ("cooling" in stage) {
    const { name, largestPower } = stage.cooling;
    return {
      name,
      power: total,
      ...(Number.isFinite(largestPower) && { largest: largestPower }),
    };
  }
  const { salt } = stage;
  return salt && { name: "demagnetised salt", power: total, holdTime: salt.holdTime(total) };
}

/** The resonators that the mount names, in its readout and its limit. */
function detectors(
  mount: PlainMount,
  chips: Chips,
  catalogue: Catalogue,
): readonly BudgetDetector[] {
  const { limit } = mount;
  const named = dieNames(mount).flatMap((die): (readonly [string, Resonator, number])[] =>
    readoutResonators(seenFrom(mount, die).loads).map(({ name, field, of }) => [
      nameOn(die, name),
      resonator(of, catalogue, fieldOn(die, field)),
      chips.get(die)!,
    ]),
  );
  if (limit && "quality" in limit) {
    const film = resonator(limit.resonator, catalogue, "limit.resonator");
    named.push(["limit", film, chips.get(ownDie)!]);
  }
  return named.map(([name, film, chip]) => ({
    name,
    internalQuality: film.internalQuality(chip),
    frequencyShift: film.frequencyShift(chip),
    ...(film.superconductor.densityOfStates !== undefined && {
      quasiparticleDensity: quasiparticleDensity(film.superconductor, chip),
    }),
  }));
}

/**
 * Whether a readout on a die that grows with temperature has other steady states, by the two-node
 * model: the chip is held at a temperature, and what it then gives away is set against what its loads
 * bring. No resonator dissipates above its critical temperature, so none is sought there.
 */
function otherStates(mount: PlainMount, die: string, catalogue: Catalogue): readonly string[] {
  const films = readoutResonators(seenFrom(mount, die).loads);
  if (films.length === 0) return [];
  const model = new MountModel(mount, catalogue, { die: "two nodes" });
  const { network, loads } = model.describe();
  const load = heatOn(die, loads);
  if (typeof load === "number") return [];
  const chip = model.structure.dies.find(({ name }) => name === die)!.chip.name;
  const taken = (T: number) => {
    const nodes = network.nodes.map((n) => (n.name === chip ? { name: chip, temperature: T } : n));
    const { flows } = solveSteady({ ...network, nodes });
    return flows.reduce((sum, { from, to, power }) => {
      return sum + (from === chip ? power : to === chip ? -power : 0);
    }, 0);
  };
  const from = Math.min(...network.nodes.flatMap((n) => n.temperature ?? []));
  const made = films.map(({ of, field }) => resonator(of, catalogue, fieldOn(die, field)));
  const to = Math.max(...made.map(({ superconductor }) => superconductor.criticalTemperature));
  if (!(from < to)) return [];
  try {
    const { states, message } = steadyStates(load, taken, { from, to });
    return states.length === 1 ? [] : [`${nameOn(die, "readout")}: ${message}`];
  } catch (error) {
    if (!(error instanceof SolveError)) throw error;
    return [
      `${nameOn(die, "readout")}: whether it has other steady states was not found out; ${error.message}`,
    ];
  }
}
