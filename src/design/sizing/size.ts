/**
 * How many bonds a mount needs, and what stands in the way when no number is enough.
 * @module
 */
import { standardCatalogue } from "../../materials/standard.js";
import type { Catalogue, CatalogueChoice } from "../../materials/types.js";
import { drawUp } from "../../mount/budget.js";
import { watch } from "../../mount/dependencies.js";
import type { Mount } from "../../mount/description.js";
import { bondRoom } from "../../mount/layout.js";
import { limitOf } from "../../mount/limit.js";
import { isSheet, place } from "../../mount/part.js";
import { type PlainMount, readMount } from "../../mount/read.js";
import { settle } from "../../mount/settle.js";
import { SheetStore } from "../../mount/sheet-model.js";
import { translate } from "../../mount/translate.js";
import { SteadyNetwork } from "../../network/steady.js";
import { FieldError } from "../../units/errors.js";
import { roomToCount } from "./bonds-to-count.js";
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
  const sheets = new SheetStore();
  const { count, floor, knee, warmer } = fewest(plain, catalogue, sheets);
  const shown = withBonds(plain, { count: Math.max(1, Math.min(count ?? room, room)) });
  const budget = drawUp(shown, settle(shown, catalogue, sheets), catalogue);
  const alternatives = alternativesOf(plain, catalogue, sheets, warmer);
  return new Sizing({ count, room, budget, floor, knee, alternatives });
}

/**
 * Fewest bonds, and what no number of them can help. The quick model of the die gives the floor, the
 * knee and a first guess; a sheet, whose layout changes with every number, is asked only near it.
 * @param expected - by how much the sheet may be warmer than the quick model, from a mount like it [K]
 */
function fewest(mount: PlainMount, catalogue: Catalogue, sheets: SheetStore, expected = 0) {
  const ceiling = limitOf(mount, catalogue)!;
  const quick = quickModel(mount, catalogue);
  const { chip, stage } = quick(withoutNumber);
  const floor = chip - stage;
  const knee = fewestThat((count) => {
    const { chip, stage } = quick(count);
    return chip - stage <= 2 * floor;
  }, withoutNumber)!;
  /** By the quick model, for a chip that is so much warmer. */
  const holdsQuick = (warmer: number) => (count: number) => {
    const { chip, stage } = quick(count);
    return chip + warmer <= ceiling(stage);
  };
  if (!isSheet(mount)) {
    return { count: fewestThat(holdsQuick(0), withoutNumber), floor, knee, warmer: 0 };
  }
  const room = bondRoom(mount);
  if (room < 1) return { count: undefined, floor, knee, warmer: expected };
  const solved = new Map<number, { chip: number; stage: number }>();
  const sheet = (count: number) => {
    const known = solved.get(count);
    if (known) return known;
    const { chip, stage } = settle(withBonds(mount, { count }), catalogue, sheets);
    solved.set(count, { chip, stage });
    return { chip, stage };
  };
  const holds = (count: number) => {
    const { chip, stage } = sheet(count);
    return chip <= ceiling(stage);
  };
  // The sheet is warmer than the quick model by about as much at the answer as at a guess near it.
  const guess = fewestThat(holdsQuick(expected), room) ?? room;
  const warmer = sheet(guess).chip - quick(guess).chip;
  const better = fewestThat(holdsQuick(warmer), room, guess) ?? room;
  return { count: fewestThat(holds, room, better), floor, knee, warmer };
}

/** Chip and stage of the quick model for any number of bonds, on one compiled network [K]. */
function quickModel(mount: PlainMount, catalogue: Catalogue) {
  const model = mount.die.model === "one node" ? "one node" : "centre and edge";
  const quick: PlainMount = { ...mount, die: { ...mount.die, model } };
  const translation = translate(quick, catalogue);
  const { structure } = translation;
  const network = new SteadyNetwork(translation.network);
  const chip = network.nodeNames.indexOf(structure.chip);
  const stage = network.nodeNames.indexOf(place.stage);
  // What the number of bonds enters: how many stand side by side, and on a ring each one's share of it.
  const counts = structure.parts.filter(
    (part) => part.count && watch(quick, part.count).reads.has("bonds.count"),
  );
  const laws = structure.parts.filter((part) =>
    watch(quick, (m) => part.conductor(m)).reads.has("bonds.count"),
  );
  return (count: number) => {
    const m = withBonds(quick, { count });
    for (const part of laws) {
      network.setConductor(network.linkNames.indexOf(part.name), part.conductor(m));
    }
    for (const part of counts) {
      network.setCount(network.linkNames.indexOf(part.name), part.count!(m));
    }
    if (!network.trySolve()) return { chip: Number.POSITIVE_INFINITY, stage: 0 };
    return { chip: network.temperatures[chip]!, stage: network.temperatures[stage]! };
  };
}

/**
 * Least whole number that holds, where all larger ones hold too; undefined when even the largest does
 * not. Doubles outward from a guess, then halves.
 */
export function fewestThat(
  holds: (count: number) => boolean,
  most: number,
  guess = 1,
): number | undefined {
  let high = Math.min(guess, most);
  let low = 0;
  if (holds(high)) {
    for (let step = 1; high - step > 0; step *= 2) {
      if (!holds(high - step)) {
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
      if (holds(high)) break;
    }
  }
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (holds(middle)) high = middle;
    else low = middle;
  }
  return high;
}

function withBonds(mount: PlainMount, changes: Partial<PlainMount["bonds"]>): PlainMount {
  return { ...mount, bonds: { ...mount.bonds!, ...changes } };
}

/** What a designer would try next; each is computed, none is a rule of thumb. */
function alternativesOf(
  mount: PlainMount,
  catalogue: Catalogue,
  sheets: SheetStore,
  warmer: number,
): readonly Alternative[] {
  const { bonds, pads, ring, die } = mount;
  const changes: [string, PlainMount][] = [
    ["bonds half as long", withBonds(mount, { length: bonds!.length / 2 })],
    ["two bonds on each pad", withBonds(mount, { perPad: 2 * (bonds!.perPad ?? 1) })],
    ["die twice as thick", { ...mount, die: { ...die, thickness: 2 * die.thickness } }],
  ];
  if (pads) {
    const thicker = { ...pads, thickness: 2 * pads.thickness };
    changes.push(["pads twice as thick", { ...mount, pads: thicker }]);
    changes.push(["pads twice as long", { ...mount, pads: { ...pads, length: 2 * pads.length } }]);
  }
  if (ring) {
    const thicker = { ...ring, thickness: 2 * ring.thickness };
    changes.push(["ring twice as thick", { ...mount, ring: thicker }]);
    changes.push(["ring twice as wide", { ...mount, ring: { ...ring, width: 2 * ring.width } }]);
  }
  const { diameter, residualResistivityRatio: ratio } = bonds!;
  if (diameter !== undefined) {
    changes.push(["bonds twice as thick", withBonds(mount, { diameter: 2 * diameter })]);
  }
  if (typeof ratio === "number") {
    const purer = withBonds(mount, { residualResistivityRatio: 2 * ratio });
    changes.push(["bonds of twice the residual resistivity ratio", purer]);
  }
  return changes
    .map(([change, changed]) => ({ change, ...tried(changed, catalogue, sheets, warmer) }))
    .sort((a, b) => (a.count ?? Number.POSITIVE_INFINITY) - (b.count ?? Number.POSITIVE_INFINITY));
}

/** A change may make the mount impossible (a foot larger than its share of the pad): no count then. */
function tried(mount: PlainMount, catalogue: Catalogue, sheets: SheetStore, warmer: number) {
  try {
    const changed = readMount(mount);
    const { count } = fewest(changed, catalogue, sheets, warmer);
    return { count, room: bondRoom(changed) };
  } catch (error) {
    if (error instanceof FieldError) return { count: undefined, room: 0 };
    throw error;
  }
}
