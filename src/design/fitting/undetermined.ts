/**
 * Refusal of a fit whose data do not determine its parameters. For a mount it says what to measure so
 * that its inputs can be told apart, which is tried on the model itself.
 * @module
 */
import { type Determination, determination, FitError } from "../../numerics/jacobian.js";
import { formatQuantity } from "../../units/format.js";
import { valuesOf } from "./fitted-model.js";
import type { HeatedMount, SolvedPlace } from "./heated-mount.js";

/** Parameters that the data can't tell apart, or not at all. */
export class UndeterminedError extends FitError {
  constructor(
    /** What the data leave open, in words. */
    readonly finding: string,
    /** Those that move together; one alone where the readings are insensitive to it. */
    readonly together: readonly string[],
    /** What to measure instead, in words. */
    readonly advice: string,
  ) {
    super(`${finding} ${advice}`);
  }
}

/** A fit to refuse. */
export interface RefusedFit {
  /** Best parameters, as they are fitted. */
  readonly parameters: Float64Array;
  /** What the uncertainty of each is compared with. */
  readonly scales: readonly number[];
  readonly jacobian: readonly Float64Array[];
  /** Of the residuals. */
  readonly variance: number;
  /** Names of the parameters that are not determined. */
  readonly together: readonly string[];
}

/** Singular values below this are within the noise of the derivatives. */
const smallest = 1e-7;
/** A parameter is not determined when its standard uncertainty is this many scales. */
const widest = 1;
/** Parameters with at least this part of a direction's largest component belong to it. */
const partOf = 0.2;

/**
 * Which of the first `names.length` parameters the data do not determine: those of the direction with the
 * smallest singular value, when it is 0 to within the noise or leaves a parameter uncertain by a scale.
 * @param scales - what a parameter's uncertainty is compared with: 1 for a logarithm
 * @param variance - of the residuals
 */
export function leftOpen(
  names: readonly string[],
  { norms, singularValues, directions, covariance }: Determination,
  scales: readonly number[],
  variance: number,
): readonly string[] {
  const largest = Math.max(...norms.subarray(0, names.length));
  const without = names.filter((_, j) => norms[j]! <= 1e-9 * largest || norms[j] === 0);
  if (without.length > 0) return without;
  const deviation = (j: number) => Math.sqrt(variance * covariance[j]![j]!) / scales[j]!;
  const wide = names.filter((_, j) => !(deviation(j) < widest));
  const last = singularValues.at(-1)!;
  if (last > smallest && wide.length === 0) return [];
  // The direction that contributes most to the widest parameter, among all singular values.
  const worst = names.reduce((w, _, j) => (deviation(j) > deviation(w) ? j : w), 0);
  const share = (k: number) => (directions[k]![worst]! / singularValues[k]!) ** 2;
  const k =
    last > smallest
      ? directions.reduce((best, _, at) => (share(at) > share(best) ? at : best), 0)
      : directions.length - 1;
  const moves = directions[k]!.slice(0, names.length).map(Math.abs);
  const most = Math.max(...moves);
  const together = names.filter((_, j) => moves[j]! >= partOf * most);
  return together.length > 0 ? together : wide;
}

/** Further readings that might determine the inputs. */
interface Proposal {
  readonly words: string;
  readonly at: readonly SolvedPlace[];
  readonly powers: readonly number[];
  readonly stages: readonly (number | undefined)[];
}

/** Finite-difference step, in scales of an input. */
const step = 1e-3;

/** The error for a fit whose inputs the readings do not determine, with what to measure instead. */
export function undeterminedInputs(model: HeatedMount, refused: RefusedFit): UndeterminedError {
  const { together } = refused;
  const what =
    together.length === 1
      ? `the readings are insensitive to ${together[0]}.`
      : `the readings can't tell ${inWords(together, "and")} apart: they change together.`;
  return new UndeterminedError(`fit: ${what}`, together, adviceFor(model, refused));
}

/**
 * Adds thermometers at further places, other stage temperatures and powers to the data, as fine as the
 * readings there are, and names those that would determine the inputs.
 */
function adviceFor(model: HeatedMount, refused: RefusedFit): string {
  const { scales, jacobian, variance, together } = refused;
  const inputs = model.parameters.filter(({ shared }) => !shared).map(({ name }) => name);
  const fineness = median(
    model.thermometers.flatMap(({ readings }) =>
      readings.uncertainties ? [...readings.uncertainties] : [Math.sqrt(variance)],
    ),
  );
  const unit = fineness / Math.sqrt(variance || 1);
  const solves = (proposal: Proposal): boolean => {
    const more = slopesOf(model, refused, inputs.length, proposal);
    if (!more || !(fineness > 0)) return false;
    // Shared errors are not counted in the proposed readings.
    const rows = more.map((row) => Float64Array.from(scales, (_, j) => (row[j] ?? 0) / unit));
    const known = determination([...jacobian, ...rows]);
    return leftOpen(inputs, known, scales, variance).length === 0;
  };
  const helpful = proposalsFor(model).filter(solves);
  const alone = together.length === 1;
  const apart = alone ? "tell it" : "tell them apart";
  const instead = alone
    ? "leave it as it is"
    : "give all but one of them from another measurement and fit that one";
  if (helpful.length === 0) {
    return `No further thermometer, stage temperature or power that was tried would ${apart}: ${instead}.`;
  }
  const words = inWords(
    helpful.slice(0, 3).map((each) => each.words),
    "or",
  );
  const as = `as fine as those there are (${formatQuantity(fineness, "K", 2)})`;
  return `Readings ${words}, ${as}, would ${apart}; or ${instead}.`;
}

function proposalsFor(model: HeatedMount): readonly Proposal[] {
  const powers = [...model.data.power.values];
  const stages = powers.map((_, line) => model.stage?.values[line]);
  const now = { at: model.thermometers.map(({ at }) => at), powers, stages };
  const at = (factor: number) => stages.map((T) => (T === undefined ? undefined : factor * T));
  return [
    ...model.otherPlaces.map((name) => ({ ...now, words: `at the ${name}`, at: [name] })),
    ...(model.stage
      ? [
          { ...now, words: "with the stage at twice its temperature", stages: at(2) },
          { ...now, words: "with the stage at half its temperature", stages: at(0.5) },
        ]
      : []),
    {
      ...now,
      words: "with ten times the heater power",
      powers: powers.map((power) => 10 * power),
    },
  ];
}

/** Derivative of each proposed reading by each input as fitted [K]; undefined without steady state. */
function slopesOf(
  model: HeatedMount,
  { parameters, scales }: RefusedFit,
  inputs: number,
  { at, powers, stages }: Proposal,
): readonly number[][] | undefined {
  const read = (input: number, by: number): readonly number[] | undefined => {
    const there = parameters.map((value, j) => (j === input ? value + by : value));
    if (!model.set(valuesOf(model.parameters, there))) return undefined;
    const lines = powers.map((power, line) => model.temperatures(power, stages[line], at, line));
    return lines.every((line) => line) ? lines.flatMap((line) => line!) : undefined;
  };
  const columns: (readonly number[])[] = [];
  for (let j = 0; j < inputs; j++) {
    const h = step * scales[j]!;
    const [low, high] = [read(j, -h), read(j, h)];
    if (!low || !high) return undefined;
    columns.push(high.map((T, i) => (T - low[i]!) / (2 * h)));
  }
  return columns[0]!.map((_, i) => columns.map((column) => column[i]!));
}

/** `a`, `a and b`, `a, b and c`. */
function inWords(names: readonly string[], and: "and" | "or"): string {
  const last = names.slice(-2).join(` ${and} `);
  return [...names.slice(0, -2), last].join(", ");
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)]!;
}
