/** What happens before each file of tests that meets a mutant. */
import { beforeEach, inject } from "vitest";

// Stryker switches a mutant on when the tests begin. What a file makes before them, at its top, must
// meet the mutant too, and not the one of the run before.
const given = inject as unknown as (key: string) => string;
const { __stryker__: stryker } = globalThis as { __stryker__?: { activeMutant?: string } };
if (stryker && given("mode") === "mutant") stryker.activeMutant = given("activeMutant");

// Tests that take most of the time, and find in many cases what others find in a few.
const slow: ReadonlySet<string> = new Set([
  "agrees with eighth-order differences of whole solves within 1e-8",
  "Half a million solves leave the heap as it was.",
  "A grid of 10,000 nodes is ordered so that it fills with fewer than 40 couplings a node.",
  "between two contacts is second order in the cell",
]);

beforeEach(({ task, skip }) => {
  if (slow.has(task.name)) skip();
});
