import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { dissipatedFraction, lineFraction, readout } from "../../src/loads/readout.js";

const tones = { tones: 1000, powerPerTone: "-90 dBm" } as const;

describe("readout", () => {
  test("is tones times power times the share that stays", () => {
    const load = readout({ ...tones, internalQuality: 1e5, couplingQuality: 1e5 });
    expect(load.power).toBeCloseTo(0.5e-9, 18);
    expect(load.name).toBe("readout");
    expect(load.details["power at the chip [W]"]).toBeCloseTo(1e-9, 18);
    expect(load.provenance.map((each) => each.quantity)).toEqual([
      "readout: tones",
      "readout: power per tone",
      "readout: internal quality factor",
      "readout: coupling quality factor",
      "readout: detuning in linewidths",
      "readout: loss of the line",
    ]);
  });

  test("takes a given share in place of quality factors", () => {
    expect(readout({ ...tones, dissipatedFraction: 0.3 }).power).toBeCloseTo(3e-10, 18);
    expect(readout({ ...tones, dissipatedFraction: 0 }).power).toBe(0);
  });

  test("adds what the line keeps of the rest, and never more than comes in", () => {
    const lossy = readout({ ...tones, dissipatedFraction: 0.4, lineLoss: 3 });
    expect(lossy.power / (1e-9 * (0.4 + 0.6 * (1 - 10 ** -0.3)))).toBeCloseTo(1, 12);
    const worst = readout({ ...tones, dissipatedFraction: 1, lineLoss: 200 });
    expect(worst.power).toBeCloseTo(1e-9, 20);
  });

  test.each([
    [{ tones: 0 }, "chip.tones: expected a whole number of at least 1, got 0"],
    [
      { powerPerTone: "-90 dB" },
      'chip.powerPerTone: expected a power such as "8 pW" or a number in watts, got "-90 dB"',
    ],
    [{ lineLoss: -1 }, "chip.lineLoss: expected a loss in dB, 0 or more, got -1"],
    [
      { internalQuality: 0, couplingQuality: 1 },
      "chip.internalQuality: expected a quality factor, greater than 0, got 0",
    ],
    [
      { internalQuality: 1 },
      "chip.couplingQuality: expected a quality factor, greater than 0, got undefined",
    ],
    [
      { internalQuality: 1, couplingQuality: 1, detuning: Number.NaN },
      "chip.detuning: expected a number of linewidths, got NaN",
    ],
    [
      { dissipatedFraction: 1.2 },
      "chip.dissipatedFraction: expected a share of the tone, from 0 to 1, got 1.2",
    ],
    [
      { dissipatedFraction: 0.2, internalQuality: 1 },
      'chip: expected either quality factors or dissipatedFraction, got "both"',
    ],
  ])("refuses %j", (change, message) => {
    expect(() => readout({ ...tones, ...change } as never, "chip")).toThrow(message);
  });
});

describe("dissipatedFraction", () => {
  const quality = fc.double({ min: 100, max: 1e8, noNaN: true });

  test("is what S₂₁ and S₁₁ leave, and at most a half", () => {
    fc.assert(
      fc.property(quality, quality, (qi, qc) => {
        const qr = (qi * qc) / (qi + qc);
        const share = dissipatedFraction(qi, qc);
        expect(share).toBeCloseTo(1 - (qr / qi) ** 2 - (qr / qc) ** 2, 10);
        expect(share).toBeLessThanOrEqual(0.5 + 1e-12);
      }),
      { seed: 5 },
    );
  });

  test("falls to half at half a linewidth from resonance, on either side", () => {
    expect(dissipatedFraction(1e5, 1e5, 0.5)).toBeCloseTo(0.25, 12);
    expect(dissipatedFraction(1e5, 1e5, -0.5)).toBeCloseTo(0.25, 12);
  });
});

test("lineFraction of 3.0103 dB is a half", () => {
  expect(lineFraction(10 * Math.log10(2))).toBeCloseTo(0.5, 12);
  expect(lineFraction(0)).toBe(0);
});
