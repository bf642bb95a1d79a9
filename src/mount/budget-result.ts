/**
 * The thermal budget as a result: the heat loads, where the heat leaves, the drop of each element, what margin is left, and where each number came from.
 * It is longer than other files, since the result and its tables are read together.
 * @module
 */
import type { SheetField } from "../chip/field.js";
import type { SteadySolution } from "../network/solution.js";
import {
  formatAbout,
  formatAboutTemperature,
  formatNumber,
  formatQuantity,
  formatRise,
  formatShare,
  formatTemperature,
} from "../units/format.js";
import { numberTables, Result, type ResultContent, type ResultRow } from "../units/result.js";
import type { Table } from "../units/table.js";
import type { ContactGroup } from "./assemble.js";
import { dieModelWords } from "./die-models.js";
import type { DieModels } from "./die-trust.js";
import type { BondWires } from "./things/wires.js";

/** Heat of one load. */
export interface BudgetSource {
  /** Its name, as results and messages show it. */
  readonly name: string;
  /** What it falls on: the die or another part, by name. */
  readonly on: string;
  /** Power [W]. */
  readonly power: number;
  /** Of all heat loads. */
  readonly share: number;
  /** Whether a law of it was used outside of its range. */
  readonly extrapolated: boolean;
}

/** One element between two places. */
export interface BudgetElement {
  /** Its name, as results and messages show it. */
  readonly name: string;
  /** Place on its warm side. */
  readonly from: string;
  /** Place on its cold side. */
  readonly to: string;
  /** Heat through it, from `from` to `to` [W]. */
  readonly power: number;
  /** Of all heat loads. */
  readonly share: number;
  /** Temperature of `from` above `to` [K]. */
  readonly drop: number;
  /** Heat over drop [W/K]; all that stand side by side. NaN inside a sheet that has no drop. */
  readonly conductance: number;
  /** How many stand side by side. */
  readonly count: number;
  /** Whether the main path, along the largest flow from chip to stage, runs through it. */
  readonly main: boolean;
  /** Whether its law was used outside of its range. */
  readonly extrapolated: boolean;
}

/** A place and its temperature. */
export interface BudgetPlace {
  /** Its name, as results and messages show it. */
  readonly name: string;
  /** Temperature [K]. */
  readonly temperature: number;
  /** Above the stage [K]. */
  readonly rise: number;
}

/** A die beside the mount's own. */
export interface BudgetDie {
  /** Its name in the mount's `dies`. */
  readonly name: string;
  /** Its hottest point. */
  readonly hottest: BudgetPlace;
  /** The temperature of every place on it, when it is a sheet; as the budget's own for a map. */
  readonly field: SheetField | undefined;
  /** Where things touch it, when it is a sheet. */
  readonly contacts: readonly ContactGroup[];
  /** Temperature of the stage [K]. */
  readonly stage: number;
}

/** How a stage takes the heat. */
export interface BudgetStage {
  /** In words. */
  readonly name: string;
  /** Cooling power at its temperature [W]. */
  readonly power: number;
  /** The most it can take as far as is known [W]. */
  readonly largest?: number;
  /** For how long, when it uses up a store [s]. */
  readonly holdTime?: number;
}

/** A resonator at the chip's temperature. */
export interface BudgetDetector {
  /** The load or limit whose resonator it is. */
  readonly name: string;
  /** At the temperature of the chip. */
  readonly internalQuality: number;
  /** Shift of the frequency from zero temperature over the frequency. */
  readonly frequencyShift: number;
  /** Density of thermal quasiparticles [1/m³], where the density of states is known. */
  readonly quasiparticleDensity?: number;
}

type Derived = "total" | "margin" | "mainPath" | "largestDrop" | "extrapolated" | "inWords";

/** What a mount does, ready to print. */
export class Budget extends Result {
  /** The mount's name. */
  declare readonly name: string;
  /** Hot to cold, the stage last. */
  declare readonly places: readonly BudgetPlace[];
  /** Hottest point on the die. */
  declare readonly chip: BudgetPlace;
  /** Temperature of the stage [K]. */
  declare readonly stage: number;
  /** Highest allowed chip temperature [K], when the mount gives one. */
  declare readonly limit: number | undefined;
  /** What brings heat, largest first. */
  declare readonly sources: readonly BudgetSource[];
  /** What the heat crosses on its way, with the drop of each. */
  declare readonly elements: readonly BudgetElement[];
  /** Temperatures and flows of heat it was read from. */
  declare readonly solution: SteadySolution;
  /** The temperature of every place on the die, when it is a sheet. */
  declare readonly field: SheetField | undefined;
  /** Where things touch the die, when it is a sheet. */
  declare readonly contacts: readonly ContactGroup[];
  /** Dies beside the mount's own, in their order; none of a mount with one. */
  declare readonly dies: readonly BudgetDie[];
  /** Rise of the chip in the two-node model [K], beside the sheet's. */
  declare readonly twoNodeRise: number | undefined;
  /** How far phonons fly, and which model of the die that speaks for; for a die with places. */
  declare readonly dieModels: DieModels | undefined;
  /**
   * Rise of the chip with the other choice of phonons in each film about as thin as the waves of its phonons
   * [K]; undefined where no choice is in doubt.
   */
  declare readonly otherPhononsRise: number | "not solved" | undefined;
  /** How the stage takes the heat, when it is not simply held. */
  declare readonly cooling: BudgetStage | undefined;
  /** The bond wires of all dies, and how far tolerances of the box move their lengths. */
  declare readonly wires: readonly BondWires[];
  /** What the chip's temperature does to the resonators of the readout and of the limit. */
  declare readonly detectors: readonly BudgetDetector[];

  /** @internal Made by `thermalBudget`. */
  constructor(
    content: ResultContent<Budget, Derived | "otherPhononsRise">,
    /** Solves the mount once more. */
    otherPhononsRise: () => Budget["otherPhononsRise"] = () => undefined,
  ) {
    super(content);
    this.later("otherPhononsRise", otherPhononsRise);
  }

  /**
   * All heat loads [W]: what reaches the stage, and what wires to colder places take away, which
   * are among the elements.
   */
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

  /** The element of the main path with the largest drop. */
  get largestDrop(): BudgetElement {
    return this.mainPath.reduce((most, element) => (element.drop > most.drop ? element : most));
  }

  /**
   * Whether the chip's temperature rests on a law outside of its range: an element of the main path or a
   * load that brings a hundredth of the rise or more. No more than two digits of it are then printed.
   */
  get extrapolated(): boolean {
    return (
      this.mainPath.some(
        ({ extrapolated, drop }) => extrapolated && drop > 0.01 * this.chip.rise,
      ) || this.sources.some(({ extrapolated, share }) => extrapolated && share > 0.01)
    );
  }

  /** Its numbers as they may be printed: the chip's temperature, rises, drops and the margin, in K. */
  get inWords() {
    const { extrapolated, chip, stage, margin, largestDrop } = this;
    const kelvin = (difference: number, about = extrapolated) =>
      about ? formatAbout(difference, "K") : formatRise(difference);
    return {
      /** The chip's temperature. */
      chip: extrapolated
        ? formatAboutTemperature(chip.temperature, chip.rise)
        : formatTemperature(chip.temperature),
      /** A rise or a drop of it all [K]. */
      rise: (difference: number) => kelvin(difference),
      /** The drop of the element with the largest drop. */
      largestDrop: kelvin(largestDrop.drop, extrapolated || largestDrop.extrapolated),
      /** `1.20 mK of margin`, `too warm by 1.20 mK`, `over the limit, extrapolated`; the stage has its own. */
      margin:
        margin === undefined
          ? ""
          : margin >= 0
            ? `${kelvin(margin)} of margin${extrapolated ? ", extrapolated" : ""}`
            : extrapolated
              ? "over the limit, extrapolated"
              : `too warm by ${kelvin(-margin)}`,
      /** Beside a number of it all; empty where all laws hold. */
      mark: extrapolated ? ", extrapolated" : "",
      stage: formatTemperature(stage),
    };
  }

  protected get answer(): string {
    const { chip, stage, limit, largestDrop, inWords } = this;
    const reached =
      `The chip reaches ${inWords.chip} at its hottest point (${where(this)}), ` +
      `${inWords.rise(chip.rise)} above the stage at ${inWords.stage}${inWords.mark}.`;
    const held =
      limit === undefined ? "" : ` The limit is ${formatTemperature(limit)}: ${inWords.margin}.`;
    // A rise of rounding has no part to name.
    if (!(chip.rise > 1e-9 * stage)) return `${reached}${held} The heat flow is negligible.`;
    const share = largestDrop.drop / chip.rise;
    return (
      `${reached}${held} ${share > 0.5 ? "Most" : "The largest part"} of the rise, ` +
      `${inWords.largestDrop} or ${inWords.mark ? "about " : ""}${formatShare(share)}, falls over ${largestDrop.name}.`
    );
  }

  protected tables(): readonly Table[] {
    return [
      heatTable(this),
      elementsTable(this),
      ...detectorTables(this),
      ...wiresTable(this),
      placesTable(this),
    ];
  }

  protected override notes(): readonly string[] {
    return [modelOf(this), ...diesOf(this), ...phononsOf(this), balance(this)];
  }

  protected override folded(): readonly Table[] {
    return numberTables(this.provenance);
  }

  protected override *csvRows(): Generator<ResultRow> {
    for (const { name, temperature } of this.places) {
      yield ["place", name, "temperature", temperature, "K"];
    }
    yield ["limit", this.chip.name, "temperature", this.limit, "K"];
    yield ["limit", this.chip.name, "margin", this.margin, "K"];
    const other = this.otherPhononsRise;
    if (typeof other === "number") {
      yield ["place", this.chip.name, "rise with the other phonons", other, "K"];
    }
    for (const d of this.detectors) {
      yield ["resonator", d.name, "internal quality factor", d.internalQuality, ""];
      yield ["resonator", d.name, "frequency shift", d.frequencyShift, ""];
      yield ["resonator", d.name, "quasiparticle density", d.quasiparticleDensity, "1/m^3"];
    }
    for (const { name, length, shortest, longest } of this.wires) {
      yield ["wires", name, "length", length, "m"];
      yield ["wires", name, "shortest", shortest, "m"];
      yield ["wires", name, "longest", longest, "m"];
    }
    if (this.cooling) yield ["stage", this.cooling.name, "hold time", this.cooling.holdTime, "s"];
    for (const { name, on, power } of this.sources) {
      yield ["load", name, "power", power, "W", { to: on }];
    }
    for (const { name, from, to, main, ...e } of this.elements) {
      const section = main ? "main path" : "beside";
      yield [section, name, "number", e.count, "", { from, to }];
      yield [section, name, "heat", e.power, "W", { from, to }];
      yield [section, name, "conductance", e.conductance, "W/K", { from, to }];
      yield [section, name, "drop", e.drop, "K", { from, to }];
    }
  }
}

/** The hottest point: on a 2-D die by its distance from the lower left corner. */
function where({ chip, field }: Budget): string {
  if (!field) return chip.name;
  const { x, y, places } = field.hottest;
  const equal = places === undefined ? "" : `, one of ${places} that are equal`;
  return `x = ${formatQuantity(x, "m")}, y = ${formatQuantity(y, "m")}${equal}`;
}

/** Which model of the die was used, and what the two-node model says. */
function modelOf({ field, twoNodeRise, dieModels, chip, stage }: Budget): string {
  if (!field) return `The model of the die has ${chip.name === "die" ? "one node" : "two nodes"}.`;
  const { cellsX, cellsY } = field.grid;
  const quick =
    twoNodeRise === undefined
      ? ""
      : ` The two-node model gives a rise of ${formatRise(twoNodeRise)}: ` +
        `${formatRise(Math.abs(twoNodeRise - chip.rise))} ${twoNodeRise < chip.rise ? "too little" : "more"}.`;
  const kind = dieModels?.flown ? "one of flights, seen in" : "2-D,";
  const models = dieModels ? dieModelWords(dieModels, chip.rise) : "";
  return [
    `The die is ${kind} ${cellsX} × ${cellsY} cells, on average ` +
      `${formatRise(field.mean - stage)} above the stage.${quick}`,
    models,
  ]
    .filter(Boolean)
    .join(" ");
}

/** How warm further dies are. */
function diesOf({ dies, inWords }: Budget): readonly string[] {
  return dies.map(({ name, hottest, field }) => {
    const { rise } = hottest;
    const where = field
      ? ` at x = ${formatQuantity(field.hottest.x, "m")}, y = ${formatQuantity(field.hottest.y, "m")}`
      : "";
    const cells = field ? `, in ${field.grid.cellsX} × ${field.grid.cellsY} cells` : "";
    return `The hottest point of the die ${name} is ${inWords.rise(rise)} above the stage${where}${cells}.`;
  });
}

/** What the other choice of phonons would give. */
function phononsOf({ otherPhononsRise: rise }: Budget): readonly string[] {
  if (rise === undefined) return [];
  if (rise === "not solved") {
    return [
      "A film is about as thin as the waves of its phonons; the other choice of them was not solved.",
    ];
  }
  return [
    "A film is about as thin as the waves of its phonons. With the other choice of them, own or shared with " +
      `the die, the chip would be ${formatRise(rise)} above the stage; both are bounds.`,
  ];
}

function heatTable({ sources, total }: Budget): Table {
  return {
    title: "Heat loads",
    columns: ["load", "on", "power", "share"],
    numbersFrom: 2,
    rows: [
      ...sources.map(({ name, on, power, share, extrapolated }) => [
        marked(name, extrapolated),
        on,
        extrapolated ? formatAbout(power, "W") : formatQuantity(power, "W"),
        formatShare(share),
      ]),
      ["total", "", formatQuantity(total, "W"), ""],
    ],
  };
}

/** The name of a row, with what is to be known of its numbers. */
function marked(name: string, extrapolated: boolean): string {
  return extrapolated ? `${name}, extrapolated` : name;
}

function elementsTable({ chip, elements, mainPath }: Budget): Table {
  const inOrder = [...mainPath, ...elements.filter(({ main }) => !main)];
  return {
    title: "Elements from the chip to the stage",
    columns: ["element", "number", "heat", "share", "conductance", "drop", "of the rise"],
    numbersFrom: 1,
    rows: inOrder.map((e) => [
      marked(e.main ? e.name : `${e.name} (parallel path)`, e.extrapolated),
      String(e.count),
      formatQuantity(e.power, "W"),
      formatShare(e.share),
      !Number.isFinite(e.conductance)
        ? ""
        : e.extrapolated
          ? formatAbout(e.conductance, "W/K")
          : formatQuantity(e.conductance, "W/K"),
      e.extrapolated ? formatAbout(e.drop, "K") : formatRise(e.drop),
      e.main && chip.rise > 0 ? formatShare(e.drop / chip.rise) : "",
    ]),
  };
}

function placesTable({ places, extrapolated, stage }: Budget): Table {
  const temperature = (p: BudgetPlace) =>
    extrapolated && p.temperature !== stage
      ? formatAboutTemperature(p.temperature, p.rise)
      : formatTemperature(p.temperature);
  const rise = (p: BudgetPlace) =>
    extrapolated && p.rise !== 0 ? formatAbout(p.rise, "K") : formatRise(p.rise);
  return {
    title: "Temperatures",
    columns: ["place", "temperature", "above the stage"],
    numbersFrom: 1,
    rows: places.map((p) => [p.name, temperature(p), rise(p)]),
  };
}

function detectorTables({ detectors, cooling }: Budget): readonly Table[] {
  const tables: Table[] = [];
  if (cooling) {
    const { name, power, largest, holdTime } = cooling;
    const rows = [["heat load", formatQuantity(power, "W")]];
    if (largest !== undefined)
      rows.push(["largest measured cooling power", formatQuantity(largest, "W")]);
    if (holdTime !== undefined) {
      const hours = `${formatNumber(holdTime / 3600)} h`;
      rows.push(["holds for", Number.isFinite(holdTime) ? hours : "as long as there is no load"]);
    }
    tables.push({ title: `Stage: ${name}`, columns: ["quantity", "value"], numbersFrom: 1, rows });
  }
  if (detectors.length > 0) {
    tables.push({
      title: "Resonators at the hottest point",
      columns: [
        "resonator",
        "internal quality factor",
        "frequency shift",
        "thermal quasiparticles",
      ],
      numbersFrom: 1,
      rows: detectors.map((d) => [
        d.name,
        formatNumber(d.internalQuality),
        `${formatNumber(1e6 * d.frequencyShift, 2)} ppm`,
        d.quasiparticleDensity === undefined
          ? ""
          : `${formatNumber(1e-18 * d.quasiparticleDensity)} /µm³`,
      ]),
    });
  }
  return tables;
}

/** Lengths that follow from the box, and their tolerances. */
function wiresTable({ wires }: Budget): readonly Table[] {
  const found = wires.filter(({ isGiven }) => !isGiven);
  if (found.length === 0) return [];
  return [
    {
      title: "Bond wires, with all tolerances at either end of their 90 % intervals",
      columns: ["wires", "number", "length", "shortest", "longest"],
      numbersFrom: 1,
      rows: found.map(({ name, count, ...of }) => [
        name,
        String(count),
        ...[of.length, of.shortest, of.longest].map((length) => formatQuantity(length, "m")),
      ]),
    },
  ];
}

function balance({ solution: { steps, imbalance } }: Budget): string {
  const { relative } = imbalance;
  const to = relative === 0 ? "the last digit" : `${formatNumber(relative, 1)} of the largest flow`;
  return `Solved in ${steps} steps; heat balances at every place to ${to}.`;
}
