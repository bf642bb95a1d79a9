/**
 * A panel without its looks: numbers of its inputs → mount → budget, figures and text. The page and
 * Node run this same code.
 * @module
 */
import type { MarginCase } from "../../design/confidence/margin.js";
import { numberAt, readWith, valueAt, withField } from "../../design/field.js";
import { sizeByMedians } from "../../design/sizing/size.js";
import { sweep } from "../../design/sweeping/sweep.js";
import { Sweep } from "../../design/sweeping/sweep-result.js";
import type { Catalogue } from "../../materials/types.js";
import { dieModel } from "../../mount/assemble.js";
import { budgetOf } from "../../mount/budget.js";
import type { Budget } from "../../mount/budget-result.js";
import { Dies } from "../../mount/dies.js";
import { MountModel } from "../../mount/model.js";
import type { Mount } from "../../mount/mount.js";
import { pointRanges } from "../../mount/ranges.js";
import { readMount } from "../../mount/read.js";
import { isResolved } from "../../mount/things/die.js";
import { bondRoom } from "../../mount/things/edges.js";
import { monotoneCubic } from "../../numerics/interpolation.js";
import type { Figure } from "../../plots/figure.js";
import { curvesFigure } from "../../plots/figures/curves.js";
import { dropsFigure } from "../../plots/figures/drops.js";
import { roundNumbers } from "../../plots/scale.js";
import { furthest, type LeftRange, toldAnyway } from "../../ranges.js";
import { FieldError } from "../../units/errors.js";
import { formatGiven, formatQuantity, formatShare } from "../../units/format.js";
import { isSpread } from "../../units/spread.js";
import { CaseFinder, type CaseSample } from "./cases.js";
import {
  lastPlace,
  numberAtPlace,
  type ReadControl,
  scaledSpread,
  writtenValue,
} from "./controls.js";

/** Points of the curve: enough for a smooth line, and with a sheet few enough to wait for. */
const curvePoints = { nodes: 33, sheet: 17 };

/** A mount and its inputs, solved as they move. */
export class PanelModel {
  readonly #dies = new Dies();
  readonly #curveDies = new Dies();
  readonly #cases: CaseFinder;
  #sample: (CaseSample & { readonly key: string }) | undefined;
  /** Which values the unknowns have. */
  case: MarginCase = "nominal";

  constructor(
    readonly mount: Mount,
    readonly controls: readonly ReadControl[],
    readonly catalogue: Catalogue,
    /** Uncertain rows of the catalogue that move the mount, where they are known. */
    rows?: readonly string[],
  ) {
    this.#cases = new CaseFinder(catalogue, rows);
  }

  /** Uncertain rows of the catalogue that move the mount; undefined where nothing is uncertain. */
  uncertainRows(): readonly string[] | undefined {
    return this.#cases.uncertainRows(this.mount);
  }

  /** The numbers that stand in the mount. */
  get initial(): readonly number[] {
    return this.controls.map(({ initial }) => initial);
  }

  /**
   * The mount with these numbers, each in the unit of its input; what did not move stays as written. A spread
   * keeps its relative width.
   */
  mountAt(numbers: readonly number[]): Mount {
    return this.controls.reduce((mount, control, i) => {
      const { field, initial } = control;
      const number = numbers[i]!;
      if (number === initial) return mount;
      const present = valueAt(this.mount, field);
      const scaled =
        isSpread(present) && number > 0 ? scaledSpread(present, number / initial) : undefined;
      return withField(mount, field, scaled ?? writtenValue(control, number));
    }, this.mount);
  }

  /** The mount at these numbers with its unknowns as the case has them. */
  #at(numbers: readonly number[]): CaseSample {
    const key = JSON.stringify([this.case, numbers]);
    if (this.#sample?.key !== key) {
      this.#sample = { key, ...this.#cases.at(this.mountAt(numbers), this.case) };
    }
    return this.#sample;
  }

  /** Whether the die is solved in 2-D. */
  get sheet(): boolean {
    return isResolved(dieModel(readMount(this.mount)));
  }

  /**
   * The budget at these numbers.
   * @param twoNode - with the two-node model of the die, whatever the mount says
   * @throws FieldError for a number that the mount cannot have; Error where there is no steady state
   */
  solve(numbers: readonly number[], twoNode = false): Budget {
    const nominal = readMount(this.mountAt(numbers));
    const room = bondRoom(nominal);
    if (nominal.bonds && nominal.bonds.count > room) {
      const wanted = `at most ${room}, which fit on the edges`;
      throw new FieldError("bonds.count", wanted, nominal.bonds.count);
    }
    const { mount, catalogue } = this.#at(numbers);
    const plain = this.case === "nominal" ? nominal : readMount(mount);
    const model = new MountModel(plain, catalogue, {
      dies: this.#dies,
      ...(twoNode && { die: "two nodes" }),
    });
    return budgetOf(model.point());
  }

  /**
   * How many bonds the mount needs at these numbers, by the two-node model of its die, in words; undefined
   * where it has no bonds or no limit, or has no answer.
   */
  bondsNeeded(numbers: readonly number[]): string | undefined {
    const { mount, catalogue } = this.#at(numbers);
    if (!mount.bonds || !mount.limit) return undefined;
    try {
      const die = { ...mount.die, model: "two nodes" } as const;
      const { count, room } = sizeByMedians({ ...mount, die }, { catalogue });
      if (count === undefined) return "no number meets the limit";
      return count > room ? `${count}, of which ${room} fit` : `${count}, of ${room} that fit`;
    } catch {
      return undefined;
    }
  }

  /**
   * Rise of the chip over the range of one input, the others at their numbers. A sheet takes its time
   * over each point, so it is done point by point; what comes back last is the curve. Values that the
   * mount cannot have are left out. Unknowns stay where the case has them at these numbers.
   */
  *curve(numbers: readonly number[], index: number): Generator<undefined, Sweep, undefined> {
    const control = this.controls[index]!;
    const count = this.sheet ? curvePoints.sheet : curvePoints.nodes;
    const last = lastPlace(control);
    const along = Array.from({ length: count }, (_, i) =>
      numberAtPlace(control, Math.round((i * last) / (count - 1))),
    );
    const { field } = control;
    const written = [...new Set(along)].map((number) => writtenValue(control, number));
    const nominal = this.mountAt(numbers);
    const { mount, catalogue } = this.#at(numbers);
    // Where the case moves the input itself, it moves it by the same factor all along.
    const factor = numberAt(readMount(mount), field) / numberAt(readMount(nominal), field);
    const isMoved = Math.abs(factor - 1) > 1e-9;
    const inCase = (value: number | string) =>
      isMoved ? factor * numberAt(readWith(nominal, field, value), field) : value;
    if (!this.sheet) {
      const axis = { field, values: written.map(inCase) } as unknown as Parameters<typeof sweep>[1];
      const swept = sweep(mount, axis, undefined, { catalogue });
      if (!isMoved) return swept;
      const data = curveData(swept);
      return riseCurve(field, { ...data, values: data.values.map((value) => value / factor) });
    }
    let refused: unknown;
    const points: { at: number; chip: number; stage: number }[] = [];
    const left: LeftRange[] = [];
    for (const value of written) {
      yield undefined;
      try {
        const plain = readMount(withField(mount, field, inCase(value)));
        const model = new MountModel(plain, catalogue, { dies: this.#curveDies });
        const point = model.point();
        const { chip, stage } = point;
        points.push({ at: numberAt(plain, field) / (isMoved ? factor : 1), chip, stage });
        left.push(...pointRanges(point));
      } catch (error) {
        // The curve has no point here; moved there, the input itself says why.
        refused = error;
      }
    }
    if (points.length < 2) throw refused;
    const temperatures = points.flatMap(({ chip, stage }) => [chip, stage]);
    const warnings = toldAnyway(furthest(left));
    return riseCurve(field, { values: points.map(({ at }) => at), temperatures, warnings });
  }
}

/** A curve as plain data: values of the field in SI, and chip and stage at each [K]. */
export interface CurveData {
  readonly values: readonly number[];
  readonly temperatures: readonly number[];
  /** Ranges that laws left along it. */
  readonly warnings: readonly string[];
}

export function riseCurve(field: string, { values, temperatures, warnings }: CurveData): Sweep {
  const axis = { field, values: Float64Array.from(values) };
  return new Sweep({
    name: field,
    axes: [axis],
    places: ["chip", "stage"],
    chip: "chip",
    temperatures: Float64Array.from(temperatures),
    warnings,
  });
}

export function curveData(rises: Sweep): CurveData {
  const values = [...rises.axes[0]!.values];
  const ends = (i: number) => [rises.temperature(i), rises.temperature(i, 0, rises.places.at(-1))];
  return { values, temperatures: values.flatMap((_, i) => ends(i)), warnings: rises.warnings };
}

/** The curve of one input, with its present number marked. */
export function curveOf(
  model: PanelModel,
  rises: Sweep,
  index: number,
  numbers: readonly number[],
  budget: Budget,
): Figure {
  const { field, label, logarithmic } = model.controls[index]!;
  const plain = readMount(model.mountAt(numbers));
  const room = bondRoom(plain);
  const isPassed = field === "bonds.count" && rises.axes[0]!.values.some((count) => count > room);
  const extrapolated = rises.warnings.length > 0 ? ", partly extrapolated" : "";
  const figure = curvesFigure(smooth(rises, logarithmic), {
    title: `Chip above the stage against ${label}${extrapolated}`,
    ...(isPassed && { end: { at: room, text: "no more fit" } }),
    scale: logarithmic ? "logarithmic" : "linear",
    ...(budget.limit !== undefined && { limit: budget.limit - budget.stage }),
    mark: { at: numberAt(plain, field), text: valueText(model.controls[index]!, numbers[index]!) },
  });
  return { ...figure, alt: [figure.alt, ...rises.warnings].join(" ") };
}

/** Points drawn between two that were solved: a line without corners. */
const pointsBetween = 6;

/** A curve through the points of a sweep, without corners. */
function smooth(rises: Sweep, logarithmic: boolean): Sweep {
  const { values, temperatures, warnings } = curveData(rises);
  if (values.length < 3 || temperatures.some((T) => !Number.isFinite(T))) return rises;
  const along = (value: number) => (logarithmic ? Math.log(value) : value);
  const xs = values.map(along);
  const through = (end: 0 | 1) => {
    const ys = values.map((_, i) => temperatures[2 * i + end]!);
    return monotoneCubic(xs, ys);
  };
  const [chip, stage] = [through(0), through(1)];
  const fine = xs.flatMap((x, i) => {
    const next = xs[i + 1];
    if (next === undefined) return [x];
    return Array.from({ length: pointsBetween }, (_, k) => x + (k / pointsBetween) * (next - x));
  });
  return riseCurve(rises.axes[0]!.field, {
    values: fine.map((x) => (logarithmic ? Math.exp(x) : x)),
    temperatures: fine.flatMap((x) => [chip.value(x), stage.value(x)]),
    warnings,
  });
}

/**
 * The drops on an axis that stays as it was while they fit and fill a quarter of it, so that bars grow and
 * shrink under a slider and not their scale.
 * @param held - end of the axis as it was [mK]
 */
export function dropsOf(
  budget: Budget,
  held = 0,
): { readonly figure: Figure; readonly end: number } {
  const figure = dropsFigure(budget);
  const { layout } = figure as { layout: { xaxis: { range: [number, number] } } };
  // A third more than the bars themselves, for the numbers behind them.
  const needed = 1.25 * layout.xaxis.range[1];
  const isFitting = needed <= held && needed > held / 4;
  const end = isFitting ? held : roundNumbers(needed, 10 * needed)[0]!;
  const xaxis = { ...layout.xaxis, range: [0, end] };
  return { figure: { ...figure, layout: { ...layout, xaxis } }, end };
}

/** A number of an input with its unit: `1.5 mm`. */
export function valueText({ unit }: ReadControl, number: number): string {
  return `${formatGiven(number, "")} ${unit}`.trim();
}

/** What a panel answers, as name and value. */
export function answerRows(budget: Budget): readonly (readonly [name: string, value: string])[] {
  const { chip, stage, limit, largestDrop, inWords } = budget;
  const rows: [string, string][] = [
    ["Chip", inWords.chip + inWords.mark],
    [
      "above the stage",
      `${inWords.rise(chip.rise)}, the stage at ${formatQuantity(stage, "K", 4)}`,
    ],
  ];
  if (limit !== undefined) {
    rows.push(["Limit", `${formatQuantity(limit, "K", 4)}: ${inWords.margin}`]);
  }
  rows.push(["Heat", formatQuantity(budget.total, "W")]);
  if (chip.rise > 1e-9 * stage) {
    const share = formatShare(largestDrop.drop / chip.rise);
    rows.push([
      "Largest drop",
      `${largestDrop.name}: ${inWords.largestDrop}, ${share} of the rise`,
    ]);
  }
  return rows;
}

/** The answer in a sentence, with warnings. */
export function answerText(budget: Budget): string {
  return [budget.summary, ...budget.warnings].join(" ");
}
