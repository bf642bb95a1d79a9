import { describe, expect, it } from "vitest";
import { casesFigure, pessimisticCase, thermalBudget } from "../../../src/index.js";
import { elementLooks } from "../../../src/plots/elements.js";
import { fittedFigure } from "../../../src/plots/picture/fit.js";
import { exampleMount } from "../../mount/example.js";
import { read } from "../read.js";

const mount = exampleMount();
const nominal = thermalBudget(mount);
const bad = pessimisticCase(mount);
const pessimistic = thermalBudget(bad.mount as typeof mount, { catalogue: bad.catalogue });
const warm = nominal.stage + 0.008;
const probable = { band: [{ value: 0.11 }, { value: warm }] } as never;

describe("the figure of the cases", () => {
  const { traces, notes, shapes, yaxis } = read(casesFigure({ nominal, probable, pessimistic }));
  const lengthOf = (row: string) =>
    traces.reduce((sum, { x, y }) => {
      const at = (y as unknown as string[]).indexOf(row);
      return sum + (at < 0 ? 0 : x[at]!);
    }, 0);

  it("adds the drops of the elements up to the rise of each case", () => {
    expect(lengthOf("nominal")).toBeCloseTo(1e3 * nominal.chip.rise, 1);
    expect(lengthOf("pessimistic")).toBeCloseTo(1e3 * pessimistic.chip.rise, 1);
    expect(lengthOf("probable (95 %)")).toBeCloseTo(8, 3);
    expect(yaxis.categoryarray).toEqual(["nominal", "probable (95 %)", "pessimistic"]);
  });

  it("marks the limit and says the rise of each case", () => {
    expect(shapes[0]!.x0).toBeCloseTo(1e3 * (nominal.limit! - nominal.stage), 9);
    expect(notes).toContain("<b>8.00 mK</b>");
    expect(notes).toContain("limit");
  });

  it("draws each element in its own look", () => {
    const coupling = traces.find(({ name }) => name === elementLooks.coupling.label)!;
    expect(coupling).toMatchObject({ marker: { color: elementLooks.coupling.colour } });
  });

  it("leaves out the numbers that are wider than their bars", () => {
    const figure = casesFigure({ nominal, probable, pessimistic });
    const inBars = (width: number) => {
      const { annotations } = fittedFigure(figure, width).layout as {
        readonly annotations: readonly { readonly name?: string }[];
      };
      return annotations.filter(({ name }) => name?.startsWith("in bar")).length;
    };
    expect(inBars(680)).toBeGreaterThan(0);
    expect(inBars(360)).toBeLessThan(inBars(680));
  });

  it("is refused where a case has no steady state", () => {
    const none = { band: [{ value: 1 }, { value: Number.POSITIVE_INFINITY }] } as never;
    expect(() => casesFigure({ nominal, probable: none })).toThrow("a steady state in each case");
  });
});
