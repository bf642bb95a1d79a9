/**
 * The main path of the heat, from the die down to the stage.
 * @module
 */
import type { PlacedPath, Structure } from "./assemble.js";

/** The path with the most heat: paths are written hot to cold, and heat that runs backward leads nowhere. */
export function largest(
  candidates: readonly PlacedPath[],
  flow: (path: PlacedPath) => number,
): PlacedPath | undefined {
  return candidates.reduce<PlacedPath | undefined>(
    (best, path) => (!best || flow(path) > flow(best) ? path : best),
    undefined,
  );
}

/** Paths from the die down to the stage, at each place the one with the largest flow. */
export function mainPath(
  { chip, paths }: Structure,
  flow: (path: string) => number,
): readonly PlacedPath[] {
  const most = (candidates: readonly PlacedPath[]) => largest(candidates, ({ name }) => flow(name));
  const onOwn = (place: PlacedPath["from"]) => place.onDie && place.die === undefined;
  const main: PlacedPath[] = [];
  let next = most(paths.filter(({ from }) => from === chip || onOwn(from)));
  while (next && !main.includes(next)) {
    main.push(next);
    const at = next.to;
    // Through a 2-D die heat comes in at one place and leaves at another.
    const onSame = ({ from }: PlacedPath) => at.onDie && from.onDie && from.die === at.die;
    next = most(paths.filter((path) => path.from === at || onSame(path)));
  }
  return main;
}
