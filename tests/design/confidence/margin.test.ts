import { describe, expect, it } from "vitest";
import { solveHere } from "../../../src/design/confidence/samples.js";
import {
  type Mount,
  pessimisticCase,
  recommend,
  sizeBonds,
  spread,
  thermalBudget,
} from "../../../src/index.js";
import { quickMount } from "../../mount/example.js";
import { slowly } from "../../slowly.js";

const base = quickMount();
const mount: Mount = {
  ...base,
  bonds: { ...base.bonds!, residualResistivityRatio: spread(20, 60) },
  pads: { ...base.pads!, thickness: spread("200 nm", "400 nm") },
  loads: [{ kind: "given", power: spread("4 nW", "9 nW") }],
};
const options = { rows: "none", runner: solveHere } as const;

describe("the three cases of margin", () => {
  it("put every unknown at its pessimistic limit: thin pads, a poor wire, a large load", () => {
    const { ends, mount: bad, catalogue } = pessimisticCase(mount, options);
    const values = Object.fromEntries(ends.map(({ input, value }) => [input.field, value]));
    expect(values["bonds.residualResistivityRatio"]).toBeCloseTo(20, 9);
    expect(values["pads.thickness"]).toBeCloseTo(200e-9, 15);
    expect(values["loads.0.power"]).toBeCloseTo(9e-9, 17);
    // By hand: the same numbers written into the mount.
    const written: Mount = {
      ...base,
      bonds: { ...base.bonds!, residualResistivityRatio: 20 },
      pads: { ...base.pads!, thickness: "200 nm" },
      loads: [{ kind: "given", power: "9 nW" }],
    };
    const chip = (of: Mount) => thermalBudget(of, { catalogue }).chip.temperature;
    expect(chip(bad as Mount)).toBeCloseTo(chip(written), 12);
    expect(sizeBonds(mount, { for: "pessimistic", rows: "none" }).count).toBe(
      sizeBonds(written).count,
    );
  });

  it("move the catalogue's rows, too, each to the end that warms the chip", () => {
    const { ends, catalogue } = pessimisticCase(mount);
    const coupling = ends.find(({ input }) => input.name.includes("electron-phonon"))!;
    expect(coupling.value).toBe(coupling.input.low);
    expect(catalogue).not.toBe(undefined);
    for (const { input, value } of ends)
      expect([input.low, input.median, input.high]).toContain(value);
  });

  slowly("ask for more bonds from one to the next, and the middle one is built", async () => {
    const nominal = sizeBonds(mount);
    const probable = await sizeBonds(mount, { for: "probable", ...options });
    const pessimistic = sizeBonds(mount, { for: "pessimistic", rows: "none" });
    expect(nominal.count!).toBeLessThan(probable.count!);
    expect(probable.count!).toBeLessThan(pessimistic.count!);
    const found = await recommend(mount, options);
    expect(found.build).toBe(probable.count);
    expect(found.nominal.count).toBe(nominal.count);
    expect(found.pessimistic.count).toBe(pessimistic.count);
    expect(found.withNominal!.chance!.value).toBeLessThan(0.6);
    expect(found.withPessimistic!.chance!.value).toBeGreaterThan(0.95);
    expect(found.summary).toContain(`Build ${probable.count} bonds: they meet the limit with 95`);
    expect(found.summary).toContain(`would ask for ${pessimistic.count}`);
    expect(found.toMarkdown()).toContain("| pessimistic | at its pessimistic limit |");
  });

  it("recommend none where no number holds, and say so", async () => {
    const warm = { ...mount, loads: [{ kind: "given", power: spread("60 nW", "90 nW") }] } as Mount;
    const found = await recommend(warm, options);
    expect(found.build).toBeUndefined();
    expect(found.summary).toContain("No number of bonds is recommended");
  });

  it("refuse a case that is none", () => {
    const wrong = { for: "worst" } as unknown as { for: "nominal" };
    expect(() => sizeBonds(mount, wrong)).toThrow(
      'for: expected "nominal", "probable" or "pessimistic", got "worst"',
    );
  });
});
