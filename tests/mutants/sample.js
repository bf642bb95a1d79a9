/**
 * Leaves out some of the mutants, for when all of them would take too long. Expressions are drawn whole,
 * with all that is in them, by lot from their place in the file: another run draws the same. Removals of
 * whole blocks, which can't be drawn alone, are left out of a sample.
 */
export const share = Number(process.env.COLDPATH_MUTANTS_SHARE ?? 1);

/** Whether an expression is no part of another. */
const whole = (path) => path.isExpression() && !path.parentPath.isExpression();

/** A number from 0 to below 1 that looks random: FNV-1a's prime and offset, and MurmurHash3's last steps. */
function drawn(...numbers) {
  let hash = 0x811c9dc5;
  for (const number of numbers) hash = Math.imul(hash ^ number, 0x01000193);
  hash = Math.imul(hash ^ (hash >>> 16), 0x85ebca6b);
  hash = Math.imul(hash ^ (hash >>> 13), 0xc2b2ae35);
  return ((hash ^ (hash >>> 16)) >>> 0) / 2 ** 32;
}

export const strykerPlugins = [
  {
    kind: "Ignore",
    name: "sample",
    value: {
      shouldIgnore: (path) =>
        share < 1 && whole(path) && drawn(path.node.start, path.node.end) >= share
          ? "not drawn"
          : undefined,
    },
  },
];
