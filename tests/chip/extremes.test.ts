import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { SheetExtremes } from "../../src/chip/extremes.js";
import { Sheet } from "../../src/chip/index.js";
import { powerConductor } from "../../src/conductor.js";
import { conductionLaw } from "../../src/numerics/temperature-law.js";

const side = 8e-3;
const sheet = new Sheet({ width: side, length: side / 2, cells: 64 });
const law = powerConductor(1e-4, 4);
const share = fc.double({ min: 0.05, max: 0.95, noNaN: true });

describe("the extremes of a condensed sheet", () => {
  it("are those of its field, whatever the contacts, maps and temperatures", () => {
    const place = fc.record({ x: share, y: share });
    fc.assert(
      fc.property(
        fc.array(place, { minLength: 1, maxLength: 6 }),
        fc.array(fc.record({ x: share, y: share, radius: share, power: share }), { maxLength: 3 }),
        share,
        (places, spots, even) => {
          const contacts = places.map(({ x, y }, k) => ({
            name: `contact ${k}`,
            // In layers of their own, so that they may lie over each other.
            layer: `${k}`,
            area: {
              left: x * side - 2e-4,
              right: x * side + 2e-4,
              bottom: (y * side) / 2 - 1e-4,
              top: (y * side) / 2 + 1e-4,
            },
          }));
          const apart = places.every((a, i) =>
            places.slice(0, i).every((b) => Math.hypot(a.x - b.x, a.y - b.y) > 0.05),
          );
          fc.pre(apart);
          const condensed = sheet.condense(contacts);
          const maps = [
            { kind: "uniform", power: 1 } as const,
            ...spots.map(({ x, y, radius }) => ({
              kind: "spot" as const,
              power: 1,
              x: x * side,
              y: (y * side) / 2,
              radius: 5e-4 * radius + 1e-4,
            })),
          ];
          const powers = [1e-9 * even, ...spots.map(({ power }) => 1e-9 * power)];
          const whole = condensed.body(
            law,
            maps.map((map, m) => ({ map, times: powers[m]!, field: "map" })),
          );
          const temperatures = contacts.map((_, k) => 0.1 + 1e-4 * k);
          const field = condensed.field(whole, temperatures);
          const units = maps.map((map) => condensed.body(law, map));
          const extremes = new SheetExtremes(
            condensed,
            contacts.map((_, k) => k),
            units,
          );
          const theta = temperatures.map((T) => law.integral(T));
          const level = theta.reduce((sum, each) => sum + each / theta.length, 0);
          const n = theta.length;
          const heat = theta.map((own, i) =>
            theta.reduce(
              (sum, other, j) => sum + whole.admittance[i * n + j]! * (other - own),
              -whole.outflow[i]!,
            ),
          );
          extremes.find(level, Float64Array.from([...heat, ...powers]));
          const inverse = conductionLaw(law);
          const rise = field.hottest.temperature - field.coldest.temperature;
          const off = (value: number, T: number) => Math.abs(inverse.temperature(value, T) - T);
          expect(off(extremes.highest, field.hottest.temperature)).toBeLessThan(
            1e-9 * rise + 1e-13,
          );
          // A contact without cells of its own to be coldest in may be warmer than the rest.
          expect(off(extremes.lowest, field.coldest.temperature)).toBeLessThan(1e-9 * rise + 1e-13);
        },
      ),
      { seed: 7, numRuns: 60 },
    );
  });
});
