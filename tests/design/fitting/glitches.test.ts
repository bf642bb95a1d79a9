/** A fit with Huber's errors: a tenth of the readings spoilt moves it little, and the lines are named. */
import { describe, expect, it } from "vitest";
import { calibrate } from "../../../src/design/fitting/calibrate.js";
import { readThermometry } from "../../../src/design/fitting/thermometry.js";
import { ombrelCooldown, ombrelMount } from "../ombrel-cooldown.js";

const inputs = ["pads.coupling.coefficient", "pads.boundary.resistance"] as const;
const start = ombrelMount(2.4e9, 1.26e-3);
const [header, ...lines] = ombrelCooldown()
  .trim()
  .split("\n")
  .filter((line) => !line.startsWith("#"));
const read = (some: readonly string[]) => readThermometry([header, ...some].join("\n"), "cool.csv");
/** Readings of the chip that jumped by some millikelvins, as a counter that missed a digit. */
const jumps = new Map([
  [5, 8],
  [13, -6],
  [20, 10],
]);
const spoilt = lines.map((line, i) => {
  const [power, chip, ...rest] = line.split(",");
  return [power, Number(chip) + (jumps.get(i) ?? 0), ...rest].join(",");
});

describe("a fit to readings with glitches", () => {
  const clean = calibrate(start, read(lines), { inputs });
  const plain = calibrate(start, read(spoilt), { inputs });
  const robust = calibrate(start, read(spoilt), { inputs, errors: "huber" });
  const off = (fit: typeof clean, name: string) =>
    Math.abs(Math.log(fit.of(name).value / clean.of(name).value)) / clean.of(name).uncertainty;

  it("stays near the clean one, where least squares is dragged away", () => {
    for (const name of inputs) {
      expect(off(robust, name)).toBeLessThan(1);
      expect(off(plain, name)).toBeGreaterThan(2);
      const wider = robust.of(name).uncertainty / clean.of(name).uncertainty;
      expect(wider).toBeGreaterThan(0.9);
      expect(wider).toBeLessThan(2);
    }
  });

  it("names the lines, and says that some readings count for less", () => {
    const places = [...jumps.keys()].map((i) => `cool.csv:${i + 2}: chip reads `);
    for (const place of places) {
      expect(robust.warnings.some((text) => text.startsWith(place))).toBe(true);
    }
    expect(robust.warnings.filter((text) => text.startsWith("cool.csv:")).length).toBe(jumps.size);
    expect(robust.probability).toBeUndefined();
    expect(robust.downweighted).toBeGreaterThanOrEqual(jumps.size);
    expect(robust.summary).toMatch(/Huber's errors: \d+ readings count for less than in full/);
  });

  it("costs little where there are none", () => {
    const careful = calibrate(start, read(lines), { inputs, errors: "huber" });
    for (const name of inputs) expect(off(careful, name)).toBeLessThan(0.7);
  });

  it("refuses other words", () => {
    expect(() => calibrate(start, read(lines), { inputs, errors: "student" as never })).toThrow(
      'errors: expected "normal" or "huber", got "student"',
    );
  });
});
