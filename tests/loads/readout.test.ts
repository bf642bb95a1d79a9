import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { dissipatedFraction, readout, readoutLaw } from "../../src/loads/readout.js";
import { attenuatorHeat, lineFraction } from "../../src/loads/tones.js";

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
      "chip.internalQuality: expected a number greater than 0, got 0",
    ],
    [
      { internalQuality: 1 },
      "chip.couplingQuality: expected a number greater than 0, got undefined",
    ],
    [
      { internalQuality: 1, couplingQuality: 1, detuning: Number.NaN },
      "chip.detuning: expected a number of linewidths, got NaN",
    ],
    [
      { dissipatedFraction: 1.2 },
      "chip.dissipatedFraction: expected a number from 0 to 1, got 1.2",
    ],
    [
      { dissipatedFraction: 0.2, internalQuality: 1 },
      'chip: expected only one of internalQuality, dissipatedFraction, got "internalQuality and dissipatedFraction"',
    ],
  ])("refuses %j", (change, message) => {
    expect(() => readout({ ...tones, ...change } as never, "chip")).toThrow(message);
  });
});

describe("readout of a list of tones", () => {
  test("is the sum of its tones, each with its own power and detuning", () => {
    const both = { internalQuality: 1e5, couplingQuality: 1e5, lineLoss: 1 } as const;
    const list = readout({ toneList: ["-90 dBm", { power: 2e-12, detuning: 0.5 }], ...both });
    const one = readout({ tones: 1, powerPerTone: 1e-12, ...both });
    const other = readout({ tones: 1, powerPerTone: 2e-12, detuning: 0.5, ...both });
    expect(list.power / (one.power + other.power)).toBeCloseTo(1, 12);
    expect(list.details["power at the chip [W]"]).toBeCloseTo(3e-12, 20);
    expect(list.provenance.map(({ quantity, value }) => [quantity, value])).toContainEqual([
      "readout: tones with a detuning of their own",
      1,
    ]);
  });

  test("is the comb where all are alike, and leaves a tone off resonance to the line", () => {
    const comb = readout({ ...tones, dissipatedFraction: 0.3 }).power;
    const list = readout({ toneList: Array(1000).fill("-90 dBm"), dissipatedFraction: 0.3 });
    expect(list.power / comb).toBeCloseTo(1, 12);
    const blind = { power: 1e-12, detuning: 1e9 };
    const only = readout({ toneList: [blind], dissipatedFraction: 0.3, lineLoss: 3 });
    expect(only.power / (1e-12 * lineFraction(3))).toBeCloseTo(1, 12);
  });

  test.each([
    [{ toneList: [] }, "chip.toneList: expected a list of one tone or more, got []"],
    [{ toneList: ["-90 dBm", "-1 pW"] }, 'chip.toneList[1]: expected a power such as "8 pW"'],
    [{ toneList: [{ power: 0 }] }, "chip.toneList[0].power: expected a power such as"],
    [
      { toneList: [{ power: 1, detuning: "x" }] },
      'chip.toneList[0].detuning: expected a number of linewidths, got "x"',
    ],
    [
      { toneList: ["1 pW"], tones: 3 },
      'chip: expected only one of tones, toneList, lines, got "tones and toneList"',
    ],
  ])("refuses %j", (options, message) => {
    expect(() => readout({ dissipatedFraction: 0.3, ...options } as never, "chip")).toThrow(
      message,
    );
  });
});

describe("readout behind attenuators", () => {
  test("is stated where the tones come in, and less by the chain at the chip", () => {
    const load = readout({
      tones: 1000,
      powerPerTone: "-30 dBm",
      attenuation: [20, 20, 17, 3],
      dissipatedFraction: 1,
    });
    expect(load.power).toBeCloseTo(1e-9, 20);
    expect(load.details["power before the attenuators [W]"]).toBeCloseTo(1e-3, 12);
    expect(load.details["attenuation [dB]"]).toBe(60);
  });

  test("leaves in each attenuator what it does not pass on", () => {
    const level = fc.double({ min: 0, max: 40, noNaN: true });
    fc.assert(
      fc.property(fc.array(level, { maxLength: 6 }), (chain) => {
        const heats = attenuatorHeat(1e-3, chain);
        const total = chain.reduce((sum, loss) => sum + loss, 0);
        const sum = heats.reduce((all, heat) => all + heat, 0) + 1e-3 * 10 ** (-total / 10);
        expect(sum / 1e-3).toBeCloseTo(1, 12);
        for (const heat of heats) expect(heat).toBeGreaterThanOrEqual(0);
      }),
      { seed: 8 },
    );
    expect(attenuatorHeat(1, [10, 10])).toEqual([
      expect.closeTo(0.9, 12),
      expect.closeTo(0.09, 12),
    ]);
  });

  test("refuses gain and what is no list", () => {
    const options = { ...tones, dissipatedFraction: 0.1 };
    expect(() => readout({ ...options, attenuation: [20, -3] }, "chip")).toThrow(
      "chip.attenuation[1]: expected a loss in dB, 0 or more, got -3",
    );
    expect(() => readout({ ...options, attenuation: 20 as never }, "chip")).toThrow(
      "chip.attenuation: expected a list of losses in dB, got 20",
    );
  });
});

describe("readoutLaw", () => {
  /** Falls as quasiparticles grow, over a floor of other losses. */
  const internalQuality = (T: number) => 1 / (1e-6 + 3e-3 * Math.exp(-1.8 / T));
  const options = { ...tones, couplingQuality: 3e4, lineLoss: 0.5, internalQuality };

  test("is the readout with the quality of each temperature", () => {
    const law = readoutLaw(options);
    for (const T of [0.05, 0.2, 0.4, 1]) {
      const fixed = readout({
        ...tones,
        couplingQuality: 3e4,
        lineLoss: 0.5,
        internalQuality: internalQuality(T),
      });
      expect(law.power(T)).toBe(fixed.power);
      expect(law.at(T).details).toEqual(fixed.details);
    }
    expect(law.at(0.2).provenance.find(({ note }) => note === "at 200 mK")!.quantity).toBe(
      "readout: internal quality factor",
    );
  });

  test("knows its slope", () => {
    const law = readoutLaw(options);
    for (const T of [0.15, 0.25, 0.4, 0.9]) {
      const h = 1e-5 * T;
      // Four points, a method of higher order
      const f = law.power;
      const slope = (8 * (f(T + h) - f(T - h)) - (f(T + 2 * h) - f(T - 2 * h))) / (12 * h);
      expect(law.slope(T) / slope).toBeCloseTo(1, 5);
    }
  });

  test("keeps half of a tone where Qi passes Qc, and no more", () => {
    const law = readoutLaw({ ...options, lineLoss: 0 });
    let most = 0;
    for (let T = 0.05; T < 2; T += 0.001) most = Math.max(most, law.power(T));
    expect(most / 0.5e-9).toBeCloseTo(1, 4);
    expect(most).toBeLessThanOrEqual(0.5e-9 * (1 + 1e-12));
  });

  test("takes resonators that lose nothing, or everything", () => {
    const ideal = readoutLaw({ ...options, lineLoss: 0, internalQuality: () => Infinity });
    expect(ideal.power(0.1)).toBe(0);
    expect(ideal.at(0.1).provenance.map(({ quantity }) => quantity)).toContain(
      "readout: inverse of the internal quality factor",
    );
    expect(readoutLaw({ ...options, lineLoss: 0, internalQuality: () => 0 }).power(2)).toBe(0);
  });

  test("refuses a quality factor that is none", () => {
    expect(() => readoutLaw({ ...options, internalQuality: 1e5 as never }, "chip")).toThrow(
      "chip.internalQuality: expected a function of temperature in K that gives a quality factor, got 100000",
    );
    const bad = readoutLaw({ ...options, internalQuality: () => Number.NaN }, "chip");
    expect(() => bad.power(0.1)).toThrow(
      "chip.internalQuality(0.1): expected a quality factor, 0 or more, got NaN",
    );
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

describe("readout by feed lines", () => {
  const both = { internalQuality: 2e5, couplingQuality: 4e4 } as const;
  const line = { tones: 600, power: "-40 dBm", attenuation: [20, 10] } as const;

  test("is that of its lines one by one, each with its own attenuation and loss", () => {
    const lossy = { tones: 500, power: "1 nW", lineLoss: 0.5, name: "east" } as const;
    const all = readout({ lines: [line, lossy], ...both });
    // 0.1 µW above 30 dB is 0.1 nW at the chip.
    const one = readout({ tones: 600, powerPerTone: 1e-10 / 600, ...both }).power;
    const other = readout({ tones: 500, powerPerTone: 1e-9 / 500, lineLoss: 0.5, ...both }).power;
    expect(all.power / (one + other)).toBeCloseTo(1, 12);
    expect(all.details["power at the chip, line 1 [W]"]).toBeCloseTo(1e-10, 20);
    expect(all.details["power at the chip, east [W]"]).toBeCloseTo(1e-9, 20);
    expect(all.details["power at the chip [W]"]).toBeCloseTo(1.1e-9, 20);
    const quantities = all.provenance.map(({ quantity }) => quantity);
    expect(quantities).toContain("readout.lines[0]: attenuation before the chip");
    expect(quantities).toContain("readout.lines[1]: loss of the line");
  });

  test("of an attenuator takes the share that a table of decibels gives: 1 µW into 20 dB leaves 10 nW", () => {
    const whole = readout({
      lines: [{ ...line, power: "1 uW", attenuation: [20] }],
      dissipatedFraction: 1,
    });
    expect(whole.power).toBeCloseTo(1e-8, 20);
  });

  test("refuses a line without a route beside one that has one, and a route of one corner", () => {
    const route = [
      { x: 0, y: 0 },
      { x: 1e-3, y: 0 },
    ];
    const by = (lines: object) => () => readout({ lines, ...both } as never, "chip");
    expect(by([{ ...line, route }, line])).toThrow(
      "chip.lines[1].route: expected a route, since other lines have one, got undefined",
    );
    expect(by([{ ...line, route: route.slice(1) }])).toThrow(
      "chip.lines[0].route: expected two places or more along the line",
    );
    expect(by([])).toThrow("chip.lines: expected a list of one feed line or more");
    expect(by([{ tones: 3 }])).toThrow("chip.lines[0].power: expected a power such as");
  });
});
