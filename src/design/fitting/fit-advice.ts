/**
 * What to measure so that a fit can tell its inputs apart: tried on the model itself.
 * @module
 */
import { determination } from "../../numerics/jacobian.js";
import { formatQuantity } from "../../units/format.js";
import type { DiePoint } from "../sweeping/compiled-mount.js";
import { inWords, leftOpen } from "./fit.js";
import type { FittedModel } from "./fitted-model.js";
import type { Thermometry } from "./thermometry.js";

/** A fit that was refused. */
export interface RefusedFit {
  readonly fields: readonly string[];
  readonly parameters: Float64Array;
  /** What the spread of each parameter is held against. */
  readonly scales: readonly number[];
  readonly jacobian: readonly Float64Array[];
  readonly variance: number;
  readonly together: readonly string[];
}

/** More readings. */
interface Proposal {
  readonly words: string;
  readonly at: readonly (string | DiePoint)[];
  readonly powers: readonly number[];
  readonly stages: readonly (number | undefined)[];
}

/** A change of a parameter, in its scale, that a reading must show. */
const step = 1e-3;

/**
 * Thermometers at further places, other stage temperatures and powers are added in thought, as fine as
 * the readings there are; those that would do are named.
 */
export function adviceFor(
  fit: RefusedFit,
  model: FittedModel,
  data: Thermometry,
  values: (parameters: Float64Array) => readonly number[],
): string {
  const { fields, scales, jacobian, variance, together } = fit;
  const fineness = median(
    model.thermometers.flatMap(({ readings }) =>
      readings.uncertainties ? [...readings.uncertainties] : [Math.sqrt(variance)],
    ),
  );
  const solves = (proposal: Proposal): boolean => {
    const more = slopesOf(fit, model, proposal, values);
    if (!more || !(fineness > 0)) return false;
    const rows = [
      ...jacobian,
      ...more.map((row) =>
        // A shared error is not counted in what is only thought of.
        Float64Array.from(
          fit.parameters,
          (_, j) => (row[j] ?? 0) / (fineness / Math.sqrt(variance || 1)),
        ),
      ),
    ];
    return leftOpen(fields, determination(rows), scales, variance).length === 0;
  };
  const helpful = proposalsFor(model, data).filter(solves);
  const apart = together.length > 1 ? "tell them apart" : "tell it";
  const instead =
    together.length > 1
      ? "give all but one of them from another measurement and fit that one"
      : "leave it as it is";
  if (helpful.length === 0) {
    return `No further thermometer, stage temperature or power that was tried would ${apart}: ${instead}.`;
  }
  const words = helpful.slice(0, 3).map((each) => each.words);
  const as = `as fine as those there are (${formatQuantity(fineness, "K", 2)})`;
  return `Readings ${inWords(words).replace(/ and (?=[^,]*$)/, " or ")}, ${as}, would ${apart}; or ${instead}.`;
}

function proposalsFor(model: FittedModel, data: Thermometry): readonly Proposal[] {
  const powers = [...data.power.values];
  const stages = powers.map((_, row) => model.stage?.values[row]);
  const here = model.thermometers.map(({ at }) => at);
  const elsewhere = model.otherPlaces.map((name) => ({
    words: `at the ${name}`,
    at: [name],
    powers,
    stages,
  }));
  const warmer = (factor: number, words: string) => ({
    words,
    at: here,
    powers,
    stages: stages.map((T) => (T === undefined ? undefined : factor * T)),
  });
  return [
    ...elsewhere,
    ...(model.stage
      ? [
          warmer(2, "with the stage at twice its temperature"),
          warmer(0.5, "with the stage at half its temperature"),
        ]
      : []),
    {
      words: "with ten times the heater power",
      at: here,
      powers: powers.map((power) => 10 * power),
      stages,
    },
  ];
}

/** Change of each proposed reading with each input [K], by its scale; undefined without steady state. */
function slopesOf(
  { fields, parameters, scales }: RefusedFit,
  model: FittedModel,
  { at, powers, stages }: Proposal,
  values: (parameters: Float64Array) => readonly number[],
): readonly number[][] | undefined {
  const read = (parameter: number, by: number): readonly number[] | undefined => {
    const there = Float64Array.from(parameters);
    there[parameter]! += by;
    if (!model.set(fields, values(there))) return undefined;
    const rows = powers.map((power, row) => model.solve(power, stages[row], at));
    return rows.every((row) => row) ? rows.flatMap((row) => row!) : undefined;
  };
  const columns: (readonly number[])[] = [];
  for (let j = 0; j < fields.length; j++) {
    const h = step * scales[j]!;
    const [low, high] = [read(j, -h), read(j, h)];
    if (!low || !high) return undefined;
    columns.push(high.map((T, i) => (T - low[i]!) / (2 * h)));
  }
  return columns[0]!.map((_, i) => columns.map((column) => column[i]!));
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)]!;
}
