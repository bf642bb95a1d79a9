/**
 * A mount taken apart into what may change: its conductors, loads, stage and limit, each made by itself
 * from a mount and a catalogue.
 * @module
 */
import type { Conductor } from "../../conductor.js";
import type { Catalogue } from "../../materials/types.js";
import { watch } from "../../mount/dependencies.js";
import { sourcesOf } from "../../mount/heat-sources.js";
import { limitOf } from "../../mount/limit.js";
import { isSheet } from "../../mount/part.js";
import { partsOf } from "../../mount/parts.js";
import type { PlainMount } from "../../mount/read.js";
import { sheetConductors } from "../../mount/sheet-model.js";
import { stageModel } from "../../mount/stage.js";
import type { Inputs, Sample } from "./uncertain-inputs.js";

/** One piece. */
export interface Piece {
  readonly kind: "conductor" | "load" | "warm end" | "stage" | "limit";
  /** Part, wire or load it belongs to. */
  readonly name: string;
  /** Its numbers, which tell whether two of it are alike; temperatures [K] where it is asked. */
  numbers(sample: Sample, temperatures: readonly number[]): readonly number[];
}

/** Every piece of a mount; `ends` are the places whose temperatures it sees. */
export function piecesOf(mount: PlainMount, catalogue: Catalogue): readonly Piece[] {
  const parts = partsOf(mount, catalogue);
  const { powers, warm } = sourcesOf(mount, catalogue);
  const sheet = isSheet(mount) ? sheetConductors(mount, catalogue) : [];
  return [
    ...parts.map(({ name }, k) =>
      conductorPiece(name, (s) => partsOf(s.mount, s.catalogue)[k]!.conductor(s.mount)),
    ),
    ...sheet.map(([name], k) =>
      conductorPiece(name, (s) => sheetConductors(s.mount, s.catalogue)[k]![1]),
    ),
    ...warm.flatMap(({ name }, k): Piece[] => [
      conductorPiece(name, (s) => sourcesOf(s.mount, s.catalogue).warm[k]!.conductor(s.mount)),
      {
        kind: "warm end",
        name,
        numbers: (s) => [sourcesOf(s.mount, s.catalogue).warm[k]!.temperature(s.mount)],
      },
    ]),
    ...powers.map(
      ({ name }, k): Piece => ({
        kind: "load",
        name,
        numbers(s, temperatures) {
          const source = sourcesOf(s.mount, s.catalogue).powers[k]!;
          const law = source.law?.(s.mount);
          return temperatures.map((T) => (law ? law.power(T) : source.load(s.mount, T).power));
        },
      }),
    ),
    {
      kind: "stage",
      name: "stage",
      numbers(s, temperatures) {
        const model = stageModel(s.mount, s.catalogue);
        return "cooling" in model
          ? [model.cooling.base, ...numbersOf(model.cooling.conductor, temperatures)]
          : [model.temperature];
      },
    },
    {
      kind: "limit",
      name: "limit",
      numbers: (s, [T]) => [limitOf(s.mount, s.catalogue)?.(T!) ?? Number.NaN],
    },
  ];
}

function conductorPiece(name: string, make: (sample: Sample) => Conductor): Piece {
  return {
    kind: "conductor",
    name,
    numbers: (sample, temperatures) => numbersOf(make(sample), temperatures),
  };
}

/** G, and what Θ rises by from one temperature to the next. */
export function numbersOf(conductor: Conductor, temperatures: readonly number[]): number[] {
  return temperatures.flatMap((T, j) => [
    conductor.conductance(T),
    ...(j === 0 ? [] : [conductor.integral(T) - conductor.integral(temperatures[j - 1]!)]),
  ]);
}

/** Temperatures spread over a range, ends included [K]. */
export function spreadOver(low: number, high: number, count = 7): number[] {
  return Array.from({ length: count }, (_, j) => low * (high / low) ** (j / (count - 1)));
}

/** Fields and rows of the catalogue that a piece reads. */
export function readsOf(
  piece: Piece,
  { mount, catalogue }: Sample,
  temperatures: readonly number[],
): { readonly fields: ReadonlySet<string>; readonly rows: ReadonlySet<string> } {
  const rows = new Set<string>();
  const watched = catalogue.watched((row) => rows.add(row));
  const { reads } = watch(mount, (m) =>
    piece.numbers({ mount: m, catalogue: watched }, temperatures),
  );
  return { fields: reads, rows };
}

/**
 * The inputs that move a piece, by index.
 * @param temperatures - where the mount has the piece [K]
 */
export function movedBy(
  piece: Piece,
  inputs: Inputs,
  temperatures: readonly number[],
): ReadonlySet<number> {
  const { mount, catalogue, medians, list } = inputs;
  const { fields, rows } = readsOf(piece, { mount, catalogue }, temperatures);
  const before = piece.numbers({ mount, catalogue }, temperatures);
  const moved = new Set<number>();
  list.forEach(({ field, row }, i) => {
    if (field !== undefined) {
      if (fields.has(field)) moved.add(i);
      return;
    }
    if (!rows.has(row!)) return;
    const values = medians.slice();
    values[i] = 1.01 * values[i]!;
    const after = piece.numbers(inputs.at(values, new Set([i])), temperatures);
    if (after.some((x, j) => Math.abs(x - before[j]!) > 1e-9 * Math.abs(before[j]!))) moved.add(i);
  });
  return moved;
}
