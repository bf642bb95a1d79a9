/**
 * How many bonds a mount needs, and what stands in the way when no number is enough.
 * @module
 */
import { standardCatalogue } from "../../materials/standard.js";
import type { Catalogue, CatalogueChoice } from "../../materials/types.js";
import { budgetOf } from "../../mount/budget.js";
import { Dies } from "../../mount/dies.js";
import { MountModel } from "../../mount/model.js";
import type { Mount, PlainMount } from "../../mount/mount.js";
import { pointRanges, Reach } from "../../mount/ranges.js";
import { numbersOf, readMount } from "../../mount/read.js";
import { bondRoom } from "../../mount/things/edges.js";
import { SolveError } from "../../network/solution.js";
import { type LeftRange, rangeKey, toldAnyway } from "../../ranges.js";
import { FieldError } from "../../units/errors.js";
import { numberAt, readWith } from "../field.js";
import { type Alternative, Sizing } from "./sizing.js";

/** More bonds than any chip has: what is left with them is not the bonds' doing. */
const withoutNumber = 1e9;

/**
 * The fewest bonds that keep the chip at or below its limit, all else in the mount as it is.
 * The mount's own `bonds.count` plays no part. Halving takes it that more bonds never warm the chip;
 * a load on a spot of a die that conducts badly can break that, since bonds move as their number grows.
 * @throws FieldError when the mount has no bonds or no limit
 * @example sizeBonds(mount).reason
 */
export function sizeBonds(mount: Mount, options: CatalogueChoice = {}): Sizing {
  const catalogue = options.catalogue ?? standardCatalogue();
  const plain = readMount(mount);
  const room = roomToCount(plain);
  const dies = new Dies();
  const found = fewest(plain, catalogue, dies);
  const { count, floor, knee, warmer } = found;
  const bonds = { ...plain.bonds!, count: Math.max(1, Math.min(count ?? room, room)) };
  const shown = { ...plain, bonds };
  const point = new MountModel(shown, catalogue, { dies }).point();
  const budget = budgetOf(point);
  const alternatives = alternativesOf(plain, catalogue, dies, warmer);
  const known = new Set(pointRanges(point).map(({ name, range }) => rangeKey(name, range)));
  const told = found.runs.flatMap(({ what, left }) =>
    toldAnyway(left.filter(({ name, range }) => !known.has(rangeKey(name, range)))).map(
      (text) => `${what}: ${text}`,
    ),
  );
  return new Sizing({ count, room, budget, floor, knee, alternatives }, told);
}

/**
 * Fewest bonds, and what no number of them can help. The two-node model of the die gives the floor, the
 * knee and a first guess; a 2-D one, whose contacts move with every number, is asked only near it.
 * @param expected - by how much the 2-D die may be warmer than the other, from a mount like it [K]
 */
function fewest(mount: PlainMount, catalogue: Catalogue, dies: Dies, expected = 0) {
  const own = new MountModel(mount, catalogue, { dies });
  const twoNodes = own.isResolved
    ? new MountModel(mount, catalogue, { die: "centre and edge" })
    : own;
  const ceiling = own.limit!;
  const quick = riseBy(twoNodes);
  const { chip, stage } = quick(withoutNumber);
  const floor = chip - stage;
  const knee = fewestThat((count) => {
    const { chip, stage } = quick(count);
    return chip - stage <= 2 * floor;
  }, withoutNumber)!;
  /** By the two-node model, for a chip that is so much warmer. */
  const holdsQuick = (warmer: number) => (count: number) => {
    const { chip, stage } = quick(count);
    return chip + warmer <= ceiling(stage);
  };
  if (!own.isResolved) {
    const count = fewestThat(holdsQuick(0), withoutNumber);
    return { count, floor, knee, warmer: 0, ...runsOf(quick, quick, count) };
  }
  const room = bondRoom(mount);
  if (room < 1) {
    return { count: undefined, floor, knee, warmer: expected, ...runsOf(quick, quick, undefined) };
  }
  const resolved = riseBy(own);
  const holds = (count: number) => {
    const { chip, stage } = resolved(count);
    return chip <= ceiling(stage);
  };
  // The 2-D die is warmer than the other by about as much at the answer as at a guess near it.
  const guess = fewestThat(holdsQuick(expected), room) ?? room;
  const warmer = resolved(guess).chip - quick(guess).chip;
  const better = fewestThat(holdsQuick(warmer), room, guess) ?? room;
  const count = fewestThat(holds, room, better);
  return { count, floor, knee, warmer, ...runsOf(quick, resolved, count ?? room) };

  /** What the runs that an answer rests on left: that with so many bonds, one fewer, and without number. */
  function runsOf(floorOf: RiseBy, answer: RiseBy, count: number | undefined) {
    const without = { what: "with bonds without number", left: floorOf(withoutNumber).left() };
    if (count === undefined) return { left: without.left, runs: [without] };
    const fewer =
      count > 1 ? [{ what: `with ${count - 1} bonds`, left: answer(count - 1).left() }] : [];
    return { left: answer(count).left(), runs: [without, ...fewer] };
  }
}

/** A model with some number of bonds. */
interface Solved {
  /** [K] */
  readonly chip: number;
  readonly stage: number;
  /** The ranges that it left. */
  left(): readonly LeftRange[];
}

type RiseBy = ReturnType<typeof riseBy>;

/** A model with any number of bonds, each solved once. */
function riseBy(model: MountModel) {
  const solved = new Map<number, Solved>();
  model.vary("bonds.count");
  const reach = new Reach(model);
  return (count: number) => {
    const known = solved.get(count) ?? solvedAt(model, count, reach);
    solved.set(count, known);
    return known;
  };
}

/** A die with one node or two may have no steady state with few bonds: it is then infinitely warm. */
function solvedAt(model: MountModel, count: number, reach: Reach): Solved {
  model.set("bonds.count", count);
  try {
    model.solve();
  } catch (error) {
    if (model.isResolved || !(error instanceof SolveError)) throw error;
    return { chip: Number.POSITIVE_INFINITY, stage: 0, left: () => [] };
  }
  reach.forget();
  reach.add(model);
  const extents = { low: reach.low.slice(), high: reach.high.slice() };
  return {
    chip: model.temperature(model.chip),
    stage: model.temperature(model.structure.stage.name),
    left() {
      reach.forget();
      reach.addExtents(extents);
      return reach.left;
    },
  };
}

/** Least whole number that holds, by `leastThatHolds`. */
export function fewestThat(
  holds: (count: number) => boolean,
  most: number,
  guess?: number,
): number | undefined {
  const search = leastThatHolds(most, guess);
  let step = search.next();
  while (!step.done) step = search.next(holds(step.value));
  return step.value;
}

/**
 * A search for the least whole number that holds, where all larger ones hold too; undefined when even the
 * largest does not. Doubles outward from a guess, then halves. It asks of each number once, and is told
 * whether that holds.
 */
export function* leastThatHolds(
  most: number,
  guess = 1,
): Generator<number, number | undefined, boolean> {
  let high = Math.min(guess, most);
  let low = 0;
  if (yield high) {
    for (let step = 1; high - step > 0; step *= 2) {
      if (!(yield high - step)) {
        low = high - step;
        break;
      }
      high -= step;
    }
  } else {
    for (let step = 1; ; step *= 2) {
      low = high;
      if (low >= most) return undefined;
      high = Math.min(most, high + step);
      if (yield high) break;
    }
  }
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (yield middle) high = middle;
    else low = middle;
  }
  return high;
}

/** What a designer would try next: a field that the mount has, and by how much it is multiplied. */
const singleChanges = [
  ["bonds half as long", "bonds.length", 0.5],
  ["two bonds on each pad", "bonds.perPad", 2],
  ["die twice as thick", "die.thickness", 2],
  ["pads twice as thick", "pads.thickness", 2],
  ["pads twice as long", "pads.length", 2],
  ["ring twice as thick", "ring.thickness", 2],
  ["ring twice as wide", "ring.width", 2],
  ["bonds twice as thick", "bonds.diameter", 2],
  ["bonds of twice the residual resistivity ratio", "bonds.residualResistivityRatio", 2],
] as const;

/** Each change is computed, none is a rule of thumb. */
function alternativesOf(
  plain: PlainMount,
  catalogue: Catalogue,
  dies: Dies,
  warmer: number,
): readonly Alternative[] {
  const { bonds } = plain;
  const mount = { ...plain, bonds: { ...bonds, perPad: bonds!.perPad ?? 1 } } as Mount;
  const given = numbersOf(mount);
  const tried = (field: string, factor: number) => {
    try {
      const changed = readWith(mount, field, factor * numberAt(mount as PlainMount, field));
      const { count, left } = fewest(changed, catalogue, dies, warmer);
      return { count, room: bondRoom(changed), outside: outsideOf(left) };
    } catch (error) {
      // A change may make the mount impossible: a foot larger than its share of the pad.
      if (error instanceof FieldError) return { count: undefined, room: 0 };
      throw error;
    }
  };
  return singleChanges
    .filter(([, field]) => given.has(field))
    .map(([change, field, factor]) => ({ change, ...tried(field, factor) }))
    .sort((a, b) => (a.count ?? Number.POSITIVE_INFINITY) - (b.count ?? Number.POSITIVE_INFINITY));
}

/** How far an answer can be trusted that rests on laws outside of some ranges. */
function outsideOf(left: readonly LeftRange[]): Alternative["outside"] {
  if (left.length === 0) return undefined;
  return left.some(({ range }) => range.outside === "refuse") ? "refused" : "extrapolated";
}

/**
 * How many bonds have room.
 * @throws FieldError for a mount without bonds or limit, or without room for a bond
 */
export function roomToCount(mount: PlainMount): number {
  const { bonds, limit } = mount;
  if (!bonds) throw new FieldError("bonds", "bonds to count", undefined);
  if (!limit) throw new FieldError("limit", "a limit to hold", undefined);
  const room = bondRoom(mount);
  if (room < 1) throw new FieldError("bonds.pitch", "room for at least one bond", bonds.pitch);
  return room;
}
