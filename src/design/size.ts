/**
 * How many bonds a mount needs, and what stands in the way when no number is enough.
 * @module
 */
import { standardCatalogue } from "../materials/standard.js";
import type { Catalogue } from "../materials/types.js";
import { type Budget, bondRoom, drawUp } from "../mount/budget.js";
import { watch } from "../mount/dependencies.js";
import type { Mount } from "../mount/description.js";
import { type PlainMount, readMount } from "../mount/read.js";
import { translate } from "../mount/translate.js";
import { SteadyNetwork } from "../network/steady.js";
import { FieldError } from "../units/errors.js";
import { formatQuantity } from "../units/format.js";

/** A single change to the mount, and how many bonds it would then need. */
export interface Alternative {
  /** In words: `pads twice as thick`. */
  readonly change: string;
  /** Fewest bonds that hold the limit; undefined when none does. */
  readonly count: number | undefined;
  /** How many would have room. */
  readonly room: number;
}

/** The answer to: how many bonds? */
export class Sizing {
  constructor(
    /** Fewest bonds that hold the limit, room or not; undefined when no number does. */
    readonly count: number | undefined,
    /** How many have room on the edges. */
    readonly room: number,
    /** At `count`, or at as many as have room when that is not enough. */
    readonly budget: Budget,
    /** Rise of the chip above the stage with bonds without number [K]: what bonds can't help. */
    readonly floor: number,
    /** Bonds at which half of the rise is that floor: more hardly help. */
    readonly knee: number,
    /** What single changes to the mount would do, fewest bonds first. */
    readonly alternatives: readonly Alternative[],
  ) {}

  /** Whether some number of bonds both holds the limit and has room. */
  get enough(): boolean {
    return this.count !== undefined && this.count <= this.room;
  }

  /** The answer in a sentence or two. */
  get reason(): string {
    const { count, room, floor, budget } = this;
    const { governs, chip } = budget;
    const most =
      `${governs.name} costs the most, ` +
      `${formatQuantity(governs.drop, "K")} of ${formatQuantity(chip.rise, "K")}`;
    if (count === undefined) {
      return (
        `No number of bonds holds the limit: with bonds without number the chip is still ` +
        `${formatQuantity(floor, "K")} above the stage. With the ${room} that have room, ${most}.`
      );
    }
    return count > room
      ? `${count} bonds would hold the limit, but the edges have room for ${room}. With those, ${most}.`
      : `${count} bonds hold the limit, of ${room} that have room; ${most}.`;
  }

  /** The answer and the alternatives, for a terminal. */
  toText(): string {
    const width = Math.max(...this.alternatives.map(({ change }) => change.length));
    const lines = this.alternatives.map(
      (alternative) => `  ${alternative.change.padEnd(width)}  ${needed(alternative)}`,
    );
    return [this.reason, "What one change would do:", ...lines].join("\n");
  }

  /** The answer and the alternatives, for a notebook. */
  toMarkdown(): string {
    const rows = this.alternatives.map((a) => `| ${a.change} | ${needed(a)} |`);
    return [
      `**${this.reason}**`,
      ["| one change | bonds needed |", "| --- | --- |", ...rows].join("\n"),
    ].join("\n\n");
  }
}

function needed({ count, room }: Alternative): string {
  if (count === undefined) return "no number is enough";
  return count > room ? `${count}, with room for ${room}` : `${count}`;
}

/** More bonds than any chip has: what is left with them is not the bonds' doing. */
const withoutNumber = 1e9;

/**
 * The fewest bonds that keep the chip at or below its limit, all else in the mount as it is.
 * The mount's own `bonds.count` plays no part.
 * @throws FieldError when the mount has no bonds or no limit
 */
export function sizeBonds(mount: Mount, options: { readonly catalogue?: Catalogue } = {}): Sizing {
  const catalogue = options.catalogue ?? standardCatalogue();
  const plain = readMount(mount);
  const { bonds, limit } = plain;
  if (!bonds) throw new FieldError("bonds", "bonds to count", undefined);
  if (!limit) throw new FieldError("limit", "a limit to hold", undefined);
  const { count, floor, knee } = fewest(plain, catalogue);
  const room = bondRoom(plain);
  const shown = withBonds(plain, { count: Math.max(1, Math.min(count ?? room, room)) });
  const budget = drawUp(shown, translate(shown, catalogue));
  return new Sizing(count, room, budget, floor, knee, alternativesOf(plain, catalogue));
}

/** Fewest bonds by halving, on one compiled network: more bonds never make the chip hotter. */
function fewest(mount: PlainMount, catalogue: Catalogue) {
  const translation = translate(mount, catalogue);
  const { structure } = translation;
  const network = new SteadyNetwork(translation.network);
  const chip = network.nodeNames.indexOf(structure.chip);
  const counted = structure.parts.filter(
    (part) => part.count && watch(mount, part.count).reads.has("bonds.count"),
  );
  const temperature = (count: number) => {
    const m = withBonds(mount, { count });
    for (const part of counted) {
      network.setCount(network.linkNames.indexOf(part.name), part.count!(m));
    }
    return network.trySolve() ? network.temperatures[chip]! : Number.POSITIVE_INFINITY;
  };
  const { limit, stage } = mount;
  const highest = "rise" in limit! ? stage + limit.rise : limit!.temperature;
  const floor = temperature(withoutNumber) - stage;
  const atMost = (ceiling: number) => {
    let [low, high] = [0, 1];
    while (temperature(high) > ceiling && high < withoutNumber) [low, high] = [high, 2 * high];
    while (high - low > 1) {
      const middle = Math.floor((low + high) / 2);
      if (temperature(middle) > ceiling) low = middle;
      else high = middle;
    }
    return high;
  };
  return {
    count: stage + floor > highest ? undefined : atMost(highest),
    floor,
    knee: atMost(stage + 2 * floor),
  };
}

function withBonds(mount: PlainMount, changes: Partial<PlainMount["bonds"]>): PlainMount {
  return { ...mount, bonds: { ...mount.bonds!, ...changes } };
}

/** What a designer would try next; each is computed, none is a rule of thumb. */
function alternativesOf(mount: PlainMount, catalogue: Catalogue): readonly Alternative[] {
  const { bonds, pads, die } = mount;
  const changes: [string, PlainMount][] = [
    ["pads twice as thick", { ...mount, pads: { ...pads!, thickness: 2 * pads!.thickness } }],
    ["pads twice as long", { ...mount, pads: { ...pads!, length: 2 * pads!.length } }],
    ["bonds half as long", withBonds(mount, { length: bonds!.length / 2 })],
    ["two bonds on each pad", withBonds(mount, { perPad: 2 * (bonds!.perPad ?? 1) })],
    ["die twice as thick", { ...mount, die: { ...die, thickness: 2 * die.thickness } }],
  ];
  const { diameter, residualResistivityRatio: ratio } = bonds!;
  if (diameter !== undefined) {
    changes.push(["bonds twice as thick", withBonds(mount, { diameter: 2 * diameter })]);
  }
  if (typeof ratio === "number") {
    const purer = withBonds(mount, { residualResistivityRatio: 2 * ratio });
    changes.push(["bonds of twice the residual resistivity ratio", purer]);
  }
  return changes
    .map(([change, changed]) => ({ change, ...tried(changed, catalogue) }))
    .sort((a, b) => (a.count ?? Number.POSITIVE_INFINITY) - (b.count ?? Number.POSITIVE_INFINITY));
}

/** A change may make the mount impossible (a foot larger than its share of the pad): no count then. */
function tried(mount: PlainMount, catalogue: Catalogue) {
  try {
    return { count: fewest(readMount(mount), catalogue).count, room: bondRoom(mount) };
  } catch (error) {
    if (error instanceof FieldError) return { count: undefined, room: bondRoom(mount) };
    throw error;
  }
}
