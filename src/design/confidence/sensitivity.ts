/**
 * Which unknown has the largest effect on the margin: the chip's rise between the low and the high end of each
 * unknown, all others at their medians, and the local slope of the rise there.
 * @module
 */
import { standardCatalogue } from "../../materials/standard.js";
import type { Mount } from "../../mount/mount.js";
import { provenanceLater } from "../../mount/numbers.js";
import { readMount } from "../../mount/read.js";
import { FieldError } from "../../units/errors.js";
import { formatGiven, formatNumber, formatRise, printedUnit } from "../../units/format.js";
import { Result, type ResultBasis } from "../../units/result.js";
import { quantityCell, type Table } from "../../units/table.js";
import { type CorrelatedPair, togetherWords } from "./correlated.js";
import type { ChipStageLimit } from "./evaluated.js";
import type { OutsideOptions } from "./sampled-ranges.js";
import { SteadyStateSlopes } from "./slopes.js";
import { Inputs, inputNamed, type UncertainInput } from "./uncertain-inputs.js";
import {
  type Evaluated,
  tallied,
  type UncertainMountOptions,
  uncertainMount,
} from "./uncertain-mount.js";

/** What one uncertain input does to the chip. */
export interface Effect {
  /** The input that varies. */
  readonly input: UncertainInput;
  /** Rise of the chip above the stage with the input at its low and its high end, 5 % and 95 % [K]. */
  readonly riseAtLow: number;
  /** At the high end [K]. */
  readonly riseAtHigh: number;
  /** Margin there [K]; NaN for a mount without a limit. */
  readonly marginAtLow: number;
  /** At the high end [K]. */
  readonly marginAtHigh: number;
  /** d(rise)/d(input) at the medians [K over the input's unit]. */
  readonly slope: number;
  /** d ln(rise)/d ln(input) at the medians: per cent of the rise for a per cent of the input. */
  readonly logarithmicSlope: number;
}

/** How the rise depends on each uncertain input, ready to print and to draw. */
export class Sensitivity extends Result {
  /** @internal Made by `sensitivity`. */
  constructor(
    /** The mount's name. */
    readonly name: string,
    /** Chip, stage and limit with every input at its median [K]. */
    readonly medians: ChipStageLimit,
    /** Longest way between low and high first. */
    readonly effects: readonly Effect[],
    basis: ResultBasis = {},
    /** Inputs that vary together; here each is moved by itself. */
    readonly pairs: readonly CorrelatedPair[] = [],
  ) {
    super(basis);
  }

  /** Rise of the chip above the stage with every input at its median [K]. */
  get rise(): number {
    return this.medians.chip - this.medians.stage;
  }

  /** Limit less chip with every input at its median [K]; NaN without a limit. */
  get margin(): number {
    return this.medians.limit - this.medians.chip;
  }

  /** The effect of an input, by its name, its field or its row. @throws FieldError */
  of(name: string): Effect {
    const { inputs } = this;
    return this.effects[inputs.indexOf(inputNamed(inputs, name, "sensitivity"))]!;
  }

  /** The inputs, in the order of their effects. */
  get inputs(): readonly UncertainInput[] {
    return this.effects.map(({ input }) => input);
  }

  /** Those that move the rise by more than a thousandth of it. */
  get noticeable(): readonly Effect[] {
    return this.effects.filter((effect) => swing(effect) > 1e-3 * this.rise);
  }

  /** The input whose worse end has the largest effect: margin where there is a limit, rise where there is none. */
  get costliest(): Effect {
    return this.effects.reduce((most, effect) =>
      cost(this, effect) > cost(this, most) ? effect : most,
    );
  }

  protected get answer(): string {
    const { costliest, rise, margin } = this;
    const { input, riseAtLow, riseAtHigh } = costliest;
    const what = Number.isNaN(margin) ? "raises the chip the most" : "reduces the margin the most";
    const state = Number.isNaN(margin)
      ? ""
      : margin < 0
        ? `, too warm by ${kelvin(-margin)}`
        : `, with ${kelvin(margin)} of margin`;
    return (
      `With every unknown at its median the chip is ${kelvin(rise)} above the stage${state}. ` +
      `The unknown that ${what} is ${input.name}: between ${inputValue(input, input.low)} and ` +
      `${inputValue(input, input.high)} the rise goes from ${kelvin(riseAtLow)} to ${kelvin(riseAtHigh)}.`
    );
  }

  /** How many the table leaves out. */
  protected override notes(): readonly string[] {
    const left = this.effects.length - this.noticeable.length;
    const alone = togetherWords(this.pairs).map((words) => `${words} Here each moves by itself.`);
    if (left === 0) return alone;
    const [others, them] =
      left === 1 ? ["One other unknown moves", "it"] : [`${left} other unknowns move`, "each"];
    const rest = `${others} the rise by less than a thousandth${left === 1 ? "" : ` ${them}`}.`;
    return [rest, ...alone];
  }

  protected tables(): readonly Table[] {
    return [
      {
        title: "What each unknown does to the rise, the others at their medians",
        columns: [
          "unknown",
          "5 %",
          "median",
          "95 %",
          "rise at 5 %",
          "rise at 95 %",
          "per 1 % more",
        ],
        numbersFrom: 1,
        rows: this.noticeable.map(({ input, riseAtLow, riseAtHigh, logarithmicSlope }) => [
          input.name,
          ...[input.low, input.median, input.high].map((x) =>
            quantityCell(x, input.unit, inputValue(input, x)),
          ),
          quantityCell(riseAtLow, "K", kelvin(riseAtLow)),
          quantityCell(riseAtHigh, "K", kelvin(riseAtHigh)),
          quantityCell(logarithmicSlope, "", percent(logarithmicSlope)),
        ]),
      },
    ];
  }
}

/** What the worse end takes from the medians' margin, or adds to their rise [K]. */
function cost({ rise, margin }: Sensitivity, effect: Effect): number {
  return Number.isNaN(margin)
    ? Math.max(effect.riseAtLow, effect.riseAtHigh) - rise
    : margin - Math.min(effect.marginAtLow, effect.marginAtHigh);
}

function kelvin(difference: number): string {
  if (!Number.isFinite(difference)) return "no steady state";
  return formatRise(difference);
}

/** Way of the rise between the ends of an input [K]. */
export function swing({ riseAtLow, riseAtHigh }: Effect): number {
  return riseAtLow === riseAtHigh ? 0 : Math.abs(riseAtHigh - riseAtLow);
}

/** A value of an input as it is read. */
export function inputValue({ unit }: Pick<UncertainInput, "unit">, x: number): string {
  return printedUnit(formatGiven(Number(x.toPrecision(3)), unit));
}

/** `+0.53 %`, `−1.2 %`; no more digits than matter beside a rise. */
function percent(slope: number): string {
  const shown = Math.abs(slope) < 5e-4 ? "0" : formatNumber(Math.abs(slope), 2);
  return `${shown === "0" ? "" : slope < 0 ? "−" : "+"}${shown} %`;
}

/** How to ask: of which catalogue, and which of its rows count beside the mount's spreads. */
export type SensitivityOptions = Pick<UncertainMountOptions, "catalogue" | "rows"> & OutsideOptions;

/**
 * How much each uncertain input of a mount moves the chip. Two solves an input, and a local slope from
 * the laws of the parts alone, which all share one transposed solve.
 * @throws FieldError for a mount in which nothing is uncertain, and as `uncertainMount` does; RangeError
 * where more than 1 % of the solves leave a range beyond which a law is refused
 */
export function sensitivity(mount: Mount, options: SensitivityOptions = {}): Sensitivity {
  const { catalogue = standardCatalogue(), rows = "all" } = options;
  const { model: compiled, tally } = tallied(uncertainMount(mount, { catalogue, rows }));
  if (compiled.inputs.length === 0) {
    const wanted = "a mount with a spread, such as bonds.length: spread(…)";
    throw new FieldError(mount.name, wanted, "none");
  }
  const inputs = new Inputs(compiled.inputs, readMount(mount), catalogue);
  const rest = new SteadyStateSlopes(inputs.mount, catalogue);
  const { chip, stage } = rest.at;
  compiled.evaluate(compiled.medians);
  const effects = inputs.list.map((input, i): Effect => {
    const moved = inputs.moving([i]);
    const values = (x: number) => {
      const changed = compiled.medians.slice();
      changed[i] = x;
      return changed;
    };
    const low = compiled.evaluate(values(input.low));
    const high = compiled.evaluate(values(input.high));
    const slopes = rest.slopes((x) => moved(values(x)), input.median, stepOf(input));
    const slope = slopes.chip - slopes.stage;
    return {
      input,
      riseAtLow: riseOf(low),
      riseAtHigh: riseOf(high),
      marginAtLow: low.margin,
      marginAtHigh: high.margin,
      slope,
      logarithmicSlope: (input.median * slope) / (chip - stage),
    };
  });
  return new Sensitivity(
    mount.name,
    rest.at,
    effects.sort((a, b) => swing(b) - swing(a)),
    {
      warnings: [...tally.warnings("ends of the unknowns", options), ...compiled.warnings],
      provenance: provenanceLater(mount, catalogue),
    },
    compiled.pairs,
  );
}

/** A chip that runs away is infinitely warm. */
function riseOf({ chip, stage }: Evaluated): number {
  return chip === Number.POSITIVE_INFINITY ? chip : chip - stage;
}

/** Small beside the value and within what it may be. */
function stepOf({ low, high, median }: UncertainInput): number {
  const within = Math.abs(high - low) / 40;
  return median === 0 ? within : Math.min(5e-3 * Math.abs(median), within);
}
