/**
 * How many cases of fuzzing are run, and what counts as a fault: an end without an error that says
 * what was wrong with the input, or a result that holds something else than numbers.
 */
import fc from "fast-check";

/** Cases of all the fuzzing in one run of the tests. */
const usual = 5_000;
/** All weights together. */
const allWeights = 1.65;
const wanted = Number(process.env.COLDPATH_FUZZ_CASES ?? usual);

/**
 * Runs a part of all cases, by its weight; the same ones each time unless more than usual are wanted.
 * @param input - what is written, whose texts may come back as they are
 */
export function fuzz<T>(weight: number, input: fc.Arbitrary<T>, run: (input: T) => unknown): void {
  const numRuns = Math.ceil((weight / allWeights) * wanted);
  fc.assert(
    fc.property(input, (value) => survives(() => run(value), value)),
    wanted > usual ? { numRuns } : { numRuns, seed: 20_260_213 },
  );
}

/** Kinds of error whose message is for the user. */
const spoken = new Set(["FieldError", "UnknownNameError", "SolveError", "PageFileError"]);
/** Messages of the language's own errors: the input was not checked. */
const unchecked =
  /call stack|Invalid (array|string|typed array|count|time|Map|value)|argument must be|out of memory|allocation/;

/** Whether an error says in words what was wrong, as one of this library does. */
function isSpoken(error: unknown): boolean {
  if (!(error instanceof Error) || unchecked.test(error.message)) return false;
  if (error.message === "" || error.message.includes("[object ")) return false;
  return spoken.has(error.name) || /^(RangeError|Error)$/.test(error.name);
}

/**
 * Runs one case. What it returns must hold no NaN; what it throws must be for the user; and nothing may
 * be left on what all objects share.
 */
function survives(run: () => unknown, input: unknown): void {
  let result: unknown;
  try {
    result = run();
  } catch (error) {
    refusePollution();
    if (isSpoken(error)) return;
    throw error;
  }
  refusePollution();
  refuseNaN(result, "result", new Set(), wordsIn(input));
}

const odd = /\bNaN\b|\[object |\bundefined\b/g;

/** What would be a fault in a result, but was written so by the user. */
function wordsIn(input: unknown, depth = 0): string[] {
  if (typeof input === "string") return input.match(odd) ?? [];
  if (typeof input !== "object" || input === null || depth > 20) return [];
  return [...Object.keys(input), ...Object.values(input)].flatMap((each) =>
    wordsIn(each, depth + 1),
  );
}

const shared = [
  Object.prototype,
  Array.prototype,
  Function.prototype,
  String.prototype,
] as object[];
const before = shared.map((prototype) => Reflect.ownKeys(prototype).length);

function refusePollution(): void {
  shared.forEach((prototype, i) => {
    const keys = Reflect.ownKeys(prototype);
    if (keys.length !== before[i]) throw new Error(`a prototype has become ${String(keys.at(-1))}`);
  });
}

/** Fields that their doc comment allows to be NaN. */
const mayBeNaN = /\.elements\.\d+\.conductance$/;

export function refuseNaN(
  value: unknown,
  path: string,
  seen: Set<unknown>,
  written: readonly string[],
): void {
  if (typeof value === "number") {
    if (Number.isNaN(value) && !mayBeNaN.test(path)) throw new Error(`${path} is NaN`);
  } else if (typeof value === "string") {
    const found = value.match(odd)?.find((word) => !written.includes(word));
    if (found === undefined) return;
    const at = value.indexOf(found);
    throw new Error(`${path} says ${found}: ${value.slice(Math.max(0, at - 100), at + 50)}`);
  } else if (typeof value === "object" && value !== null && !seen.has(value)) {
    seen.add(value);
    const list = value instanceof Map ? [...value] : Object.entries(value);
    for (const [key, entry] of list) refuseNaN(entry, `${path}.${key}`, seen, written);
  }
}
