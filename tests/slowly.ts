import { it } from "vitest";

/** A test that takes seconds, in a file of quick ones: `npm test` skips it, as it does *.slow.test.ts. */
export const slowly = it.skipIf(process.env.COLDPATH_TESTS === "quick");
