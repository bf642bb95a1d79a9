import { describe, expect, it } from "vitest";
import { withField } from "../../../src/design/field.js";
import { thermalBudget } from "../../../src/mount/budget.js";
import type { Budget } from "../../../src/mount/budget-result.js";
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
  modelOf,
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
      "bonds.pitch: expected at least the pads' width, 200 µm, got 0.0001 (100 µm)",
    );
    expect(refused("pads.width", 3.5e-3)).toThrow(
      "pads.width: expected at most what the edge leaves between the corners, 3.4 mm, got 0.0035 (3.5 mm)",
    );
    expect(refused("pads.length", 2e-3)).toThrow(
      "pads.length: expected less than half the die, 2 mm, got 0.002 (2 mm)",
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

  it("share the die's phonons when told to: the coupling alone is left", () => {
    const shared = withField(mount, "pads.phonons", "shared");
    const { structure } = modelOf(shared, "one node");
    const { places, paths } = structure;
    expect(places.map(({ name }) => name)).not.toContain("pad phonons");
    const coupling = paths.find(({ name }) => name === "electron-phonon coupling")!;
    expect([coupling.from.name, coupling.to.name]).toEqual(["die", "pad electrons"]);
    const area = 2e-4 * 3e-4;
    const law = conductorOf(shared, "electron-phonon coupling");
    expect(law.integral(0.2) / (2.4e9 * area * 5e-7 * 0.2 ** 5)).toBeCloseTo(1, 10);
    expect(() => storeOf(shared, "pad phonons")).toThrow();
  });
  itBalances(withField(mount, "pads.phonons", "shared"));

  it("are told where they are as thin as the waves of their phonons, with what the other choice gives", () => {
    // h v/(2.82 k_B T) of gold at 100 mK: 219 nm transverse (1290 m/s), 577 nm longitudinal (3390 m/s)
    const budgetOf = (thickness: number, phonons?: "own" | "shared") =>
      thermalBudget(
        smallest({ ...padded, pads: { ...padded.pads, thickness, ...(phonons && { phonons }) } }),
      );
    const told = ({ warnings }: Budget) => warnings.filter((text) => text.includes("wavelength"));
    const [thick, own, shared] = [
      budgetOf(1e-6),
      budgetOf(4e-7),
      budgetOf(4e-7, "shared"),
    ] as const;
    expect(told(thick)).toEqual([]);
    expect(thick.otherPhononsRise).toBeUndefined();
    expect(told(own)[0]).toMatch(/^pad boundary: 1\d\d mK is outside 144 mK and up \(pads: 400 nm/);
    expect(told(shared)[0]).toMatch(/outside what holds up to 54.9 mK \(pads: 400 nm/);
    expect(Number(own.otherPhononsRise) / shared.chip.rise).toBeCloseTo(1, 9);
    expect(Number(shared.otherPhononsRise) / own.chip.rise).toBeCloseTo(1, 9);
    expect(own.chip.rise).toBeGreaterThan(shared.chip.rise);
    expect(own.toText()).toContain("With the other choice of them, own or shared");
    expect(told(budgetOf(2e-7, "shared"))).toHaveLength(1);
    expect(told(budgetOf(4e-8, "shared"))).toEqual([]);
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
