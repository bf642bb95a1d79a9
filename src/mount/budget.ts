/**
 * The thermal budget: who puts heat in, where it leaves, which element costs how many millikelvin,
 * what margin is left, and where each number came from.
 * @module
 */
import type { Conductor } from "../conductor.js";
import { standardCatalogue } from "../materials/standard.js";
import type { Catalogue } from "../materials/types.js";
import type { SteadySolution } from "../network/solution.js";
import { SteadyNetwork } from "../network/steady.js";
import { given, type Provenance } from "../provenance.js";
import type { Mount } from "./description.js";
import { place } from "./parts.js";
import { rangeWarnings } from "./ranges.js";
import { type PlainMount, readMount } from "./read.js";
import {
  budgetCsv,
  budgetHtml,
  budgetMarkdown,
  budgetSummary,
  budgetText,
  numbersHtml,
  numbersMarkdown,
  numbersText,
} from "./report.js";
import { type Translation, translate } from "./translate.js";

/** Heat put in by one load. */
export interface BudgetSource {
  readonly name: string;
  readonly on: string;
  /** [W] */
  readonly power: number;
  /** Of all the heat put in. */
  readonly share: number;
}

/** One element between two places. */
export interface BudgetElement {
  readonly name: string;
  readonly from: string;
  readonly to: string;
  /** Heat through it, from `from` to `to` [W]. */
  readonly power: number;
  /** Of all the heat that reaches the stage. */
  readonly share: number;
  /** Temperature of `from` above `to` [K]. */
  readonly drop: number;
  /** Heat over drop [W/K]; all that stand side by side. */
  readonly conductance: number;
  /** How many stand side by side. */
  readonly count: number;
  /** Whether the main path, along the largest flow from chip to stage, runs through it. */
  readonly main: boolean;
}

/** A place and its temperature. */
export interface BudgetPlace {
  readonly name: string;
  /** [K] */
  readonly temperature: number;
  /** Above the stage [K]. */
  readonly rise: number;
}

/** What a mount does, ready to print. */
export class Budget {
  constructor(
    readonly name: string,
    /** Hot to cold, the stage last. */
    readonly places: readonly BudgetPlace[],
    /** Hottest place on the die. */
    readonly chip: BudgetPlace,
    /** [K] */
    readonly stage: number,
    /** Highest allowed chip temperature [K], when the mount gives one. */
    readonly limit: number | undefined,
    readonly sources: readonly BudgetSource[],
    readonly elements: readonly BudgetElement[],
    /** In words: where the model was stretched, what is superconducting, what does not fit. */
    readonly warnings: readonly string[],
    readonly provenance: readonly Provenance[],
    readonly solution: SteadySolution,
  ) {}

  /** Heat that reaches the stage [W]. */
  get total(): number {
    return this.sources.reduce((sum, { power }) => sum + power, 0);
  }

  /** Limit less chip temperature [K]; negative when the chip is too warm; undefined without limit. */
  get margin(): number | undefined {
    return this.limit === undefined ? undefined : this.limit - this.chip.temperature;
  }

  /** Elements of the main path, hot to cold. */
  get mainPath(): readonly BudgetElement[] {
    return this.elements.filter(({ main }) => main);
  }

  /** The element of the main path that costs the most. */
  get governs(): BudgetElement {
    return this.mainPath.reduce((most, element) => (element.drop > most.drop ? element : most));
  }

  /** The answer in two or three sentences. */
  get summary(): string {
    return budgetSummary(this);
  }

  /** Aligned columns for a terminal. */
  toText(): string {
    return budgetText(this);
  }

  /** Tables for a notebook or a merge request. */
  toMarkdown(): string {
    return budgetMarkdown(this);
  }

  /** Tables for a page; every text is escaped. */
  toHtml(): string {
    return budgetHtml(this);
  }

  /** Only the numbers used and their sources, to show by themselves. */
  numbers(): { toText(): string; toMarkdown(): string; toHtml(): string } {
    return {
      toText: () => numbersText(this),
      toMarkdown: () => numbersMarkdown(this),
      toHtml: () => numbersHtml(this),
    };
  }

  /** One table, SI without prefixes: section, name, from, to, quantity, value, unit, source. */
  toCsv(): string {
    return budgetCsv(this);
  }
}

/** How to make a budget. */
export interface BudgetOptions {
  /** The library's own when absent. */
  readonly catalogue?: Catalogue;
}

/**
 * Solves a mount and draws up its budget.
 * @throws FieldError or UnknownNameError naming a wrong field; RangeError when a temperature is where
 * a law is refused; SolveError when no steady state was reached
 */
export function thermalBudget(mount: Mount, options: BudgetOptions = {}): Budget {
  const catalogue = options.catalogue ?? standardCatalogue();
  const plain = readMount(mount);
  return drawUp(plain, translate(plain, catalogue));
}

/** The budget of a mount that is already translated. */
export function drawUp(mount: PlainMount, translation: Translation): Budget {
  const { network, structure, loads } = translation;
  const solution = new SteadyNetwork(network).solve();
  const temperature = (name: string) => solution.temperatures.get(name)!;
  const flows = new Map(solution.flows.map((flow) => [flow.link, flow.power]));

  const known = loads.map(({ on, load }) => ({ name: load.name, on, power: load.power }));
  const warm = structure.warm.map(({ name, on }) => ({ name, on, power: flows.get(name)! }));
  const put = [...known, ...warm];
  const total = put.reduce((sum, { power }) => sum + power, 0);

  const main = mainPath(
    structure.chip,
    solution,
    structure.parts.map((p) => p.name),
  );
  const elements = structure.parts.map(({ name, from, to, count }) => {
    const power = flows.get(name)!;
    const drop = temperature(from) - temperature(to);
    return {
      name,
      from,
      to,
      power,
      share: total > 0 ? power / total : 0,
      drop,
      conductance: conductanceOf(translation.conductors.get(name)!, count?.(mount) ?? 1, {
        power,
        from: temperature(from),
        to: temperature(to),
      }),
      count: count?.(mount) ?? 1,
      main: main.has(name),
    };
  });
  const places = structure.places.map((name) => ({
    name,
    temperature: temperature(name),
    rise: temperature(name) - mount.stage,
  }));
  const { limit } = mount;
  return new Budget(
    mount.name,
    places,
    places.find(({ name }) => name === structure.chip)!,
    mount.stage,
    limit && ("rise" in limit ? mount.stage + limit.rise : limit.temperature),
    put.map((source) => ({ ...source, share: total > 0 ? source.power / total : 0 })),
    elements,
    warningsOf(mount, translation, solution),
    provenanceOf(mount, translation),
    solution,
  );
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

/** Links from the chip down to the stage, at each place the one with the largest flow. */
function mainPath(
  chip: string,
  solution: SteadySolution,
  parts: readonly string[],
): ReadonlySet<string> {
  const path = new Set<string>();
  const outward = new Map<string, { link: string; to: string; power: number }>();
  for (const { link, from, to, power } of solution.flows) {
    if (!parts.includes(link)) continue;
    // Parts are written hot to cold; heat that runs backward is not on the way out.
    const best = outward.get(from);
    if (!best || power > best.power) outward.set(from, { link, to, power });
  }
  for (let at: string = chip; at !== place.stage; ) {
    const next = outward.get(at);
    if (!next || path.has(next.link)) break;
    path.add(next.link);
    at = next.to;
  }
  return path;
}

/** @throws RangeError where a law is refused at the temperatures reached */
function warningsOf(
  mount: PlainMount,
  translation: Translation,
  solution: SteadySolution,
): string[] {
  const warnings = rangeWarnings(translation, (name) => {
    const T = solution.temperatures.get(name)!;
    return [T, T];
  });
  const { bonds } = mount;
  if (bonds && mount.pads) {
    const room = bondRoom(mount);
    if (bonds.count > room) {
      warnings.push(`bonds: ${bonds.count} do not fit; the edges have room for ${room}.`);
    }
  }
  if (mount.die.model !== "one node" && !bonds) {
    warnings.push(
      "spreading in the die: counted towards four cooled edges; clamps and glue spots draw the " +
        "heat to points, which costs more.",
    );
  }
  return warnings;
}

/** How many bonds have room on the edges that carry them. */
export function bondRoom({ die, bonds, pads }: PlainMount): number {
  if (!bonds || !pads) return 0;
  const pitch = bonds.pitch ?? 1.5 * pads.width;
  // Along each edge the pads stay clear of the corners, where those of the next edge stand.
  const along = (side: number) => {
    const free = side - 2 * pads.length;
    return Math.max(0, Math.floor((free - pads.width) / pitch + 1e-9) + 1);
  };
  const [a, b] = [along(die.width), along(die.length)];
  const padsThatFit = [a, 2 * a, 2 * a + b, 2 * a + 2 * b][(bonds.edges ?? 4) - 1]!;
  return padsThatFit * (bonds.perPad ?? 1);
}

/** Each number once, in the order of use; the mount's own numbers with those it gave. */
function provenanceOf(mount: PlainMount, translation: Translation): Provenance[] {
  const { conductors, loads, structure } = translation;
  const rows = new Map<string, Provenance>();
  const put = (row: Provenance) =>
    rows.set(`${row.quantity}|${row.value}|${row.unit}|${row.source}`, row);
  for (const { provenance } of [...conductors.values(), ...loads.map(({ load }) => load)]) {
    provenance?.forEach(put);
  }
  for (const { name, count } of structure.parts) {
    if (count && count(mount) > 1) put(given(`${name}: number`, count(mount), ""));
  }
  for (const { name, temperature } of structure.warm) {
    put(given(`${name}: temperature of the warm end`, temperature(mount), "K"));
  }
  put(given("stage: temperature", mount.stage, "K"));
  return [...rows.values()];
}
