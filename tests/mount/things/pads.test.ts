import { describe, expect, it } from "vitest";
import { withField } from "../../../src/design/field.js";
import { drawnParts } from "../../../src/mount/mount.js";
import { readMount } from "../../../src/mount/read.js";
import { drawn, filmFields } from "./films.js";
import {
  conductorOf,
  debye,
  itBalances,
  itReads,
  itTouches,
  length,
  lengthFromZero,
  maybe,
  padded,
  siliconOnGold,
  smallest,
  storeOf,
} from "./smallest.js";

const mount = smallest(padded);
const refused = (field: string, value: unknown) => () => readMount(withField(mount, field, value));

describe("pads", () => {
  itReads(mount, "pads", {
    ...filmFields,
    width: length,
    length,
    inset: maybe(lengthFromZero),
  });
  itBalances(mount);
  itTouches(mount, ["pads"], 4);

  it("need bonds, a pitch of their width, and room between the corners", () => {
    expect(() => readMount(smallest({ pads: padded.pads }))).toThrow(
      "bonds: expected bonds on the pads, got undefined",
    );
    expect(refused("bonds.pitch", 1e-4)).toThrow(
      'bonds.pitch: expected at least the pads\' width, 200 µm, got 0.0001 (100 µm)',
    );
    expect(refused("pads.width", 3.5e-3)).toThrow(
      'pads.width: expected at most what the edge leaves between the corners, 3.4 mm, got "3.5 mm"',
    );
    expect(refused("pads.length", 2e-3)).toThrow(
      'pads.length: expected less than half the die, 2 mm, got "2 mm"',
    );
    expect(refused("pads.inset", 1.7e-3)).toThrow("pads.length: expected less than half the die");
  });

  it("may stand wall to wall, in whatever unit width and pitch are written", () => {
    for (let n = 51; n < 600; n++) {
      const [micro, milli] = [`${n} um`, `${n / 1000} mm`] as const;
      for (const [width, pitch] of [
        [micro, milli],
        [milli, micro],
        [n * 1e-6, micro],
      ] as const) {
        const pads = { ...mount.pads!, width };
        expect(() =>
          readMount({ ...mount, pads, bonds: { ...mount.bonds!, pitch } }),
        ).not.toThrow();
      }
    }
  });

  it("take heat by diffuse mismatch, and pass it to their electrons by ΣV T⁵", () => {
    const area = 2e-4 * 3e-4;
    const boundary = conductorOf(mount, "pad boundary");
    expect(boundary.integral(0.2) / (siliconOnGold * area * 0.2 ** 4)).toBeCloseTo(1, 8);
    const coupling = conductorOf(mount, "electron-phonon coupling");
    expect(coupling.integral(0.2) / (2.4e9 * area * 5e-7 * 0.2 ** 5)).toBeCloseTo(1, 10);
    expect([boundary.count, coupling.count]).toEqual([4, 4]);
  });

  it("take a measured or a given boundary, and a coupling of one's own", () => {
    const area = 2e-4 * 3e-4;
    const given = withField(mount, "pads.boundary", { resistance: 2e-3 });
    expect(
      conductorOf(given, "pad boundary").integral(0.2) / ((area / 8e-3) * 0.2 ** 4),
    ).toBeCloseTo(1, 10);
    const named = withField(mount, "pads.boundary", { measured: "metal on sapphire" });
    expect(conductorOf(named, "pad boundary").integral(1)).toBeCloseTo(area / 8e-3, 15);
    const own = withField(mount, "pads.coupling", { coefficient: 1e9, exponent: 6 });
    const { integral } = conductorOf(own, "electron-phonon coupling");
    expect(integral(0.2) / (1e9 * area * 5e-7 * 0.2 ** 6)).toBeCloseTo(1, 10);
  });

  it("store heat in phonons and electrons apart: two bonds on a pad need half the pads", () => {
    const volume = 4 * 2e-4 * 3e-4 * 5e-7;
    const phonons = debye(19300, 196.967e-3, 161.8) * volume * 0.1 ** 3;
    expect(storeOf(mount, "pad phonons").heatCapacity(0.1) / phonons).toBeCloseTo(1, 8);
    const electrons = 0.689e-3 * (19300 / 196.967e-3) * volume * 0.1;
    expect(storeOf(mount, "pad electrons").heatCapacity(0.1) / electrons).toBeCloseTo(1, 8);
    const half = withField(mount, "bonds.perPad", 2);
    expect(storeOf(half, "pad phonons").heatCapacity(0.1) / phonons).toBeCloseTo(0.5, 8);
    expect(conductorOf(half, "pad boundary").count).toBe(2);
  });

  it("are drawn", () => {
    expect(drawn(drawnParts(readMount(mount)), "pads")).toMatchObject({
      name: "4 pads",
      details: ["gold", "200 µm along the edge × 300 µm, 500 nm thick", "RRR 5"],
    });
  });
});
