/**
 * How several dies lie: beside each other in one box, or one over the other. Lengths are in metres from the
 * lower left corner of the mount's own die, all dies seen from above.
 * @module
 */
import { overlapOf, type Rectangle, span } from "../../chip/grid.js";
import { FieldError, UnknownNameError } from "../../units/errors.js";
import { ownDie } from "../on-die.js";

interface Plate {
  readonly material: string;
  readonly width: number;
  readonly length: number;
  readonly thickness: number;
  readonly model?: string;
  readonly cells?: number;
}

/** What of a mount says how its dies lie. */
export interface WithStack {
  readonly die: Plate;
  readonly dies?: Readonly<
    Record<
      string,
      { readonly die: Plate; readonly offset?: { readonly x: number; readonly y: number } }
    >
  >;
  readonly between?: readonly { readonly from: string; readonly to: string }[];
}

/** Names of all dies, the mount's own first. */
export function dieNames({ dies = {} }: Pick<WithStack, "dies">): readonly string[] {
  return [ownDie, ...Object.keys(dies)];
}

/** A die by its name. */
export function plate(mount: WithStack, name: string): Plate {
  return name === ownDie ? mount.die : mount.dies![name]!.die;
}

/** @throws UnknownNameError for a die that there is not */
export function checkDie(mount: WithStack, name: string, field: string): void {
  const known = dieNames(mount);
  if (!known.includes(name)) throw new UnknownNameError(field, "die", name, known);
}

/** Where a die lies. */
export function faceOfDie(mount: WithStack, name: string): Rectangle {
  const { width, length } = plate(mount, name);
  if (name === ownDie) return { left: 0, right: width, bottom: 0, top: length };
  const { x, y } = mount.dies![name]!.offset ?? { x: 0, y: 0 };
  const left = (mount.die.width - width) / 2 + x;
  const bottom = (mount.die.length - length) / 2 + y;
  return { left, right: left + width, bottom, top: bottom + length };
}

/** A rectangle as another origin sees it. */
export function moved({ left, right, bottom, top }: Rectangle, by: Rectangle, sign: 1 | -1) {
  const [x, y] = [sign * by.left, sign * by.bottom];
  return { left: left + x, right: right + x, bottom: bottom + y, top: top + y };
}

/** Where two dies lie over each other; undefined where they do not. */
export function sharedFace(mount: WithStack, a: string, b: string): Rectangle | undefined {
  return overlapOf(faceOfDie(mount, a), faceOfDie(mount, b));
}

/**
 * How high each die lies: the lowest of those that are joined to each other, and one that is not, at 0.
 * @throws FieldError for dies of which each would lie over the other
 */
export function levelsOf(mount: WithStack): ReadonlyMap<string, number> {
  const levels = new Map<string, number>();
  const { between = [] } = mount;
  for (const first of dieNames(mount)) {
    if (levels.has(first)) continue;
    const before = new Set(levels.keys());
    levels.set(first, 0);
    for (let grows = true; grows; ) {
      grows = false;
      between.forEach(({ from, to }, i) => {
        const [above, below] = [levels.get(from), levels.get(to)];
        if (above === undefined && below === undefined) return;
        if (above !== undefined && below !== undefined) {
          if (above === below + 1) return;
          const words = "dies of which the first lies on the second";
          const got = `${from} and ${to}, by what else joins them`;
          throw new FieldError(`between[${i}]`, words, got);
        }
        if (above === undefined) levels.set(from, below! + 1);
        else levels.set(to, above - 1);
        grows = true;
      });
    }
    const joined = [...levels.keys()].filter((name) => !before.has(name));
    const lowest = Math.min(...joined.map((name) => levels.get(name)!));
    for (const name of joined) levels.set(name, levels.get(name)! - lowest);
  }
  return levels;
}

/** @throws FieldError for two dies in one place */
export function checkStack(mount: WithStack): void {
  const levels = levelsOf(mount);
  const names = dieNames(mount);
  names.forEach((name, i) => {
    for (const other of names.slice(0, i)) {
      const shared = sharedFace(mount, name, other);
      if (levels.get(other) !== levels.get(name) || !shared) continue;
      const beside = other === ownDie ? "the mount's own die" : other;
      const wanted = `a place beside ${beside}, or bumps, glue or a joint between them`;
      throw new FieldError(`dies.${name}.offset`, wanted, `an overlap at ${span(shared)}`);
    }
  });
}
