/**
 * Solves a mount and makes its thermal budget.
 * @module
 */
import type { SheetField } from "../chip/field.js";
import type { Conductor } from "../conductor.js";
import { type ResonatorOptions, resonator } from "../device/quality.js";
import { quasiparticleDensity } from "../device/quasiparticles.js";
import { steadyStates } from "../loads/steady-states.js";
import { standardCatalogue } from "../materials/standard.js";
import type { Catalogue, CatalogueChoice } from "../materials/types.js";
import { solveSteady } from "../network/steady.js";
import { formatQuantity } from "../units/format.js";
import { toSI } from "../units/quantity.js";
import {
  Budget,
  type BudgetDetector,
  type BudgetElement,
  type BudgetStage,
} from "./budget-result.js";
import type { Mount } from "./description.js";
import { spreading } from "./die-parts.js";
import { bondRoom, contactGroups } from "./layout.js";
import { limitOf } from "./limit.js";
import { provenanceOf } from "./numbers.js";
import { chipPlace, isSheet, type Part, place } from "./part.js";
import { readingWarnings } from "./ranges.js";
import { type PlainMount, readMount } from "./read.js";
import { type Settled, settle } from "./settle.js";
import { SheetStore } from "./sheet-model.js";
import { heatOn, type Structure, translate } from "./translate.js";

/** How to make a budget. */
export interface BudgetOptions extends CatalogueChoice {}

/**
 * Solves a mount and draws up its budget.
 * @throws FieldError or UnknownNameError naming a wrong field; RangeError when a temperature is where
 * a law is refused; SolveError when no steady state was reached
 * @example thermalBudget(mount).summary
 */
export function thermalBudget(mount: Mount, options: BudgetOptions = {}): Budget {
  const catalogue = options.catalogue ?? standardCatalogue();
  const plain = readMount(mount);
  const sheets = new SheetStore();
  const quickRise = isSheet(plain) ? riseOfQuick(plain, catalogue, sheets) : undefined;
  return drawUp(plain, settle(plain, catalogue, sheets), catalogue, quickRise);
}

/** What the quick model says of a mount whose die is a sheet [K]. */
function riseOfQuick(mount: PlainMount, catalogue: Catalogue, sheets: SheetStore): number {
  const quick: PlainMount = { ...mount, die: { ...mount.die, model: "centre and edge" } };
  const { chip, stage } = settle(quick, catalogue, sheets);
  return chip - stage;
}

/** The budget of a mount at rest. */
export function drawUp(
  mount: PlainMount,
  { translation, solution, reading, chip, stage }: Settled,
  catalogue: Catalogue,
  quickRise?: number,
): Budget {
  const { structure, loads } = translation;
  const temperature = (name: string) => reading.temperatures.get(name)!;
  const flow = (name: string) => reading.flows.get(name)!;

  const known = loads.map(({ on, load, law }) => ({
    name: load.name,
    on,
    power: law ? law.power(chip) : load.power,
  }));
  const warm = structure.warm.map(({ name, on }) => ({ name, on, power: flow(name) }));
  const put = [...known, ...warm].map((source) =>
    source.on === place.hottest ? { ...source, on: place.die } : source,
  );
  const total = put.reduce((sum, { power }) => sum + power, 0);
  const shareOf = (power: number) => (total > 0 ? power / total : 0);

  refuseTooMuch(structure, total);
  const main = mainPath(structure, flow);
  const elements = structure.parts.map((part): BudgetElement => {
    const { name, from, to } = part;
    const [power, count] = [flow(name), part.count?.(mount) ?? 1];
    const ends = { power, from: temperature(from), to: temperature(to) };
    return {
      name,
      from,
      to,
      power,
      share: shareOf(power),
      drop: ends.from - ends.to,
      conductance: conductanceOf(translation.conductors.get(name)!, count, ends),
      count,
      main: main.includes(part),
    };
  });
  const { field } = reading;
  if (field) {
    const leaving = structure.parts
      .filter(({ from }) => from.startsWith("die at the "))
      .reduce((sum, { name }) => sum + flow(name), 0);
    elements.unshift(spreadingIn(field, main, temperature, { total: leaving, shareOf }));
  }
  const places = structure.places.map((name) => ({
    name,
    temperature: temperature(name),
    rise: temperature(name) - stage,
  }));
  const limit = limitOf(mount, catalogue)?.(stage);
  return new Budget({
    name: mount.name,
    places,
    chip: places.find(({ name }) => name === structure.chip)!,
    stage,
    limit,
    sources: put.map((source) => ({ ...source, share: shareOf(source.power) })),
    elements,
    warnings: [
      ...readingWarnings(translation, [reading]),
      ...mountWarnings(mount),
      ...wiringWarnings(mount, temperature),
      ...limitWarnings(limit, stage),
      ...stageWarnings(structure),
      ...otherStates(mount, catalogue),
    ],
    provenance: provenanceOf(mount, translation),
    solution,
    field,
    contacts: field ? contactGroups(mount) : [],
    quickRise,
    cooling: stageInBudget(structure, total),
    detectors: detectors(mount, chip, catalogue),
  });
}

/** Inside the sheet, from the hottest place to where the main path takes the heat. */
function spreadingIn(
  field: SheetField,
  main: readonly Part[],
  temperature: (place: string) => number,
  { total, shareOf }: { readonly total: number; shareOf(power: number): number },
): BudgetElement {
  const to = main[0]?.from ?? place.stage;
  const drop = field.hottest.temperature - temperature(to);
  return {
    name: spreading,
    from: place.hottest,
    to,
    power: total,
    share: shareOf(total),
    drop,
    // Where heat is too little to make a drop, there is nothing to divide by.
    conductance: drop > 1e-12 * field.hottest.temperature ? total / drop : Number.NaN,
    count: 1,
    main: true,
  };
}

/** Heat over drop; where there is no drop to divide by, G at that temperature. */
function conductanceOf(
  conductor: Conductor,
  count: number,
  ends: { readonly power: number; readonly from: number; readonly to: number },
): number {
  const drop = ends.from - ends.to;
  return Math.abs(drop) > 1e-9 * ends.to && ends.power / drop > 0
    ? ends.power / drop
    : count * conductor.conductance(ends.to);
}

/** Parts from the die down to the stage, at each place the one with the largest flow. */
function mainPath({ chip, parts }: Structure, flow: (part: string) => number): readonly Part[] {
  // Parts are written hot to cold; heat that runs backward is not on the way out.
  const largest = (candidates: readonly Part[]) =>
    candidates.reduce<Part | undefined>(
      (best, part) => (!best || flow(part.name) > flow(best.name) ? part : best),
      undefined,
    );
  const path: Part[] = [];
  const starts = parts.filter(({ from }) => from === chip);
  const atDie = parts.filter(({ from }) => from.startsWith("die at the "));
  let next = largest(starts.length > 0 ? starts : atDie);
  while (next && !path.includes(next)) {
    path.push(next);
    const at: string = next.to;
    next = largest(parts.filter(({ from }) => from === at));
  }
  return path;
}

/** What is odd about a mount itself. */
function mountWarnings(mount: PlainMount): string[] {
  const warnings: string[] = [];
  const { bonds, die } = mount;
  if (bonds) {
    const room = bondRoom(mount);
    if (bonds.count > room) {
      warnings.push(`bonds: ${bonds.count} do not fit; the edges have room for ${room}.`);
    }
  }
  if (!isSheet(mount) && mount.loads.some((load) => "map" in load && load.map !== undefined)) {
    warnings.push(
      "loads: the quick model of the die spreads them evenly; their maps need the sheet.",
    );
  }
  if (die.model === "centre and edge" && !bonds) {
    warnings.push(
      "spreading in the die: counted towards four cooled edges; clamps and glue spots draw the " +
        "heat to points, which costs more. The sheet model tells.",
    );
  }
  return warnings;
}

/** Wires bring heat down to the temperature given for their coldest end, whatever it meets there. */
function wiringWarnings(
  mount: PlainMount,
  temperature: (place: string) => number,
): readonly string[] {
  return mount.loads.flatMap((load, i) => {
    if (load.kind !== "wiring") return [];
    const end = toSI(`loads[${i}].stages`, load.stages.at(-1)?.temperature, "temperature");
    const on = load.on === "box" ? place.boxByDie : chipPlace(mount);
    const meets = temperature(on);
    if (Math.abs(end - meets) <= 0.25 * meets) return [];
    const name = load.name ?? "wiring";
    return [
      `${name}: its coldest end is given at ${formatQuantity(end, "K")}, ` +
        `but what it ends on is at ${formatQuantity(meets, "K")}.`,
    ];
  });
}

function limitWarnings(limit: number | undefined, stage: number): readonly string[] {
  if (limit === undefined || limit > stage) return [];
  return [
    `limit: ${formatQuantity(limit, "K", 4)} is not above the stage itself, ` +
      `${formatQuantity(stage, "K", 4)}; no mount holds it.`,
  ];
}

/** @throws RangeError with what to do when the stage is not known to take the heat */
function refuseTooMuch({ stage }: Structure, total: number): void {
  if (!("cooling" in stage) || total <= stage.cooling.largestPower) return;
  throw new RangeError(
    `stage: ${formatQuantity(total, "W")} is more than it is known to take, ` +
      `${formatQuantity(stage.cooling.largestPower, "W")}. Lower the loads, sink the wiring at a ` +
      "warmer stage, or give a cooling curve that goes further.",
  );
}

function stageWarnings({ stage }: Structure): readonly string[] {
  return "salt" in stage && stage.salt ? stage.salt.warnings : [];
}

function stageInBudget({ stage }: Structure, total: number): BudgetStage | undefined {
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
  { loads, limit }: PlainMount,
  chip: number,
  catalogue: Catalogue,
): readonly BudgetDetector[] {
  const named: [string, ResonatorOptions, string][] = loads.flatMap((load, i) =>
    load.kind === "readout" && "resonator" in load
      ? [[load.name ?? "readout", load.resonator, `loads[${i}].resonator`]]
      : [],
  );
  if (limit && "quality" in limit) named.push(["limit", limit.resonator, "limit.resonator"]);
  return named.map(([name, options, field]) => {
    const film = resonator(options, catalogue, field);
    return {
      name,
      internalQuality: film.internalQuality(chip),
      frequencyShift: film.frequencyShift(chip),
      ...(film.superconductor.densityOfStates !== undefined && {
        quasiparticleDensity: quasiparticleDensity(film.superconductor, chip),
      }),
    };
  });
}

/**
 * Whether a readout that grows with temperature has other states of rest, by the quick model: the chip
 * is held at a temperature, and what it then gives away is set against what its loads bring.
 */
function otherStates(mount: PlainMount, catalogue: Catalogue): readonly string[] {
  const quick: PlainMount = { ...mount, die: { ...mount.die, model: "centre and edge" } };
  const { network, structure, loads } = translate(quick, catalogue);
  const warm = loads.filter(({ law }) => law);
  if (warm.length === 0) return [];
  const { chip } = structure;
  const load = heatOn(chip, loads);
  if (typeof load === "number") return [];
  const taken = (T: number) => {
    const nodes = network.nodes.map((n) => (n.name === chip ? { name: chip, temperature: T } : n));
    const { flows } = solveSteady({ ...network, nodes });
    return flows.reduce((sum, { from, to, power }) => {
      return sum + (from === chip ? power : to === chip ? -power : 0);
    }, 0);
  };
  const coldest = Math.min(...network.nodes.flatMap((n) => n.temperature ?? []));
  const { states, message } = steadyStates(load, taken, {
    from: coldest,
    to: hottestOfRest(mount, catalogue),
  });
  return states.length === 1 ? [] : [`readout: ${message}`];
}

/** No resonator dissipates above its critical temperature, so that no state of rest is sought there. */
function hottestOfRest({ loads }: PlainMount, catalogue: Catalogue): number {
  return Math.max(
    ...loads.flatMap((load, i) =>
      load.kind === "readout" && "resonator" in load
        ? [
            resonator(load.resonator, catalogue, `loads[${i}].resonator`).superconductor
              .criticalTemperature,
          ]
        : [],
    ),
  );
}
