/**
 * How many bonds a mount needs, and what stands in the way when no number is enough.
 * @module
 */
import { standardCatalogue } from "../../materials/standard.js";
import type { Catalogue, CatalogueChoice } from "../../materials/types.js";
import { writtenAs } from "../../mount/as-written.js";
import { Assembly } from "../../mount/assembly.js";
import { budgetOf } from "../../mount/budget.js";
import { Dies } from "../../mount/dies.js";
import type { Numbers } from "../../mount/links.js";
import { MountModel } from "../../mount/model.js";
import type { Mount, PlainMount } from "../../mount/mount.js";
import type { OperatingPoint } from "../../mount/operating-point.js";
import { leftBy, placedLaws, pointRanges } from "../../mount/ranges.js";
import { numbersOf, readMount } from "../../mount/read.js";
import { type CountedBonds, countedBonds } from "../../mount/things/counted-bonds.js";
import { SolveError } from "../../network/solution.js";
import { isExtrapolated, type LeftRange, rangeKey, toldAnyway } from "../../ranges.js";
import { FieldError } from "../../units/errors.js";
import { numberAt, readWith, valueAt, withField } from "../field.js";
import { type Alternative, Sizing } from "./sizing.js";

/** More bonds than any chip has: what is left with them is not the bonds' doing. */
const withoutNumber = 1e9;

/** Which bonds to count, and by which data. */
export interface CountOptions extends CatalogueChoice {
  /** Name of a group of bonds; those of the mount's own die that are all alike when absent. */
  readonly group?: string;
}

/**
 * The smallest number of bonds that keep the chip at or below its limit, all else in the mount as it is.
 * The mount's own `bonds.count` plays no part. Halving takes it that more bonds never warm the chip;
 * a load on a spot of a die that conducts badly can break that, since bonds move as their number grows.
 * With several on a pad, only full pads are counted.
 * @throws FieldError when the mount has no bonds or no limit
 */
export function sizeByMedians(mount: Mount, options: CountOptions = {}): Sizing {
  const catalogue = options.catalogue ?? standardCatalogue();
  const plain = readMount(mount);
  const bonds = countedBonds(plain, options.group);
  const room = roomToCount(plain, bonds);
  const dies = new Dies();
  const changes = changesOf(plain, bonds);
  const models = modelsOf(plain, bonds, catalogue, dies, changes);
  const { count, warmer } = fewest(models);
  const shown = bonds.with(plain, Math.max(bonds.each(plain), Math.min(count ?? room, room)));
  const point = new MountModel(shown, catalogue, { dies }).point();
  const budget = budgetOf(point);
  const alternatives = changes
    .map((change) => ({ change: change.words, ...tried(change, bonds, models, warmer) }))
    .sort((a, b) => (a.count ?? Number.POSITIVE_INFINITY) - (b.count ?? Number.POSITIVE_INFINITY));
  const told = () => {
    const known = new Set(pointRanges(point).map(({ name, range }) => rangeKey(name, range)));
    const isNew = ({ name, range }: LeftRange) => !known.has(rangeKey(name, range));
    return runsOf(models, count, mayLeave(point, models).some(isNew)).flatMap(({ what, left }) =>
      toldAnyway(left.filter(isNew)).map((text) => `${what}: ${text}`),
    );
  };
  return new Sizing(
    { count, room, budget, alternatives },
    { floor: () => riseOf(models.without()), knee: () => kneeOf(models), told },
  );
}

/**
 * The ranges that any place may leave which is no colder than what is held and no warmer than the chip with
 * twice its rise: those of more bonds are among them.
 */
function mayLeave({ chip, stage, reading, network }: OperatingPoint, { many }: SizedModels) {
  const held = network.nodes.flatMap(({ temperature = [] }) => temperature);
  const [coldest, warmest] = [Math.min(...held), chip + (chip - stage)];
  const warm = new Map(network.nodes.map(({ name, temperature }) => [name, temperature]));
  const { structure, laws } = many();
  return leftBy(placedLaws(structure, laws), (node) => {
    const [low, high] = reading.extents.get(node) ?? [coldest, warm.get(node) ?? warmest];
    return [Math.min(low, coldest), Math.max(high, warmest)];
  });
}

/**
 * What the runs that an answer rests on left: that with infinitely many bonds, and that with one fewer.
 * @param withMany - whether the first is asked
 */
function runsOf({ rise, without }: SizedModels, count: number | undefined, withMany: boolean) {
  const fewer =
    count !== undefined && count > 1
      ? [{ what: `with ${count - 1} bonds`, left: rise(count - 1).left() }]
      : [];
  const many = withMany ? [{ what: "with infinitely many bonds", left: without().left() }] : [];
  return [...many, ...fewer];
}

/** Bonds of a mount counted by the model of its die that answers, and by the two-node model, which guesses. */
interface Counted {
  readonly own: MountModel;
  /** Chip and stage for a number of bonds, by the model that answers. */
  readonly rise: Rise;
  readonly quick: Rise;
  /** Bonds on each pad, by which they are counted. */
  readonly each: number;
  /** Most bonds that the model that answers can place. */
  readonly most: number;
}

interface SizedModels extends Counted {
  /** The model that answers with as many bonds as it can place. */
  readonly many: () => Assembly;
  /** Chip and stage for infinitely many bonds, by the model that answers. */
  readonly without: () => Solved;
  /** Asks of the mount with one change. */
  changed<T>(change: Change, ask: (of: Counted) => T): T;
}

function modelsOf(
  plain: PlainMount,
  counting: CountedBonds,
  catalogue: Catalogue,
  dies: Dies,
  changes: readonly Change[],
): SizedModels {
  const mount = withEachPad(plain, counting);
  const own = new MountModel(mount, catalogue, { dies });
  const twoNode = own.isResolved ? new MountModel(mount, catalogue, { die: "two nodes" }) : own;
  // What no change touches is made once for all.
  for (const model of new Set([own, twoNode])) {
    model.vary(counting.field, ...changes.map(({ field }) => field));
  }
  const counted = (of: PlainMount): Counted => {
    const set = (model: MountModel) => (bonds: number) =>
      model.set(counting.field, bonds / counting.forOne(of));
    const rise = riseBy(own, set(own));
    const quick = own === twoNode ? rise : riseBy(twoNode, set(twoNode));
    const each = counting.each(of);
    const most = own.isResolved ? counting.room(of) : each * withoutNumber;
    return { own, rise, quick, each, most };
  };
  const changed: SizedModels["changed"] = ({ field, mount: of, value, before }, ask) => {
    const set = (number: number) => {
      for (const model of [own, twoNode]) model.set(field, number);
    };
    const changed = of();
    try {
      set(value);
      return ask(counted(changed));
    } finally {
      set(before);
    }
  };
  const models = counted(mount);
  const { rise, quick, each, most } = models;
  if (!own.isResolved) return { ...models, many: () => own, without: () => rise(most), changed };
  const full = counting.with(mount, most);
  const solved = (of: PlainMount) => {
    const model = new WithoutNumber(of, catalogue, { dies });
    model.counting = counting;
    return solvedAt(model, () => model.set(counting.field, most / counting.forOne(of)));
  };
  let known: Solved | undefined;
  const without = () => {
    const { cells: _, ...die } = full.die;
    // The mount's own cells may be too coarse for as many as fit; the default is not.
    known ??= unlessRefused(() => solved(full)) ?? unlessRefused(() => solved({ ...full, die }));
    // A die that conducts badly cannot feed so many: the two-node model knows no places to run dry.
    known ??= quick(each * withoutNumber);
    return known;
  };
  const many = () => new Assembly(full, catalogue, { dies });
  return { ...models, many, without, changed };
}

/** A 2-D die with contacts for the bonds it has, and behind them conductors of infinitely many bonds. */
class WithoutNumber extends MountModel {
  counting: CountedBonds | undefined;

  /** What is left is a bound from below, which contacts as a whole make a little lower still. */
  protected override get cutsContacts(): boolean {
    return false;
  }

  override get numbers(): Numbers {
    const many = this.counting!.with(this.mount, withoutNumber);
    return { ...super.numbers, count: (path) => path.count?.(many) ?? 1 };
  }
}

const riseOf = ({ chip, stage }: Solved) => chip - stage;

/**
 * The rise with infinitely many bonds, and from how many bonds on it is half of the rise; of the model
 * that counts the bonds, so that the three agree.
 */
function kneeOf({ rise, quick, without, each, most }: SizedModels): number | undefined {
  const floor = riseOf(without());
  const isPast = (by: Rise) => (pads: number) => riseOf(by(each * pads)) <= 2 * floor;
  const guess = rise === quick ? 1 : (fewestThat(isPast(quick), most / each) ?? most / each);
  const knee = unlessRefused(() => fewestThat(isPast(rise), most / each, guess));
  return knee && each * knee;
}

/**
 * Smallest number of bonds. Of a 2-D die, whose contacts move with every number, the two-node model guesses them and
 * the 2-D one is asked only near that.
 * @param expected - by how much the 2-D die may be warmer than the other, from a mount like it [K]
 */
function fewest({ own, rise, quick, each, most }: Counted, expected = 0) {
  if (most < each) return { count: undefined, warmer: expected };
  const ceiling = own.limit!;
  const pads = most / each;
  /** Whether so many pads meet the limit, for a chip that is so much warmer. */
  const holds = (by: Rise, warmer: number) => (pads: number) => {
    const { chip, stage } = by(each * pads);
    return chip + warmer <= ceiling(stage);
  };
  let warmer = 0;
  let better = 1;
  if (rise !== quick) {
    // The 2-D die is warmer than the other by about as much at the answer as at a guess near it.
    const guess = fewestThat(holds(quick, expected), pads) ?? pads;
    warmer = rise(each * guess).chip - quick(each * guess).chip;
    better = fewestThat(holds(quick, warmer), pads, guess) ?? pads;
  }
  const found = fewestThat(holds(rise, 0), pads, better);
  return { count: found && each * found, warmer };
}

/** Undefined for contacts that the cells of the die cannot tell apart, or that heat does not reach. */
function unlessRefused<T>(solve: () => T): T | undefined {
  try {
    return solve();
  } catch (error) {
    if (error instanceof FieldError || error instanceof SolveError) return undefined;
    throw error;
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

/** Chip and stage for a number of bonds [K]. */
type Rise = (count: number) => Solved;

/** A model with any number of bonds, each solved once. @param set - gives it a number of bonds */
function riseBy(model: MountModel, set: (bonds: number) => void): Rise {
  const solved = new Map<number, Solved>();
  return (count: number) => {
    const known = solved.get(count) ?? solvedAt(model, () => set(count));
    solved.set(count, known);
    return known;
  };
}

/** A die with one node or two may have no steady state with few bonds: it is then infinitely warm. */
function solvedAt(model: MountModel, set: () => void): Solved {
  set();
  try {
    model.solve();
  } catch (error) {
    if (model.isResolved || !(error instanceof SolveError)) throw error;
    return { chip: Number.POSITIVE_INFINITY, stage: 0, left: () => [] };
  }
  const point = model.isResolved ? model.point() : undefined;
  return {
    chip: model.temperature(model.chip),
    stage: model.temperature(model.structure.stage.name),
    left() {
      if (point) return pointRanges(point);
      set();
      return pointRanges(model.point());
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

/** One change of a mount. */
interface Change {
  readonly words: string;
  readonly field: string;
  /** What the field is changed to, and what it is [SI]. */
  readonly value: number;
  readonly before: number;
  /** @throws FieldError for a change that the mount does not take */
  mount(): PlainMount;
}

/** The mount with the number of bonds on a pad written down, so that it can be changed. */
function withEachPad(plain: PlainMount, { fieldOf }: CountedBonds): PlainMount {
  const field = fieldOf("bonds.perPad");
  if (field === undefined || valueAt(plain, field) !== undefined) return plain;
  return writtenAs(plain, withField(plain as Mount, field, 1) as PlainMount);
}

/** The changes that a mount has the fields for. */
function changesOf(plain: PlainMount, counting: CountedBonds): readonly Change[] {
  const mount = withEachPad(plain, counting) as Mount;
  const given = numbersOf(mount);
  return singleChanges
    .map(([words, of, factor]) => ({ words, field: counting.fieldOf(of) ?? "", factor }))
    .filter(({ field }) => given.has(field))
    .map(({ words, field, factor }) => {
      const before = numberAt(mount as PlainMount, field);
      const value = factor * before;
      return { words, field, value, before, mount: () => readWith(mount, field, value) };
    });
}

/** Each change is computed, none is a rule of thumb. */
function tried(change: Change, counting: CountedBonds, models: SizedModels, warmer: number) {
  try {
    return models.changed(change, (counted) => {
      const { count } = fewest(counted, warmer);
      const outside = outsideOf(counted.rise(Math.max(1, count ?? counted.most)).left());
      return { count, room: counting.room(change.mount()), ...(outside && { outside }) };
    });
  } catch (error) {
    // A change may make the mount impossible: a foot larger than its share of the pad.
    if (error instanceof FieldError) return { count: undefined, room: 0 };
    throw error;
  }
}

/** How far an answer can be trusted that rests on laws outside of some ranges. */
function outsideOf(left: readonly LeftRange[]): Alternative["outside"] {
  if (!left.some(isExtrapolated)) return undefined;
  return left.some(({ range }) => range.outside === "refuse") ? "refused" : "extrapolated";
}

/**
 * How many bonds fit.
 * @throws FieldError for a mount without bonds or limit, or on which no bond fits
 */
export function roomToCount(mount: PlainMount, counting = countedBonds(mount)): number {
  if (!mount.limit) throw new FieldError("limit", "a limit to hold", undefined);
  const room = counting.room(mount);
  if (room < 1) {
    const field = counting.fieldOf("bonds.pitch")!;
    throw new FieldError(field, "space for at least one bond", valueAt(mount, field));
  }
  return room;
}
