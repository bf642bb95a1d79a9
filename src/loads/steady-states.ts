/**
 * Where a load that depends on temperature reaches a steady state with what cools it.
 * @module
 */
import type { Load } from "../conductor.js";
import { root } from "../numerics/root.js";
import { positive } from "../units/checks.js";
import { FieldError } from "../units/errors.js";
import { formatQuantity } from "../units/format.js";
import type { Temperature } from "../units/quantity.js";

/** A temperature at which load and cooling are equal. */
export interface SteadyState {
  /** Temperature [K]. */
  readonly temperature: number;
  /** Power, of load and cooling alike [W]. */
  readonly power: number;
  /** Whether it comes back when it is a little warmer or colder. */
  readonly stable: boolean;
}

/** Every steady state between two temperatures, from the coldest on. */
export interface SteadyStates {
  /** How many there are. */
  readonly found: "none" | "one" | "several";
  /** The steady states, cold to warm. */
  readonly states: readonly SteadyState[];
  /** The same in words; where there is none, which of load and cooling is always the larger. */
  readonly message: string;
}

/** Places looked at, evenly in the logarithm. */
const places = 400;

/**
 * All steady states of a load against its cooling: none when the load outgrows the cooling, or several,
 * of which every second one is unstable.
 *
 * Two states closer than a 400th of the range are still found, by the turn of the difference between them.
 * @param load - for example `readoutLaw`
 * @param taken - heat that the paths and the stage take at a temperature of the chip [W]
 * @param between - temperatures to look between; from the coldest that the chip can have
 * @throws FieldError for a wrong range, RangeError where load or cooling is not finite
 * @example steadyStates({ power: (T) => 1e-9 * T }, (T) => heatFlow(powerConductor(1e-5, 2), T, 0.1),
 *   { from: 0.1, to: 1 }).message
 */
export function steadyStates(
  load: Pick<Load, "power">,
  taken: (temperature: number) => number,
  between: {
    /** Lowest temperature [K]. */
    readonly from: Temperature;
    /** Highest temperature [K]. */
    readonly to: Temperature;
  },
): SteadyStates {
  const from = positive("between.from", between.from, "temperature");
  const to = positive("between.to", between.to, "temperature");
  if (!(to > from)) {
    const wanted = `a temperature above ${formatQuantity(from, "K")}`;
    throw new FieldError("between.to", wanted, between.to);
  }
  const surplus = (T: number) => {
    const value = taken(T) - load.power(T);
    if (Number.isFinite(value)) return value;
    throw new RangeError(
      `steadyStates: load or cooling is not finite at ${formatQuantity(T, "K")}`,
    );
  };
  const states: SteadyState[] = brackets(surplus, from, to).map(([low, high, stable]) => {
    const temperature = low === high ? low : root(surplus, low, high);
    return { temperature, power: load.power(temperature), stable };
  });
  const found = states.length === 0 ? "none" : states.length === 1 ? "one" : "several";
  return { found, states, message: inWords(states, surplus, from, to) };
}

/** Intervals in which the difference changes sign, upwards in a stable state. */
function brackets(surplus: (T: number) => number, from: number, to: number) {
  const grid = Array.from({ length: places + 1 }, (_, i) =>
    i === places ? to : from * (to / from) ** (i / places),
  );
  const values = grid.map(surplus);
  const found: [low: number, high: number, stable: boolean][] = [];
  // A state exactly at the coldest point, such as a load of 0.
  if (values[0] === 0) found.push([from, from, values[1]! > 0]);
  for (let i = 1; i <= places; i++) {
    const [low, high] = [grid[i - 1]!, grid[i]!];
    const [before, now] = [values[i - 1]!, values[i]!];
    if (before < 0 && now >= 0) found.push([low, high, true]);
    else if (before > 0 && now <= 0) found.push([low, high, false]);
    if (i < 2) continue;
    // Where the difference turns towards zero and back it may pass it twice between two places.
    const [start, middle] = [values[i - 2]!, before];
    const sign = Math.sign(middle);
    const oneSide = sign !== 0 && Math.sign(start) === sign && Math.sign(now) === sign;
    if (!oneSide || sign * middle >= sign * start || sign * middle > sign * now) continue;
    const turn = lowest((T) => sign * surplus(T), grid[i - 2]!, high);
    if (sign * surplus(turn) >= 0) continue;
    found.push([grid[i - 2]!, turn, sign < 0], [turn, high, sign > 0]);
  }
  return found;
}

/** Where a function with one low place between two others has it, by the golden section. */
function lowest(f: (x: number) => number, a: number, b: number): number {
  const part = (Math.sqrt(5) - 1) / 2;
  let [low, high] = [a, b];
  for (let step = 0; step < 60; step++) {
    const [left, right] = [high - part * (high - low), low + part * (high - low)];
    if (f(left) < f(right)) high = right;
    else low = left;
  }
  return (low + high) / 2;
}

function inWords(
  states: readonly SteadyState[],
  surplus: (T: number) => number,
  from: number,
  to: number,
): string {
  const range = `between ${formatQuantity(from, "K")} and ${formatQuantity(to, "K")}`;
  const list = states.map(
    ({ temperature, stable }) =>
      `${formatQuantity(temperature, "K")} (${stable ? "stable" : "unstable"})`,
  );
  if (states.length > 1) {
    const first = states.find(({ stable }) => stable);
    const rest = first
      ? ` From the cold it reaches a steady state at ${formatQuantity(first.temperature, "K")}.`
      : "";
    return `${states.length} steady states ${range}: ${list.join(", ")}.${rest}`;
  }
  if (states.length === 1) return `One steady state ${range}: ${list[0]}.`;
  return surplus(from) < 0
    ? `No steady state ${range}: the load is more than the cooling takes everywhere. Lower the load or improve the path.`
    : `No steady state ${range}: the cooling takes more than the load everywhere. Look at colder temperatures.`;
}
