/**
 * Extreme but legal mounts, steady and in time. The whole of it takes hours: parts run side by side,
 * COLDPATH_FUZZ_PART=3/8 is the third of eight.
 */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { extremeCourses, extremeDies, extremeMounts } from "./extreme-mounts.js";
import { checkInTime, checkSteady, type Ending } from "./extremes.js";

const isLong = process.env.COLDPATH_FUZZ_CASES !== undefined;
const [part, parts] = (process.env.COLDPATH_FUZZ_PART ?? "1/1").split("/").map(Number) as [
  number,
  number,
];

/** Runs so many cases, all of them when fuzzing, and counts how they end. */
function count<T>(few: number, all: number, input: fc.Arbitrary<T>, check: (input: T) => Ending) {
  const endings = new Map<Ending, number>();
  const numRuns = isLong ? Math.ceil(all / parts) : few;
  const counted = fc.property(input, (value) => {
    const ending = check(value);
    endings.set(ending, (endings.get(ending) ?? 0) + 1);
  });
  // Making a failure small would take hours.
  fc.assert(counted, { numRuns, seed: 20_261_129 + part, endOnFailure: true });
  const told = [...endings].map(([ending, n]) => `${n} ${ending}`).join(", ");
  if (isLong) process.stdout.write(`extremes, ${numRuns} of part ${part}/${parts}: ${told}\n`);
  return (endings.get("solved") ?? 0) / numRuns;
}

describe("an extreme mount", () => {
  it("has a balance in numbers with a warning for each range left, or none, with a reason", () => {
    expect(count(40, 20_000, extremeMounts, checkSteady)).toBeGreaterThan(0.6);
  });

  it("has it with the 2-D model of its die, too", () => {
    expect(count(25, 1_000, extremeDies, checkSteady)).toBeGreaterThan(0.4);
  });

  it("runs to its end in time, and loses no heat", () => {
    const runs = fc.tuple(extremeMounts, extremeCourses);
    const share = count(30, 20_000, runs, ([mount, course]) => checkInTime(mount, course));
    expect(share).toBeGreaterThan(0.5);
  });
});
