import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Contact } from "../../src/chip/contact.js";
import { heatInto } from "../../src/chip/contact-means.js";
import type { PowerMap } from "../../src/chip/power-map.js";
import { Sheet } from "../../src/chip/sheet.js";
import { powerConductor } from "../../src/conductor.js";

const law = powerConductor(2e-4, 4);
const side = 12e-3;
const uniform: PowerMap = { kind: "uniform", power: 5e-9 };

const pad = (name: string, x: number, y: number, width = 0.9e-3, length = 0.7e-3): Contact => ({
  name,
  area: { left: x, right: x + width, bottom: y, top: y + length },
});

/** Pads apart from each other, one in each of some places of a 4 × 4 board. */
const pads = fc
  .uniqueArray(fc.integer({ min: 0, max: 15 }), { minLength: 1, maxLength: 8 })
  .chain((places) =>
    fc.tuple(
      ...places.map((place) =>
        fc
          .tuple(
            fc.double({ min: 0, max: 1.4e-3, noNaN: true }),
            fc.double({ min: 0.6e-3, max: 1.5e-3, noNaN: true }),
          )
          .map(([shift, size]) =>
            pad(`pad ${place}`, 3e-3 * (place % 4) + shift, 3e-3 * (place >> 2), size, 1.3e-3),
          ),
      ),
    ),
  );
const spots = fc.record({
  kind: fc.constant("spot" as const),
  power: fc.double({ min: 1e-10, max: 1e-8, noNaN: true }),
  x: fc.double({ min: 0, max: side, noNaN: true }),
  y: fc.double({ min: 0, max: side, noNaN: true }),
  radius: fc.double({ min: 1e-4, max: 4e-3, noNaN: true }),
});

/** Θ of the contacts and heat that leaves at each, from all cells' balances at once. */
function directly(sheet: Sheet, contacts: readonly Contact[], powers: Float64Array, at: number[]) {
  const { grid } = sheet;
  const { cellsX, cellsY, cellWidth, cellLength, cells } = grid;
  const size = cells + contacts.length;
  const rows = Array.from({ length: size }, () => new Float64Array(size + 1));
  const join = (a: number, b: number, g: number) => {
    rows[a]![a]! += g;
    rows[b]![b]! += g;
    rows[a]![b]! -= g;
    rows[b]![a]! -= g;
  };
  for (let j = 0; j < cellsY; j++) {
    for (let i = 0; i < cellsX; i++) {
      const c = j * cellsX + i;
      if (i + 1 < cellsX) join(c, c + 1, cellLength / cellWidth);
      if (j + 1 < cellsY) join(c, c + cellsX, cellWidth / cellLength);
      rows[c]![size] = powers[c]!;
    }
  }
  contacts.forEach(({ area }, p) => {
    if (!("left" in area)) throw new Error("one rectangle");
    const whole = (area.right - area.left) * (area.top - area.bottom);
    for (let c = 0; c < cells; c++) {
      const [left, bottom] = [(c % cellsX) * cellWidth, Math.floor(c / cellsX) * cellLength];
      const wide = Math.min(area.right, left + cellWidth) - Math.max(area.left, left);
      const long = Math.min(area.top, bottom + cellLength) - Math.max(area.bottom, bottom);
      const share = wide > 0 && long > 0 ? (wide * long) / whole : 0;
      rows[c]![cells + p] = share;
      rows[cells + p]![c] = share;
    }
    rows[cells + p]![size] = at[p]!;
  });
  for (let k = 0; k < size; k++) {
    let best = k;
    for (let i = k; i < size; i++) {
      if (Math.abs(rows[i]![k]!) > Math.abs(rows[best]![k]!)) best = i;
    }
    [rows[k], rows[best]] = [rows[best]!, rows[k]!];
    for (let i = 0; i < size; i++) {
      const factor = i === k ? 0 : rows[i]![k]! / rows[k]![k]!;
      if (factor !== 0) for (let j = k; j <= size; j++) rows[i]![j]! -= factor * rows[k]![j]!;
    }
  }
  const found = rows.map((row, i) => row[size]! / row[i]!);
  return { theta: found.slice(0, cells), heat: found.slice(cells) };
}

describe("a sheet condensed to its contacts", () => {
  it("is what all cells' balances give at once", () => {
    const sheet = new Sheet({ width: side, length: side / 2, cellsX: 10, cellsY: 6 });
    const contacts = [
      pad("a", 0, 0),
      pad("b", 10.5e-3, 1e-3, 1.3e-3, 2e-3),
      pad("c", 5e-3, 4.1e-3, 3e-3, 1.9e-3),
    ];
    const condensed = sheet.condense(contacts);
    const body = condensed.body(law, [
      { kind: "spot", power: 3e-9, x: 3e-3, y: 4e-3, radius: 1e-3 },
      uniform,
    ]);
    const temperatures = [0.1, 0.11, 0.12];
    const expected = directly(
      sheet,
      contacts,
      body.powers,
      temperatures.map((T) => law.integral(T)),
    );
    const into = heatInto(body, temperatures);
    for (let p = 0; p < 3; p++) expect(-into[p]! / expected.heat[p]!).toBeCloseTo(1, 10);
    const field = condensed.field(body, temperatures);
    expect(field.mismatch).toBeLessThan(1e-12);
    field.theta.forEach((theta, c) => {
      expect(theta / expected.theta[c]!).toBeCloseTo(1, 10);
    });
  });

  it("conducts alike both ways, and passes on what it gets", () => {
    fc.assert(
      fc.property(pads, spots, (contacts, spot) => {
        const sheet = new Sheet({ width: side, length: side, cellsX: 32, cellsY: 24 });
        const condensed = sheet.condense(contacts);
        const { admittance: Y, outflow } = condensed.body(law, spot);
        const n = contacts.length;
        for (let i = 0; i < n; i++) {
          let row = 0;
          for (let j = 0; j < n; j++) {
            row += Y[i * n + j]!;
            expect(Y[i * n + j]).toBe(Y[j * n + i]);
          }
          expect(Math.abs(row)).toBeLessThan(1e-12 * (1 + Y[i * n + i]!));
        }
        const out = outflow.reduce((sum, power) => sum + power, 0);
        expect(out / spot.power).toBeCloseTo(1, 11);
      }),
      { numRuns: 40 },
    );
  });

  it("dissipates: heat driven by any Θ of the contacts runs from high to low", () => {
    const levels = fc.array(fc.double({ min: -1, max: 1, noNaN: true }), {
      minLength: 16,
      maxLength: 16,
    });
    fc.assert(
      fc.property(pads, levels, (contacts, theta) => {
        const sheet = new Sheet({ width: side, length: side, cellsX: 32, cellsY: 32 });
        const { admittance: Y } = sheet.condense(contacts);
        const n = contacts.length;
        let power = 0;
        for (let i = 0; i < n; i++) {
          for (let j = 0; j < n; j++) power += theta[i]! * Y[i * n + j]! * theta[j]!;
        }
        expect(power).toBeGreaterThanOrEqual(-1e-12);
      }),
      { numRuns: 40 },
    );
  });

  it("adds up loads: Θ of two maps together is that of one and the other", () => {
    fc.assert(
      fc.property(pads, spots, spots, (contacts, one, other) => {
        const sheet = new Sheet({ width: side, length: side, cellsX: 16, cellsY: 16 });
        const condensed = sheet.condense(contacts);
        const cold = contacts.map(() => 0.3);
        const above = (maps: PowerMap | PowerMap[]) =>
          condensed.field(condensed.body(law, maps), cold).theta.map((t) => t - law.integral(0.3));
        const [a, b, both] = [above(one), above(other), above([one, other])];
        const scale = Math.max(...both.map(Math.abs));
        both.forEach((theta, c) => {
          expect(Math.abs(theta - a[c]! - b[c]!)).toBeLessThan(1e-10 * scale);
        });
      }),
      { numRuns: 30 },
    );
  });

  it("of which every part is symmetric has a symmetric field", () => {
    const sheet = new Sheet({ width: side, length: side, cellsX: 20, cellsY: 20 });
    const corner = side - 0.9e-3;
    const places: [number, number][] = [
      [0, 0],
      [corner, 0],
      [0, corner],
      [corner, corner],
    ];
    const contacts = places.map(([x, y], i) => pad(`${i}`, x, y, 0.9e-3, 0.9e-3));
    const condensed = sheet.condense(contacts);
    const body = condensed.body(law, { kind: "spot", power: 4e-9, x: 6e-3, y: 6e-3, radius: 2e-3 });
    const field = condensed.field(body, [0.1, 0.1, 0.1, 0.1]);
    const at = (i: number, j: number) => field.temperatures[j * 20 + i]!;
    for (let j = 0; j < 20; j++) {
      for (let i = 0; i < 20; i++) {
        expect(at(19 - i, j)).toBeCloseTo(at(i, j), 12);
        expect(at(j, i)).toBeCloseTo(at(i, j), 12);
      }
    }
    expect(field.hottest.x).toBeCloseTo(6e-3, 9);
    for (const power of body.outflow) expect(power / 1e-9).toBeCloseTo(1, 10);
  });

  it("has heat where the load is, never warmer for one more contact or one better held", () => {
    // The mean of Θ, each place weighed by its load, is 2/Q times the least dissipation that carries the load:
    // a further way out can't raise it (Rayleigh's monotonicity law; P. G. Doyle and J. L. Snell,
    // Random Walks and Electric Networks (1984), section 1.4).
    const weighed = (contacts: readonly Contact[], map: PowerMap) => {
      const sheet = new Sheet({ width: side, length: side, cellsX: 24, cellsY: 24 });
      const condensed = sheet.condense(contacts);
      const body = condensed.body(law, map);
      const field = condensed.field(
        body,
        contacts.map(() => 0.1),
      );
      return field.theta.reduce((sum, theta, c) => sum + theta * body.powers[c]!, 0);
    };
    fc.assert(
      fc.property(pads, spots, (contacts, spot) => {
        fc.pre(contacts.length > 1);
        const all = weighed(contacts, spot);
        const without = weighed(contacts.slice(1), spot);
        expect(all).toBeLessThanOrEqual(without * (1 + 1e-9));
      }),
      { numRuns: 40 },
    );
  });

  it("leaves all heat to its only contact", () => {
    const sheet = new Sheet({ width: side, length: side, cellsX: 8, cellsY: 8 });
    const whole = sheet.condense([{ name: "back", area: sheet.grid.whole }]);
    expect([...whole.admittance].map(Math.abs)).toEqual([0]);
    expect(whole.body(law, uniform).outflow[0]! / 5e-9).toBeCloseTo(1, 12);
    const field = whole.field(whole.body(law, uniform), [0.1]);
    for (const T of field.temperatures) expect(T).toBeCloseTo(0.1, 12);
  });

  it("counts pieces of a contact by their areas", () => {
    const sheet = new Sheet({ width: side, length: side, cellsX: 16, cellsY: 16 });
    const one = sheet.condense([pad("a", 1e-3, 1e-3, 3e-3, 2e-3), pad("b", 8e-3, 8e-3)]);
    const cut = { left: 2.2e-3, right: 4e-3, bottom: 1e-3, top: 3e-3 };
    const pieces = [{ ...cut, left: 1e-3, right: 2.2e-3 }, cut];
    const two = sheet.condense([{ name: "a", area: pieces }, pad("b", 8e-3, 8e-3)]);
    two.admittance.forEach((entry, i) => {
      expect(entry / one.admittance[i]!).toBeCloseTo(1, 11);
    });
  });

  it("has as many cells as fit square along the shorter side when nothing is said", () => {
    const { grid } = new Sheet({ width: 20e-3, length: 5e-3 });
    expect([grid.cellsX, grid.cellsY]).toEqual([128, 32]);
  });

  it("refuses contacts that its cells can't tell apart", () => {
    const sheet = new Sheet({ width: side, length: side, cellsX: 8, cellsY: 8 });
    const near = [pad("pad 1", 0, 0, 0.2e-3), pad("pad 2", 0.5e-3, 0, 0.2e-3)];
    expect(() => sheet.condense(near)).toThrow(
      "pad 2: expected a place that cells of 1500 by 1500 µm can tell from pad 1 " +
        "(more cells, or one contact for both)",
    );
  });

  it("takes changed powers and changed maps as a sheet that never saw others does", () => {
    const sheet = new Sheet({ width: side, length: side, cellsX: 16, cellsY: 8 });
    const contacts = [pad("a", 1e-3, 1e-3), pad("b", 8e-3, 2e-3)];
    const condensed = sheet.condense(contacts);
    const spot: PowerMap = { kind: "spot", power: 3e-9, x: 5e-3, y: 6e-3, radius: 1e-3 };
    const rows = [
      [1e-9, 2e-9],
      [3e-9, 4e-9],
    ];
    const pixels: PowerMap = { kind: "pixels", rows };
    const cells: PowerMap = { kind: "cells", cells: new Float64Array(128).fill(1e-11) };
    const change = () => {
      rows[1]![0] = 9e-9;
      return [uniform, pixels];
    };
    const bodies: (() => PowerMap | readonly PowerMap[])[] = [
      () => [uniform, spot],
      () => [{ ...uniform, power: 2e-9 }, spot],
      () => [uniform, { ...spot, x: 2e-3 }],
      () => [uniform, { ...spot, power: 0 }],
      () => spot,
      () => [uniform, pixels],
      change,
      () => [uniform, { ...pixels, over: { left: 0, right: side / 2, bottom: 0, top: side } }],
      () => [cells, uniform, spot],
      () => [],
    ];
    for (const maps of bodies) {
      const body = condensed.body(law, maps());
      const fresh = sheet
        .condense(contacts)
        .body(law, { kind: "cells", cells: sheet.powers(maps()) });
      const largest = fresh.powers.reduce((most, power) => Math.max(most, power), 1e-300);
      for (const name of ["powers", "modes", "outflow"] as const) {
        fresh[name].forEach((value, i) => {
          expect(Math.abs(body[name][i]! - value)).toBeLessThan(1e-12 * 128 * largest);
        });
      }
    }
  });

  it("adds maps up by their shares, and names a wrong one as it was called", () => {
    const sheet = new Sheet({ width: side, length: side, cellsX: 16, cellsY: 8 });
    const condensed = sheet.condense([pad("a", 1e-3, 1e-3), pad("b", 8e-3, 2e-3)]);
    const share = { map: uniform, times: 3, field: "light.map" };
    const thrice = condensed.body(law, [share]);
    const once = condensed.body(law, uniform);
    thrice.outflow.forEach((heat, i) => {
      expect(heat / once.outflow[i]!).toBeCloseTo(3, 12);
    });
    const wrong = { ...share, map: { ...uniform, power: Number.NaN } };
    expect(() => condensed.body(law, [wrong])).toThrow(
      "light.map.power: expected a finite number in watts, got NaN",
    );
    expect(() => condensed.body(law, [{ ...share, times: Number.NaN }])).toThrow(
      "light.map: expected a finite number of times, got NaN",
    );
    expect(() => condensed.body(law, wrong.map)).toThrow("power.power: expected a finite number");
    expect(() => condensed.body(law, [uniform, wrong.map])).toThrow(
      "power[1].power: expected a finite number",
    );
  });

  it("refuses powers of another grid", () => {
    const sheet = new Sheet({ width: side, length: side, cellsX: 8, cellsY: 8 });
    const condensed = sheet.condense([pad("a", 0, 0)]);
    expect(() => condensed.body(law, { kind: "cells", cells: new Float64Array(3) })).toThrow(
      'power.cells: expected 64 numbers, one for each of 8 × 8 cells, got "3 numbers"',
    );
    expect(() =>
      condensed.fieldOf(
        condensed.body(law, uniform),
        { temperatures: new Map([["a", 0.1]]), bodyFlows: [] },
        "die",
      ),
    ).toThrow("die.a: expected a contact of this body in the solution");
  });
});

describe("the influence of contacts on a place of a 2-D die", () => {
  // Not symmetric, and on a grid of few cells, so that the hottest point lies between their middles.
  const contacts = [pad("a", 1e-3, 0.5e-3), pad("b", 8e-3, 2e-3), pad("c", 4e-3, 10e-3)];
  const sheet = new Sheet({ width: side, length: side, cellsX: 32, cellsY: 32 });
  const condensed = sheet.condense(contacts);
  const power: PowerMap[] = [
    uniform,
    { kind: "spot", power: 3e-9, x: 5e-3, y: 6e-3, radius: 1e-3 },
  ];
  const body = condensed.body(law, power);
  const temperatures = [0.11, 0.112, 0.115];
  const field = condensed.field(body, temperatures);
  const weights = field.hottestWeights;
  const influence = condensed.influence(weights);
  const dot = (a: ArrayLike<number>, b: ArrayLike<number>) =>
    Array.from(a).reduce((sum, value, i) => sum + value * b[i]!, 0);

  it("has the weights of its cells, which sum to 1, and the hottest point's Θ", () => {
    expect(
      dot(
        weights,
        weights.map(() => 1),
      ),
    ).toBeCloseTo(1, 14);
    expect(dot(weights, field.theta) / law.integral(field.hottest.temperature)).toBeCloseTo(1, 13);
  });

  it("has a share of each contact, which sum to 1, and what its power adds", () => {
    expect(dot(influence.shares, [1, 1, 1])).toBeCloseTo(1, 13);
    const theta = dot(influence.shares, temperatures.map(law.integral)) + influence.own(body);
    expect(theta / law.integral(field.hottest.temperature)).toBeCloseTo(1, 13);
  });

  it("follows each contact by its share, and the power, wherever the hottest point then is", () => {
    temperatures.forEach((_, p) => {
      const hottest = (step: number) =>
        law.integral(
          condensed.field(
            body,
            temperatures.map((T, i) => (i === p ? T + step : T)),
          ).hottest.temperature,
        );
      const step = 1e-6;
      const slope = (hottest(step) - hottest(-step)) / (2 * step);
      expect(slope / law.conductance(temperatures[p]!)).toBeCloseTo(influence.shares[p]!, 6);
    });
    const more = condensed.body(law, [...power, { ...uniform, power: 1e-13 }]);
    const warmer = condensed.field(more, temperatures).hottest.temperature;
    const rise = law.integral(warmer) - law.integral(field.hottest.temperature);
    expect(rise / (influence.own(more) - influence.own(body))).toBeCloseTo(1, 4);
  });

  it("refuses weights of another grid", () => {
    expect(() => condensed.influence(new Float64Array(3))).toThrow(
      'weights: expected 1024 numbers, one for each cell, got "3 numbers"',
    );
  });
});
