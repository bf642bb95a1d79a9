/**
 * A mount taken apart into what may change: its conductors, loads, stage and limit, each made by itself
 * from a mount and a catalogue.
 * @module
 */
import type { Conductor } from "../../conductor.js";
import type { DieInMount, PlacedPath, Structure } from "../../mount/assemble.js";
import { watch } from "../../mount/cells.js";
import { dieSquare, isResolved } from "../../mount/things/die.js";
import { faceShares } from "../../mount/things/finish.js";
import { limitOf } from "../../mount/things/limit.js";
import { stageModel } from "../../mount/things/stage.js";
import type { Inputs, Sample } from "./uncertain-inputs.js";

interface AnyPiece {
  /** Path, wire or load it belongs to. */
  readonly name: string;
  /** Places that it lies between, or whose temperatures it is asked at. */
  readonly ends: readonly [string, string];
  /** Its numbers, which tell whether two of it are alike; temperatures [K] where it is asked. */
  numbers(sample: Sample, temperatures: readonly number[]): readonly number[];
}

/** A conductor. */
export interface ConductorPiece extends AnyPiece {
  readonly kind: "conductor";
  conductor(sample: Sample): Conductor;
}

/** One piece. */
export type Piece =
  | ConductorPiece
  | (AnyPiece & { readonly kind: "load" | "warm end" | "stage" | "limit" | "box of flights" });

/** Every piece of a mount. */
export function piecesOf(structure: Structure): readonly Piece[] {
  const { die, dies, paths, groups, warm, powers, stage, chip } = structure;
  const whole = [stage.name, chip.name] as const;
  const conductor = (
    name: string,
    make: ConductorPiece["conductor"],
    ends: Piece["ends"] = whole,
  ): Piece => ({
    kind: "conductor",
    name,
    ends,
    conductor: make,
    numbers: (sample, temperatures) => numbersOf(make(sample), temperatures),
  });
  const placed = (path: PlacedPath) =>
    conductor(path.name, (s) => path.conductor(s.mount, s.catalogue), [
      path.from.name,
      path.to.name,
    ]);
  const films = groups.flatMap(({ film }) => film ?? []);
  return [
    ...paths.map(placed),
    ...(isResolved(die)
      ? [
          ...dies.map((each) =>
            conductor(each.spreading, (s) => dieSquare(each.of(s.mount), s.catalogue)),
          ),
          ...films.map((film) => conductor(film.name, (s) => film.square(s.mount, s.catalogue))),
        ]
      : []),
    ...(die === "flights" ? dies.map(flownBox) : []),
    ...warm.flatMap((wire): Piece[] => [
      placed(wire),
      {
        kind: "warm end",
        name: wire.name,
        ends: [wire.from.name, wire.to.name],
        numbers: (s) => [wire.temperature(s.mount)],
      },
    ]),
    ...powers.map(
      (source): Piece => ({
        kind: "load",
        name: source.name,
        ends: whole,
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
      ends: whole,
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
      ends: whole,
      numbers: (s, [T]) => [limitOf(s.mount, s.catalogue)?.(T!) ?? Number.NaN],
    },
  ];
}

/** What phonons of a die fly in, which no conductor holds. */
function flownBox({ spreading: name, chip, of }: DieInMount): Piece {
  return {
    kind: "box of flights",
    name,
    ends: [chip.name, chip.name],
    numbers({ mount, catalogue }) {
      const { die } = of(mount);
      const { front, back, sides } = faceShares(die, catalogue);
      const { width, length, thickness, bulkLength = Number.POSITIVE_INFINITY } = die;
      return [1 - front, 1 - back, 1 - sides, width, length, thickness, 1 / bulkLength];
    },
  };
}

/** G, and what Θ rises by from one temperature to the next. */
export function numbersOf(conductor: Conductor, temperatures: readonly number[]): number[] {
  const numbers: number[] = [];
  let before = Number.NaN;
  for (let j = 0; j < temperatures.length; j++) {
    const T = temperatures[j]!;
    const now = conductor.integral(T);
    numbers.push(conductor.conductance(T));
    if (j > 0) numbers.push(now - before);
    before = now;
  }
  return numbers;
}

/** Temperatures spread over a range, ends included [K]. */
export function spreadOver(low: number, high: number, count = 7): number[] {
  return Array.from({ length: count }, (_, j) => low * (high / low) ** (j / (count - 1)));
}

/**
 * The inputs that move a piece, by index.
 * @param temperatures - where the mount has the piece [K]
 */
export function movedBy(
  piece: Piece,
  inputs: Inputs,
  temperatures: readonly number[],
): readonly number[] {
  const { mount, catalogue, medians, list } = inputs;
  const rows = new Set<string>();
  const watched = catalogue.watched((row) => rows.add(row));
  const { reads } = watch(mount, (m) =>
    piece.numbers({ mount: m, catalogue: watched }, temperatures),
  );
  const before = piece.numbers(inputs, temperatures);
  const movesBy = (i: number, factor: number) => {
    const values = medians.slice();
    values[i] = factor * values[i]!;
    const numbers = piece.numbers(inputs.moving([i])(values), temperatures);
    return numbers.some((x, j) => Math.abs(x - before[j]!) > 1e-9 * Math.abs(before[j]!));
  };
  return list.flatMap(({ field, row }, i) => {
    const moves =
      field === undefined
        ? // One that cannot rise, such as a share of 1, may fall.
          rows.has(row!) && (movesBy(i, 1.01) || movesBy(i, 0.99))
        : reads.has(field);
    return moves ? [i] : [];
  });
}

/** How many of each path stand side by side, by bonds; undefined when these change more than that. */
export function bondCounts(
  { mount, catalogue }: Inputs,
  { paths }: Structure,
): ReadonlyMap<string, (count: number) => number> | undefined {
  const counts = new Map<string, (count: number) => number>();
  for (const { name, conductor, count } of paths) {
    const { reads } = watch(mount, (m) => conductor(m, catalogue));
    if (reads.has("bonds.count")) return undefined;
    if (!count || !watch(mount, count).reads.has("bonds.count")) continue;
    counts.set(name, (bonds) => count({ ...mount, bonds: { ...mount.bonds!, count: bonds } }));
  }
  return counts;
}
