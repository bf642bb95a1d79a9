import { it } from "vitest";

const isQuick = process.env.COLDPATH_TESTS === "quick";

/** A test that takes seconds, in a file of quick ones: `npm test` skips it, as it does *.slow.test.ts. */
export const slowly = it.skipIf(isQuick);

/** How many random cases: a fourth of them in `npm test`. */
export const cases = (all: number) => (isQuick ? Math.ceil(all / 4) : all);
