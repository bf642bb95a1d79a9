/**
 * A mount taken apart into what may change: its conductors, loads, stage and limit, each made by itself
 * from a mount and a catalogue.
 * @module
 */
import type { Conductor } from "../../conductor.js";
import { type Structure, spreading } from "../../mount/assemble.js";
import { watch } from "../../mount/cells.js";
import { dieSquare } from "../../mount/things/die.js";
import { limitOf } from "../../mount/things/limit.js";
import { stageModel } from "../../mount/things/stage.js";
import type { Inputs, Sample } from "./uncertain-inputs.js";

/** One piece. */
export interface Piece {
  readonly kind: "conductor" | "load" | "warm end" | "stage" | "limit";
  /** Path, wire or load it belongs to. */
  readonly name: string;
  /** Its numbers, which tell whether two of it are alike; temperatures [K] where it is asked. */
  numbers(sample: Sample, temperatures: readonly number[]): readonly number[];
}

/** Every piece of a mount; `temperatures` are those of the places it lies between. */
export function piecesOf({ die, paths, groups, warm, powers }: Structure): readonly Piece[] {
  const films = groups.flatMap(({ film }) => film ?? []);
  return [
    ...paths.map((path) => conductorPiece(path.name, (s) => path.conductor(s.mount, s.catalogue))),
    ...(die === "sheet"
      ? [
          conductorPiece(spreading, (s) => dieSquare(s.mount, s.catalogue)),
          ...films.map((film) =>
            conductorPiece(film.name, (s) => film.square(s.mount, s.catalogue)),
          ),
        ]
      : []),
    ...warm.flatMap((wire): Piece[] => [
      conductorPiece(wire.name, (s) => wire.conductor(s.mount, s.catalogue)),
      { kind: "warm end", name: wire.name, numbers: (s) => [wire.temperature(s.mount)] },
    ]),
    ...powers.map(
      (source): Piece => ({
        kind: "load",
        name: source.name,
        numbers({ mount, catalogue }, temperatures) {
          const law = source.law(mount, catalogue);
          return temperatures.map((T) =>
            law ? law.power(T) : source.heat(mount, catalogue, T).power,
          );
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
