/**
 * 330 random mounts of every kind of die, thing, load and stage, steady and in time, as computed before
 * the description was split into things: the code computes what it did, right or wrong. pinned.test.ts
 * takes every fifth, pinned.slow.test.ts all others. A change that is meant to move a number says so
 * and writes the file anew with COLDPATH_PIN=write and pinned.test.ts.
 */
import { readFileSync, writeFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { type Mount, thermalBudget, timeCourse } from "../../src/index.js";

const file = new URL("pinned.jsonl", import.meta.url);

interface Pin {
  readonly kind: string;
  readonly mount: Mount;
  /** Or why there is no steady state. */
  readonly steady: object | string;
  /** By place: mean before a hit, hottest after it, mean at the end [K]; or why it cannot be followed. */
  readonly time: readonly (readonly number[])[] | string;
}

function steadyOf(mount: Mount): object | string {
  try {
    return budgetOf(mount);
  } catch (error) {
    return (error as Error).message.slice(0, 80);
  }
}

function budgetOf(mount: Mount): object {
  const { places, elements, sources, limit, provenance, warnings, contacts } = thermalBudget(mount);
  return {
    places: places.map((place) => place.temperature),
    flows: elements.map(({ power, count }) => [power, count]),
    sources: sources.map(({ power }) => power),
    limit: limit ?? null,
    numbers: provenance.length,
    warnings: warnings.length,
    contacts: contacts.length,
  };
}

function timeOf(mount: Mount): Pin["time"] {
  try {
    const course = timeCourse(mount, {
      duration: "10 ms",
      hits: [{ at: "1 ms", energy: "1 MeV" }],
      cells: 8,
      relativeTolerance: 1e-7,
    });
    return course.places.map((name) => [
      course.meanAt(name, 0),
      course.temperature(name, 0.002),
      course.meanAt(name, 0.01),
    ]);
  } catch (error) {
    return (error as Error).message.slice(0, 80);
  }
}

/** Numbers to a part in 1e10 of the largest of their list. */
function expectSame(found: unknown, pinned: unknown, where: string): void {
  if (Array.isArray(pinned) && pinned.every((x) => typeof x === "number")) {
    const scale = Math.max(...pinned.map(Math.abs));
    expect(found, where).toHaveLength(pinned.length);
    pinned.forEach((x, i) => {
      expect(Math.abs((found as number[])[i]! - x), `${where}[${i}]`).toBeLessThanOrEqual(
        1e-10 * scale,
      );
    });
  } else if (typeof pinned === "object" && pinned !== null) {
    expect(Object.keys(found as object), where).toEqual(Object.keys(pinned));
    for (const [key, value] of Object.entries(pinned)) {
      expectSame((found as Record<string, unknown>)[key], value, `${where}.${key}`);
    }
  } else if (typeof pinned === "number") expectSame([found], [pinned], where);
  else expect(found, where).toEqual(pinned);
}

export const pins: readonly Pin[] = readFileSync(file, "utf8")
  .trim()
  .split("\n")
  .map((line) => JSON.parse(line) as Pin);

/** Computes all mounts anew and writes the file. */
export function writePins(): void {
  const lines = pins.map(({ kind, mount }) =>
    JSON.stringify({ kind, mount, steady: steadyOf(mount), time: timeOf(mount) }),
  );
  writeFileSync(file, `${lines.join("\n")}\n`);
}

/** Tests of those mounts whose number in the file is chosen, at least so many of each kind. */
export function checkPins(chosen: (index: number) => boolean, least: number): void {
  const mine = pins.filter((_, i) => chosen(i));
  const kinds = [...new Set(pins.map(({ kind }) => kind))];
  const ofKind = (kind: string) => mine.filter((pin) => pin.kind === kind);

  describe(`${mine.length} random mounts`, { timeout: 480_000 }, () => {
    it.each(kinds)("are steady as they were: %s", (kind) => {
      expect(ofKind(kind).length).toBeGreaterThanOrEqual(least);
      ofKind(kind).forEach(({ mount, steady }, i) => {
        expectSame(steadyOf(mount), steady, `${kind} ${i}`);
      });
    });

    it.each(kinds)("run in time as they did: %s", (kind) => {
      ofKind(kind).forEach(({ mount, time }, i) => {
        expectSame(timeOf(mount), time, `${kind} ${i}`);
      });
    });
  });
}
