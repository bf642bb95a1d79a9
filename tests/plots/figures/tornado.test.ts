import { describe, expect, it } from "vitest";
import { type Mount, Sensitivity, sensitivity, tornadoFigure } from "../../../src/index.js";
import { spread } from "../../../src/units/spread.js";
import { quickMount } from "../../mount/example.js";

const mount = quickMount();
const uncertain: Mount = {
  ...mount,
  pads: { ...mount.pads!, thickness: spread("240 nm", "360 nm") },
  bonds: { ...mount.bonds!, residualResistivityRatio: spread(15, 60) },
  loads: [
    mount.loads[0]!,
    mount.loads[1]!,
    { kind: "infrared", name: "infrared leak", power: spread("0.5 nW", "8 nW") },
  ],
};
const found = sensitivity(uncertain, { rows: "none" });
const figure = tornadoFigure(found);

interface Bars {
  readonly name: string;
  readonly x: readonly number[];
  readonly y: readonly string[];
  readonly base: readonly number[];
  readonly marker: { readonly color: string; readonly pattern?: { readonly shape: string } };
}
interface Layout {
  readonly xaxis: { readonly title: { readonly text: string }; readonly range: readonly number[] };
  readonly yaxis: { readonly categoryarray: readonly string[]; readonly autorange: string };
  readonly annotations: readonly { readonly text: string }[];
}

describe("the tornado of a mount", () => {
  const [low, high] = figure.data as [Bars, Bars];
  const { xaxis, yaxis, annotations } = figure.layout as Layout;

  it("has a bar for either end of each unknown, from the rise at the medians", () => {
    found.effects.forEach(({ riseAtLow, riseAtHigh }, i) => {
      expect(low.base[i]! + low.x[i]!).toBeCloseTo(1e3 * riseAtLow, 3);
      expect(high.base[i]! + high.x[i]!).toBeCloseTo(1e3 * riseAtHigh, 3);
      expect(low.base[i]).toBeCloseTo(1e3 * found.rise, 3);
    });
    const lengths = low.x.map((x, i) => Math.abs(x - high.x[i]!));
    expect([...lengths].sort((a, b) => b - a)).toEqual(lengths);
    expect(yaxis.autorange).toBe("reversed");
  });

  it("names each unknown and its ends with their unit, and the rises in millikelvin", () => {
    expect(yaxis.categoryarray[1]).toMatch(/^pads: thickness<br><span.*>240 to 360 nm<\/span>$/);
    expect(xaxis.title.text).toBe("chip above the stage (mK)");
    expect(annotations.map(({ text }) => text)).toContain("limit");
    expect(annotations.map(({ text }) => text)).toContain(
      (1e3 * found.effects[0]!.riseAtHigh).toPrecision(3),
    );
    expect(figure.alt).toMatch(
      /^The chip is .* mK above the stage .*: infrared leak: power from .* mK to .* mK; pads/,
    );
  });

  it("tells the two ends apart without colour, and is plain data", () => {
    expect(low.marker.pattern).toBeUndefined();
    expect(high.marker.pattern!.shape).toBe("/");
    expect(JSON.parse(JSON.stringify(figure))).toEqual(figure);
    expect(JSON.stringify(figure)).not.toMatch(/NaN|null|Infinity/);
  });

  it("shows as many as are asked for, and a bar to the edge where there is none", () => {
    expect((tornadoFigure(found, { most: 2 }).data[0] as Bars).y).toHaveLength(2);
    const [first, ...rest] = found.effects;
    const runaway = new Sensitivity(found.name, found.medians, [
      { ...first!, riseAtHigh: Number.POSITIVE_INFINITY },
      ...rest,
    ]);
    const { data, layout, alt } = tornadoFigure(runaway);
    const bars = data[1] as Bars;
    const shown = (layout as Layout).xaxis.range;
    expect(bars.base[0]! + bars.x[0]!).toBeGreaterThan(10);
    expect(bars.base[0]! + bars.x[0]!).toBeLessThan(shown[1]!);
    expect((layout as Layout).annotations.map(({ text }) => text)).toContain("none");
    expect(alt).toContain("no steady state");
    expect(JSON.stringify(data)).not.toMatch(/NaN|null|Infinity/);
  });
});
