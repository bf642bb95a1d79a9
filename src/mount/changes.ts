/**
 * What happens to a mount in time: hits, loads that come and go, a stage that is warmed or cooled.
 * @module
 */
import { notNegative, notNegativeNumber, positive } from "../units/checks.js";
import { FieldError, UnknownNameError } from "../units/errors.js";
import type { Energy, Temperature, Time } from "../units/quantity.js";
import type { Place } from "./things/spots.js";

/** A particle or a pulse of light that heats the die at once. */
export interface GivenHit {
  /** When, from the start of the run [s]. */
  readonly at: Time;
  /** Energy that becomes heat [J]. */
  readonly energy: Energy;
  /** Where on the die, when it is a sheet; all over it when absent. */
  readonly place?: Place;
}

/** A load that changes: a shutter, readout switched on, a lamp, a slew of the telescope. */
export interface LoadChange {
  /** When, from the start of the run [s]. */
  readonly at: Time;
  /** Name of the load. */
  readonly load: string;
  /** What of the load's power falls from then on: 0 is off, 1 as the mount says. */
  readonly to: number;
  /** How long the change takes, in a straight line [s]; at once when absent. */
  readonly over?: Time;
}

/** A stage that is brought to another temperature. */
export interface StageChange {
  /** When, from the start of the run [s]. */
  readonly at: Time;
  /** Temperature from then on [K]. */
  readonly to: Temperature;
  /** How long the change takes, in a straight line [s]; at once when absent. */
  readonly over?: Time;
}

/** A number that runs in straight lines from one value to the next. */
export interface Course {
  /** Where it jumps or bends [s]. */
  readonly breaks: readonly number[];
  /** At a jump, the value after it. */
  at(time: number): number;
}

/** A change in SI. */
interface Step {
  readonly at: number;
  readonly to: number;
  readonly over: number;
}

/**
 * The course of a number that starts at a value and changes.
 * @throws FieldError when a change begins before the one before it has ended
 */
export function courseOf(initial: number, steps: readonly Step[], field: string): Course {
  steps.forEach((step, i) => {
    const before = steps[i - 1];
    if (before && step.at < before.at + before.over) {
      const wanted = `${before.at + before.over} s or later, when the change before it has ended`;
      throw new FieldError(`${field}[${i}].at`, wanted, step.at);
    }
  });
  const breaks = steps.flatMap(({ at, over }) => (over > 0 ? [at, at + over] : [at]));
  return {
    breaks,
    at: (time) => {
      let value = initial;
      for (const { at, to, over } of steps) {
        if (time < at) break;
        value = over > 0 && time < at + over ? value + ((to - value) * (time - at)) / over : to;
      }
      return value;
    },
  };
}

const factor = "a factor of the load: 0 is off, 1 is as the mount says";

/** The course of every load that changes or does not start as the mount says, by name. */
export function loadCourses(
  names: readonly string[],
  initially: Readonly<Record<string, number>>,
  changes: readonly LoadChange[],
): ReadonlyMap<string, Course> {
  for (const [name, value] of Object.entries(initially)) {
    if (!names.includes(name)) throw new UnknownNameError("initially", "load", name, names);
    notNegativeNumber(`initially.${name}`, value, factor);
  }
  const steps = new Map<string, Step[]>();
  changes.forEach(({ at, load, to, over }, i) => {
    const field = `changes[${i}]`;
    if (!names.includes(load)) throw new UnknownNameError(`${field}.load`, "load", load, names);
    const step = {
      at: notNegative(`${field}.at`, at, "time"),
      to: notNegativeNumber(`${field}.to`, to, factor),
      over: notNegative(`${field}.over`, over ?? 0, "time"),
    };
    steps.set(load, [...(steps.get(load) ?? []), step]);
  });
  const changed = new Set([...Object.keys(initially), ...steps.keys()]);
  return new Map(
    [...changed].map((name) => [
      name,
      courseOf(initially[name] ?? 1, steps.get(name) ?? [], `changes of ${name}`),
    ]),
  );
}

/** The course of the stage's temperature. */
export function stageCourse(initial: number, changes: readonly StageChange[]): Course {
  const steps = changes.map(({ at, to, over }, i) => ({
    at: notNegative(`stage[${i}].at`, at, "time"),
    to: positive(`stage[${i}].to`, to, "temperature"),
    over: notNegative(`stage[${i}].over`, over ?? 0, "time"),
  }));
  return courseOf(initial, steps, "stage");
}
